package talk

import (
	"maps"
	"slices"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// followWords is how long a message may be to be taken for a bare answer to
// what the bot asked, or for a bare correction.
const followWords = 8

// follow lets a short message answer the questions of the last plan: "1.5 mm",
// "enamel", "dry", and "it is actually 4.5 mm" for a measure given before.
func (t *Talk) follow(turn *turn) {
	if len(turn.tokens) > followWords {
		return
	}
	turn.inheritUnit()
	t.followNumber(turn)
	t.followDenial(turn)
	t.followReply(turn)
	if len(turn.facts) > 0 || turn.goesOn {
		return
	}
	for _, fact := range t.subjects(turn) {
		w := t.words.all("weak:"+fact, turn.tokens)
		if len(w) == 1 && !t.words.is("acknowledges", w[0].words[0]) {
			turn.facts = append(turn.facts, stated{fact: fact, values: w[0].sense.values, at: w[0].from})
		}
	}
}

// subjects are the facts that a bare word may speak of: those the thread knows
// and those the last plan asked for. Some are spoken of together, as margin and
// enamel are.
func (t *Talk) subjects(turn *turn) []string {
	var out []string
	for _, facts := range t.words.words.Answers {
		known := slices.ContainsFunc(facts, turn.before.Known)
		for _, fact := range facts {
			if known || slices.Contains(turn.past.Asked, fact) {
				out = append(out, fact)
			}
		}
	}
	return out
}

// followNumber gives a bare number the measured fact that was asked for, or the
// one that it corrects.
func (t *Talk) followNumber(turn *turn) {
	for i := range turn.measures {
		m := &turn.measures[i]
		if m.fact != "" || len(turn.measures) > 1 || t.contradicts(turn, *m) {
			continue
		}
		for _, fact := range append(t.corrects(turn), turn.past.Asked...) {
			if value, ok := t.asMeasure(fact, m.quantity); ok {
				m.fact, m.within = fact, planner.Range{From: value, To: value}
				turn.facts = append(turn.facts, stated{fact: fact, within: &m.within, at: m.at})
				turn.doubted = slices.DeleteFunc(turn.doubted, func(d doubt) bool { return d.fact == fact })
				break
			}
		}
	}
}

// followDenial doubts whatever the thread took for good behind a bare "not any more" or
// "it isnt": nothing says which of it is meant.
func (t *Talk) followDenial(turn *turn) {
	x := t.words
	other := func(w token) bool {
		return w.question || w.isNum || !x.is("carries-nothing", w.word) && !x.is("denies", w.word) && !x.is("fills-a-denial", w.word) || x.is("makes-not-a-choice", w.word)
	}
	if len(turn.facts) > 0 || !x.holds("denies", turn.tokens) || slices.ContainsFunc(turn.tokens, other) {
		return
	}
	for _, fact := range slices.Sorted(maps.Keys(x.words.Benign)) {
		if slices.Equal(turn.before.Values(fact), x.words.Benign[fact]) {
			turn.doubt(fact, turn.tokens[0].word, "doubted")
		}
	}
}

// contradicts reports whether a length that may be a wall's or the stump's height comes
// with a no, and then doubts the form that the thread took for good: "no, it's 2 mm".
func (t *Talk) contradicts(turn *turn, m measure) bool {
	stray := t.words.words.Measuring.Stray
	either := m.quantity.Unit == sums.Millimetre && m.quantity.Value >= narrowest && m.quantity.Value <= tallest
	if !either || !t.words.holds("answers-no", turn.tokens[:m.at]) || len(t.corrects(turn)) > 0 {
		return false
	}
	turn.doubt(stray[string(sums.Degree)], m.quantity.String(), "doubted")
	return true
}

// corrects are the measured facts of the thread, if the message corrects something.
func (t *Talk) corrects(turn *turn) []string {
	if !t.words.has("correct", turn.tokens) {
		return nil
	}
	var out []string
	for _, fact := range turn.before.Facts() {
		if t.fact(fact).Measured() {
			out = append(out, fact)
		}
	}
	return out
}

// asMeasure converts a quantity to the unit of a measured fact.
func (t *Talk) asMeasure(fact string, q sums.Quantity) (float64, bool) {
	counts := t.words.counts(fact)
	switch {
	case !t.fact(fact).Measured():
		return 0, false
	case q.Unit == "":
		return q.Value, !counts || q.Value == float64(int(q.Value))
	case counts:
		return 0, false
	}
	in, err := q.In(t.words.unitOf(fact))
	return in.Value, err == nil
}
