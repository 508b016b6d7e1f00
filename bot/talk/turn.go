package talk

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"mortarboard/kb"
	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A turn is one message in its thread: what was said, the case before and after
// it, and what kind of answer is wanted.
type turn struct {
	reading
	before  planner.Case
	now     planner.Case // with what the message says
	whatIf  bool         // the message asks what would be, and is not to be kept
	kept    bool         // the message keeps the last what-if
	fresh   bool         // the message begins a new case
	past    Remembered
	notices []string
	keys    []string // parameters asked for, in order
	wants   wants
	covered float64         // share of the message that the entry found covers
	said    []sums.Quantity // numbers that were checked or converted
	worked  Worked          // the calculation, if there was one
	at      time.Time       // when it was said
	goesOn  bool            // a reply, or a word that asks for the plan of the thread again
	entry   *kb.Article     // the entry asked for by its id
	deed    string          // what is said to the run
	run     *Run            // the run of the thread, if one is open
	urgent  bool            // the message tells of an emergency
	idle    bool            // the answer tells that no run is open
	closed  *Remembered     // what the thread held before a new case put an end to its run

	shelf  shelfQuestion      // what it asks of the shelf
	named  []*planner.Product // the products of the shelf that it names
	asking string             // the message with their classes in place of their names
	plain  []token            // its words with "it" in place of the names

	drawings []drawer // what there is to draw of the calculation
}

// begin takes the message into the thread's case.
func (t *Talk) begin(text string, past Remembered) *turn {
	turn := &turn{past: past}
	if turn.entry, _ = t.entryNamed(text); turn.entry == nil {
		turn.reading = t.words.read(t.shelfRead(turn, text), t.book) // an id says nothing of the case
	}
	tokens := turn.tokens
	turn.fresh = t.words.has("new", tokens) || t.words.has("undo", tokens) && !t.putsInPlace(turn)
	if turn.fresh {
		if past.Run != nil {
			turn.closed = &past
		}
		turn.past = Remembered{}
	}
	turn.before = caseOf(t.book, turn.past)
	turn.kept = t.words.has("keep", tokens) && turn.past.WhatIf != nil
	if turn.kept {
		turn.before = caseOf(t.book, *turn.past.WhatIf)
	}
	turn.run = turn.past.Run.clone()
	switch turn.deed = t.runDeed(turn); turn.deed {
	case "", runBegin:
	case runFell:
		turn.reading = reading{tokens: tokens, facts: t.onlyTold(turn.facts)}
	default:
		turn.reading = reading{tokens: tokens} // the number of "done 3" is that of the step
	}
	t.follow(turn)
	turn.whatIf = len(turn.past.Facts)+len(turn.past.Ranges) > 0 && t.words.has("what-if", tokens) && len(turn.facts) > 0
	t.apply(turn)
	t.decide(turn)
	t.keepGeneral(turn)
	t.shelfInCase(turn)
	return turn
}

// putsInPlace reports whether a message that takes something back puts another value in
// its place: "forget that, it was ZOE". What names a restoration or a grade begins anew.
func (t *Talk) putsInPlace(turn *turn) bool {
	known := caseOf(t.book, turn.past)
	begins := func(s stated) bool {
		return slices.Contains(t.words.words.Joined.Apart, s.fact) || t.words.words.Generic[s.fact] != nil
	}
	return !slices.ContainsFunc(turn.facts, begins) && slices.ContainsFunc(turn.facts, func(s stated) bool { return known.Known(s.fact) })
}

// apply puts what the message says into the case. What was said before of the
// same fact gives way: people change their mind in a thread.
func (t *Talk) apply(turn *turn) {
	c := turn.before
	for _, s := range turn.facts {
		if t.generic(turn, s) {
			continue
		}
		var err error
		next := c.Without(s.fact)
		if s.within != nil {
			next, err = next.WithRange(s.fact, *s.within)
		} else {
			next, err = next.With(s.fact, t.words.standing(c.Values(s.fact), s, t.words.has("correct", turn.tokens))...)
		}
		if err != nil {
			turn.notices = append(turn.notices, t.say("not plausible", err.Error()))
			turn.doubted = append(turn.doubted, doubt{fact: t.depending(s.fact)})
			continue
		}
		c = next
	}
	turn.now = t.withDecision(turn, t.inDoubt(turn, t.bearing(turn, c)))
	for _, fact := range turn.conflicts {
		turn.notices = append(turn.notices, t.say("conflict", map[string]any{"Title": t.title(fact), "Is": c.Describe(fact), "Ask": t.ask(fact)}))
	}
	t.unitNotices(turn)
	if turn.cut {
		turn.notices = append(turn.notices, t.say("cut", maxRunes))
	}
}

// bearing holds what is missing or left on one side only against what is held on one
// side: no enamel palatally is none for a wing, and what the other side has is in doubt.
func (t *Talk) bearing(turn *turn, c planner.Case) planner.Case {
	for _, s := range turn.facts {
		side := t.words.words.Turns.OneSide[s.fact]
		for fact, values := range side.On {
			if s.side == "" || !c.Known(fact) || !slices.ContainsFunc(c.Values(fact), func(v string) bool { return slices.Contains(values, v) }) {
				continue
			}
			left := []string{side.Gone, side.Partly}
			if slices.Contains(side.Bearing, s.side) && c.Is(fact, values...) {
				left = left[:1]
			}
			c, _ = c.Without(s.fact).With(s.fact, left...)
		}
	}
	return c
}

// depending is the fact that a measure is of: a height that cannot be leaves the form
// of the preparation in doubt, any other measure itself.
func (t *Talk) depending(measure string) string {
	m := t.words.words.Measuring
	if slices.Contains(m.Pair, measure) || t.words.unitOf(measure) == sums.Degree {
		return m.Stray[string(sums.Degree)]
	}
	return measure
}

// generic reports whether a value only names again, in a general word, what the
// thread knows exactly: "the crown" of a case that is about an endocrown.
func (t *Talk) generic(turn *turn, s stated) bool {
	values := turn.before.Values(s.fact)
	return s.within == nil && slices.Equal(t.words.words.Generic[s.fact], s.values) && turn.before.Known(s.fact) &&
		!slices.Equal(values, s.values) && !t.words.has("correct", turn.tokens) && !s.instead && !turn.fresh
}

// unitNotices says which numbers were read in a unit that nobody wrote.
func (t *Talk) unitNotices(turn *turn) {
	assumed := map[sums.Unit][]string{}
	for _, m := range turn.measures {
		if m.fact == taperUnclear {
			turn.notices = append(turn.notices, t.say("taper unclear", nil))
		}
		if m.assumed && m.fact != "" {
			unit := t.words.unitOf(m.fact)
			assumed[unit] = append(assumed[unit], strconv.FormatFloat(m.quantity.Value, 'g', -1, 64))
		}
	}
	for _, unit := range slices.Sorted(maps.Keys(assumed)) {
		turn.notices = append(turn.notices, t.say("unit assumed", map[string]any{"Numbers": strings.Join(assumed[unit], ", "), "Unit": unit}))
	}
}
