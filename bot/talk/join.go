package talk

import (
	"slices"

	"mortarboard/planner"
)

// join brings the mentions of each fact together. A later mention narrows an
// earlier one; joined by "or" they are alternatives; after "sorry" or "I mean"
// the later one counts; otherwise, if both cannot hold, the fact is in conflict
// and keeps every value that was named.
func (r *reading) join(mentions []stated, x *lexicon, book *planner.Rulebook) {
	mentions = x.dropGeneric(r.takenBack(x.narrowed(x.dropLayers(x.uncounted(mentions, r.tokens)), r.tokens), x), r.tokens)
	mentions = r.leaveOpen(mentions, x, book)
	for _, m := range mentions {
		i := slices.IndexFunc(r.facts, func(s stated) bool { return s.fact == m.fact })
		if i < 0 {
			r.facts = append(r.facts, m)
			continue
		}
		r.facts[i] = r.both(r.facts[i], m, x)
	}
	r.together(x)
	r.facts = slices.DeleteFunc(r.facts, func(s stated) bool {
		return s.within == nil && len(s.values) == len(book.NewCase().Values(s.fact))
	})
}

// leaveOpen sets apart what is said of a fact without telling its value: "patch test
// pending", "gum is inflamed".
func (r *reading) leaveOpen(mentions []stated, x *lexicon, book *planner.Rulebook) []stated {
	return slices.DeleteFunc(mentions, func(m stated) bool {
		open := x.words.Topics[m.fact] != nil && m.within == nil && !m.negated && len(m.values) > 1 && len(m.values) == len(book.NewCase().Values(m.fact))
		if open {
			r.open = append(r.open, m)
		}
		return open
	})
}

// narrowed drops a value that another one makes clear: what has a wing is no
// conventional bridge.
func (x *lexicon) narrowed(mentions []stated, tokens []token) []stated {
	for fact, explains := range x.words.Joined.Narrower {
		for narrow, wide := range explains {
			isNarrow := func(s stated) bool { return s.fact == fact && slices.Equal(s.values, []string{narrow}) && !s.negated }
			if slices.ContainsFunc(mentions, isNarrow) && !x.holds("sets-side-by-side", tokens) {
				mentions = slices.DeleteFunc(mentions, func(s stated) bool {
					return s.fact == fact && slices.Equal(s.values, []string{wide})
				})
			}
		}
	}
	return mentions
}

// takenBack drops what a general word takes back: in "onlay, no wait, a full
// crown" nothing is an onlay.
func (r *reading) takenBack(mentions []stated, x *lexicon) []stated {
	for fact, generic := range x.words.Generic {
		for i := len(mentions) - 1; i > 0; i-- {
			m := mentions[i]
			if m.fact != fact || m.negated || !slices.Equal(m.values, generic) {
				continue
			}
			before := slices.DeleteFunc(slices.Clone(mentions[:i]), func(s stated) bool {
				return s.fact == fact && !slices.Equal(s.values, generic) && r.corrected(s, m, x)
			})
			mentions = append(before, mentions[i:]...)
			i = len(before)
		}
	}
	return mentions
}

// uncounted drops "twice" and the like where nothing is said to have happened: a
// tooth that was tested twice has lost no crown.
func (x *lexicon) uncounted(mentions []stated, tokens []token) []stated {
	for fact, of := range x.words.Joined.Counting {
		happened := slices.ContainsFunc(mentions, func(s stated) bool { return slices.Equal(of.Values[s.fact], s.values) })
		answers := len(tokens) <= shortAnswer
		mentions = slices.DeleteFunc(mentions, func(s stated) bool {
			counts := s.fact == fact && slices.Contains(of.Words, tokens[s.at].word)
			return counts && (!happened && !answers || x.ofDeed(tokens, s.at))
		})
	}
	return mentions
}

// ofDeed reports whether what counts stands close behind a deed: "sandblasted twice".
func (x *lexicon) ofDeed(tokens []token, at int) bool {
	for i := at - 1; i >= 0 && i >= at-3 && tokens[i].clause == tokens[at].clause; i-- {
		if x.is("takes-a-time", tokens[i].word) || x.is("done-again", tokens[i].word) {
			return true
		}
	}
	return false
}

// shortAnswer is how many words a message may have that only answers a question.
const shortAnswer = 6

// together rewrites facts that mean something else when they stand together.
func (r *reading) together(x *lexicon) {
	for _, rule := range x.words.Together {
		holds := true
		for fact, values := range rule.When {
			i := slices.IndexFunc(r.facts, func(s stated) bool { return s.fact == fact })
			holds = holds && i >= 0 && len(r.facts[i].values) == 1 && slices.Contains(values, r.facts[i].values[0])
		}
		for i := range r.facts {
			if values, ok := rule.Then[r.facts[i].fact]; ok && holds {
				r.facts[i].values = values
			}
		}
	}
	r.implied(x)
}

// implied adds what a measured fact says where nothing else names it: what has
// units is a bridge.
func (r *reading) implied(x *lexicon) {
	says := func(fact string) bool {
		return slices.ContainsFunc(r.facts, func(s stated) bool { return s.fact == fact })
	}
	for measure, facts := range x.words.Joined.Implied {
		for fact, values := range facts {
			if says(measure) && !says(fact) {
				r.facts = append(r.facts, stated{fact: fact, values: values})
			}
		}
	}
}

// both joins two mentions of one fact.
func (r *reading) both(a, b stated, x *lexicon) stated {
	if a.within != nil || b.within != nil {
		return r.bothMeasured(a, b, x)
	}
	p := pair{r, x, a, b}
	for _, j := range x.joinings {
		if values, ok := j.join(p); ok {
			b.values = values
			return b
		}
	}
	r.conflicts = append(r.conflicts, a.fact)
	b.values = p.all()
	return b
}

// clears reports whether a mention only says what a fact is not: "no decay".
func (x *lexicon) clears(s stated) bool {
	none, ok := x.words.Joined.Cleared[s.fact]
	return ok && slices.Contains(s.values, none)
}

// standing is what stands of a fact that is told piece by piece, after one more
// mention: a crack beside the decay that was told before, the decay when only the
// crack is ruled out, and nothing when nothing is left.
func (x *lexicon) standing(before []string, s stated, corrected bool) []string {
	none := x.words.Joined.Cleared[s.fact]
	if none == "" || slices.Equal(s.values, []string{none}) {
		return s.values
	}
	told := slices.DeleteFunc(slices.Clone(before), func(v string) bool { return v == none || slices.Contains(before, none) })
	left := slices.DeleteFunc(slices.Clone(told), func(v string) bool { return x.clears(s) && !slices.Contains(s.values, v) })
	switch {
	case !x.clears(s) && corrected:
		return s.values
	case !x.clears(s):
		return union(left, s.values)
	case len(left) > 0:
		return left
	}
	return []string{none}
}

// exceptFor is the one of two mentions that stands for all, where the other is what
// the rest is like: "a bit moist distally, otherwise dry".
func (r *reading) exceptFor(a, b stated, x *lexicon) *stated {
	rest := func(s stated) bool {
		before := r.tokens[max(0, s.at-2):s.at]
		return slices.Equal(x.words.Benign[s.fact], s.values) && slices.ContainsFunc(before, func(t token) bool {
			return t.clause == r.tokens[s.at].clause && x.is("speaks-of-the-rest", t.word) && t.word != "its"
		})
	}
	switch {
	case rest(b):
		return &a
	case rest(a):
		return &b
	}
	return nil
}

// noneBold reports whether neither of two mentions says what makes a plan bolder.
func (x *lexicon) noneBold(a, b stated) bool {
	bold := x.words.Benign[a.fact]
	has := func(s stated) bool {
		return slices.ContainsFunc(s.values, func(v string) bool { return slices.Contains(bold, v) })
	}
	return bold != nil && !has(a) && !has(b)
}

// touchedLast is what is on the inner surface after two things touched it: what
// came then, or what is worse than the least, the saliva of a try-in.
func (r *reading) touchedLast(a, b stated, x *lexicon, least string) []string {
	if slices.Equal(b.values, []string{least}) && !r.between(a, b, x, "comes-later") {
		return a.values
	}
	return b.values
}

// passes reports whether a fact changes during one visit, as the field does.
func (j joined) passes(fact string) bool { return slices.Contains(j.Passing, fact) }

// lately is the one of two mentions of a passing fact that holds now: "bleeding
// earlier but dry now". A value that makes a plan bolder needs to be said plainly.
func (r *reading) lately(a, b stated, x *lexicon) *stated {
	clause := func(s stated) []token {
		return slices.DeleteFunc(slices.Clone(r.tokens), func(t token) bool { return t.clause != r.tokens[s.at].clause })
	}
	of, now := clause(a), clause(b)
	turned := x.holds("says-now", r.tokens[min(a.at, b.at):max(a.at, b.at)])
	apart := r.tokens[a.at].clause != r.tokens[b.at].clause || turned
	bold := slices.Equal(x.words.Benign[b.fact], b.values)
	partly := slices.ContainsFunc(now, func(t token) bool { return x.onSide(t.word) && t.word != "its" })
	earlier := x.holds("says-earlier", of) && !x.holds("says-earlier", now)
	was := x.holds("told-as-past", of) && !x.holds("told-as-past", now)
	switch {
	case !apart || bold && partly:
		return nil
	case turned && (!bold || x.holds("told-as-past", of)), x.holds("says-now", now) && !x.holds("says-now", of), earlier, was && !bold:
		return &b
	case x.holds("says-earlier", now) && !x.holds("says-earlier", of) && !slices.Equal(x.words.Benign[a.fact], a.values):
		return &a
	}
	return nil
}

func (r *reading) bothMeasured(a, b stated, x *lexicon) stated {
	if a.within != nil && b.within != nil && *a.within != *b.within && !r.corrected(a, b, x) {
		if slices.Contains(x.words.Joined.Least, a.fact) {
			b.within = &planner.Range{From: min(a.within.From, b.within.From), To: min(a.within.To, b.within.To)}
			return b // the wall is as thin as its thinnest place
		}
		r.conflicts = append(r.conflicts, a.fact)
		low, high := min(a.within.From, b.within.From), max(a.within.To, b.within.To)
		b.within = &planner.Range{From: low, To: high}
	}
	return b
}

func union(a, b []string) []string {
	out := slices.Clone(a)
	for _, v := range b {
		if !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}

// between reports whether a word that does what the name of the grammar says
// stands between two mentions.
func (r *reading) between(a, b stated, x *lexicon, name string) bool {
	return x.holds(name, r.tokens[min(a.at, b.at):max(a.at, b.at)])
}

// corrected reports whether the second mention takes the first one back.
func (r *reading) corrected(a, b stated, x *lexicon) bool {
	for _, c := range x.all("cue:correct", r.tokens) {
		if c.from >= min(a.at, b.at) && c.from <= max(a.at, b.at) {
			return true
		}
	}
	for i := min(a.at, b.at) + 1; i < max(a.at, b.at); i++ {
		alone := r.tokens[i-1].clause != r.tokens[i].clause && r.tokens[i+1].clause != r.tokens[i].clause
		if alone && x.is("answers-no", r.tokens[i].word) {
			return true // "3Y? no, the lab says 5Y"
		}
	}
	return false
}

// split reports whether two margins belong to two sides of one tooth.
func (r *reading) split(a, b stated, x *lexicon) bool {
	apart := r.between(a, b, x, "divides") || r.between(a, b, x, "leaves-out") || r.between(a, b, x, "speaks-of-the-rest")
	return apart || x.holds("side-of-the-tooth", r.tokens[a.at:])
}

// outside reports whether one of the values is no part of the mixture.
func (m mixture) outside(values []string) bool {
	return slices.ContainsFunc(values, func(v string) bool { return v != m.Whole && !slices.Contains(m.Of, v) })
}

// has reports whether one value is a part of the other, as enamel is of a mixed margin.
func (m mixture) has(part, whole stated) bool {
	return slices.Equal(whole.values, []string{m.Whole}) && len(part.values) == 1 && slices.Contains(m.Of, part.values[0])
}

// dropGeneric drops a value that any other value of its fact explains: in
// "bridge with two crowns" the crowns are the bridge's.
func (x *lexicon) dropGeneric(mentions []stated, tokens []token) []stated {
	for fact, generic := range x.words.Generic {
		isGeneric := func(s stated) bool { return s.fact == fact && slices.Equal(s.values, generic) }
		mentions = positiveFirst(mentions, fact, isGeneric)
		other := slices.ContainsFunc(mentions, func(s stated) bool { return s.fact == fact && !isGeneric(s) })
		weighs := slices.DeleteFunc(slices.Clone(tokens), func(t token) bool { return !x.is("weighs", t.word) })
		orWord := x.holds("sets-side-by-side", tokens) || len(weighs) > 1
		if other && !orWord && !x.severalGrades(mentions) {
			mentions = slices.DeleteFunc(mentions, isGeneric)
		}
	}
	return mentions
}

// dropLayers drops the grades of the layers of a multilayer disc: "gradient, 4Y to 5Y".
func (x *lexicon) dropLayers(mentions []stated) []stated {
	for fact, layered := range x.words.Joined.Layered {
		isWhole := func(s stated) bool { return s.fact == fact && slices.Equal(s.values, []string{layered}) }
		isLayer := func(s stated) bool { return s.fact == fact && len(s.values) == 1 && !isWhole(s) }
		if slices.ContainsFunc(mentions, isWhole) && unlike(mentions, isLayer) {
			mentions = slices.DeleteFunc(mentions, isLayer)
		}
	}
	return mentions
}

// severalGrades reports whether two zirconia grades are named one after the
// other: then two restorations are spoken of, and neither explains the other.
func (x *lexicon) severalGrades(mentions []stated) bool {
	return slices.ContainsFunc(x.words.Joined.Apart, func(fact string) bool {
		return unlike(mentions, func(s stated) bool { return s.fact == fact && len(s.values) == 1 && !s.negated })
	})
}

// unlike reports whether two mentions of a kind, each of one value, differ.
func unlike(mentions []stated, kind func(stated) bool) bool {
	first := slices.IndexFunc(mentions, kind)
	return first >= 0 && slices.ContainsFunc(mentions[first:], func(s stated) bool {
		return kind(s) && s.values[0] != mentions[first].values[0]
	})
}

// positiveFirst drops what a fact is not where it is said what it is: "not a
// veneer, a crown".
func positiveFirst(mentions []stated, fact string, isGeneric func(stated) bool) []stated {
	if !slices.ContainsFunc(mentions, isGeneric) {
		return mentions
	}
	left := slices.DeleteFunc(slices.Clone(mentions), func(s stated) bool { return s.fact == fact && s.negated && !isGeneric(s) })
	for i := range left {
		left[i].instead = left[i].instead || len(left) < len(mentions) && isGeneric(left[i])
	}
	return left
}
