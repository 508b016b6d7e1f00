package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// mistrust: a value that makes a plan bolder may not hold. The nets are wide: a doubt
// costs a question, a wet field taken for a dry one costs the crown.
var mistrust = usages[stated]{
	{"tell it of another tooth", "3Y crown 16, tooth 17 prep is retentive", inTokens((*lexicon).ofOtherTooth)},
	{"name trouble", "dam on, but it's leaking. 5Y onlay", inTokens((*lexicon).countered)},
	{"take it back", "bone dry lol, 5Y onlay", (*lexicon).takenLightly},
	{"keep it to a time or a condition", "would be dry, 5Y onlay", inTokens((*lexicon).limited)},
	{"fall short of it", "less than dry, 5Y onlay", inTokens((*lexicon).fallsShort)},
	{"give it moments", "dry for about ten seconds, 5Y onlay", inTokens((*lexicon).forMoments)},
	{"dispute it", "I say dry, the nurse says no, 5Y onlay", inTokens((*lexicon).disputed)},
	{"ask whether it can be", "can the field be kept dry, 5Y onlay", inTokens((*lexicon).wondersWhether)},
	{"ask for it alone", "retentive form adequate?? 3Y crown", (*lexicon).askedOnly},
	{"hedge before it", "hopefully dry, 5Y onlay", inTokens((*lexicon).hedgedBefore)},
	{"hedge behind it", "dry, but not for long, 5Y onlay", inTokens((*lexicon).hedgedBehind)},
}

// ofOtherTooth reports whether the clause of a value names a tooth, and a clause before it
// another one.
func (x *lexicon) ofOtherTooth(tokens []token, s stated) bool {
	own := ""
	for i, t := range tokens {
		if t.clause == tokens[s.at].clause && x.toothAt(tokens, i) != nil {
			own = t.word
		}
	}
	today := x.holds("says-now", clauseOf(tokens, s.at))
	return own != "" && !today && slices.ContainsFunc(tokens[:s.at], func(t token) bool {
		i := slices.IndexFunc(tokens, func(o token) bool { return o.word == t.word && o.clause == t.clause })
		return t.clause < tokens[s.at].clause && t.word != own && x.toothAt(tokens, i) != nil
	})
}

// countered reports whether a word of the trouble that the value rules out was left
// unread and is not denied: "claims it's dry but there's blood". Behind a "but" any word
// of the fact is one.
func (x *lexicon) countered(tokens []token, s stated) bool {
	for i, t := range tokens {
		against := slices.Contains(x.words.Against[s.fact], t.word) || x.setAgainst(tokens, i, s)
		if against && !t.spent && !x.harmless(tokens, i, s) && !x.negated(tokens, found{from: i, to: i + 1}) {
			return true
		}
	}
	return false
}

// setAgainst reports whether a word that speaks of the fact stands behind a "but" or the
// like: "dam in place but saliva comes through".
func (x *lexicon) setAgainst(tokens []token, i int, s stated) bool {
	clause := clauseOf(tokens, i)
	_, topic := x.at("topic:"+s.fact, tokens, i)
	return topic && clause[0].clause != tokens[s.at].clause && x.is("begins-a-clause", clause[0].word)
}

// harmless reports whether a word of trouble is said of the value itself, of a time that
// is over, of another tooth, or of the restoration: "cleaned the blood off the crown".
func (x *lexicon) harmless(tokens []token, i int, s stated) bool {
	onWork := func(f found) bool {
		return x.words.DoneToWork[f.sense.name] != nil && tokens[f.from].clause == tokens[i].clause
	}
	return x.overBy(tokens, i, s.at) || x.ofValue(tokens, i, s.at) || x.elsewhere(tokens, found{from: i, to: i + 1}) || slices.ContainsFunc(x.all("facts", tokens), onWork)
}

// ofValue reports whether a word belongs to the value before it: the acrylates of "patch
// test negative to acrylates".
func (x *lexicon) ofValue(tokens []token, i, at int) bool {
	return i > at && tokens[i].clause == tokens[at].clause && x.is("belongs-to-what-precedes", wordBefore(tokens, i))
}

// overBy reports whether the trouble lies before a value that holds now: "it bled
// at first, now dry".
func (x *lexicon) overBy(tokens []token, trouble, at int) bool {
	return trouble < at && x.holds("says-now", clauseOf(tokens, at)) || x.holds("says-earlier", clauseOf(tokens, trouble))
}

// takenLightly reports whether words that take back what is said stand in the clause
// or alone in the next: "bone dry lol", "the prep holds, i have my doubts".
func (x *lexicon) takenLightly(r *reading, s stated) bool {
	if x.has("taken-back", clauseOf(r.tokens, s.at)) {
		return true
	}
	next := clauseBehind(r.tokens, s.at)
	return len(next) > 0 && x.has("taken-back", next) && !x.statesBesides(r, s, next[0].clause)
}

// limited reports whether words in the clause of a value keep it to another time or to a
// condition: "dry soon", "would be dry", "dry when the suction works".
func (x *lexicon) limited(tokens []token, s stated) bool {
	at := s.at
	clause := clauseOf(tokens, at)
	if slices.ContainsFunc(x.all("cue:limited", clause), func(f found) bool { return !clause[f.from].spent }) {
		return true // unlike the "most of the" of "most of the enamel", which has been read
	}
	for i := at + 1; i < len(tokens) && tokens[i].clause == tokens[at].clause; i++ {
		if !tokens[i].spent {
			return x.is("sets-a-condition", tokens[i].word) && !x.is("does-a-deed", wordBehind(tokens, i))
		}
	}
	next := clauseBehind(tokens, at)
	return len(next) > 0 && x.is("begins-a-clause", next[0].word) && x.is("sets-a-condition", next[0].word) // "dry while the cord is in"
}

// statesBesides reports whether a clause states another fact than what the restoration
// is, so that what else stands in it may be said of that fact.
func (x *lexicon) statesBesides(r *reading, s stated, clause int) bool {
	return slices.ContainsFunc(r.facts, func(o stated) bool {
		return o.fact != s.fact && o.within == nil && r.tokens[o.at].clause == clause && !slices.Contains(x.words.Given, o.fact)
	})
}

// fallsShort reports whether the clause says that it is less than that, or other:
// "less than dry". Before a number it compares the number, and "other than that" excepts.
func (x *lexicon) fallsShort(tokens []token, s stated) bool {
	at := s.at
	clause := clauseOf(tokens, at)
	for i := 0; i+2 < len(clause); i++ {
		if x.is("falls-short", clause[i].word) && clause[i+1].word == "than" && !clause[i+2].isNum && !x.is("stands-for-the-thing", clause[i+2].word) {
			return true
		}
	}
	return false
}

// forMoments reports whether a value is said to last for a few seconds or minutes:
// "dry for about ten seconds".
func (x *lexicon) forMoments(tokens []token, s stated) bool {
	at := s.at
	clause := clauseOf(tokens, at)
	for i, t := range clause {
		if t.word != "for" {
			continue
		}
		short := func(t token) bool {
			return x.is("is-a-moment", t.word) || t.isNum && (t.unit == sums.Second || t.unit == sums.Minute)
		}
		if slices.ContainsFunc(clause[i:min(len(clause), i+4)], short) {
			return true
		}
	}
	return false
}

// disputed reports whether the words behind a value end in a "not" that denies it, or
// somebody says no: "retentive it aint", "she says dry, I say it isnt".
func (x *lexicon) disputed(tokens []token, s stated) bool {
	at := s.at
	if s.negated {
		return false // the "not" behind it has been read
	}
	if x.endsInNot(clauseOf(tokens, at)) && !tokens[at].idiom {
		return true
	}
	next := clauseBehind(tokens, at)
	if len(next) < 2 || slices.ContainsFunc(next, func(t token) bool { return t.spent }) {
		return false
	}
	return x.endsInNot(next) || x.holds("voices", next) && x.is("answers-no", next[len(next)-1].word)
}

// endsInNot reports whether a clause ends in a "not" of its own, unlike "bond or not" and
// "why not".
func (x *lexicon) endsInNot(clause []token) bool {
	last := len(clause) - 1
	if last < 1 || clause[last].spent || clause[last].question || clause[last].idiom || !x.is("denies", clause[last].word) {
		return false
	}
	return !x.is("makes-not-a-choice", clause[last-1].word)
}

// wondersWhether reports whether a clause asks whether it can be so: "can the field be
// kept dry". What is asked about bonding states its facts: "can I bond this dry onlay".
func (x *lexicon) wondersWhether(tokens []token, s stated) bool {
	at := s.at
	clause := clauseOf(tokens, at)
	if len(clause) < 3 || !x.is("asks-yes-or-no", clause[0].word) || x.reply(tokens, at) != "" {
		return false
	}
	second := clause[1].word
	subject := x.is("stands-for-the-thing", second) || x.is("points-at-the-thing", second) || x.is("does-it", second)
	return subject && !x.has("plan", clause) && !x.has("plan-word", clause)
}

// askedOnly reports whether a question that nothing answers names the fact and nothing
// else: "retentive form adequate?"
func (x *lexicon) askedOnly(r *reading, s stated) bool {
	clause := slices.Clone(clauseOf(r.tokens, s.at))
	if s.negated || !clause[0].question || x.reply(r.tokens, s.at) != "" {
		return false // "resin allergy? none on record"
	}
	for _, g := range x.judgements(clause) {
		spend(clause, g.found)
	}
	besides := func(o stated) bool {
		return o.fact != s.fact && o.within == nil && r.tokens[o.at].clause == clause[0].clause
	}
	other := func(t token) bool { return !t.spent && !x.is("carries-nothing", t.word) }
	return !slices.ContainsFunc(r.facts, besides) && !slices.ContainsFunc(clause, other)
}

// supposed reports whether a clause tells of what is not: "had the margin been in
// enamel", "if the prep had been taller".
func (x *lexicon) supposed(tokens []token, at int) bool {
	clause := clauseOf(tokens, at)
	for i, t := range clause {
		if t.word == "had" && i+2 < len(clause) && (i == 0 || x.holds("leaves-open-whether", clause[:i])) {
			return slices.ContainsFunc(clause[i+2:], func(t token) bool { return t.word == "been" })
		}
	}
	return false
}

// putAside reports whether a clause supposes what the next one sets aside: "if it were a
// veneer I would bond, but it is a crown". Without that it asks what would be.
func (x *lexicon) putAside(tokens []token, f found) bool {
	clause := clauseOf(tokens, f.from)
	if clause[0].word != "if" || len(clause) < 3 || !x.is("stands-for-the-thing", clause[1].word) || !x.is("told-as-past", clause[2].word) {
		return false
	}
	return slices.ContainsFunc(tokens[f.to:], func(t token) bool {
		return t.clause > tokens[f.from].clause && x.is("begins-a-clause", t.word)
	})
}

// ofStaff reports whether an allergy is that of somebody of the staff, so that it bars
// nothing: "assistant allergic to acrylates", "allergy to bonding agents in staff".
func (x *lexicon) ofStaff(tokens []token, f found) bool {
	if f.sense.name != "resin_allergy" {
		return false
	}
	for i := f.from - 1; i >= 0 && tokens[i].clause == tokens[f.from].clause; i-- {
		if x.is("works-here", tokens[i].word) {
			return true
		}
		if !x.is("ties-to-a-person", tokens[i].word) {
			break
		}
	}
	for i := f.to; i+1 < len(tokens) && i < f.to+ofToothReach && tokens[i].clause == tokens[f.from].clause; i++ {
		if x.is("lies-in", tokens[i].word) && (x.is("works-here", tokens[i+1].word) || x.is("works-here", wordBehind(tokens, i+1))) {
			return true
		}
	}
	return false
}

// suspected reports whether an allergy is only thought possible, so that it is neither
// taken for one nor for none: "may be allergic to dental glue".
func (x *lexicon) suspected(tokens []token, s stated) bool {
	if s.fact != "resin_allergy" || s.negated || x.benign(s) {
		return false
	}
	for i := s.at - 1; i >= 0 && i >= s.at-reach && tokens[i].clause == tokens[s.at].clause; i-- {
		if x.is("suspects", tokens[i].word) {
			return true
		}
	}
	return false
}

// deniedTopics doubts what words of form say only together with a "not": "prep isnt
// very long".
func (x *lexicon) deniedTopics(r *reading) {
	for i, t := range r.tokens {
		for fact, words := range x.words.TopicsDenied {
			clause := clauseOf(r.tokens, i)
			if !t.spent && slices.Contains(words, t.word) && x.holds("speaks-of-the-stump", clause) && hedged(x.words.Hedges, clause) {
				r.doubt(fact, t.word, "doubted")
			}
		}
	}
}

// hedged reports whether one of the tokens is a hedge.
func hedged(hedges []string, tokens []token) bool {
	return slices.ContainsFunc(tokens, func(t token) bool { return slices.Contains(hedges, t.word) })
}
