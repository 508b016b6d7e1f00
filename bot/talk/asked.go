package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// asked lists the parameters that a message asks for: by their own phrases, and
// by what is being done together with what is asked of it ("how long … etch").
func (t *Talk) asked(turn *turn) []string {
	var keys []string
	add := func(key string) {
		if key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	tasks := t.words.all("tasks", turn.tokens)
	named := t.words.all("parameters", turn.tokens)
	for _, f := range named {
		if _, unitOnly := spelledUnit(f.words[0]); !unitOnly || len(f.words) > 1 || !behindNumber(turn, f) {
			add(f.sense.name)
		}
	}
	for _, d := range t.words.all("dimensions", turn.tokens) {
		if len(tasks) > 0 {
			add(t.words.words.Settings[tasks[0].sense.name][d.sense.name])
		}
	}
	if len(keys) == 0 && t.words.has("setting", turn.tokens) {
		add("abrasion.pressure")
	}
	return t.sharpen(turn, keys, tasks)
}

// behindNumber reports whether a phrase is the unit of a number, as in 60 psi.
func behindNumber(turn *turn, f found) bool { return f.from > 0 && turn.tokens[f.from-1].isNum }

// sharpen drops a parameter that was only named in passing by a task's own word
// where another one of the same task was asked for.
func (t *Talk) sharpen(turn *turn, keys []string, tasks []found) []string {
	return keys
}

// dimension is how words.yaml names what a unit measures. Lengths in µm and in
// mm are told apart: nobody gives a wall in µm.
func dimension(u sums.Unit) string {
	switch u {
	case sums.Micrometre:
		return "length"
	case sums.Millimetre, sums.Centimetre:
		return "distance"
	}
	return string(u.Dimension())
}

// settingFor is the parameter that a quantity is held against: the one asked
// for if it is measured like that, else the one of the task, else the usual one.
func (t *Talk) settingFor(turn *turn, q sums.Quantity) string {
	dim := dimension(q.Unit)
	for _, key := range turn.keys {
		if t.measuredIn(key, q.Unit) {
			return key
		}
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
			return dimension(sums.Unit(p.Unit)) == dimension(u)
		}
	}
	return false
}
