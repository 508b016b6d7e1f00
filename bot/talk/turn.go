package talk

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

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
	deed    string          // what is said to the run
	run     *Run            // the run of the thread, if one is open
	closed  *Remembered     // what the thread held before a new case put an end to its run
}

// wants is what kinds of answer a message asks for.
type wants struct {
	help, plan, value, check, calculation, article, steps, why bool
}

// begin takes the message into the thread's case.
func (t *Talk) begin(text string, past Remembered) *turn {
	turn := &turn{reading: t.words.read(text, t.book), past: past}
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
	if turn.deed = t.runDeed(turn); turn.deed != "" && turn.deed != runBegin {
		turn.reading = reading{tokens: tokens} // the number of "done 3" is that of the step
	}
	t.follow(turn)
	turn.whatIf = len(turn.past.Facts)+len(turn.past.Ranges) > 0 && t.words.has("what-if", tokens) && len(turn.facts) > 0
	t.apply(turn)
	t.decide(turn)
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
			continue
		}
		c = next
	}
	turn.now = t.inDoubt(turn, t.bearing(turn, c))
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

// decide settles what kinds of answer the message asks for.
func (t *Talk) decide(turn *turn) {
	tokens, w := turn.tokens, &turn.wants
	cue := func(name string) bool { return t.words.has(name, tokens) }
	turn.keys = t.asked(turn)
	w.steps, w.why = cue("steps"), cue("why")
	explains := t.leads("article", tokens) || (len(turn.keys) == 0 || t.asksMeaning(turn)) && t.leads("what", tokens)
	w.help = cue("help") && len(turn.facts) == 0 && len(turn.keys) == 0 && len(content(tokens, t.words)) <= 1
	w.calculation = t.calculates(turn)
	whether := t.asksWhetherOK(turn)
	if whether && !w.calculation {
		t.assumeUnit(turn)
	}
	w.check = !w.calculation && (t.checks(turn, whether, explains) || t.rechecks(turn, cue("check")))
	if t.again(turn) {
		turn.keys = turn.past.Keys
	}
	w.value = !w.check && !w.calculation && len(turn.keys) > 0 && !explains
	w.plan = t.plans(turn, explains)
	w.article = !w.help && !w.check && !w.value && !w.calculation && !w.plan
}

// first is the first word of the message; what is written as "fact: value" leaves none.
func (turn *turn) first() string {
	if len(turn.tokens) == 0 {
		return ""
	}
	return turn.tokens[0].word
}

// asksMeaning reports whether the message asks what the name of a setting means,
// and for no setting: "what is convergence" against "what is the convergence".
func (t *Talk) asksMeaning(turn *turn) bool {
	what := t.words.all("cue:what", turn.tokens)
	if len(what) == 0 || what[0].from > 0 || what[0].to == len(turn.tokens) {
		return false
	}
	asked, ok := t.words.at("parameters", turn.tokens[what[0].to:], 0)
	return ok && what[0].to+len(asked.words) == len(turn.tokens)
}

// leads reports whether a cue stands among the first words of the message. Words that
// ask for a setting by themselves ask for nothing to be explained: "when do I clean up".
func (t *Talk) leads(cue string, tokens []token) bool {
	named := t.words.wide("parameters", tokens)
	for _, f := range t.words.all("cue:"+cue, tokens) {
		within := func(p found) bool { return cue == "article" && p.from <= f.from && f.to <= p.to }
		if f.from <= 2 && !slices.ContainsFunc(named, within) {
			return true
		}
	}
	return false
}

// plans reports whether the message asks for a plan: it says so, it gives facts
// that decide, or it changes a fact of a case that was planned.
func (t *Talk) plans(turn *turn, explains bool) bool {
	deciding := t.deciding(turn)
	said := t.words.has("plan", turn.tokens)
	word := t.words.has("plan-word", turn.tokens)
	inCase := turn.past.Planned && !turn.fresh
	other := turn.wants.check || turn.wants.value || turn.wants.calculation
	rest := len(content(turn.tokens, t.words))
	switch {
	case turn.wants.help:
		return false
	case turn.kept, inCase && turn.wants.steps, inCase && turn.wants.why && !other:
		return true
	case turn.wants.calculation:
		return said && slices.ContainsFunc(turn.facts, func(s stated) bool { return s.within == nil && t.decides(s) })
	case other:
		said = said || t.words.has("act", turn.tokens) && t.toldOf(turn) >= clearCase
		return deciding > 0 && (said || word && t.apart(turn)) || turn.wants.check && t.toldOf(turn) >= clearCase && (word || t.ofCase(turn)) ||
			turn.wants.check && t.ofCase(turn) && slices.ContainsFunc(turn.facts, func(s stated) bool { return s.fact == "cement" })
	case t.findingTold(turn):
		return true // news that speaks against seating is no question
	case turn.whatIf, inCase && !explains:
		return deciding > 0 || said
	case said:
		return deciding > 0 || rest == 0
	case explains:
		return t.toldOf(turn) >= clearCase && t.words.has("act", turn.tokens) && len(turn.facts) > clearCase
	}
	if t.troubled(turn) && deciding < clearCase {
		return false // "crown came off, what now" asks what to do, not how to seat
	}
	thing := t.words.is("asks-for-a-thing", turn.first()) // "how to remove a bonded crown", "how dry is dry"
	alone := rest == 0 && (word || !thing) || word && rest <= 1 && !thing
	return deciding >= 2 || deciding == 1 && alone || turn.wants.steps && word
}

// findingTold reports whether a message tells of something found, or that it is
// mended, in a planned case that stops for it or did so.
func (t *Talk) findingTold(turn *turn) bool {
	told := slices.ContainsFunc(turn.facts, func(s stated) bool { return t.fact(s.fact).Told })
	stops := func(c planner.Case) bool { return t.book.Plan(c).Strategy == planner.Stop }
	return told && turn.past.Planned && (stops(turn.now) || stops(turn.before))
}

// troubled reports whether the message tells of something that went wrong.
func (t *Talk) troubled(turn *turn) bool {
	return slices.ContainsFunc(turn.facts, func(s stated) bool { return slices.Contains(t.words.words.Troubles, s.fact) })
}

// deciding counts the facts of a message that can change a verdict, by
// themselves or through the form that they measure, and that make a case of a
// message: a tooth number alone does not.
func (t *Talk) deciding(turn *turn) int {
	n := 0
	for _, s := range turn.facts {
		if t.decides(s) {
			n++
		}
	}
	return n
}

// decides reports whether what is said of a fact can change a verdict.
func (t *Talk) decides(s stated) bool {
	_, form := t.words.words.Measured[s.fact]
	return !slices.Contains(t.words.words.Aside, s.fact) && (form || t.book.Argues(s.fact))
}

// ofCase reports whether all numbers that could be judged are measures of the case.
func (t *Talk) ofCase(turn *turn) bool {
	return !slices.ContainsFunc(t.held(turn), func(m measure) bool { return m.fact == "" })
}

// toldOf counts the facts, in words, that make a case of a message: what its
// restoration, grade and place are, a question about one number may name as well.
func (t *Talk) toldOf(turn *turn) int {
	n := 0
	for _, s := range turn.facts {
		if s.within == nil && t.decides(s) && !slices.Contains(t.words.words.Given, s.fact) {
			n++
		}
	}
	return n
}

// apart reports whether a word such as "bond" stands in a clause of its own,
// away from what else is asked: "translucent premolar crown: bond? what pressure?"
func (t *Talk) apart(turn *turn) bool {
	for _, f := range t.words.all("cue:plan-word", turn.tokens) {
		alone := !t.words.is("says-when", wordBefore(turn.tokens, f.from))
		for _, list := range []string{"parameters", "tasks", "cue:too"} {
			for _, k := range t.words.wide(list, turn.tokens) {
				alone = alone && turn.tokens[k.from].clause != turn.tokens[f.from].clause
			}
		}
		if alone {
			return true
		}
	}
	return false
}

// content lists the words that no phrase took and that carry meaning.
func content(tokens []token, x *lexicon) []string {
	taken := make([]bool, len(tokens))
	for _, list := range []string{"cue:plan", "cue:plan-word", "cue:check", "cue:value", "cue:help", "cue:steps", "cue:what-if", "cue:correct", "cue:new", "cue:keep", "about", "cue:enough", "cue:run-begin"} {
		for _, f := range x.all(list, tokens) {
			for i := f.from; i < f.to; i++ {
				taken[i] = true
			}
		}
	}
	var out []string
	for i, t := range tokens {
		short := len(t.word) < 3 || strings.Trim(t.word, "#/-") == ""
		if !short && !t.spent && !t.isNum && !taken[i] && !x.is("carries-nothing", t.word) && !x.is("names-zirconia", t.word) {
			out = append(out, t.word)
		}
	}
	return out
}
