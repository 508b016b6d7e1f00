package talk

import (
	"slices"
	"strings"

	"mortarboard/planner/sums"
)

// asked lists the parameters that a message asks for: by their own phrases, and
// by what is being done together with what is asked of it ("how long … etch").
func (t *Talk) asked(turn *turn) []string {
	var keys []string
	add := func(key string) { keys = appendNew(keys, key) }
	tasks := t.words.all("tasks", turn.tokens)
	for _, f := range t.words.all("parameters", turn.tokens) {
		if !t.stated(turn, f.sense.name) && !(len(tasks) > 0 && t.general(turn, f)) {
			add(f.sense.name)
		}
	}
	keys = t.acidInside(turn, keys)
	for _, d := range t.dimensionsAsked(turn) {
		if len(tasks) > 0 {
			add(t.words.words.Settings[tasks[0].sense.name][d])
		} else if d == "strength" {
			add(t.words.words.Usual[d])
		}
	}
	if len(tasks) > 0 && t.words.has("all", turn.tokens) {
		for _, key := range t.book.Keys() {
			if strings.HasPrefix(key, tasks[0].sense.name+".") {
				add(key)
			}
		}
	}
	return keys
}

// general reports whether a phrase that asks for a parameter asks only for a
// dimension, so that it is the task's to say of what: the grit of blasting, of a
// diamond, or of a polisher, for which no setting is known.
func (t *Talk) general(turn *turn, f found) bool {
	p, ok := t.words.at("dimensions", turn.tokens, f.from)
	return ok && len(p.words) == f.to-f.from
}

// dimensionsAsked lists what is asked of a task: "how long" asks for a time,
// "how many J/cm²" for a dose.
func (t *Talk) dimensionsAsked(turn *turn) []string {
	var out []string
	for _, d := range t.words.all("dimensions", turn.tokens) {
		out = append(out, d.sense.name)
	}
	for i, token := range turn.tokens {
		if !t.words.is("asks-for-a-unit", token.word) {
			continue
		}
		if unit, n := unitAt(turn.tokens[i+1:]); n > 0 {
			out = append(out, dimension(sums.Quantity{Value: strongMPa, Unit: unit}))
		}
	}
	return out
}

// acidInside puts the settings for acid on zirconia in place of those for
// enamel wherever the words may speak of the restoration: taking one for the
// other would be a dangerous answer.
func (t *Talk) acidInside(turn *turn, keys []string) []string {
	says := func(words []string) bool {
		return slices.ContainsFunc(turn.tokens, func(w token) bool { return slices.Contains(words, w.word) })
	}
	a := t.words.words.Acids
	inside := says(a.Inner) || says(a.Work) && !says(a.Tooth)
	if !says(a.Acid) || !inside {
		return keys
	}
	keys = slices.DeleteFunc(keys, func(k string) bool { return strings.HasPrefix(k, a.Task+".") && k != a.Strong })
	if slices.Contains(keys, a.Strong) {
		return keys
	}
	return append([]string{a.Inside}, keys...)
}

// stated reports whether the words that ask for a parameter only state a
// measure of this case: "convergence 12" against "what convergence".
func (t *Talk) stated(turn *turn, key string) bool {
	if t.words.has("ask", turn.tokens) {
		return false
	}
	for _, m := range turn.measures {
		if m.fact != "" && t.words.words.Measured[m.fact] == key {
			return true
		}
	}
	return false
}

// strongMPa is the stress from which a figure in MPa is a strength rather than
// the pressure of a blasting unit.
const strongMPa = 10

// dimension is how words.yaml names what a unit measures. Lengths in µm and in
// mm are told apart: nobody gives a wall in µm.
func dimension(q sums.Quantity) string {
	switch q.Unit {
	case sums.MPa:
		if q.Value >= strongMPa {
			return "strength"
		}
	case sums.Micrometre:
		return "length"
	case sums.Millimetre, sums.Centimetre:
		return "distance"
	}
	return string(q.Unit.Dimension())
}

// settingFor is the parameter that a quantity is held against: the one asked
// for if it is measured like that, else the one of the task, else the usual one.
func (t *Talk) settingFor(turn *turn, m measure) string {
	dim := dimension(m.quantity)
	for _, key := range turn.keys {
		if t.measuredIn(key, m.quantity.Unit) {
			return key
		}
	}
	if key := t.words.words.Measured[m.fact]; key != "" {
		return key
	}
	for _, f := range t.words.all("tasks", turn.tokens) {
		if key := t.words.words.Settings[f.sense.name][dim]; key != "" {
			return key
		}
	}
	return t.words.words.Usual[dim]
}

// measuredIn reports whether a parameter is set in a unit of the same kind.
func (t *Talk) measuredIn(key string, u sums.Unit) bool {
	for _, p := range t.book.Parameters {
		if p.Key == key {
			own := sums.Quantity{Value: p.High, Unit: sums.Unit(p.Unit)}
			return own.Unit.Dimension() == u.Dimension() && (own.Unit == sums.Micrometre) == (u == sums.Micrometre)
		}
	}
	return false
}
