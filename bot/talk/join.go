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
	mentions = x.dropGeneric(dropLayers(mentions), r.tokens)
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
	bridge := slices.ContainsFunc(r.facts, func(s stated) bool { return s.fact == "span_units" })
	named := slices.ContainsFunc(r.facts, func(s stated) bool { return s.fact == "restoration" })
	if bridge && !named {
		r.facts = append(r.facts, stated{fact: "restoration", values: []string{"bridge"}})
	}
}

// both joins two mentions of one fact.
func (r *reading) both(a, b stated, x *lexicon) stated {
	if a.within != nil || b.within != nil {
		return r.bothMeasured(a, b, x)
	}
	shared := slices.DeleteFunc(slices.Clone(a.values), func(v string) bool { return !slices.Contains(b.values, v) })
	all := union(a.values, b.values)
	b2 := b
	switch {
	case r.between(a, b, "or", "/", "either", "maybe", "perhaps", "possibly", "could", "might"):
		b2.values = all
	case len(shared) > 0:
		b2.values = shared
	case r.corrected(a, b, x):
	case a.fact == "margin" && (r.split(a, b) || partOf(a, b) || partOf(b, a)):
		b2.values = []string{"mixed"}
	case a.fact == "intaglio" && !slices.Equal(a.values, b.values):
		b2.values = r.touchedLast(a, b)
	case a.fact == "position":
		b2.values = all // several teeth in one message
	default:
		b2.values = all
		r.conflicts = append(r.conflicts, a.fact)
	}
	return b2
}

// touchedLast is what is on the inner surface after two things touched it: what
// came then, or what is worse than the saliva of a try-in.
func (r *reading) touchedLast(a, b stated) []string {
	if slices.Equal(b.values, []string{"saliva"}) && !r.between(a, b, "then", "again", "now", "since", "but") {
		return a.values
	}
	return b.values
}

func (r *reading) bothMeasured(a, b stated, x *lexicon) stated {
	if a.within != nil && b.within != nil && *a.within != *b.within && !r.corrected(a, b, x) {
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

// between reports whether one of the words stands between two mentions.
func (r *reading) between(a, b stated, words ...string) bool {
	for i := min(a.at, b.at); i < max(a.at, b.at); i++ {
		if slices.Contains(words, r.tokens[i].word) {
			return true
		}
	}
	return false
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
		if alone && slices.Contains([]string{"no", "nope", "nah"}, r.tokens[i].word) {
			return true // "3Y? no, the lab says 5Y"
		}
	}
	return false
}

// split reports whether two margins belong to two sides of one tooth.
func (r *reading) split(a, b stated) bool {
	if r.between(a, b, "and", "partly", "part", "half", "rest", "mostly", "some", "except", "apart", "elsewhere", "otherwise", "onto") {
		return true
	}
	for i := a.at; i < len(r.tokens); i++ {
		if slices.Contains(sides, r.tokens[i].word) {
			return true
		}
	}
	return false
}

// partOf reports whether a margin of enamel or dentin is one of the two of a mixed one.
func partOf(part, whole stated) bool {
	return slices.Equal(whole.values, []string{"mixed"}) && len(part.values) == 1 && (part.values[0] == "enamel" || part.values[0] == "dentin")
}

// dropGeneric drops a value that any other value of its fact explains: in
// "bridge with two crowns" the crowns are the bridge's.
func (x *lexicon) dropGeneric(mentions []stated, tokens []token) []stated {
	for fact, generic := range x.words.Generic {
		isGeneric := func(s stated) bool { return s.fact == fact && slices.Equal(s.values, generic) }
		mentions = positiveFirst(mentions, fact, isGeneric)
		other := slices.ContainsFunc(mentions, func(s stated) bool { return s.fact == fact && !isGeneric(s) })
		orWord := slices.ContainsFunc(tokens, func(t token) bool { return t.word == "or" || t.word == "vs" || t.word == "versus" })
		if other && !orWord && !severalGrades(mentions) {
			mentions = slices.DeleteFunc(mentions, isGeneric)
		}
	}
	return mentions
}

// dropLayers drops the grades of the layers of a multilayer disc: "gradient, 4Y to 5Y".
func dropLayers(mentions []stated) []stated {
	grade := func(s stated) bool { return s.fact == "zirconia" && len(s.values) == 1 && s.values[0] != "multilayer" }
	layered := slices.ContainsFunc(mentions, func(s stated) bool { return s.fact == "zirconia" && slices.Equal(s.values, []string{"multilayer"}) })
	grades := map[string]bool{}
	for _, s := range mentions {
		if grade(s) {
			grades[s.values[0]] = true
		}
	}
	if layered && len(grades) > 1 {
		return slices.DeleteFunc(mentions, grade)
	}
	return mentions
}

// severalGrades reports whether two zirconia grades are named one after the
// other: then two restorations are spoken of, and neither explains the other.
func severalGrades(mentions []stated) bool {
	var grades []string
	for _, m := range mentions {
		if m.fact == "zirconia" && len(m.values) == 1 && !m.negated && !slices.Contains(grades, m.values[0]) {
			grades = append(grades, m.values[0])
		}
	}
	return len(grades) > 1
}

// positiveFirst drops what a fact is not where it is said what it is: "not a
// veneer, a crown".
func positiveFirst(mentions []stated, fact string, isGeneric func(stated) bool) []stated {
	if !slices.ContainsFunc(mentions, isGeneric) {
		return mentions
	}
	return slices.DeleteFunc(mentions, func(s stated) bool { return s.fact == fact && s.negated && !isGeneric(s) })
}

// plain are words that never need to be understood.
var plain = []string{
	"a", "an", "the", "is", "are", "was", "were", "be", "been", "it", "its", "this", "that", "these", "those", "of", "on", "in", "at", "to", "for", "with", "by", "from", "and", "or",
	"i", "we", "you", "he", "she", "they", "my", "our", "your", "me", "us", "them", "his", "her", "do", "does", "did", "have", "has", "had", "got", "get", "will", "would", "can", "could",
	"should", "shall", "may", "might", "must", "not", "no", "yes", "so", "if", "then", "than", "as", "just", "still", "also", "too", "very", "really", "there", "here", "how", "what", "which",
	"when", "why", "who", "where", "but", "please", "thanks", "hi", "hello", "one", "tooth", "teeth", "zirconia", "zr", "zirc", "zirconium", "zro2", "patient", "pt", "case", "guys", "quick", "question",
	"any", "some", "all", "up", "out", "about", "left", "right", "upper", "lower", "now", "today", "again", "ok", "okay", "going", "go", "am", "im", "ive", "dr", "team", "hey", "need", "needs", "want", "margin", "margins",
}
