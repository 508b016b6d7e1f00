package talk

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A fault is what is wrong in the vocabulary, and under which keys it stands.
type fault struct {
	path []string
	says string
}

// told writes the faults in the order of files and lines.
func (c *checker) told(sources []wordSource) error {
	type placed struct {
		file string
		line int
		says string
	}
	var all []placed
	for _, f := range c.faults {
		file, line := whereIs(sources, f.path)
		all = append(all, placed{file, line, fmt.Sprintf("%s: %s", strings.Join(f.path, ": "), f.says)})
	}
	slices.SortFunc(all, func(a, b placed) int {
		return cmp.Or(strings.Compare(a.file, b.file), a.line-b.line, strings.Compare(a.says, b.says))
	})
	var errs []error
	for _, p := range all {
		errs = append(errs, fmt.Errorf("%s:%d: %s", p.file, p.line, p.says))
	}
	return errors.Join(errs...)
}

func (c *checker) refuse(says string, path ...string) {
	c.faults = append(c.faults, fault{path, says})
}

// values refuses values that a fact cannot have.
func (c *checker) values(fact string, values []string, path ...string) {
	if _, err := c.empty.With(fact, values...); err != nil {
		c.refuse(err.Error(), path...)
	}
}

// fact refuses the name of a fact that is not there.
func (c *checker) fact(name string, path ...string) {
	if !slices.ContainsFunc(c.book.Facts, func(f *planner.Fact) bool { return f.Name == name }) {
		c.refuse(fmt.Sprintf("no fact is called %q", name), path...)
	}
}

// measure refuses what is neither a measured fact nor another measure.
func (c *checker) measure(name string, path ...string) {
	fact := slices.ContainsFunc(c.book.Facts, func(f *planner.Fact) bool { return f.Name == name && f.Measured() })
	if _, other := c.words.Measuring.Units[name]; !fact && !other {
		c.refuse(fmt.Sprintf("%q is neither a measured fact nor a measure under measuring: units", name), path...)
	}
}

// key refuses the key of a parameter that is not there.
func (c *checker) key(key string, path ...string) {
	if !slices.Contains(c.keys, key) {
		c.refuse(fmt.Sprintf("no parameter has the key %q", key), path...)
	}
}

// grade refuses a grade that is not listed.
func (c *checker) grade(name string, path ...string) {
	if !slices.Contains(c.words.Judgements.Grades, name) {
		c.refuse(fmt.Sprintf("%q is no grade; they are %s", name, strings.Join(c.words.Judgements.Grades, ", ")), path...)
	}
}

// unit refuses what is not the symbol of a unit.
func (c *checker) unit(symbol string, path ...string) {
	if u, err := sums.ParseUnit(symbol); err != nil || string(u) != symbol {
		c.refuse(fmt.Sprintf("%q is not the symbol of a unit", symbol), path...)
	}
}
