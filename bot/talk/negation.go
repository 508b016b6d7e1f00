package talk

import (
	"slices"

	"mortarboard/planner"
)

// refused reports whether a one-word question is answered with a no: "dry? no chance".
func (x *lexicon) refused(tokens []token, f found) bool {
	if f.to < len(tokens) && tokens[f.to].clause == tokens[f.from].clause && x.is("says-none", tokens[f.to].word) && x.nothingNoted(tokens, f.to) {
		return true // "resin allergy no"
	}
	whole := opens(tokens, f.from)
	if whole && f.to < len(tokens) && tokens[f.to].clause != tokens[f.from].clause && x.is("says-none", tokens[f.to].word) && x.nothingNoted(tokens, f.to) {
		return true // "resin allergy: no"
	}
	next := found{from: f.to, to: f.to + 1}
	return f.to < len(tokens) && repliedTo(tokens, f, next) && x.is("answers-no", tokens[f.to].word) && !x.notKnown(tokens, f.to)
}

// nothingNoted reports whether a "no" or "none" ends its clause, but for such words as
// in "none known", "none on record".
func (x *lexicon) nothingNoted(tokens []token, i int) bool {
	for ; wordBehind(tokens, i) != ""; i++ {
		if !x.is("ends-a-none", wordBehind(tokens, i)) {
			return false
		}
	}
	return true
}

// notDone reports whether the next clause says that it did not come to it: "IDS was
// planned but not carried out", "ferric normally, but not today".
func (x *lexicon) notDone(tokens []token, f found) bool {
	i := f.to
	for i < len(tokens) && tokens[i].clause == tokens[f.from].clause {
		i++
	}
	if i+2 >= len(tokens) || !x.is("begins-a-clause", tokens[i].word) || !x.turnsRound(tokens[i+1].word) {
		return false
	}
	return x.is("was-done", tokens[i+2].word) && (i+3 == len(tokens) || tokens[i+3].clause != tokens[i].clause || x.is("carries-nothing", tokens[i+3].word))
}

// ticked reports whether a phrase is an entry of a list that is answered with a no:
// "lab blasted: no", "IDS = no / dam yes".
func (x *lexicon) ticked(tokens []token, f found) bool { return x.noBehind(tokens, f) >= 0 }

// noBehind is where the no stands that answers an entry of a list, or -1.
func (x *lexicon) noBehind(tokens []token, f found) int {
	at := f.to
	if at < len(tokens) && x.is("equates", tokens[at].word) {
		at++
	}
	if at >= len(tokens) || tokens[at].clause != tokens[f.from].clause || !x.is("says-none", tokens[at].word) || slices.Contains(x.words.Given, f.sense.name) {
		return -1
	}
	return where(at, closes(tokens, at) || tokens[at+1].word == "/")
}

// answeredNo reports whether the message answers its own question with a no.
func (x *lexicon) answeredNo(tokens []token, f found) bool { return x.reply(tokens, f.from) == "no" }

// reply is what answers the question in whose clause a token stands: "yes", "no"
// or nothing. "Was the dentin sealed? notes say yes."
func (x *lexicon) reply(tokens []token, at int) string {
	if !tokens[at].question {
		return ""
	}
	next := at
	for next < len(tokens) && tokens[next].clause == tokens[at].clause {
		next++
	}
	for i := next; i < len(tokens) && i < next+replyReach && tokens[i].clause == tokens[next].clause; i++ {
		ends := closes(tokens, i)
		switch {
		case x.notKnown(tokens, i):
			return ""
		case x.is("answers-yes", tokens[i].word):
			return "yes"
		case ends && x.is("answers-no", tokens[i].word):
			return "no"
		}
	}
	return ""
}

// replyReach is within how many words a question is answered.
const replyReach = 4

// outOfReach is the value that a phrase has where its own cannot be had, however
// far the "cannot" stands before it in the clause: a dry field that is impossible.
func (x *lexicon) outOfReach(tokens []token, f found, s stated) string {
	beyond := only(x.words.Turns.OutOfReach, s)
	for i := f.from - 1; beyond != "" && i >= 0 && tokens[i].clause == tokens[f.from].clause; i-- {
		switch {
		case x.is("ends-a-denial", tokens[i].word):
			return ""
		case !x.is("cannot", tokens[i].word):
		case i+1 < len(tokens) && x.is("voices-an-opinion", tokens[i+1].word):
			return ""
		default:
			return beyond
		}
	}
	return ""
}

// only is what a table makes of the one value that is stated, or nothing.
func only(table map[string]map[string]string, s stated) string {
	if len(s.values) != 1 {
		return ""
	}
	return table[s.fact][s.values[0]]
}

// reach is how many words before a phrase a "not" reaches it from.
const reach = 3

// negated reports whether words before a phrase deny it.
func (x *lexicon) negated(tokens []token, f found) bool {
	return x.reachedByNot(tokens, f) || x.opinionDenied(tokens, f)
}

// reachedByNot reports whether a "not" in the same clause reaches the phrase.
func (x *lexicon) reachedByNot(tokens []token, f found) bool { return x.notBefore(tokens, f) >= 0 }

// notBefore is where the "not" stands that reaches a phrase from before it, or -1.
func (x *lexicon) notBefore(tokens []token, f found) int {
	if x.turnsRound(tokens[f.from].word) {
		return -1 // it holds its own "not"
	}
	for i := f.from - 1; i >= max(0, f.from-reach); i-- {
		t := tokens[i]
		switch {
		case t.clause != tokens[f.from].clause || t.spent || t.idiom || x.is("ends-a-denial", t.word):
			return -1
		case x.is("denies", t.word):
			return where(i, !x.is("knows", tokens[i+1].word) && !x.is("minds", tokens[i+1].word))
		case x.is("denies-a-noun", t.word):
			return where(i, !slices.ContainsFunc(tokens[i+1:f.from], func(t token) bool { return !x.is("leads-to-a-noun", t.word) }))
		}
	}
	return -1
}

// where is a place that counts only if something holds, or else -1.
func where(i int, holds bool) int {
	if holds {
		return i
	}
	return -1
}

// spendDenial marks the words as read by which a phrase is denied.
func (x *lexicon) spendDenial(tokens []token, f found) {
	for _, i := range []int{x.notBefore(tokens, f), x.noBehind(tokens, f)} {
		if i >= 0 {
			tokens[i].spent = true
		}
	}
}

// sharesWith reports whether a phrase shares what was said of the phrase before it, of
// the same fact: "no grinding or clenching".
func (x *lexicon) sharesWith(tokens []token, last, f found) bool {
	return last.to > 0 && last.sense.name == f.sense.name && f.from == last.to+1 && x.is("carries-a-no-on", tokens[last.to].word)
}

// opinionDenied reports whether the phrase is what somebody would not say: "wouldnt
// call the prep retentive".
func (x *lexicon) opinionDenied(tokens []token, f found) bool {
	for i := f.from - 2; i >= 0 && i >= f.from-7 && tokens[i].clause == tokens[f.from].clause; i-- {
		if x.is("denies", tokens[i].word) && (x.is("voices-an-opinion", tokens[i+1].word) || x.is("voices-an-opinion", wordBehind(tokens, i+1))) {
			return true
		}
	}
	return false
}

// softened turns a value that is only slightly so into a milder one: a bit of
// bleeding makes a field doubtful and not impossible.
func (x *lexicon) softened(tokens []token, f found, s stated) stated {
	milder := only(x.words.Turns.Softened, s)
	if milder == "" || len(f.words) > 1 {
		return s
	}
	for i := max(0, f.from-3); i < min(len(tokens), f.to+2); i++ {
		if tokens[i].clause == tokens[f.from].clause && x.is("softens", tokens[i].word) {
			s.values = []string{milder}
		}
	}
	return s
}

// leftOpen reports whether the message says that nobody knows: "IDS unknown",
// "blasted by the lab? no idea", "no info on the temp cement".
func (x *lexicon) leftOpen(tokens []token, f found) bool {
	if len(f.sense.values) > 1 || slices.ContainsFunc(f.words, func(w string) bool { return x.is("is-not-known", w) }) {
		return false // it says so itself
	}
	for i := f.to; slices.Contains(f.words, gap) && i < len(tokens) && i < f.to+3 && tokens[i].clause == tokens[f.from].clause; i++ {
		if x.is("leaves-open-whether", tokens[i].word) {
			return true // "the lab doesnt say whether it blasted"
		}
	}
	for i := f.to; i < len(tokens) && i < f.to+3 && !x.oneOfTwo(tokens, f); i++ {
		asked := tokens[i].clause == tokens[f.to-1].clause+1 && tokens[f.to-1].question
		if tokens[i].clause != tokens[f.to-1].clause && !asked {
			break
		}
		if x.notKnown(tokens, i) {
			return !x.ofSomething(tokens, i) && !x.followsQuestion(tokens, i+1) // "IDS done, not sure what to use"
		}
	}
	for i := f.from - 2; i >= 0 && i >= f.from-5 && tokens[i].clause == tokens[f.from].clause; i-- {
		if x.notKnown(tokens, i) {
			return x.ofSomething(tokens[:f.from], i)
		}
	}
	return false
}

// ofSomething reports whether words of not knowing go on with what is not known:
// "not sure about", "no idea if".
func (x *lexicon) ofSomething(tokens []token, i int) bool {
	next := i + 1
	if x.turnsRound(tokens[i].word) {
		next = i + 2
	}
	return next < len(tokens) && tokens[next].clause == tokens[i].clause && (x.is("leaves-open-whether", tokens[next].word) || x.is("leads-to-a-subject", tokens[next].word))
}

// oneOfTwo reports whether a phrase is one of two that stand side by side: "4Y/5Y".
func (x *lexicon) oneOfTwo(tokens []token, f found) bool {
	return f.from > 0 && x.is("offers-a-choice", tokens[f.from-1].word) || f.to < len(tokens) && x.is("offers-a-choice", tokens[f.to].word)
}

// followsQuestion reports whether a question word stands at a token of the same
// clause as the one before: "not sure what to use".
func (x *lexicon) followsQuestion(tokens []token, i int) bool {
	for j := i; j < len(tokens) && j <= i+1 && tokens[j].clause == tokens[i-1].clause; j++ {
		if x.is("asks-for-a-result", tokens[j].word) {
			return true
		}
	}
	return false
}

// notKnown reports whether a token begins words of not knowing: "unknown", "not
// sure", "no idea".
func (x *lexicon) notKnown(tokens []token, i int) bool {
	if x.is("is-not-known", tokens[i].word) {
		return true
	}
	return x.turnsRound(tokens[i].word) && i+1 < len(tokens) && tokens[i+1].clause == tokens[i].clause && x.is("knows", tokens[i+1].word)
}

// complement is every value but those stated: "not translucent" leaves the rest.
func complement(book *planner.Rulebook, s stated) []string {
	var rest []string
	for _, v := range book.NewCase().Values(s.fact) {
		if !slices.Contains(s.values, v) {
			rest = append(rest, v)
		}
	}
	return rest
}
