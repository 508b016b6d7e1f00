package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// A message may ask the last question again and change one thing in it: "and for
// 5Y?" behind a setting or a check, "0.2, sorry" behind "is 2 MPa ok", "and 40 s"
// behind a sum. For that the thread remembers numbers, never words.

// A Worked sum is what the last calculation was and what it was worked out from.
type Worked struct {
	Sum   string                 `json:"sum,omitempty"`
	Given map[role]sums.Quantity `json:"given,omitempty"`
}

// again reports whether a message only changes the facts of a setting that was
// asked for before: "pressure?", then "and for 5Y?".
func (t *Talk) again(turn *turn) bool {
	return turn.past.Last == KindValue && len(turn.past.Keys) > 0 && len(turn.keys) == 0 && t.onlyChanges(turn)
}

// onlyChanges reports whether a short message holds facts on which settings hang
// and nothing else.
func (t *Talk) onlyChanges(turn *turn) bool {
	other := func(s stated) bool { return !slices.Contains(t.words.words.Changing, s.fact) }
	return len(turn.facts) > 0 && !slices.ContainsFunc(turn.facts, other) && len(turn.measures) == 0 &&
		!t.words.has("plan", turn.tokens) && len(turn.tokens) <= followWords
}

// inheritUnit gives a lone number the unit of what was checked before it.
func (turn *turn) inheritUnit() {
	if turn.past.Last != KindCheck || len(turn.past.Said) != 1 || len(turn.measures) != 1 {
		return
	}
	m := &turn.measures[0]
	if m.fact == "" && m.quantity.Unit == "" {
		m.quantity.Unit = turn.past.Said[0].Unit
		m.assumed = true
	}
}

// rechecks reports whether the message has the last check done again, with
// another number of the same kind or for another grade, or asks whether what was
// converted is all right. The check then finds its numbers and settings in the turn.
func (t *Talk) rechecks(turn *turn, cue bool) bool {
	converted := turn.past.Last == KindCalculation && cue
	if len(turn.past.Said) == 0 || len(turn.keys) > 0 || len(turn.tokens) > followWords || turn.past.Last != KindCheck && !converted {
		return false
	}
	switch {
	case len(turn.measures) == 1 && turn.measures[0].quantity.Unit.Dimension() == turn.past.Said[0].Unit.Dimension() && turn.past.Last == KindCheck:
	case len(turn.measures) == 0 && (t.onlyChanges(turn) || cue && len(turn.facts) == 0):
		for _, q := range turn.past.Said {
			turn.measures = append(turn.measures, measure{quantity: q, at: -1})
		}
	default:
		return false
	}
	if turn.past.Last == KindCheck {
		turn.keys = turn.past.Keys
	}
	return true
}

// resumed finds the last calculation if the message has a number for it and
// wants no other one.
func (t *Talk) resumed(q *question) (sum, bool) {
	past := q.past.Worked
	ofCase := func(s sum) bool { return s.of <= ofStump && q.past.Planned }
	known := sumsKnown()
	i := slices.IndexFunc(known, func(s sum) bool { return s.name == past.Sum && s.read != nil && !ofCase(s) })
	if q.past.Last != KindCalculation || i < 0 || len(q.tokens) > followWords || len(q.keys) > 0 {
		return sum{}, false
	}
	g := newGiven()
	known[i].read(q, g)
	_, answers := q.answersNeed(known[i])
	return known[i], answers || len(g.used) > 0 && len(g.used) == len(q.numbers)
}

// answersNeed finds the one measure that the last calculation still asked for, if
// the message is a bare number.
func (q *question) answersNeed(s sum) (role, bool) {
	var missing []role
	for _, n := range s.needs {
		if _, known := q.past.Worked.Given[n.role]; !known && !n.optional {
			missing = append(missing, n.role)
		}
	}
	if len(missing) != 1 || len(q.numbers) != 1 || !q.numbers[0].bare || len(content(q.tokens, q.words)) > 0 {
		return "", false
	}
	return missing[0], true
}

// takeUp fills in what the message leaves out of a sum that it resumes.
func (a *answer) takeUp() {
	past := a.question.past
	if past.Last != KindCalculation || past.Worked.Sum != a.sum.name || a.sum.wants(a.question) {
		return
	}
	if r, ok := a.question.answersNeed(a.sum); ok && len(a.given.used) == 0 {
		a.given.take(r, a.question.numbers[0])
	}
	for r, q := range past.Worked.Given {
		if !a.given.has(r) {
			a.given.values[r] = q
		}
	}
}

// toldAgain are the numbers of the last check or conversion, for "in MPa?".
func (q *question) toldAgain() []number {
	if len(q.numbers) > 0 || len(q.tokens) > followWords {
		return nil
	}
	var out []number
	for _, said := range q.past.Said {
		out = append(out, number{value: said.Value, unit: said.Unit, from: -1, at: -1})
	}
	return out
}
