package planner

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A Range is what is known of a measured fact, in its unit: From ≤ x < To, or
// one number where From equals To.
type Range struct{ From, To float64 }

// Exact reports whether the range is one number.
func (r Range) Exact() bool { return r.From == r.To }

// A Case is what is known of one restoration, as the values of each fact that
// are still possible. It is immutable: every change returns a new Case.
type Case struct {
	facts    []*Fact
	sets     []Set
	measures map[string]Range
	doubted  map[string]bool // facts that may not be presumed
}

// NewCase is the case of which nothing is known.
func (b *Rulebook) NewCase() Case {
	sets := make([]Set, len(b.Facts))
	for i, f := range b.Facts {
		sets[i] = f.All()
	}
	return Case{facts: b.Facts, sets: sets}
}

// Case builds a case from fact names and values, for callers that have them at
// hand as text. Measured facts take one number.
func (b *Rulebook) Case(known map[string][]string) (Case, error) {
	c := b.NewCase()
	var err error
	for _, name := range slices.Sorted(maps.Keys(known)) {
		if c, err = c.With(name, known[name]...); err != nil {
			return Case{}, err
		}
	}
	return c, nil
}

// With returns the case in which the fact is one of the values.
func (c Case) With(fact string, values ...string) (Case, error) {
	f, err := c.fact(fact)
	if err != nil {
		return c, err
	}
	if f.Measured() {
		return c.withNumber(f, values)
	}
	s, err := f.SetOf(values...)
	if err != nil {
		return c, err
	}
	return c.withSet(f, s), nil
}

// WithRange returns the case in which the measured fact lies in the range.
func (c Case) WithRange(fact string, r Range) (Case, error) {
	f, err := c.fact(fact)
	if err != nil {
		return c, err
	}
	if !f.Measured() {
		return c, fmt.Errorf("%s is not measured: its values are %s", f.Name, strings.Join(f.Values, ", "))
	}
	if !finite(r.From) || !finite(r.To) {
		return c, fmt.Errorf("%s is no number: expected %v to %v %s", f.Title, f.Low, f.High, f.Unit)
	}
	if r.From > r.To || r.To < f.Low || r.From > f.High {
		return c, fmt.Errorf("%s of %v %s is not plausible: expected %v to %v %s", f.Title, r.From, f.Unit, f.Low, f.High, f.Unit)
	}
	if !r.Exact() {
		r = Range{max(r.From, f.Low), min(r.To, f.High)}
	}
	next := c.withSet(f, f.between(r.From, r.To))
	next.measures = maps.Clone(c.measures)
	if next.measures == nil {
		next.measures = map[string]Range{}
	}
	next.measures[fact] = r
	return next, nil
}

// Without returns the case in which nothing is known of the fact.
func (c Case) Without(fact string) Case {
	f, err := c.fact(fact)
	if err != nil {
		return c
	}
	next := c.withSet(f, f.All())
	next.measures = maps.Clone(c.measures)
	delete(next.measures, fact)
	return next
}

// Doubting returns the case in which the facts may not be presumed, because
// something was said of them that could not be made out. Stating one ends that.
func (c Case) Doubting(facts ...string) Case {
	next := c
	next.doubted = maps.Clone(c.doubted)
	if next.doubted == nil {
		next.doubted = map[string]bool{}
	}
	for _, f := range facts {
		next.doubted[f] = true
	}
	return next
}

// Doubted lists the facts that may not be presumed, in the facts' own order.
func (c Case) Doubted() []string {
	var names []string
	for _, f := range c.facts {
		if c.doubted[f.Name] && !c.Known(f.Name) {
			names = append(names, f.Name)
		}
	}
	return names
}

// Known reports whether anything has been said of the fact.
func (c Case) Known(fact string) bool {
	f, err := c.fact(fact)
	if err != nil {
		return false
	}
	_, measured := c.measures[fact]
	return measured || c.sets[f.index] != f.All()
}

// Values lists the values of a fact that are still possible.
func (c Case) Values(fact string) []string {
	f, err := c.fact(fact)
	if err != nil {
		return nil
	}
	return f.Names(c.sets[f.index])
}

// Is reports whether the fact is certainly one of the values.
func (c Case) Is(fact string, values ...string) bool {
	f, err := c.fact(fact)
	if err != nil {
		return false
	}
	s, err := f.SetOf(values...)
	return err == nil && c.sets[f.index].Within(s)
}

// Measure returns what is known of a measured fact.
func (c Case) Measure(fact string) (Range, bool) {
	r, ok := c.measures[fact]
	return r, ok
}

// Said is the number that a measured fact was said with: 1 of "under 1 mm", which is
// up to it, 4 of "at least 4 mm".
func (c Case) Said(fact string) (x float64, upTo bool) {
	f, err := c.fact(fact)
	r, ok := c.measures[fact]
	switch {
	case err != nil || !ok:
		return 0, false
	case !r.Exact() && f.upTo(r):
		return r.To, true
	}
	return r.From, false
}

// upTo reports whether a range of the fact leaves its lower end open.
func (f *Fact) upTo(r Range) bool { return r.From <= f.Low }

// Facts lists the names of the facts of which something is known.
func (c Case) Facts() []string {
	var names []string
	for _, f := range c.facts {
		if c.Known(f.Name) {
			names = append(names, f.Name)
		}
	}
	return names
}

// String writes the case as a person would read it, one fact after the other.
func (c Case) String() string {
	var parts []string
	for _, name := range c.Facts() {
		f, _ := c.fact(name)
		parts = append(parts, f.Title+": "+c.Describe(name))
	}
	if parts == nil {
		return "nothing known"
	}
	return strings.Join(parts, "; ")
}

// Describe writes what is known of one fact: "4Y or 5Y", "0.7 mm", "under 1 mm".
func (c Case) Describe(fact string) string {
	f, err := c.fact(fact)
	if err != nil {
		return ""
	}
	r, ok := c.measures[fact]
	switch {
	case !ok:
		return strings.Join(c.Values(fact), " or ")
	case r.Exact():
		return fmt.Sprintf("%v %s", r.From, f.Unit)
	case f.upTo(r):
		return fmt.Sprintf("under %v %s", r.To, f.Unit)
	case r.To >= f.High:
		return fmt.Sprintf("at least %v %s", r.From, f.Unit)
	}
	return fmt.Sprintf("%v to %v %s", r.From, r.To, f.Unit)
}

func (c Case) fact(name string) (*Fact, error) {
	for _, f := range c.facts {
		if f.Name == name {
			return f, nil
		}
	}
	return nil, fmt.Errorf("no fact is called %q", name)
}

func (c Case) withSet(f *Fact, s Set) Case {
	next := c
	next.sets = slices.Clone(c.sets)
	next.sets[f.index] = s
	return next
}

func (c Case) withNumber(f *Fact, values []string) (Case, error) {
	if len(values) != 1 {
		return c, fmt.Errorf("%s wants one number in %s, got %d values", f.Name, f.Unit, len(values))
	}
	text := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(values[0]), f.Unit))
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return c, fmt.Errorf("%s wants a number in %s, got %q", f.Name, f.Unit, values[0])
	}
	return c.WithRange(f.Name, Range{x, x})
}
