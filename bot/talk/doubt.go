package talk

import (
	"slices"

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
		if s.within != nil || !x.shaky(r.tokens, s) {
			return false
		}
		r.doubted = append(r.doubted, doubt{s.fact, r.tokens[s.at].word, "doubted"})
		return true
	})
	for _, f := range book.Facts {
		for _, t := range r.tokens {
			if !t.spent && slices.Contains(x.words.Topics[f.Name], t.word) {
				r.doubt(f.Name, t.word, "doubted")
			}
		}
	}
	r.numberDoubts()
}

// doubt notes a fact once, unless the message states it.
func (r *reading) doubt(fact, word, say string) {
	said := slices.ContainsFunc(r.facts, func(s stated) bool { return s.fact == fact })
	noted := slices.ContainsFunc(r.doubted, func(d doubt) bool { return d.fact == fact })
	if !said && !noted {
		r.doubted = append(r.doubted, doubt{fact, word, say})
	}
}

// numberDoubts doubts the wall where a length was given that measures nothing
// known, the form where an angle was, and the span where a bridge was described
// by its teeth.
func (r *reading) numberDoubts() {
	for _, m := range r.measures {
		switch {
		case m.fact == "" && m.quantity.Unit == sums.Millimetre && !onPath(r.tokens, m.at):
			r.doubt("wall_mm", m.quantity.String(), "doubted")
		case m.fact == "" && m.quantity.Unit == sums.Degree:
			r.doubt("retention", m.quantity.String(), "taper unclear")
		case m.fact == taperUnclear:
			r.doubt("retention", m.quantity.String(), "")
		}
	}
	bridge := slices.ContainsFunc(r.facts, func(s stated) bool {
		return s.fact == "restoration" && slices.Contains(s.values, "bridge")
	})
	numbers := 0
	for _, t := range r.tokens {
		if t.isNum && t.unit == "" && t.number >= 11 && t.number <= 48 || quadrantTooth.MatchString(t.word) {
			numbers++
		}
	}
	if bridge && numbers > 1 {
		r.doubt("span_units", "", "doubted")
	}
}

// shaky reports whether a value that makes a plan bolder stands beside a word
// that takes it back, or in a question.
func (x *lexicon) shaky(tokens []token, s stated) bool {
	if x.asksFor(tokens, s) {
		return true
	}
	if !slices.Equal(x.words.Benign[s.fact], s.values) {
		return false
	}
	return x.hedgedBefore(tokens, s.at) || x.hedgedBehind(tokens, s.at)
}

// hedgedBefore looks back from a phrase to where its clause, or its half of the
// clause, begins.
func (x *lexicon) hedgedBefore(tokens []token, at int) bool {
	for i := at - 1; i >= 0 && tokens[i].clause == tokens[at].clause; i-- {
		if tokens[i].word == "and" || tokens[i].word == "but" {
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
func (x *lexicon) hedgedBehind(tokens []token, at int) bool {
	for i := at + 1; i < len(tokens); i++ {
		inside := tokens[i].clause == tokens[at].clause
		answers := tokens[i].clause > tokens[at].clause && tokens[i-1].question
		switch {
		case inside && slices.Contains([]string{"apart", "except", "other", "unless", "maybe", "perhaps", "doubt"}, tokens[i].word):
			return true
		case inside && tokens[i].word == "or" && i+1 < len(tokens) && tokens[i+1].word == "not":
			return true
		case answers:
			return slices.Contains(x.words.Hedges, tokens[i].word) || tokens[i].word == "nope" || tokens[i].word == "nah"
		case !inside && tokens[i].word != "except" && tokens[i].word != "apart":
			return false
		case !inside:
			return true
		}
	}
	return false
}

// openers begin a clause that asks whether something is so.
var openers = []string{"is", "are", "was", "were", "does", "do", "did", "has", "have"}

// asksFor reports whether a clause asks for the fact instead of stating it: "is
// the prep retentive enough?", "does 5Y need a dry field". What is asked about
// bonding or cementing states its facts.
func (x *lexicon) asksFor(tokens []token, s stated) bool {
	if slices.Contains([]string{"restoration", "zirconia", "position", "occasion", "abrasive", "cement"}, s.fact) {
		return false
	}
	clause := tokens[s.at].clause
	from := slices.IndexFunc(tokens, func(t token) bool { return t.clause == clause })
	if !slices.Contains(openers, tokens[from].word) {
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

// cutDoubts are the facts of which nothing is presumed when a part of the
// message was not read.
var cutDoubts = []string{"isolation", "resin_allergy", "retention", "wall_mm"}

// inDoubt is the case with what may not be presumed in it.
func (t *Talk) inDoubt(turn *turn, c planner.Case) planner.Case {
	for _, d := range turn.doubted {
		c = c.Doubting(d.fact)
	}
	if turn.cut {
		c = c.Doubting(cutDoubts...)
	}
	return c.Doubting(turn.past.Doubted...)
}
