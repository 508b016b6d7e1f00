package planner

import (
	"fmt"
	"math/bits"
	"slices"
	"strconv"
	"strings"
)

// A Set holds values of one fact, one bit each, in the order of Fact.Values.
type Set uint32

// Has reports whether value i is in the set.
func (s Set) Has(i int) bool { return s&(1<<i) != 0 }

// Len counts the values in the set.
func (s Set) Len() int { return bits.OnesCount32(uint32(s)) }

// Within reports whether every value of s is in t, and s is not empty.
func (s Set) Within(t Set) bool { return s != 0 && s&^t == 0 }

// A Fact is one thing that can be known about a case: a choice between values,
// or a measured number whose axis the rules cut into regions.
type Fact struct {
	Name     string
	Title    string // as a sentence names it
	Ask      string // the question put to the team
	Values   []string
	Unit     string  // measured facts only: mm, deg or units
	Low      float64 // the smallest plausible number, in Unit
	High     float64 // the largest plausible number, in Unit
	Cuts     []float64
	Told     bool // is not asked for while it is presumed
	Decides  bool // names the side that the dentist has decided on
	Selector bool // only selects a parameter, never argues

	index int
}

// Measured reports whether the fact is a number rather than a choice.
func (f *Fact) Measured() bool { return f.Unit != "" }

// All is the set of every value.
func (f *Fact) All() Set { return 1<<len(f.Values) - 1 }

// Region tells in which region of the axis x lies, as an index into Values.
func (f *Fact) Region(x float64) int {
	i, found := slices.BinarySearch(f.Cuts, x)
	if found {
		i++
	}
	return i
}

// SetOf returns the set of the named values; the error lists what is allowed.
func (f *Fact) SetOf(values ...string) (Set, error) {
	var s Set
	if len(values) == 0 {
		return 0, fmt.Errorf("%s needs a value: allowed are %s", f.Name, strings.Join(f.Values, ", "))
	}
	for _, v := range values {
		i := slices.Index(f.Values, v)
		if i < 0 {
			return 0, fmt.Errorf("%s has no value %q: allowed are %s", f.Name, v, strings.Join(f.Values, ", "))
		}
		s |= 1 << i
	}
	return s, nil
}

// Names lists the values of a set, in the fact's own order.
func (f *Fact) Names(s Set) []string {
	var names []string
	for i, v := range f.Values {
		if s.Has(i) {
			names = append(names, v)
		}
	}
	return names
}

// condition reads one cell of a rule: a list of values, or for a measured fact
// a comparison with a cut: "< 0.5", ">= 1.2" or "0.5..1.2" (upper end excluded).
func (f *Fact) condition(cells []string) (Set, error) {
	if !f.Measured() {
		return f.SetOf(cells...)
	}
	if len(f.Cuts) == 0 {
		return 0, fmt.Errorf("%s is cut nowhere: add the cut in facts.yaml", f.Name)
	}
	if len(cells) != 1 {
		return 0, fmt.Errorf("%s wants one comparison such as \"< %v\", got %d", f.Name, f.Cuts[0], len(cells))
	}
	low, high, err := f.bounds(cells[0])
	if err != nil {
		return 0, err
	}
	if low >= high {
		return 0, fmt.Errorf("%s wants a range that rises, got %q", f.Name, cells[0])
	}
	return f.between(low, high), nil
}

func (f *Fact) bounds(cell string) (low, high float64, err error) {
	low, high = f.Low, f.High
	switch {
	case strings.HasPrefix(cell, "<="), strings.HasPrefix(cell, ">") && !strings.HasPrefix(cell, ">="):
		return 0, 0, fmt.Errorf("%s wants \"< n\", \">= n\" or \"n..m\", got %q", f.Name, cell)
	case strings.HasPrefix(cell, "<"):
		high, err = f.cut(cell[1:])
	case strings.HasPrefix(cell, ">="):
		low, err = f.cut(cell[2:])
	default:
		from, to, ok := strings.Cut(cell, "..")
		if !ok {
			return 0, 0, fmt.Errorf("%s wants \"< n\", \">= n\" or \"n..m\", got %q", f.Name, cell)
		}
		if low, err = f.cut(from); err == nil {
			high, err = f.cut(to)
		}
	}
	return low, high, err
}

func (f *Fact) cut(text string) (float64, error) {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !slices.Contains(f.Cuts, x) {
		return 0, fmt.Errorf("%s is cut at %v, not at %q: use one of these or add the cut in facts.yaml", f.Name, f.Cuts, strings.TrimSpace(text))
	}
	return x, nil
}

// between is the set of regions that overlap [low, high).
func (f *Fact) between(low, high float64) Set {
	var s Set
	for i := range f.Values {
		from, to := f.Low, f.High
		if i > 0 {
			from = f.Cuts[i-1]
		}
		if i < len(f.Cuts) {
			to = f.Cuts[i]
		}
		if low < to && high > from || low == high && f.Region(low) == i {
			s |= 1 << i
		}
	}
	return s
}

// regions names the parts of a measured axis, e.g. "under 0.5 mm".
func regions(unit string, cuts []float64) []string {
	if len(cuts) == 0 {
		return []string{"any"}
	}
	names := []string{fmt.Sprintf("under %v %s", cuts[0], unit)}
	for i := 1; i < len(cuts); i++ {
		names = append(names, fmt.Sprintf("%v to under %v %s", cuts[i-1], cuts[i], unit))
	}
	return append(names, fmt.Sprintf("%v %s or more", cuts[len(cuts)-1], unit))
}
