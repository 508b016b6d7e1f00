package talk

import (
	"math"
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
		if m.fact == "" && x.warmth(tokens, i) {
			m.quantity.Unit = sums.Celsius
		} else if m.fact == "" && m.quantity.Unit == "" && newtons(tokens, i) {
			m.quantity.Unit = sums.Newton
		} else if x.rough(tokens, i) {
			m.quantity.Unit = sums.Micrometre
		}
		x.settle(&m, tokens)
		if j := x.otherEnd(tokens, i); bound[i] == "" && m.fact != "" && j > 0 && bound[j] == "" && !tokens[j].ends {
			tokens[j].ends, bound[j] = true, m.fact // "veneer 0.5 to 0.7"
		}
		if last := len(out) - 1; t.ends && last >= 0 && m.fact != "" {
			out[last].fact, out[last].within.To = m.fact, m.within.To
			continue
		}
		out = append(out, m)
	}
	wide := slices.ContainsFunc(out, func(m measure) bool { return m.fact == "width_mm" })
	for i := range out {
		if out[i].fact == topWidth && out[i].quantity.Value <= tallWall && !wide {
			out[i].fact = "wall_mm" // "occlusal 0.9 mm" beside no other width is the ceramic's thickness there
		}
	}
	return out
}

// rough reports whether a bare number is a roughness: "Ra 0.5".
func (x *lexicon) rough(tokens []token, i int) bool {
	behind := ""
	if i+1 < len(tokens) {
		behind = tokens[i+1].word
	}
	return tokens[i].unit == "" && (x.is("names-a-roughness", wordBefore(tokens, i)) || x.is("names-a-roughness", behind))
}

// newtons reports whether an N behind a number is its unit, and no short "and".
func newtons(tokens []token, i int) bool {
	return i+1 < len(tokens) && tokens[i+1].word == "n" && tokens[i+1].clause == tokens[i].clause && (i+2 == len(tokens) || !tokens[i+2].isNum)
}

// warmth reports whether a number is a temperature although it is not written as
// one: "30 C", or 5 degrees where something is spoken of that is kept at one.
func (x *lexicon) warmth(tokens []token, i int) bool {
	if tokens[i].unit == "" {
		letter := i+1 < len(tokens) && tokens[i+1].word == "c" && tokens[i+1].clause == tokens[i].clause
		return letter && (i+2 == len(tokens) || tokens[i+2].word != "/")
	}
	return tokens[i].unit == sums.Degree && slices.ContainsFunc(x.tasks(tokens), func(f found) bool {
		return x.words.Settings[f.sense.name][string(sums.Temperature)] != ""
	})
}

// tallWall is the length in mm from which "walls" are those of the preparation:
// no ceramic wall is as thick.
const tallWall = 2.5

// narrowest is the width in mm below which no stump is.
const narrowest = 2

// settle turns a bound number into a range in the fact's unit.
func (x *lexicon) settle(m *measure, tokens []token) {
	if m.fact == "" && m.quantity.Unit == sums.Millimetre {
		if deep := x.afterDepth(tokens, m.at); deep != "" {
			m.fact = deep
		} else if x.beforeGrade(tokens, m.at) {
			m.fact = "wall_mm"
		} else if x.afterStump(tokens, m.at) {
			m.fact = x.words.Measuring.Pair[0]
		}
	}
	if m.fact == "" && m.quantity.Unit == "" && m.quantity.Value < 1 && m.quantity.Value >= 0.2 && x.beforeGrade(tokens, m.at) {
		m.fact = "wall_mm" // "veneer 0.5"
	}
	if m.fact == "" {
		return
	}
	if m.fact == "width_mm" && m.quantity.Value < narrowest && m.quantity.Unit != sums.Centimetre {
		m.fact = "wall_mm" // "0.5 mm at the margin"
	}
	if m.fact == "wall_mm" && m.quantity.Value > tallWall && m.quantity.Unit != sums.Micrometre {
		m.fact = "height_mm" // walls this tall are the preparation's
	}
	value := m.quantity.Value
	if m.quantity.Unit == "" {
		m.assumed = !x.counts(m.fact)
	} else if q, err := m.quantity.In(x.unitOf(m.fact)); err == nil {
		value = math.Round(q.Value*1e6) / 1e6
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
	behind, before := i+1, i-1
	if x.is("is-the-ceramic", wordBehind(tokens, i)) || i > 0 && tokens[before].clause == tokens[i].clause && x.is("is-the-ceramic", tokens[before].word) {
		return true // 1 mm ceramic
	}
	if behind < len(tokens) && x.is("ties-a-length", tokens[behind].word) {
		behind++ // 0.45 mm in 3Y
		if behind < len(tokens) && x.is("article", tokens[behind].word) {
			behind++ // 0.9 mm for a 5Y molar
		}
	}
	if before >= 0 && x.is("ties-a-length", tokens[before].word) {
		before-- // the crown is 0.45 mm
	}
	position := func(at int) bool {
		p, ok := x.at("facts", tokens[:len(tokens)], at)
		return ok && p.sense.name == "position" && len(p.words) == 1
	}
	if before > 0 && position(before) {
		before-- // 5Y molar 0.8 mm
	} else if behind+1 < len(tokens) && position(behind) {
		behind++ // 0.8 mm molar crown
	}
	for _, at := range []int{behind, before} {
		if at < 0 || at >= len(tokens) || tokens[at].clause != tokens[i].clause {
			continue
		}
		if p, ok := x.at("facts", tokens, at); ok && slices.Contains(x.words.Measuring.WallBeside, p.sense.name) {
			return true
		}
	}
	return false
}

// afterStump reports whether a length stands right beside the preparation and is as
// great as its height: "prep 4 mm", "a 5 mm prep". A lesser one may be what was ground off.
func (x *lexicon) afterStump(tokens []token, i int) bool {
	j := i - 1
	for j > 0 && tokens[j].clause == tokens[i].clause && (x.is("leads-to-a-number", tokens[j].word) || x.is("is-short-or-tall", tokens[j].word)) {
		j--
	}
	stump := j >= 0 && tokens[j].clause == tokens[i].clause && x.is("names-the-preparation", tokens[j].word)
	return (stump || x.is("names-the-preparation", wordBehind(tokens, i))) && tokens[i].number >= narrowest && tokens[i].number <= tallest
}

// afterDepth is what a length in a clause of its own measures behind a clause
// that implies it: "under the gum, say half a millimetre".
func (x *lexicon) afterDepth(tokens []token, i int) string {
	clause := tokens[i].clause
	last := i
	for last+1 < len(tokens) && tokens[last+1].clause == clause {
		if last++; !x.is("says-below", tokens[last].word) && !x.is("says-roughly", tokens[last].word) {
			return ""
		}
	}
	first := i
	for ; first > 0 && tokens[first-1].clause == clause; first-- {
		if !x.is("says-roughly", tokens[first-1].word) {
			return ""
		}
	}
	for measure, implies := range x.words.Joined.Implied {
		for j := first - 1; j >= 0 && tokens[j].clause == tokens[first-1].clause; j-- {
			p, ok := x.at("facts", tokens, j)
			if ok && x.unitOf(measure) == sums.Millimetre && slices.Equal(implies[p.sense.name], p.sense.values) {
				return measure
			}
		}
	}
	return ""
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
		if t.clause != tokens[i].clause || t.isNum || t.word == "and" || x.is("article", t.word) {
			break
		}
		if t.spent && wordBehind(tokens, i-back) != "than" {
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
		if (tokens[next].word == "or" || x.is("weighs", tokens[next].word)) && (less || more) {
			return oneEnd(value, more)
		}
	}
	if i+1 < len(tokens) && tokens[i+1].word == "+" {
		return oneEnd(value, true)
	}
	for next := i + 1; next < len(tokens) && next <= i+3 && tokens[next].clause == tokens[i].clause && !tokens[next].isNum; next++ {
		less, more := x.is("at-most", tokens[next].word), x.is("at-least", tokens[next].word)
		at := tokens[next-1].word == "at" || wordBehind(tokens, next) == ""
		if (less || more) && at && !tokens[next].spent && (next+1 == len(tokens) || !tokens[next+1].isNum) {
			return oneEnd(value, more) // "3 mm high at most"
		}
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
