package talk

import (
	"cmp"
	"slices"
	"strings"

	"mortarboard/planner/sums"
)

// asked lists the parameters that a message asks for: by their own phrases, and
// by what is being done together with what is asked of it ("how long … etch").
func (t *Talk) asked(turn *turn) []string {
	var keys []string
	add := func(key string) { keys = appendNew(keys, key) }
	tasks := t.words.tasks(turn.tokens)
	var named []found
	for _, f := range t.words.wide("parameters", turn.tokens) {
		if !t.stated(turn, f) && !(len(tasks) > 0 && t.general(turn, f)) {
			add(f.sense.name)
			named = append(named, f)
		}
	}
	keys = t.acidInside(turn, keys)
	for _, d := range t.dimensionsAsked(turn, named) {
		if len(tasks) > 0 {
			add(t.ofTasks(tasks, d))
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

// ofTasks is the setting of the first task that has the dimension: "primer in the
// fridge, which temperature" asks about the fridge.
func (t *Talk) ofTasks(tasks []found, dimension string) string {
	for _, f := range tasks {
		if key := t.words.words.Settings[f.sense.name][dimension]; key != "" {
			return key
		}
	}
	return ""
}

// tasks finds what is being done. Where a special part of it is named, as drying is
// of priming, that is meant and not the whole; but not in "how long before drying".
func (x *lexicon) tasks(tokens []token) []found {
	all := x.wide("tasks", tokens)
	special := func(f found) bool {
		return slices.ContainsFunc(all, func(o found) bool { return strings.HasPrefix(o.sense.name, f.sense.name+"-") })
	}
	all = slices.DeleteFunc(all, func(f found) bool { return x.is("comes-first", wordBefore(tokens, f.from)) })
	return slices.DeleteFunc(slices.Clone(all), special)
}

// general reports whether a phrase that asks for a parameter asks only for a
// dimension, so that it is the task's to say of what: the grit of blasting, of a
// diamond, or of a polisher, for which no setting is known.
func (t *Talk) general(turn *turn, f found) bool {
	p, ok := t.words.at("dimensions", turn.tokens, f.from)
	return ok && slices.Equal(p.words, f.words) && (p.sense.name == grain || t.ofTasks(t.words.tasks(turn.tokens), p.sense.name) != "")
}

// grain is the dimension that tools have as well for which no setting is known.
const grain = "grain"

// dimensionsAsked lists what is asked of a task: "how long" asks for a time,
// "how many J/cm²" for a dose. What belongs to a phrase that names a setting by
// itself asks for nothing more: the "how far" of "how far below stated output".
func (t *Talk) dimensionsAsked(turn *turn, named []found) []string {
	var out []string
	for _, d := range t.words.all("dimensions", turn.tokens) {
		within := func(f found) bool { return f.from <= d.from && d.to <= f.to && d.to-d.from < f.to-f.from }
		if !slices.ContainsFunc(named, within) {
			out = append(out, d.sense.name)
		}
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
func (t *Talk) stated(turn *turn, f found) bool {
	key := f.sense.name
	if slices.ContainsFunc(t.words.all("cue:ask", turn.tokens), func(ask found) bool { return turn.tokens[ask.from].clause == turn.tokens[f.from].clause }) {
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

// dimension is how the vocabulary names what a unit measures. Lengths in µm and in
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
	if m.fact != "" && t.words.words.Measured[m.fact] == "" {
		return "" // no setting is kept for it: the width of a stump is not held against its height
	}
	for _, key := range turn.keys {
		if t.takes(key, m) {
			return key
		}
	}
	if key := t.words.words.Measured[m.fact]; key != "" {
		return cmp.Or(t.partOf(turn, m, key), key)
	}
	for _, f := range t.words.tasks(turn.tokens) {
		if key := t.words.words.Settings[f.sense.name][dim]; key != "" {
			return key
		}
	}
	return t.words.words.Usual[dim]
}

// partOf is the setting of a part that the clause names beside a measure: of the
// wing in "wing 0.4 mm thin", where thickness would else be that of a wall.
func (t *Talk) partOf(turn *turn, m measure, key string) string {
	own := func(task string) bool { return t.words.words.Settings[task]["length"] == key }
	for _, f := range t.words.tasks(turn.tokens) {
		settings := t.words.words.Settings[f.sense.name]
		part := settings["length"] != "" && settings["length"] == settings["distance"] && !own(f.sense.name)
		if part && m.at >= 0 && turn.tokens[f.from].clause == turn.tokens[m.at].clause && m.fact == "wall_mm" {
			return settings["length"]
		}
	}
	return ""
}

// takes reports whether a parameter can be held against a measure. A gap may be given
// in mm although it is set in µm; a length that measures something else may not.
func (t *Talk) takes(key string, m measure) bool {
	fine := m.fact == "" && m.quantity.Unit == sums.Millimetre && m.quantity.Value < 1
	return t.measuredIn(key, m.quantity.Unit) || fine && t.measuredIn(key, sums.Micrometre)
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
