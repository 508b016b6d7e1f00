package talk

import (
	"slices"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// Names of measures that are no facts of a case.
const (
	topWidth     = "top_mm"         // the occlusal width, which only a calculation uses
	taperUnclear = "taper_deg"      // a taper of which it is not said whether it counts one wall or both
	wallTaper    = "wall_taper_deg" // the taper of one wall; twice that is the total convergence
)

// A measure is a number of the message with its unit and what it measures, if
// that was said.
type measure struct {
	quantity sums.Quantity
	fact     string        // the measured fact, topWidth, taperUnclear or nothing
	within   planner.Range // in the fact's unit
	assumed  bool          // no unit was written; the fact's own was assumed
	at       int
}

// measures reads every number that is no tooth and no part of a phrase.
func (x *lexicon) measures(tokens []token, bound map[int]string) []measure {
	var out []measure
	for i, t := range tokens {
		if !t.isNum || t.spent {
			continue
		}
		m := measure{quantity: sums.Quantity{Value: t.number, Unit: t.unit}, at: i, fact: bound[i]}
		x.settle(&m, tokens)
		out = append(out, m)
	}
	if len(out) == 1 && out[0].fact == topWidth && out[0].quantity.Value <= tallWall {
		out[0].fact = "wall_mm" // "occlusal 0.9 mm" alone is the ceramic's thickness there
	}
	return out
}

// tallWall is the length in mm from which "walls" are those of the preparation:
// no ceramic wall is as thick.
const tallWall = 2.5

// settle turns a bound number into a range in the fact's unit.
func (x *lexicon) settle(m *measure, tokens []token) {
	if m.fact == "" && m.quantity.Unit == sums.Millimetre && x.beforeGrade(tokens, m.at) {
		m.fact = "wall_mm"
	}
	if m.fact == "" {
		return
	}
	if m.fact == "wall_mm" && m.quantity.Value > tallWall && m.quantity.Unit != sums.Micrometre {
		m.fact = "height_mm" // walls this tall are the preparation's
	}
	value := m.quantity.Value
	if m.quantity.Unit == "" {
		m.assumed = !x.counts(m.fact)
	} else if q, err := m.quantity.In(x.unitOf(m.fact)); err == nil {
		value = q.Value
	}
	if m.fact == wallTaper {
		m.fact, value = "convergence_deg", 2*value
		m.quantity.Value *= 2 // so that nobody holds one wall against a limit for both
	}
	m.within = x.compared(tokens, m.at, value)
}

// beforeGrade reports whether a length stands beside a zirconia grade or a
// restoration, as in "0.7 mm 5Y" or "5Y 0.7 mm crown"; behind or through it is a path of light, not a wall.
func (x *lexicon) beforeGrade(tokens []token, i int) bool {
	if x.onPath(tokens, i) || tokens[i].number > tallWall {
		return false
	}
	for _, at := range []int{i + 1, i - 1} {
		if at < 0 || at >= len(tokens) {
			continue
		}
		if p, ok := x.at("facts", tokens, at); ok && slices.Contains(x.words.Measuring.WallBeside, p.sense.name) {
			return true
		}
	}
	return false
}

// onPath reports whether a thickness is what light goes through, or a specimen.
func (x *lexicon) onPath(tokens []token, i int) bool {
	for _, t := range tokens {
		if t.unit == sums.MilliwattPerCM || t.unit == sums.Newton {
			return true
		}
	}
	for back := 1; back <= 2 && i-back >= 0; back++ {
		if x.is("lies-on-the-path-of-light", tokens[i-back].word) {
			return true
		}
	}
	return false
}

// unitsMeasured is the unit of every measured fact, and of the measures beside them.
func unitsMeasured(book *planner.Rulebook, others map[string]string) map[string]sums.Unit {
	units := map[string]sums.Unit{}
	for _, f := range book.Facts {
		if f.Measured() {
			units[f.Name] = sums.Unit(f.Unit)
		}
	}
	for name, unit := range others {
		units[name] = sums.Unit(unit)
	}
	return units
}

// unitOf is the unit in which a measure is kept.
func (x *lexicon) unitOf(measure string) sums.Unit { return x.units[measure] }

// counts reports whether a measure is a count, which is written without a unit.
func (x *lexicon) counts(measure string) bool { return x.units[measure].Dimension() == sums.Count }

// Ends of a range of which only the other end was said; facts cut them to what
// is plausible.
const (
	noLow  = 0
	noHigh = 1e6
)

// compared reads "under", "at least" and the like before or behind a number.
func (x *lexicon) compared(tokens []token, i int, value float64) planner.Range {
	for back := 1; back <= 3 && i-back >= 0; back++ {
		t := tokens[i-back]
		if t.clause != tokens[i].clause || t.isNum || x.is("article", t.word) {
			break
		}
		if t.spent {
			continue // it belongs to a phrase: "under the gum 2 mm", "min wall 0.9"
		}
		less := x.is("less-than", t.word) || x.is("at-most", t.word)
		more := x.is("more-than", t.word) || x.is("at-least", t.word)
		if less || more {
			return oneEnd(value, more != x.turnsRound(wordBefore(tokens, i-back)))
		}
	}
	return x.comparedBehind(tokens, i, value)
}

// comparedBehind reads "or more", "or less" and a plus sign behind a number.
func (x *lexicon) comparedBehind(tokens []token, i int, value float64) planner.Range {
	for next := i + 1; next+1 < len(tokens) && next <= i+2; next++ {
		less, more := x.is("less-than", tokens[next+1].word), x.is("more-than", tokens[next+1].word)
		if tokens[next].word == "or" && (less || more) {
			return oneEnd(value, more)
		}
	}
	if i+1 < len(tokens) && tokens[i+1].word == "+" {
		return oneEnd(value, true)
	}
	return planner.Range{From: value, To: value}
}

// oneEnd is a range of which one end was said: from the value up, or up to it.
func oneEnd(value float64, up bool) planner.Range {
	if up {
		return planner.Range{From: value, To: noHigh}
	}
	return planner.Range{From: noLow, To: value}
}
