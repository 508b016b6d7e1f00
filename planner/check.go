package planner

import (
	"fmt"
	"strconv"

	"mortarboard/planner/sums"
)

// A Standing says how a value stands to a setting.
type Standing string

// The standings, as the answer contract names them. Unknown also stands for a
// value between the ends of a bound, where sources or products differ, and for a
// setting that is reported and not asked for.
const (
	Within  Standing = "within"
	Outside Standing = "outside"
	Unknown Standing = "unknown"
)

// Nominal is how far, as a share, a value may lie from a setting of a single figure
// and still be that figure: sizes and times are labelled in round numbers.
const Nominal = 0.1

// A Bound says which ends of a setting hold: what happens below and what
// happens above is told for the ends that matter.
type Bound int

// The kinds of bound.
const (
	Reported Bound = iota // a figure for reference, nothing to pass or fail
	AtLeast               // less than Low is a fault, more is none
	AtMost                // more than High is a fault, less is none
	Between               // both ends hold
)

// Bound tells which ends of the setting hold.
func (p *Parameter) Bound() Bound {
	switch {
	case p.Below != "" && p.Above != "":
		return Between
	case p.Below != "":
		return AtLeast
	case p.Above != "":
		return AtMost
	}
	return Reported
}

// Judge tells how a value in the parameter's own unit stands to it.
func (p *Parameter) Judge(x float64) Standing {
	switch p.Bound() {
	case Between:
		low, high := p.Low, p.High
		if low == high {
			low, high = low*(1-Nominal), high*(1+Nominal)
		}
		return stand(x < low || x > high, true)
	case AtLeast:
		return stand(x < p.Low, x >= p.High)
	case AtMost:
		return stand(x > p.High, x <= p.Low)
	}
	return Unknown
}

func stand(fails, passes bool) Standing {
	switch {
	case fails:
		return Outside
	case passes:
		return Within
	}
	return Unknown
}

// String writes the setting for a person: "1.5 to 2.8 bar", "at least 4 mm".
func (p *Parameter) String() string {
	low, high := plainNumber(p.Low), plainNumber(p.High)
	span := low
	if p.Low != p.High {
		span = low + " to " + high
	}
	switch apart := p.Low != p.High; {
	case p.Bound() == AtLeast && apart:
		span = "at least " + low + ", better " + high // where sources differ, only the stricter is met
	case p.Bound() == AtMost && apart:
		span = "at most " + high + ", better " + low
	case p.Bound() == AtLeast:
		span = "at least " + span
	case p.Bound() == AtMost:
		span = "at most " + span
	}
	if p.High == 0 && p.Bound() == AtMost {
		return "never"
	}
	if p.Unit == "ratio" {
		return span
	}
	return span + " " + p.Unit
}

// plainNumber writes a number without trailing noughts and sets off thousands.
func plainNumber(x float64) string {
	s := strconv.FormatFloat(x, 'f', -1, 64)
	if x >= 10000 && x == float64(int64(x)) {
		return s[:len(s)-3] + "," + s[len(s)-3:]
	}
	return s
}

// A Judged setting is one that a value was held against.
type Judged struct {
	*Parameter
	Standing
	Value float64 // the value in the parameter's unit
}

// A Verification is what holding a value against a key's settings gave.
type Verification struct {
	Verdict Standing
	Rows    []Judged
}

// Check holds a quantity against every setting of the key that can apply to the
// case. The verdict is flat only where all of them agree. The error says that
// the quantity does not measure what the key sets.
func (b *Rulebook) Check(c Case, key string, q sums.Quantity) (Verification, error) {
	var v Verification
	for _, p := range b.Settings(c, key) {
		converted, err := q.In(sums.Unit(p.Unit))
		if err != nil {
			return v, fmt.Errorf("%s is set in %s: %w", p.Name, p.Unit, err)
		}
		v.Rows = append(v.Rows, Judged{p, p.Judge(converted.Value), converted.Value})
	}
	v.Verdict = agreed(v.Rows)
	return v, nil
}

// agreed is the standing that all rows share.
func agreed(rows []Judged) Standing {
	if len(rows) == 0 {
		return Unknown
	}
	for _, j := range rows {
		if j.Standing != rows[0].Standing {
			return Unknown
		}
	}
	return rows[0].Standing
}

// Usual fills in what a question about a setting leaves unsaid, as facts.yaml has it:
// which abrasive is meant unless another was named.
func (b *Rulebook) Usual(c Case) Case {
	for _, u := range b.Usuals {
		if c.Known(u.Fact.Name) {
			continue
		}
		if next, err := c.With(u.Fact.Name, u.Fact.Names(u.Values)...); err == nil {
			c = next
		}
	}
	return c
}
