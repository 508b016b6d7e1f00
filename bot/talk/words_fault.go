package talk

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A fault is what is wrong in words.yaml, and under which keys it stands.
type fault struct {
	path []string
	says string
}

// told writes the faults in the order of their lines.
func (c *checker) told(data []byte) error {
	type line struct {
		at   int
		says string
	}
	var lines []line
	for _, f := range c.faults {
		lines = append(lines, line{lineOf(data, f.path), fmt.Sprintf("%s: %s", strings.Join(f.path, ": "), f.says)})
	}
	slices.SortFunc(lines, func(a, b line) int { return cmp.Or(a.at-b.at, strings.Compare(a.says, b.says)) })
	var errs []error
	for _, l := range lines {
		errs = append(errs, fmt.Errorf("words.yaml:%d: %s", l.at, l.says))
	}
	return errors.Join(errs...)
}

// lineOf finds the line of a path of keys and list entries, or of as much of it
// as is there.
func lineOf(data []byte, path []string) int {
	var file yaml.Node
	if yaml.NewDecoder(bytes.NewReader(data)).Decode(&file) != nil || len(file.Content) == 0 {
		return 1
	}
	node, line := file.Content[0], 1
	for _, name := range path {
		i := slices.IndexFunc(node.Content, func(n *yaml.Node) bool { return n.Value == name && n.Kind == yaml.ScalarNode })
		if i < 0 {
			break
		}
		line = node.Content[i].Line
		if node.Kind == yaml.MappingNode && i+1 < len(node.Content) {
			node = node.Content[i+1]
		}
	}
	return line
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
