package talk

import (
	"slices"

	"mortarboard/planner"
)

// refused reports whether a one-word question is answered with a no: "dry? no chance".
func (x *lexicon) refused(tokens []token, f found) bool {
	next := found{from: f.to, to: f.to + 1}
	return f.to < len(tokens) && repliedTo(tokens, f, next) && x.is("answers-no", tokens[f.to].word)
}

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

// negated reports whether a "not" in the same clause reaches the phrase, and
// spends it.
func (x *lexicon) negated(tokens []token, f found) bool {
	if x.denied(tokens, f) {
		return true
	}
	if x.turnsRound(tokens[f.from].word) {
		return false // it holds its own "not"
	}
	for i, far := f.from-1, 0; i >= 0 && far < reach; i, far = i-1, far+1 {
		t := tokens[i]
		switch {
		case t.clause != tokens[f.from].clause || t.spent || t.idiom || x.is("ends-a-denial", t.word):
			return false
		case x.is("denies", t.word):
			tokens[i].spent = !x.is("knows", tokens[i+1].word) && !x.is("minds", tokens[i+1].word)
			return tokens[i].spent
		case x.is("denies-a-noun", t.word):
			tokens[i].spent = !slices.ContainsFunc(tokens[i+1:f.from], func(t token) bool { return !x.is("leads-to-a-noun", t.word) })
			return tokens[i].spent
		}
	}
	return false
}

// also reports whether a phrase shares the "no" of the phrase before it: "no
// grinding or clenching".
func (x *lexicon) also(tokens []token, last, f found) bool {
	return last.to > 0 && last.sense.name == f.sense.name && f.from == last.to+1 && x.is("carries-a-no-on", tokens[last.to].word)
}

// denied reports whether the phrase is what somebody would not say: "wouldnt
// call the prep retentive".
func (x *lexicon) denied(tokens []token, f found) bool {
	for i := f.from - 2; i >= 0 && i >= f.from-7 && tokens[i].clause == tokens[f.from].clause; i-- {
		if x.is("denies", tokens[i].word) && x.is("voices-an-opinion", tokens[i+1].word) {
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

// unsure reports whether the phrase is only wondered about: "not sure if …".
func (x *lexicon) unsure(tokens []token, f found) bool {
	for i := f.from - 1; i >= 2 && i >= f.from-4; i-- {
		if tokens[i].clause != tokens[f.from].clause {
			return false
		}
		if x.is("leaves-open-whether", tokens[i].word) {
			notKnown := x.is("knows", tokens[i-1].word) && x.turnsRound(tokens[i-2].word)
			return notKnown || x.is("wonders", tokens[i-1].word)
		}
	}
	return false
}

// wondered reports whether the clause asks for the fact and nothing else: "is it
// dry", "was the dentin sealed".
func (x *lexicon) wondered(tokens []token, f found) bool {
	clause, first := tokens[f.from].clause, f.from
	for first > 0 && tokens[first-1].clause == clause {
		first--
	}
	if first == f.from || f.to < len(tokens) && tokens[f.to].clause == clause || !x.is("opens-a-question", tokens[first].word) {
		return false
	}
	words := tokens[first+1 : f.from]
	return len(words) == 1 && x.is("stands-for-the-thing", words[0].word) ||
		len(words) == 2 && x.is("points-at-the-thing", words[0].word)
}

// defined reports whether the message asks what the phrase means: "what is a
// bruxer", "what does RMGI stand for".
func (x *lexicon) defined(tokens []token, f found) bool {
	clause := tokens[f.from].clause
	first := f.from
	for first > 0 && tokens[first-1].clause == clause {
		first--
	}
	said := []string{}
	for _, t := range tokens[first:f.from] {
		if !x.is("fills-a-definition", t.word) {
			said = append(said, t.word)
		}
	}
	rest := tokens[f.to:]
	last := len(rest) == 0 || rest[0].clause != clause
	if len(said) != 1 || !x.is("asks-for-a-meaning", said[0]) {
		return false
	}
	return last || x.is("follows-what-is-defined", rest[0].word)
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
