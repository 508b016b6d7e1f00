package talk

import (
	"slices"

	"mortarboard/planner"
)

// A reading is what one message says, before anything is concluded from it.
type reading struct {
	tokens    []token
	facts     []stated
	conflicts []string // facts stated in two ways that cannot both hold
	measures  []measure
	unread    []string // words that may matter and were not understood
	doubted   []doubt  // facts spoken of in a way that could not be made out
	cut       bool     // the message was longer than is read
}

// stated is what a message says of one fact: values, or for a measured fact a range.
type stated struct {
	fact   string
	values []string
	within *planner.Range
	at     int // the token where it was said

	negated bool // it was said what the fact is not
}

// read takes a message apart.
func (x *lexicon) read(text string, book *planner.Rulebook) reading {
	text, cut := clip(text)
	written, text := structured(text, book)
	r := reading{tokens: tokenize(fold(text)), cut: cut}
	x.spell(r.tokens)
	numbers := x.bindings(r.tokens)
	mentions := x.mentions(r.tokens, numbers, book)
	r.measures = x.measures(r.tokens, numbers)
	for _, m := range r.measures {
		if m.fact != "" && m.fact != topWidth && m.fact != taperUnclear {
			mentions = append(mentions, stated{fact: m.fact, within: &m.within, at: m.at})
		}
	}
	r.join(mentions, x, book)
	x.doubts(&r, book)
	r.facts = slices.DeleteFunc(r.facts, func(s stated) bool {
		return slices.ContainsFunc(written, func(w stated) bool { return w.fact == s.fact })
	})
	r.facts = append(written, r.facts...)
	r.doubted = slices.DeleteFunc(r.doubted, func(d doubt) bool {
		return slices.ContainsFunc(written, func(w stated) bool { return w.fact == d.fact })
	})
	r.unread = content(r.tokens, x)
	return r
}

// mentions collects what the words say, fact by fact, in the order of the message.
func (x *lexicon) mentions(tokens []token, bound map[int]string, book *planner.Rulebook) []stated {
	var out []stated
	for _, f := range x.all("facts", tokens) {
		if x.yields(tokens, f) {
			continue
		}
		spend(tokens, f)
		if f.sense.list == "ignore" || x.elsewhere(tokens, f) || unsure(tokens, f) {
			continue
		}
		s := stated{fact: f.sense.name, values: f.sense.values, at: f.from}
		if negated(tokens, f) {
			s.values, s.negated = complement(book, s), true
		}
		out = append(out, onOneSide(tokens, f, s))
	}
	out = append(out, x.aboutMentions(tokens, book)...)
	for _, t := range teeth(tokens) {
		if bound[t.at] != "" || x.elsewhere(tokens, found{from: t.at, to: t.at + 1}) {
			continue
		}
		tokens[t.at].spent = true
		out = append(out, stated{fact: "position", values: t.positions, at: t.at})
	}
	slices.SortStableFunc(out, func(a, b stated) int { return a.at - b.at })
	return out
}

// aboutMentions finds values that name themselves only beside a word that says
// which fact is spoken of: "margin … in dentin", "retention … poor".
func (x *lexicon) aboutMentions(tokens []token, book *planner.Rulebook) []stated {
	var out []stated
	for _, about := range x.all("about", tokens) {
		if x.elsewhere(tokens, about) {
			continue
		}
		for _, w := range x.all("weak:"+about.sense.name, tokens) {
			near := tokens[w.from].clause == tokens[about.from].clause && !spent(tokens, w)
			if !near || overlap(w, about) {
				continue
			}
			spend(tokens, w)
			s := stated{fact: w.sense.name, values: w.sense.values, at: w.from}
			if negated(tokens, w) {
				s.values = complement(book, s)
			}
			out = append(out, s)
		}
		spend(tokens, about)
	}
	return out
}

// yields reports whether a phrase stands beside a word of another fact that the
// same words also speak of: in "the margin is all dentin" the margin is meant.
func (x *lexicon) yields(tokens []token, f found) bool {
	for _, about := range x.all("about", tokens) {
		if about.sense.name == f.sense.name || tokens[about.from].clause != tokens[f.from].clause {
			continue
		}
		for _, w := range x.all("weak:"+about.sense.name, tokens) {
			if w.from == f.from && w.to == f.to {
				return true
			}
		}
	}
	return false
}

func overlap(a, b found) bool { return a.from < b.to && b.from < a.to }

func spend(tokens []token, f found) {
	for i := f.from; i < f.to; i++ {
		tokens[i].spent = true
	}
}

func spent(tokens []token, f found) bool {
	for i := f.from; i < f.to; i++ {
		if tokens[i].spent {
			return true
		}
	}
	return false
}

// elsewhere reports whether the clause speaks of something else than this case
// from some word before the phrase on.
func (x *lexicon) elsewhere(tokens []token, f found) bool {
	for _, e := range x.all("elsewhere", tokens) {
		whole := tokens[e.to-1].word == "it" // "next to it" turns the clause before it away, too
		if (e.to <= f.from || whole) && tokens[e.from].clause == tokens[f.from].clause {
			return true
		}
	}
	return false
}

// reach is how many words before a phrase a "not" reaches it from.
const reach = 3

// negated reports whether a "not" in the same clause reaches the phrase.
func negated(tokens []token, f found) bool {
	for i := f.from - 1; i >= 0 && i >= f.from-reach; i-- {
		t := tokens[i]
		if t.clause != tokens[f.from].clause || t.spent || slices.Contains([]string{"and", "or", "if"}, t.word) {
			return false
		}
		switch t.word {
		case "not", "isnt", "arent", "wasnt", "werent", "never", "no", "non", "without", "neither", "nor", "aint", "dont", "doesnt", "didnt", "cant", "cannot", "couldnt", "wont", "wouldnt", "hasnt", "havent":
			return true
		}
	}
	return false
}

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

// sides name a part of a tooth: what is missing on one side is not missing all round.
var sides = []string{"lingual", "lingually", "buccal", "buccally", "palatal", "palatally", "mesial", "mesially", "distal", "distally", "facial", "labial", "labially", "side", "sides", "interproximal", "interproximally", "proximal", "cervical"}

// onOneSide turns enamel that is missing, or there, on one side only into partial enamel.
func onOneSide(tokens []token, f found, s stated) stated {
	if s.fact != "enamel" || len(s.values) != 1 {
		return s
	}
	exception := s.values[0] == "none"
	for i := f.to; i < len(tokens) && i < f.to+5; i++ {
		switch {
		case tokens[i].word == "except" || tokens[i].word == "but" || tokens[i].word == "apart":
			exception = true
		case tokens[i].clause != tokens[f.from].clause && !exception:
			return s
		case exception && slices.Contains(sides, tokens[i].word):
			s.values = []string{"partial"}
			return s
		}
	}
	return s
}
