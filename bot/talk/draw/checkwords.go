package draw

import (
	"fmt"
	"slices"
	"strings"

	"mortarboard/planner/sums"
)

// asked writes the asked value in the asker's unit.
func (c Check) asked() string { return of(c.Asked.Value, c.Asked.Unit) }

// otherUnit reports whether the asker used another unit than the settings.
func (c Check) otherUnit() bool { return c.Asked != nil && c.Asked.Unit != c.unit() }

func (c Check) title() string {
	if c.Asked == nil {
		return upper(c.Name)
	}
	words := upper(c.Name) + " " + c.asked() + ": "
	if !slices.ContainsFunc(c.Settings, func(set Setting) bool { return set.Bound != Reported }) {
		return words + "for reference"
	}
	if len(c.Settings) > 1 && c.standing() == Unknown {
		return words + "it depends"
	}
	return words + map[string]string{Within: "within", Outside: "outside", Unknown: "not settled"}[c.standing()]
}

func (c Check) converted() string {
	if !c.otherUnit() {
		return ""
	}
	v, _ := c.value() // checked before anything is drawn
	return c.asked() + " is " + of(v, c.unit())
}

// words writes a setting: "at least 4 mm". Of a bound, the cautious end counts.
func (set Setting) words() string {
	envelope := span(set.Low, set.High, set.Unit)
	switch {
	case set.Bound == AtMost && set.High == 0:
		return "never"
	case set.Bound == AtLeast:
		return "at least " + of(set.High, set.Unit) + set.differing(envelope)
	case set.Bound == AtMost:
		return "at most " + of(set.Low, set.Unit) + set.differing(envelope)
	case set.Bound == Reported:
		return envelope + ", for reference"
	}
	return envelope
}

// differing tells of the span between the ends of a bound.
func (set Setting) differing(envelope string) string {
	if set.Low == set.High {
		return ""
	}
	return "; sources or products differ from " + envelope
}

// judged says how a value stands and by how much it misses.
func (set Setting) judged(v float64) string {
	switch {
	case set.Standing == Unknown && set.Bound == Reported:
		return "nothing to pass or fail"
	case set.Standing == Unknown:
		return "not settled"
	case set.words() == "never":
		return set.Standing
	case set.Standing == Outside && v > set.High:
		return "outside, " + of(v-set.High, set.Unit) + " too much"
	case set.Standing == Outside && v < set.Low:
		return "outside, " + of(set.Low-v, set.Unit) + " too little"
	}
	return set.Standing
}

// alt describes the picture.
func (c Check) alt() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s on one axis in %s", upper(c.Name)+", "+count(len(c.shown()), "setting", "settings"), c.axisUnit())
	if c.Asked == nil {
		b.WriteString(".")
	} else {
		b.WriteString(", with the asked value of " + c.asked())
		if c.otherUnit() {
			b.WriteString(" (" + c.converted() + ")")
		}
		b.WriteString(".")
	}
	for _, set := range c.shown() {
		fmt.Fprintf(&b, " %s: %s", upper(set.Of), set.words())
		if c.Asked != nil {
			v, _ := c.value()
			b.WriteString("; asked value " + set.judged(v))
		}
		b.WriteString(".")
	}
	return plain(b.String() + prefixed(c.rest()))
}

// rest names the settings for which there is no room.
func (c Check) rest() string {
	if n := len(c.Settings) - len(c.shown()); n > 0 {
		return upper(count(n, "more setting is", "more settings are")) + " in the text."
	}
	return ""
}

// axisUnit names what the axis counts in.
func (c Check) axisUnit() string {
	if c.unit() == sums.Ratio || c.unit() == "" {
		return "plain numbers"
	}
	return string(c.unit())
}
