package talk

import (
	"slices"

	"mortarboard/planner"
)

// refused reports whether a one-word question is answered with a no: "dry? no chance".
func refused(tokens []token, f found) bool {
	next := found{from: f.to, to: f.to + 1}
	return f.to < len(tokens) && repliedTo(tokens, f, next) && slices.Contains([]string{"no", "nope", "nah", "not", "never", "forget", "hardly"}, tokens[f.to].word)
}

// outOfReach reports whether the dry field that a phrase names is one that cannot
// be had, however far the "cannot" stands before it in the clause.
func outOfReach(tokens []token, f found, s stated) bool {
	if s.fact != "isolation" || !slices.Equal(s.values, []string{"dry"}) {
		return false
	}
	for i := f.from - 1; i >= 0 && tokens[i].clause == tokens[f.from].clause; i-- {
		switch {
		case slices.Contains(unreached, tokens[i].word):
			return false
		case slices.Contains([]string{"cant", "couldnt", "wont", "unable", "impossible"}, tokens[i].word):
			return i+1 >= len(tokens) || !slices.Contains(opinions, tokens[i+1].word)
		}
	}
	return false
}

// reach is how many words before a phrase a "not" reaches it from.
const reach = 3

// negated reports whether a "not" in the same clause reaches the phrase, and
// spends it.
func negated(tokens []token, f found) bool {
	if denied(tokens, f) {
		return true
	}
	if first := tokens[f.from].word; slices.Contains(notWords, first) || slices.Contains(noWords, first) {
		return false // it holds its own "not"
	}
	for i, far := f.from-1, 0; i >= 0 && far < reach; i, far = i-1, far+1 {
		t := tokens[i]
		switch {
		case t.clause != tokens[f.from].clause || t.spent || t.idiom || slices.Contains(unreached, t.word):
			return false
		case slices.Contains(notWords, t.word):
			tokens[i].spent = !slices.Contains(knowing, tokens[i+1].word)
			return tokens[i].spent
		case slices.Contains(noWords, t.word):
			tokens[i].spent = !slices.ContainsFunc(tokens[i+1:f.from], func(t token) bool { return !slices.Contains(behindNo, t.word) })
			return tokens[i].spent
		}
	}
	return false
}

// also reports whether a phrase shares the "no" of the phrase before it: "no
// grinding or clenching".
func also(tokens []token, last, f found) bool {
	return last.to > 0 && last.sense.name == f.sense.name && f.from == last.to+1 && slices.Contains([]string{"or", "nor"}, tokens[last.to].word)
}

// denied reports whether the phrase is what somebody would not say: "wouldnt
// call the prep retentive".
func denied(tokens []token, f found) bool {
	for i := f.from - 2; i >= 0 && i >= f.from-7 && tokens[i].clause == tokens[f.from].clause; i-- {
		if slices.Contains(notWords, tokens[i].word) && slices.Contains(opinions, tokens[i+1].word) {
			return true
		}
	}
	return false
}

// softened turns an impossible field into a doubtful one where it is only a bit
// of bleeding, or slightly wet.
func softened(tokens []token, f found, s stated) stated {
	if s.fact != "isolation" || len(f.words) > 1 || !slices.Equal(s.values, []string{"impossible"}) {
		return s
	}
	for i := max(0, f.from-3); i < min(len(tokens), f.to+2); i++ {
		if tokens[i].clause == tokens[f.from].clause && slices.Contains([]string{"slight", "slightly", "bit", "little", "tad", "minor", "mild", "mildly", "some", "occasional", "occasionally", "sometimes", "minimal"}, tokens[i].word) {
			s.values = []string{"doubtful"}
		}
	}
	return s
}

var (
	// notWords turn around what is said behind them.
	notWords = []string{"not", "isnt", "arent", "wasnt", "werent", "never", "neither", "nor", "aint", "dont", "doesnt", "didnt", "cant", "couldnt", "wont", "wouldnt", "hasnt", "havent", "hadnt", "shouldnt", "neednt"}
	// noWords turn around the noun behind them, past no more than the words of behindNo.
	noWords  = []string{"no", "non", "without"}
	behindNo = []string{"a", "an", "any", "the", "real", "known", "obvious", "clear", "visible", "proper", "great", "more", "longer", "further", "such", "much", "sign", "signs", "of", "evidence", "history", "hint", "active"}
	// unreached end the reach of a "not": it belongs to the deed, "why dont we bond 3Y".
	unreached = []string{"and", "or", "if", "bond", "bonding", "cement", "cementing", "lute", "glue", "etch", "prime", "blast", "sandblast", "abrade", "seat", "cure", "polish", "adjust", "trust", "like", "worry"}
	// opinions are the verbs of what somebody would not say.
	opinions = []string{"say", "call", "think", "claim", "consider", "describe", "reckon", "believe", "guarantee", "promise"}
	// knowing are what a "not" before them denies instead: "not sure, 3Y or 5Y".
	knowing = []string{"sure", "certain", "know", "clear", "told", "tell", "remember", "only", "worried", "bothered"}
)

// unsure reports whether the phrase is only wondered about: "not sure if …".
func unsure(tokens []token, f found) bool {
	for i := f.from - 1; i >= 2 && i >= f.from-4; i-- {
		if tokens[i].clause != tokens[f.from].clause {
			return false
		}
		if tokens[i].word != "if" && tokens[i].word != "whether" {
			continue
		}
		doubt := tokens[i-1].word == "unsure" || tokens[i-1].word == "wonder" || tokens[i-1].word == "wondering"
		notKnown := slices.Contains([]string{"sure", "know", "tell", "certain", "remember", "clear"}, tokens[i-1].word) &&
			slices.Contains([]string{"not", "dont", "cant", "doesnt", "didnt", "no"}, tokens[i-2].word)
		return doubt || notKnown
	}
	return false
}

// wondered reports whether the clause asks for the fact and nothing else: "is it
// dry", "was the dentin sealed".
func wondered(tokens []token, f found) bool {
	clause, first := tokens[f.from].clause, f.from
	for first > 0 && tokens[first-1].clause == clause {
		first--
	}
	if first == f.from || f.to < len(tokens) && tokens[f.to].clause == clause || !slices.Contains([]string{"is", "are", "was", "were", "has", "did", "do", "does"}, tokens[first].word) {
		return false
	}
	words := tokens[first+1 : f.from]
	return len(words) == 1 && slices.Contains([]string{"it", "this", "that", "they", "these", "he", "she", "there"}, words[0].word) ||
		len(words) == 2 && slices.Contains([]string{"the", "this", "that", "his", "her"}, words[0].word)
}

// defined reports whether the message asks what the phrase means: "what is a
// bruxer", "what does RMGI stand for".
func defined(tokens []token, f found) bool {
	clause := tokens[f.from].clause
	first := f.from
	for first > 0 && tokens[first-1].clause == clause {
		first--
	}
	said := []string{}
	for _, t := range tokens[first:f.from] {
		if !slices.Contains([]string{"a", "an", "the", "is", "are", "does", "do", "by"}, t.word) {
			said = append(said, t.word)
		}
	}
	rest := tokens[f.to:]
	last := len(rest) == 0 || rest[0].clause != clause
	if len(said) != 1 || !slices.Contains([]string{"what", "whats", "define", "explain"}, said[0]) {
		return false
	}
	return last || slices.Contains([]string{"mean", "means", "stand", "good", "for", "again"}, rest[0].word)
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
