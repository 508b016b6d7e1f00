package draw

import (
	"fmt"
	"math"

	"mortarboard/planner/sums"
)

// A Bound says which ends of a setting hold.
type Bound int

// The kinds of bound, in the order in which the planner counts them.
const (
	Reported Bound = iota // a figure for reference, nothing to pass or fail
	AtLeast               // right from High up, wrong below Low
	AtMost                // right up to Low, wrong above High
	Between               // right from Low to High
)

// The standings of a value to a setting, as the answer contract names them.
const (
	Within  = "within"
	Outside = "outside"
	Unknown = "unknown"
)

// A Setting is one envelope that a value is held against.
type Setting struct {
	Of        string // what it is a setting of
	Low, High float64
	Unit      sums.Unit
	Bound     Bound
	Slack     float64 // how far, as a share of a single figure, a value may lie off and still be that figure
	Basis     string  // what it rests on; left out if empty
	Standing  string  // of the asked value, as the planner judged it; empty if none was asked
}

// A Check is one parameter: its settings on one axis, and the asked value.
type Check struct {
	Name     string // of the parameter, e.g. "pressure"
	Asked    *sums.Quantity
	Settings []Setting // all in one unit
}

// mostSettings is how many settings a picture shows before it is too long for
// a telephone.
const mostSettings = 8

// Drawing draws each setting as a bar on a common axis with the asked value,
// and the axis in the asker's unit as well if that is another.
func (c Check) Drawing() (Drawing, error) { return finish(c.layout()) }

func (c Check) layout() (*sheet, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	s := newSheet("check", c.alt())
	s.title(signOf(c.standing()), c.title(), c.converted())
	a := c.axis()
	s.bottom += 4
	c.askedLabel(s, a)
	c.upperAxis(s, a)
	for _, set := range c.shown() {
		c.row(s, a, set)
	}
	c.lowerAxis(s, a)
	c.legend(s)
	return s, nil
}

func (c Check) shown() []Setting { return c.Settings[:min(len(c.Settings), mostSettings)] }

func (c Check) unit() sums.Unit { return c.Settings[0].Unit }

// check refuses what cannot be drawn and standings that the values deny.
func (c Check) check() error {
	if c.Name == "" {
		return fmt.Errorf("name of the parameter: got none, allowed the name that the trade gives it")
	}
	if len(c.Settings) == 0 {
		return fmt.Errorf("settings of %s: got none, allowed at least one", c.Name)
	}
	var asked float64
	if c.Asked != nil {
		v, err := c.value()
		if err != nil {
			return err
		}
		asked = v
	}
	for _, set := range c.Settings {
		if err := set.check(c.unit(), c.Asked != nil); err != nil {
			return err
		}
		if c.Asked != nil && set.denies(asked) {
			return fmt.Errorf("standing of %s to %s: got %q, which the values %s deny: judge it again",
				plain(c.asked()), set.Of, set.Standing, plain(set.words()))
		}
	}
	return nil
}

func (set Setting) check(unit sums.Unit, asked bool) error {
	if err := finite("setting of "+set.Of, set.Low, set.High, set.Slack); err != nil {
		return err
	}
	switch {
	case set.Of == "":
		return fmt.Errorf("setting: got no words for what it is of, allowed any")
	case set.Low > set.High:
		return fmt.Errorf("setting of %s: got low %v above high %v, allowed low up to high", set.Of, set.Low, set.High)
	case set.Unit != unit:
		return fmt.Errorf("unit of %s: got %q beside %q, allowed one unit in a picture", set.Of, set.Unit, unit)
	case set.Bound < Reported || set.Bound > Between:
		return fmt.Errorf("bound of %s: got %d, allowed 0 to 3", set.Of, set.Bound)
	case set.Slack < 0 || set.Slack > 0.5:
		return fmt.Errorf("slack of %s: got %v, allowed 0 to 0.5", set.Of, set.Slack)
	case asked && set.Standing != Within && set.Standing != Outside && set.Standing != Unknown:
		return fmt.Errorf("standing to %s: got %q, allowed within, outside, unknown", set.Of, set.Standing)
	}
	return nil
}

// right is the span of values that are right, endless where the bound is open.
func (set Setting) right() (low, high float64) {
	low, high = set.Low, set.High
	switch {
	case set.Bound == AtLeast:
		return set.High, math.Inf(1)
	case set.Bound == AtMost:
		return math.Inf(-1), set.Low
	case low == high:
		return low - set.Slack*math.Abs(low), high + set.Slack*math.Abs(high)
	}
	return low, high
}

// denies reports whether a value cannot have the standing. A tenth is left for
// rounding; the planner judges, this only keeps a picture from saying one thing
// in words and another in its shapes.
func (set Setting) denies(v float64) bool {
	low, high := set.right()
	room := 0.1 * math.Max(math.Abs(set.Low), math.Abs(set.High))
	switch {
	case set.Bound == Reported:
		return set.Standing != Unknown
	case set.Standing == Within:
		return v < low-room || v > high+room
	case set.Standing == Outside:
		return v > low+room && v < high-room
	}
	return false
}

// value is the asked value in the unit of the settings.
func (c Check) value() (float64, error) {
	if err := finite("asked "+c.Name, c.Asked.Value); err != nil {
		return 0, err
	}
	if c.Asked.Unit == c.unit() {
		return c.Asked.Value, nil
	}
	q, err := c.Asked.In(c.unit())
	if err != nil {
		return 0, fmt.Errorf("asked %s: %w", c.Name, err)
	}
	return q.Value, finite("asked "+c.Name, q.Value)
}

// standing is what all settings agree on.
func (c Check) standing() string {
	if c.Asked == nil {
		return ""
	}
	for _, set := range c.Settings {
		if set.Standing != c.Settings[0].Standing {
			return Unknown
		}
	}
	return c.Settings[0].Standing
}

func signOf(standing string) sign {
	return map[string]sign{Within: rightOne, Outside: wrongOne, Unknown: openOne}[standing]
}
