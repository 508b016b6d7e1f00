package talk

import "slices"

// What names a value of a fact and does not tell it: the readers of the tables ofOtherFact
// and notTold in usage.go.

// toBeDone reports whether one word that states a value is a deed among others:
// the dry of "etch, rinse, dry, prime".
func (x *lexicon) toBeDone(tokens []token, f found) bool {
	if f.to-f.from > 1 || x.words.Topics[f.sense.name] == nil {
		return false
	}
	before, behind := f.from-1, f.to
	if before >= 0 && x.is("joins", tokens[before].word) {
		before--
	}
	if behind < len(tokens) && x.is("joins", tokens[behind].word) {
		behind++
	}
	return before >= 0 && x.is("tells-to-treat", tokens[before].word) || behind < len(tokens) && x.is("tells-to-treat", tokens[behind].word)
}

// ofThing reports whether one word that states a value is said of a thing at hand:
// "the glove was wet", "dry heat".
func (x *lexicon) ofThing(tokens []token, f found) bool {
	if f.to-f.from > 1 || x.words.Topics[f.sense.name] == nil {
		return false
	}
	if f.to < len(tokens) && tokens[f.to].clause == tokens[f.from].clause && x.is("names-a-thing-at-hand", tokens[f.to].word) {
		return true
	}
	for i := f.from - 1; i >= 0 && i >= f.from-3 && tokens[i].clause == tokens[f.from].clause; i-- {
		if x.is("names-a-thing-at-hand", tokens[i].word) {
			return true
		}
		if !x.is("ties-to-a-thing", tokens[i].word) {
			return false
		}
	}
	return false
}

// wardedOff reports whether a mishap is what somebody wants to avoid, or came when it
// could do no harm any more: "after priming keep saliva away", "primed and seated, saliva gone".
func (x *lexicon) wardedOff(tokens []token, f found) bool {
	if f.sense.name != x.words.Spoiling.Fact {
		return false
	}
	_, deed := x.at("deeds", tokens, f.from)
	for i, t := range tokens {
		after := deed && i >= f.to && i < f.to+gapReach && x.is("ends-the-risk", t.word)
		if t.clause == tokens[f.from].clause && (after || x.is("wards-off", t.word)) {
			return true
		}
	}
	return false
}

// ofTooth reports whether a phrase that says what was done to the restoration is
// said of the tooth: "enamel etched with phosphoric acid", "cleaned the prep".
func (x *lexicon) ofTooth(tokens []token, f found) bool {
	a := x.words.Acids
	names := func(words []string, i int) bool { return slices.Contains(words, tokens[i].word) }
	done := x.words.DoneToWork[f.sense.name]
	if !slices.ContainsFunc(f.sense.values, func(v string) bool { return slices.Contains(done, v) }) {
		return false
	}
	for i := f.from; i < f.to; i++ {
		if names(a.Inner, i) || names(a.Work, i) {
			return false
		}
	}
	tooth, work := len(tokens), len(tokens) // how near they are
	for i := max(0, f.from-ofToothReach); i < min(len(tokens), f.to+ofToothReach); i++ {
		far := max(f.from-i, i-f.to+1)
		switch {
		case tokens[i].clause != tokens[f.from].clause || far <= 0:
		case names(a.Inner, i) || names(a.Work, i):
			work = min(work, far)
		case names(a.Tooth, i):
			tooth = min(tooth, far)
		}
	}
	return tooth < work
}

// ofToothReach is how many words may stand between what was done and to what.
const ofToothReach = 4

// deedAsked reports whether what is stated is a deed that the message asks about
// and does not tell: "can I etch the inside with phosphoric acid". Behind "was" or
// "after" it is told all the same.
func (x *lexicon) deedAsked(tokens []token, s stated) bool {
	first := s.at
	for first > 0 && tokens[first-1].clause == tokens[s.at].clause {
		first--
	}
	deed := slices.ContainsFunc(s.values, func(v string) bool { return slices.Contains(x.words.Deeds[s.fact], v) })
	return deed && first+1 < len(tokens) && x.is("asks-for-leave", tokens[first].word) && x.is("does-it", tokens[first+1].word) &&
		!x.holds("tells-what-was", tokens[first:s.at])
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

// askedUnanswered reports whether the fact is asked for, and the message does not
// answer itself.
func (x *lexicon) askedUnanswered(tokens []token, f found) bool {
	return x.wondered(tokens, f) && x.reply(tokens, f.from) == ""
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
