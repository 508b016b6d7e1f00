package planner

import (
	"maps"
	"slices"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

type factFile struct {
	Facts []struct {
		Name     string    `yaml:"name"`
		Title    string    `yaml:"title"`
		Ask      string    `yaml:"ask"`
		Values   []string  `yaml:"values"`
		Unit     string    `yaml:"unit"`
		Low      float64   `yaml:"low"`
		High     float64   `yaml:"high"`
		Cuts     []float64 `yaml:"cuts"`
		Told     bool      `yaml:"told"`
		Decides  bool      `yaml:"decides"`
		Selector bool      `yaml:"selector"`
	} `yaml:"facts"`
	Presumptions []struct {
		Fact   string     `yaml:"fact"`
		Values cell       `yaml:"values"`
		When   conditions `yaml:"when"`
		Unless conditions `yaml:"unless"`
	} `yaml:"presumptions"`
	Usual []struct {
		Fact   string `yaml:"fact"`
		Values cell   `yaml:"values"`
		Basis  Basis  `yaml:"basis"`
	} `yaml:"usual"`
}

// A Usual is what a question about a setting means where it names no value of a
// fact that only selects settings.
type Usual struct {
	Provenance
	Fact   *Fact
	Values Set
}

// A Presumption is what an everyday case is taken to be when nobody has said
// otherwise. Its conditions must be certain before it is used.
type Presumption struct {
	Row
	Fact   *Fact
	Values Set

	unless [][]Set // any one certain keeps the presumption from being used
}

func (r *reader) facts() {
	var file factFile
	places := r.read("facts.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Facts {
		where := places["facts"][i]
		r.unique(seen, in.Name, where)
		r.wanted(where, map[string]string{"name": in.Name, "title": in.Title, "ask": in.Ask})
		f := &Fact{Name: in.Name, Title: in.Title, Ask: in.Ask, Values: in.Values, Unit: in.Unit,
			Low: in.Low, High: in.High, Cuts: in.Cuts, Told: in.Told, Decides: in.Decides, Selector: in.Selector, index: i}
		if f.Measured() {
			if len(in.Values) > 0 {
				r.problem(where, "%s is measured: it has cuts, not values", f.Name)
			}
			f.Values = regions(f.Unit, f.Cuts)
		}
		r.axis(f, where)
		r.book.Facts = append(r.book.Facts, f)
	}
	for i, in := range file.Presumptions {
		r.presumption(places["presumptions"][i], in.Fact, in.Values, in.When, in.Unless)
	}
	r.usual(file, places["usual"])
}

// usual reads what is meant by questions that leave a fact unsaid. No sources are
// read yet, so it rests on what needs none.
func (r *reader) usual(file factFile, places []string) {
	for i, in := range file.Usual {
		f := factNamed(r.book.Facts, in.Fact)
		if f == nil || !f.Selector {
			r.problem(places[i], "usual wants a fact that only selects settings, got %q", in.Fact)
			continue
		}
		s, err := f.SetOf(in.Values...)
		if err != nil {
			r.problem(places[i], "%w", err)
		}
		r.book.Usuals = append(r.book.Usuals, &Usual{Provenance: r.rests(places[i], in.Basis, nil), Fact: f, Values: s})
	}
}

// axis checks that a fact has values to choose from, or an axis to measure on.
func (r *reader) axis(f *Fact, where string) {
	strict := slices.Compact(slices.Clone(f.Cuts))
	switch {
	case f.Measured() && !slices.Contains([]string{"mm", "mm²", "deg", "units"}, f.Unit):
		r.problem(where, "unit %q is unknown: allowed are mm, mm², deg, units", f.Unit)
	case len(strict) < len(f.Cuts):
		r.problem(where, "%s has a cut twice: %v", f.Name, f.Cuts)
	case f.Decides && !(slices.Contains(f.Values, string(Bond)) && slices.Contains(f.Values, string(Cement))):
		r.problem(where, "%s decides: its values want bond and cement among them, got %v", f.Name, f.Values)
	case len(f.Values) > 32:
		r.problem(where, "%s has %d values, the limit is 32", f.Name, len(f.Values))
	case f.Measured() && f.Low >= f.High:
		r.problem(where, "%s needs low below high, got %v and %v", f.Name, f.Low, f.High)
	case f.Measured() && !slices.IsSorted(f.Cuts):
		r.problem(where, "%s needs its cuts in rising order, got %v", f.Name, f.Cuts)
	case !f.Measured() && len(f.Values) < 2:
		r.problem(where, "%s needs at least two values, or a unit if it is measured", f.Name)
	}
}

func (r *reader) presumption(where, fact string, values cell, when, unless conditions) {
	f := factNamed(r.book.Facts, fact)
	if f == nil {
		r.problem(where, "no fact is called %q", fact)
		return
	}
	s, err := f.condition(values)
	if err != nil {
		r.problem(where, "%w", err)
	}
	p := &Presumption{Row: r.row(fact, where, when, nil), Fact: f, Values: s}
	for _, name := range sortedKeys(unless) {
		p.unless = append(p.unless, r.row(fact, where, conditions{name: unless[name]}, nil).when)
	}
	r.book.Presumptions = append(r.book.Presumptions, p)
}

func (r *reader) citations() {
	var file struct {
		Sources []*Source `yaml:"sources"`
	}
	places := r.read("sources.yaml", &file)
	seen := map[string]string{}
	for i, s := range file.Sources {
		s.Where = places["sources"][i]
		r.unique(seen, s.ID, s.Where)
		r.wanted(s.Where, map[string]string{"id": s.ID, "cite": s.Cite, "found": s.Found})
		if !slices.Contains([]string{"abstract", "table", "scope", "secondary", "memory"}, s.Seen) {
			r.problem(s.Where, "seen %q is unknown: allowed are abstract, table, scope, secondary, memory", s.Seen)
		}
		r.book.sources[s.ID] = s
	}
	r.book.Sources = file.Sources
}

// Source finds a source by its id.
func (b *Rulebook) Source(id string) (*Source, bool) {
	s, ok := b.sources[id]
	return s, ok
}
