package talk

import (
	"math"
	"slices"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A doubt is a fact that the message speaks of in a way that could not be made
// out. What everyday cases presume of it may then not be presumed.
type doubt struct {
	fact string
	word string // what was said of it, as folded; empty where a number was
	say  string // the wording that asks for it; empty: another notice does
}

// doubts takes back what was said in a way that cannot be relied on, and lists
// what was spoken of without being understood. It errs on the side of asking:
// taking a wet field for a dry one is the worst misreading there is.
func (x *lexicon) doubts(r *reading, book *planner.Rulebook) {
	r.facts = slices.DeleteFunc(r.facts, func(s stated) bool {
		open := x.benign(s) && slices.ContainsFunc(r.open, func(o stated) bool { return o.fact == s.fact })
		if s.within != nil || !open && !x.shaky(r, s) {
			return false
		}
		r.doubted = append(r.doubted, doubt{s.fact, r.tokens[s.at].word, "doubted"})
		return true
	})
	r.span(x)
	for _, o := range r.open {
		r.doubt(o.fact, r.tokens[o.at].word, "doubted")
	}
	for _, f := range book.Facts {
		for _, p := range x.all("topic:"+f.Name, r.tokens) {
			if !spent(r.tokens, p) {
				r.doubt(f.Name, strings.Join(p.words, " "), "doubted")
			}
		}
	}
	x.deniedTopics(r)
	x.unsettledFacts(r)
	r.numberDoubts(x)
}

// unsettledFacts doubts what facts that stand together leave open: where a bridge on
// several bases is luted.
func (x *lexicon) unsettledFacts(r *reading) {
	for _, u := range x.words.Unsettled {
		holds := true
		for fact, values := range u.When {
			holds = holds && r.states(map[string][]string{fact: values})
		}
		for _, fact := range u.Doubt {
			if holds {
				r.doubt(fact, "", "unsettled")
			}
		}
	}
}

// doubt notes a fact once, unless the message states it.
func (r *reading) doubt(fact, word, say string) {
	noted := slices.ContainsFunc(r.doubted, func(d doubt) bool { return d.fact == fact })
	if !r.says(fact) && !noted {
		r.doubted = append(r.doubted, doubt{fact, word, say})
	}
}

// numberDoubts doubts the wall where a length was given that measures nothing
// known, the form where an angle was, and the span where a bridge was described
// by its teeth.
func (r *reading) numberDoubts(x *lexicon) {
	stray := x.words.Measuring.Stray
	for _, m := range r.measures {
		fact := stray[string(m.quantity.Unit)]
		switch {
		case m.fact == taperUnclear:
			r.doubt(stray[string(sums.Degree)], m.quantity.String(), "")
		case m.fact != "" || fact == "" || m.quantity.Unit == sums.Millimetre && r.toTheGum(m.at) || m.quantity.Unit == sums.Millimetre && (m.quantity.Value > widest || x.ofOther(r.tokens, m.at)):
		case m.quantity.Unit == sums.Degree:
			r.doubt(fact, m.quantity.String(), "taper unclear")
		case !x.onPath(r.tokens, m.at):
			r.doubt(fact, m.quantity.String(), "doubted")
		}
	}
	if at := x.bareThickness(r); at >= 0 {
		r.retract(stray[string(sums.Millimetre)], r.tokens[at].word)
	}
	for measure, implies := range x.words.Joined.Implied {
		if r.states(implies) && r.teethNamed() > 1 {
			r.doubt(measure, "", "doubted")
		}
	}
}

// bareThickness finds a small number without a unit that measures nothing known, in a
// message that asks for no setting: "caliper says 0.3". It may be that of a wall, or of
// what was ground off one.
func (x *lexicon) bareThickness(r *reading) int {
	for _, m := range r.measures {
		q := m.quantity
		small := q.Unit == "" && q.Value > 0 && q.Value < tallWall && q.Value != math.Trunc(q.Value) && !likeDottedTooth(q.Value)
		if m.fact == "" && small && !x.ofOther(r.tokens, m.at) && !x.namesSetting(r.tokens) {
			return m.at
		}
	}
	return -1
}

// likeDottedTooth reports whether a number may be a tooth of the FDI notation with a dot: "1.6".
func likeDottedTooth(value float64) bool { return isFDI(int(math.Round(value * 10))) }

// namesSetting reports whether a message names a setting, or what it is measured in.
func (x *lexicon) namesSetting(tokens []token) bool {
	return len(x.all("parameters", tokens))+len(x.all("dimensions", tokens)) > 0
}

// retract takes back what the message says of a fact, and doubts it.
func (r *reading) retract(fact, word string) {
	r.facts = slices.DeleteFunc(r.facts, func(s stated) bool { return s.fact == fact })
	r.doubt(fact, word, "doubted")
}

// span states how many units a bridge has that is described by its row of teeth.
func (r *reading) span(x *lexicon) {
	for measure, implies := range x.words.Joined.Implied {
		units := x.unitsSpanned(r.tokens)
		if units > 1 && x.counts(measure) && r.states(implies) && !r.says(measure) {
			r.facts = append(r.facts, stated{fact: measure, within: &planner.Range{From: units, To: units}})
		}
	}
}

// toTheGum reports whether what stands right behind a length says how the margin lies
// to the gum: "margin 1 mm above the gum" gives no wall.
func (r *reading) toTheGum(i int) bool {
	return slices.ContainsFunc(r.facts, func(s stated) bool { return s.fact == "margin_level" && s.at == i+1 })
}

// says reports whether the message states a fact.
func (r *reading) says(fact string) bool {
	return slices.ContainsFunc(r.facts, func(s stated) bool { return s.fact == fact })
}

// ofOther reports whether a length is one of the sides of a connector, or the depth of
// a pocket or the like.
func (x *lexicon) ofOther(tokens []token, i int) bool {
	own := func(t token) bool { return t.clause == tokens[i].clause && x.is("has-its-own-depth", t.word) }
	return slices.ContainsFunc(tokens, own) || slices.ContainsFunc(x.all("measures", tokens), func(f found) bool {
		return x.unitOf(f.sense.name) == sums.MM2 && tokens[f.from].clause == tokens[i].clause
	})
}

// states reports whether the message may say one of the values of a fact.
func (r *reading) states(facts map[string][]string) bool {
	return slices.ContainsFunc(r.facts, func(s stated) bool {
		return slices.ContainsFunc(s.values, func(v string) bool { return slices.Contains(facts[s.fact], v) })
	})
}

// teethNamed counts the numbers that may be those of teeth.
func (r *reading) teethNamed() int {
	n := 0
	for _, t := range r.tokens {
		if t.isNum && t.unit == "" && t.number >= 11 && t.number <= 48 || quadrantTooth.MatchString(t.word) {
			n++
		}
	}
	return n
}

// shaky reports whether a value is asked for, supposed or only suspected, or is one that
// makes a plan bolder and is not to be trusted.
func (x *lexicon) shaky(r *reading, s stated) bool {
	if x.asksFor(r.tokens, s) || !slices.Contains(x.words.Given, s.fact) && x.supposed(r.tokens, s.at) {
		return true
	}
	return x.benign(s) && x.mistrust.met(x, r, s) || x.suspected(r.tokens, s)
}

// benign reports whether a value is one that makes a plan bolder.
func (x *lexicon) benign(s stated) bool {
	return len(s.values) > 0 && slices.Equal(x.words.Benign[s.fact], s.values)
}

// askedAlone reports whether a clause is one word with a question mark that nothing
// answers: "4.5 high, 8 wide: retentive?"
func (x *lexicon) askedAlone(tokens []token, s stated) bool {
	at := s.at
	inClause := func(i int) bool { return i >= 0 && i < len(tokens) && tokens[i].clause == tokens[at].clause }
	return tokens[at].question && !inClause(at-1) && !inClause(at+1) && x.reply(tokens, at) == ""
}

// hedgedBefore looks back from a phrase to where its clause, or its half of the
// clause, begins.
func (x *lexicon) hedgedBefore(tokens []token, s stated) bool {
	at := s.at
	for i := at - 1; i >= 0 && tokens[i].clause == tokens[at].clause; i-- {
		if x.is("joins-clauses", tokens[i].word) {
			return false
		}
		if !tokens[i].spent && slices.Contains(x.words.Hedges, tokens[i].word) {
			return true
		}
	}
	return false
}

// hedgedBehind looks at what follows a phrase: "dry? no", "retentive or not",
// "no allergy apart from …".
func (x *lexicon) hedgedBehind(tokens []token, s stated) bool {
	at := s.at
	if s.negated {
		return false // the no of "resin allergy? no" has been read
	}
	for i := at + 1; i < len(tokens); i++ {
		inside := tokens[i].clause == tokens[at].clause
		answers := tokens[i].clause > tokens[at].clause && tokens[i-1].question
		leavesOut := x.is("leaves-out", tokens[i].word)
		switch {
		case inside && (leavesOut || x.is("takes-back", tokens[i].word) && !tokens[i].spent):
			return true
		case inside && tokens[i].word == "or" && i+1 < len(tokens) && tokens[i+1].word == "not":
			return true
		case answers:
			return slices.Contains(x.words.Hedges, tokens[i].word) || x.is("answers-no", tokens[i].word)
		case !inside:
			return leavesOut || x.distrusted(tokens, i)
		}
	}
	return false
}

// distrusted reports whether the clause that begins at a token takes back what was
// said before it: "dry now, but I dont trust it", "but not for long".
func (x *lexicon) distrusted(tokens []token, from int) bool {
	if x.turnsRound(tokens[from].word) && from+1 < len(tokens) && tokens[from+1].word == "for" {
		return true // "dry enough for cementing, not for bonding"
	}
	if !x.is("begins-a-clause", tokens[from].word) {
		return false
	}
	for i := from + 1; i+1 < len(tokens) && tokens[i+1].clause == tokens[from].clause && i < from+5; i++ {
		if x.turnsRound(tokens[i].word) && (x.is("lasts", tokens[i+1].word) || i+2 < len(tokens) && x.is("lasts", tokens[i+2].word)) {
			return true
		}
	}
	return false
}

// asksFor reports whether a clause asks for the fact instead of stating it: "is
// the prep retentive enough?", "does 5Y need a dry field". What is asked about
// bonding or cementing states its facts.
func (x *lexicon) asksFor(tokens []token, s stated) bool {
	if slices.Contains(x.words.Given, s.fact) {
		return false
	}
	clause := tokens[s.at].clause
	from := slices.IndexFunc(tokens, func(t token) bool { return t.clause == clause })
	if !x.is("opens-a-question", tokens[from].word) || x.lacksSubject(tokens, from, s.at) || x.reply(tokens, s.at) != "" {
		return false
	}
	for _, list := range []string{"cue:plan", "cue:plan-word", "cue:check"} {
		for _, f := range x.all(list, tokens) {
			if tokens[f.from].clause == clause && f.to-f.from > 0 && f.sense.name != "" && !slices.Contains(f.words, "enough") && f.from != s.at {
				return false
			}
		}
	}
	return true
}

// lacksSubject reports whether a clause that begins like a question only leaves
// its subject out: "was dry", "is subgingival", "was a one visit job".
func (x *lexicon) lacksSubject(tokens []token, verb, at int) bool {
	if tokens[verb].question || at <= verb {
		return false
	}
	if verb+1 < len(tokens) && x.is("was-done", tokens[verb+1].word) {
		return x.is("told-as-past", tokens[verb].word) // "was put in without eugenol"
	}
	for _, t := range tokens[verb+1 : at] {
		if !x.is("article", t.word) && !t.spent {
			return false
		}
	}
	for _, t := range tokens[at:] {
		if t.clause == tokens[verb].clause && !t.spent {
			return x.is("told-as-past", tokens[verb].word)
		}
	}
	return true
}

// doubtNotices says what was not made out and asks for it.
func (t *Talk) doubtNotices(turn *turn) []string {
	var notices []string
	for _, d := range turn.doubted {
		if d.say == "" {
			continue
		}
		notices = append(notices, t.say(d.say, map[string]any{"Title": t.title(d.fact), "Word": d.word, "Ask": t.ask(d.fact)}))
	}
	return notices
}

// inDoubt is the case with what may not be presumed in it. News of a fact that was
// known to be well, or measured, and is not made out any more takes it back: "it started
// to bleed", "ground off 0.3".
func (t *Talk) inDoubt(turn *turn, c planner.Case) planner.Case {
	for _, d := range turn.doubted {
		well := slices.Equal(c.Values(d.fact), t.words.words.Benign[d.fact]) || t.fact(d.fact).Measured()
		if well && !t.questioned(turn) {
			c = c.Without(d.fact)
		}
		c = c.Doubting(d.fact)
	}
	c = c.Doubting(turn.conflicts...)
	if turn.cut {
		c = c.Doubting(t.words.words.Cut...)
	}
	return c.Doubting(turn.past.Doubted...)
}
