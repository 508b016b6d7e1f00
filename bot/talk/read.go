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
	mentions := x.mentions(r.tokens, numbers, book)
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
func (x *lexicon) mentions(tokens []token, bound map[int]string, book *planner.Rulebook) []stated {
	var out []stated
	x.markIdioms(tokens)
	var last found       // the last phrase that was negated
	var open found       // the last phrase of which it was said that nobody knows
	var phrases []found  // of the mentions
	var besides []stated // what some words say of another fact
	for _, f := range x.spread("facts", tokens) {
		if x.yields(tokens, f) || x.isDegree(f) && x.asksHow(tokens, f) || x.ofTooth(tokens, f) {
			continue
		}
		alsoOpen := open.to > 0 && open.sense.name == f.sense.name && f.from == open.to+1 && x.is("carries-a-no-on", tokens[open.to].word)
		if alsoOpen || x.leftOpen(tokens, f) {
			open = f
			if x.words.Topics[f.sense.name] == nil {
				spend(tokens, f) // what has topics stays unread, so that it is doubted
			}
			continue
		}
		spend(tokens, f)
		if f.sense.list == "ignore" || x.elsewhere(tokens, f) || x.unsure(tokens, f) || x.defined(tokens, f) || x.wondered(tokens, f) && x.reply(tokens, f.from) == "" ||
			x.toBeDone(tokens, f) || x.ofThing(tokens, f) || x.wardedOff(tokens, f) {
			continue
		}
		s := stated{fact: f.sense.name, values: f.sense.values, at: f.from}
		switch beyond := x.outOfReach(tokens, f, s); {
		case beyond != "":
			s.values = []string{beyond}
		case x.negated(tokens, f) || x.refused(tokens, f) || x.ticked(tokens, f) || x.notDone(tokens, f) || x.reply(tokens, f.from) == "no" || x.also(tokens, last, f):
			s.values, s.negated, last = complement(book, s), true, f
		}
		if s.negated && (len(s.values) == 0 || x.leavesBenign(s)) {
			continue // "no bleeding" tells nothing of saliva, and is no worse than silence
		}
		out = append(out, x.onOneSide(tokens, f, x.softened(tokens, f, s)))
		phrases = append(phrases, f)
		if also := x.words.SaysAlso[f.sense.name]; !s.negated && slices.ContainsFunc(f.words, func(w string) bool { return slices.Contains(also.Words, w) }) {
			for fact, values := range also.Facts {
				besides = append(besides, stated{fact: fact, values: values, at: f.from})
			}
		}
	}
	out = x.spoiled(tokens, out, phrases)
	for _, b := range besides {
		if slices.ContainsFunc(out, func(s stated) bool { return s.fact == b.fact }) {
			out = append(out, b) // "bridge, one wing"
		}
	}
	out = append(out, x.judged(tokens, bound)...)
	out = append(out, x.aboutMentions(tokens, book)...)
	for _, t := range x.teeth(tokens, bound) {
		if x.elsewhere(tokens, found{from: t.at, to: t.at + 1}) {
			continue
		}
		tokens[t.at].spent = true
		out = append(out, stated{fact: "position", values: t.positions, at: t.at})
	}
	out = append(out, x.alone(tokens)...)
	out = slices.DeleteFunc(out, func(s stated) bool { return x.deedAsked(tokens, s) })
	slices.SortStableFunc(out, func(a, b stated) int { return a.at - b.at })
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
		first := f.from == 0 || tokens[f.from-1].clause != tokens[f.from].clause || tokens[f.from-1].word == "/" || tokens[f.from-1].spent && !x.turnsRound(tokens[f.from-1].word)
		last := f.to == len(tokens) || tokens[f.to].clause != tokens[f.from].clause || tokens[f.to].word == "/" && !(f.to+1 < len(tokens) && x.turnsRound(tokens[f.to+1].word))
		if first && last && (!tokens[f.from].question || x.reply(tokens, f.from) == "yes") && !spent(tokens, f) {
			spend(tokens, f)
			out = append(out, stated{fact: f.sense.name, values: f.sense.values, at: f.from})
		}
	}
	return out
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
