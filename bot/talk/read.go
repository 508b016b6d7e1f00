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
	open      []stated // said of a fact, of which they leave every value open
	doubted   []doubt  // facts spoken of in a way that could not be made out
	cut       bool     // the message was longer than is read
}

// stated is what a message says of one fact: values, or for a measured fact a range.
type stated struct {
	fact   string
	values []string
	within *planner.Range
	at     int // the token where it was said

	negated bool   // it was said what the fact is not
	instead bool   // it was said what the fact is not, too: "not an onlay, a crown"
	side    string // of the tooth on which it is missing or left
}

// read takes a message apart.
func (x *lexicon) read(text string, book *planner.Rulebook) reading {
	text, cut := clip(text)
	written, text := structured(text, book)
	r := reading{tokens: x.tokenize(x.folding.fold(text)), cut: cut}
	x.spell(r.tokens)
	numbers := x.bindings(r.tokens)
	mentions := x.mentions(&r, numbers, book)
	r.measures = x.measures(r.tokens, numbers)
	for _, m := range r.measures {
		if m.fact != "" && m.fact != topWidth && m.fact != taperUnclear {
			mentions = append(mentions, stated{fact: m.fact, within: &m.within, at: m.at})
		}
	}
	r.join(mentions, x, book)
	x.doubts(&r, book)
	r.take(written)
	r.unread = content(r.tokens, x)
	return r
}

// take lets facts written as "fact: value" count before anything said of them in
// other words.
func (r *reading) take(written []stated) {
	has := func(fact string) bool {
		return slices.ContainsFunc(written, func(w stated) bool { return w.fact == fact })
	}
	r.facts = slices.DeleteFunc(r.facts, func(s stated) bool { return has(s.fact) })
	r.doubted = slices.DeleteFunc(r.doubted, func(d doubt) bool { return has(d.fact) })
	r.facts = append(written, r.facts...)
}

// mentions collects what the words say, fact by fact, in the order of the message.
func (x *lexicon) mentions(r *reading, bound map[int]string, book *planner.Rulebook) []stated {
	x.markIdioms(r.tokens)
	out := x.phrased(r, book)
	out = append(out, x.judged(r.tokens, bound)...)
	out = append(out, x.aboutMentions(r.tokens, book)...)
	out = append(out, x.positions(r.tokens, bound)...)
	out = append(out, x.alone(r.tokens)...)
	out = slices.DeleteFunc(out, func(s stated) bool { return x.deedAsked(r.tokens, s) })
	slices.SortStableFunc(out, func(a, b stated) int { return a.at - b.at })
	return out
}

// phrased collects what phrases say that name their fact and its value.
func (x *lexicon) phrased(r *reading, book *planner.Rulebook) []stated {
	var out, besides []stated // besides: what some words say of another fact
	var denied, open found    // the last phrase that was denied, and that nobody knows
	var phrases []found       // of what is in out
	for _, f := range x.spread("facts", r.tokens) {
		if x.ofOtherFact.met(x, r, f) {
			continue
		}
		if x.sharesWith(r.tokens, open, f) || x.leftOpen(r.tokens, f) {
			open = f
			if x.words.Topics[f.sense.name] == nil {
				spend(r.tokens, f) // what has topics stays unread, so that it is doubted
			}
			continue
		}
		spend(r.tokens, f)
		if f.sense.list == "ignore" || x.notTold.met(x, r, f) {
			continue
		}
		s := x.phrase(r, f, denied, book)
		if s.negated {
			denied = f
		}
		if s.negated && (len(s.values) == 0 || x.leavesBenign(s)) {
			continue // "no bleeding" tells nothing of saliva, and is no worse than silence
		}
		out, phrases = append(out, s), append(phrases, f)
		also := x.saysBesides(f, s)
		if !x.words.SaysAlso[s.fact].Always {
			besides = append(besides, also...)
			continue
		}
		for _, b := range also {
			out, phrases = append(out, b), append(phrases, f) // "screw retained"
		}
	}
	out = x.spoiled(r.tokens, out, phrases)
	for _, b := range besides {
		if slices.ContainsFunc(out, func(s stated) bool { return s.fact == b.fact }) {
			out = append(out, b) // "bridge, one wing"
		}
	}
	return out
}

// phrase is what a phrase says that is told of the case.
func (x *lexicon) phrase(r *reading, f, denied found, book *planner.Rulebook) stated {
	s := stated{fact: f.sense.name, values: f.sense.values, at: f.from}
	switch beyond := x.outOfReach(r.tokens, f, s); {
	case beyond != "":
		s.values = []string{beyond}
	case x.denials.met(x, r, f) || x.sharesWith(r.tokens, denied, f):
		x.spendDenial(r.tokens, f)
		s.values, s.negated = complement(book, s), true
	}
	return x.onOneSide(r.tokens, f, x.softened(r.tokens, f, s))
}

// saysBesides is what some words of a phrase say of other facts.
func (x *lexicon) saysBesides(f found, s stated) []stated {
	var out []stated
	also := x.words.SaysAlso[s.fact]
	if s.negated || !slices.ContainsFunc(f.words, func(w string) bool { return slices.Contains(also.Words, w) }) {
		return nil
	}
	for fact, values := range also.Facts {
		out = append(out, stated{fact: fact, values: values, at: f.from})
	}
	return out
}

// positions is where the teeth stand that the message numbers.
func (x *lexicon) positions(tokens []token, bound map[int]string) []stated {
	var out []stated
	for _, t := range x.teeth(tokens, bound) {
		if x.elsewhere(tokens, found{from: t.at, to: t.at + 1}) {
			continue
		}
		tokens[t.at].spent = true
		out = append(out, stated{fact: "position", values: t.positions, at: t.at})
	}
	return out
}

// leavesBenign reports whether what is left of a denied value is the benign one and
// others besides.
func (x *lexicon) leavesBenign(s stated) bool {
	benign := x.words.Benign[s.fact]
	return len(benign) > 0 && len(s.values) > len(benign) && slices.Contains(s.values, benign[0])
}

// alone finds words that state a value only where they are all that a clause says
// behind its other facts: "ample enamel, dam", "UR5 enamel dam".
func (x *lexicon) alone(tokens []token) []stated {
	var out []stated
	for _, f := range x.all("alone", tokens) {
		first := opens(tokens, f.from) || tokens[f.from-1].word == "/" || tokens[f.from-1].spent && !x.turnsRound(tokens[f.from-1].word)
		last := closes(tokens, f.to-1) || tokens[f.to].word == "/" && !(f.to+1 < len(tokens) && x.turnsRound(tokens[f.to+1].word))
		if first && last && (!tokens[f.from].question || x.reply(tokens, f.from) == "yes") && !spent(tokens, f) {
			spend(tokens, f)
			out = append(out, stated{fact: f.sense.name, values: f.sense.values, at: f.from})
		}
	}
	return out
}

// elsewhere reports whether the clause speaks of something else than this case
// from some word before the phrase on.
func (x *lexicon) elsewhere(tokens []token, f found) bool {
	for _, e := range x.all("elsewhere", tokens) {
		nearly := e.to < len(tokens) && tokens[e.to-1].word == "to" && x.is("says-nought", tokens[e.to].word) // "next to no retention"
		here := e.to < len(tokens) && x.is("stays-on-the-tooth", tokens[e.to].word)                           // "the old filling"
		if nearly || here || tokens[e.from].clause != tokens[f.from].clause || x.is("names-a-time", tokens[e.to-1].word) && slices.Contains(x.words.Lasting, f.sense.name) {
			continue
		}
		whole := tokens[e.to-1].word == "it" || tokens[e.from].word == "on"                                                                  // "next to it", "on the tooth next door" turn the clause before them away, too
		past := x.words.Joined.passes(f.sense.name) && x.is("names-a-time", tokens[e.to-1].word) && x.holds("told-as-past", tokens[:f.from]) // "had bleeding gums last year"
		if e.to <= f.from || whole || past {
			return true
		}
	}
	return false
}

// onOneSide turns what is missing, or there, on one side only into what is left:
// enamel that is gone lingually is partial enamel.
func (x *lexicon) onOneSide(tokens []token, f found, s stated) stated {
	turn, ok := x.words.Turns.OneSide[s.fact]
	if !ok || len(s.values) != 1 {
		return s
	}
	for _, word := range tokens[f.from:min(f.to+2, len(tokens))] {
		if s.values[0] == turn.Partly && word.clause == tokens[f.from].clause && x.is("side-of-the-tooth", word.word) {
			s.side = word.word // "worn through palatally" says it itself
			return s
		}
	}
	if s.values[0] == turn.Of && x.words.Joined.passes(s.fact) && f.from > 0 && opens(tokens, f.from-1) && x.is("side-of-the-tooth", tokens[f.from-1].word) {
		s.values, s.side = []string{turn.Partly}, tokens[f.from-1].word // "buccal dry"
		return s
	}
	exception := s.values[0] == turn.Gone || s.values[0] == turn.Of && x.sided(tokens, f.to)
	for i := f.to; i < len(tokens) && i < f.to+5; i++ {
		switch {
		case x.is("leaves-out", tokens[i].word), x.is("narrows", tokens[i].word):
			exception = true
		case tokens[i].clause != tokens[f.from].clause && !exception:
			return s
		case exception && x.is("side-of-the-tooth", tokens[i].word):
			s.values, s.side = []string{turn.Partly}, tokens[i].word
			return s
		}
	}
	return s
}

// sided reports whether a side of the tooth follows at once, to which what stands
// before is kept: "dry buccally", but not "dry on all sides".
func (x *lexicon) sided(tokens []token, at int) bool {
	for at < len(tokens) && tokens[at].clause == tokens[at-1].clause && (x.is("lies-in", tokens[at].word) || x.is("article", tokens[at].word)) {
		at++
	}
	return at < len(tokens) && tokens[at].clause == tokens[at-1].clause && x.is("side-of-the-tooth", tokens[at].word)
}
