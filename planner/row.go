package planner

import (
	"fmt"
	"maps"
	"slices"

	"gopkg.in/yaml.v3"
)

// cell is one condition as it is written: a single value or a list of them.
type cell []string

// UnmarshalYAML accepts a scalar for a list of one.
func (c *cell) UnmarshalYAML(node *yaml.Node) error {
	if node.Kind == yaml.ScalarNode {
		*c = cell{node.Value}
		return nil
	}
	return node.Decode((*[]string)(c))
}

// conditions maps facts to the cells a row wants of them.
type conditions map[string]cell

// A Row is what every rule has: a name, where it stands, and the facts under
// which it applies.
type Row struct {
	ID    string
	Where string // file:line

	when []Set // by fact; every bit set where the row does not care
}

// reads reports whether the row looks at fact f.
func (r *Row) reads(f *Fact) bool { return r.when[f.index] != f.All() }

// applies tells whether the row holds in every completion of the case, and
// whether it holds in some.
func (r *Row) applies(c Case) (always, sometimes bool) {
	always = true
	for i, want := range r.when {
		if c.sets[i]&want == 0 {
			return false, false
		}
		always = always && c.sets[i].Within(want)
	}
	return always, true
}

// unsettled lists the facts on which it hangs whether the row applies.
func (r *Row) unsettled(c Case) []*Fact {
	var open []*Fact
	for i, f := range c.facts {
		if !c.sets[i].Within(r.when[i]) {
			open = append(open, f)
		}
	}
	return open
}

// narrower reports whether the row can only apply where other applies too.
func (r *Row) narrower(other *Row) bool {
	for i := range r.when {
		if !r.when[i].Within(other.when[i]) {
			return false
		}
	}
	return true
}

// compile turns written conditions into sets. A row applies when every fact
// under `when` has one of its values and no fact under `unless` has.
func compile(facts []*Fact, when, unless conditions) ([]Set, error) {
	sets := make([]Set, len(facts))
	for i, f := range facts {
		sets[i] = f.All()
	}
	for _, part := range []struct {
		cells  conditions
		negate bool
	}{{when, false}, {unless, true}} {
		for _, name := range slices.Sorted(maps.Keys(part.cells)) {
			f := factNamed(facts, name)
			if f == nil {
				return nil, fmt.Errorf("no fact is called %q", name)
			}
			s, err := f.condition(part.cells[name])
			if err != nil {
				return nil, err
			}
			if part.negate {
				s = f.All() &^ s
			}
			sets[f.index] &= s
		}
	}
	return sets, satisfiable(facts, sets)
}

func satisfiable(facts []*Fact, sets []Set) error {
	for i, s := range sets {
		if s == 0 {
			return fmt.Errorf("the conditions on %s leave it no value: the row can never apply", facts[i].Name)
		}
	}
	return nil
}

// Fact finds a fact by its name; false if the rules have none of it.
func (b *Rulebook) Fact(name string) (*Fact, bool) {
	f := factNamed(b.Facts, name)
	return f, f != nil
}

// HangsOn reports whether a step looks at the fact of the name.
func (b *Rulebook) HangsOn(s *Step, fact string) bool {
	f, known := b.Fact(fact)
	return known && s.reads(f)
}

func factNamed(facts []*Fact, name string) *Fact {
	i := slices.IndexFunc(facts, func(f *Fact) bool { return f.Name == name })
	if i < 0 {
		return nil
	}
	return facts[i]
}
