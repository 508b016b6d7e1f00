package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// A sum is one calculation that a message asks for.
type sum struct {
	name  string
	wants func(t *Talk, turn *turn) bool
	work  func(t *Talk, turn *turn) Reply
}

// sumsKnown are tried in order; the first that the message wants is worked out.
var sumsKnown = []sum{
	{"conversion", (*Talk).wantsConversion, (*Talk).convert},
}

// calculates reports whether the message asks for a calculation.
func (t *Talk) calculates(turn *turn) bool {
	return slices.ContainsFunc(sumsKnown, func(s sum) bool { return s.wants(t, turn) })
}

// calculation works out what the message asks for.
func (t *Talk) calculation(turn *turn) Reply {
	i := slices.IndexFunc(sumsKnown, func(s sum) bool { return s.wants(t, turn) })
	r := sumsKnown[i].work(t, turn)
	r.Kind = KindCalculation
	return r
}

// wantsConversion reports whether a quantity is asked for in another unit.
func (t *Talk) wantsConversion(turn *turn) bool {
	_, _, ok := t.conversion(turn)
	return ok
}

// conversion finds the quantity and the unit wanted: "2.8 bar in psi", "how
// many psi is 2 bar".
func (t *Talk) conversion(turn *turn) (sums.Quantity, sums.Unit, bool) {
	tokens := turn.tokens
	for _, m := range turn.measures {
		if m.quantity.Unit == "" {
			continue
		}
		for i := range tokens {
			unit, ok := spelledUnit(tokens[i].word)
			before := wordBefore(tokens, i)
			asked := slices.Contains([]string{"in", "to", "into", "as", "many", "much", "what"}, before)
			if ok && asked && unit != m.quantity.Unit && unit.Dimension() == m.quantity.Unit.Dimension() {
				return m.quantity, unit, true
			}
		}
	}
	return sums.Quantity{}, "", false
}

func (t *Talk) convert(turn *turn) Reply {
	q, unit, _ := t.conversion(turn)
	to, err := q.In(unit)
	if err != nil {
		return Reply{Headline: t.say("not plausible", err.Error())}
	}
	r := Reply{Headline: t.say("converted", map[string]any{"From": q.String(), "To": to.String()})}
	r.Values = []Value{{Name: "conversion", Of: q.String(), Low: to.Value, High: to.Value, Unit: string(unit), Basis: "computed", Source: "NIST SP 811"}}
	return r
}
