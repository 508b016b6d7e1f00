package talk

import "slices"

// A pair is two mentions of one fact, a before b.
type pair struct {
	r    *reading
	x    *lexicon
	a, b stated
}

// A joining says what two mentions that differ leave of their fact, if it is the one
// that applies. The example is a message whose reading hangs on it.
type joining struct {
	name    string
	example string
	join    func(p pair) (values []string, ok bool)
}

// joinings, in the order in which they are tried. Where none applies, the mentions
// contradict each other.
var joinings = []joining{
	{"what lasts moments gives way", "can keep it dry for maybe 30 sec, then its wet again, 5Y onlay", pair.fleeting},
	{"a choice is offered", "4Y or 5Y crown", pair.offered},
	{"one narrows the other", "translucent crown, 5Y", func(p pair) ([]string, bool) { return p.shared(), len(p.shared()) > 0 }},
	{"one clears the other", "decay under it, decay removed", func(p pair) ([]string, bool) { return p.b.values, p.x.clears(p.a) || p.x.clears(p.b) }},
	{"the later corrects", "3Y, sorry, 5Y crown", func(p pair) ([]string, bool) { return p.b.values, p.r.corrected(p.a, p.b, p.x) }},
	{"two sides, one no part of a mixture", "margin half on the core and half in dentin", pair.besideMixture},
	{"two sides make a mixture", "margin in enamel buccally, dentin lingually", pair.mixed},
	{"the last to touch it counts", "tried it in, bled a bit inside", pair.touched},
	{"what holds now counts", "bleeding earlier but dry now", func(p pair) ([]string, bool) { return p.passing(p.r.lately(p.a, p.b, p.x)) }},
	{"the worst place counts", "a bit moist distally, otherwise dry", func(p pair) ([]string, bool) { return p.passing(p.r.exceptFor(p.a, p.b, p.x)) }},
	{"several teeth", "UR6 and UR4 crowns", func(p pair) ([]string, bool) { return p.all(), slices.Contains(p.x.words.Joined.Several, p.a.fact) }},
	{"behind a but the bad counts", "prep tall enough but so tapered, 3Y crown", pair.butBad},
	{"the field counts, not the dam", "cant get the dam on but with cotton rolls it stays dry, 5Y onlay", pair.besideDam},
	{"the worse of two bad ones counts", "drooling patient, no hope of dry", pair.worse},
}

// offered keeps both of two values between which somebody chooses; "or rather" corrects.
func (p pair) offered() ([]string, bool) {
	return p.all(), p.r.between(p.a, p.b, p.x, "offers-a-choice") && !p.r.corrected(p.a, p.b, p.x)
}

func (p pair) all() []string { return union(p.a.values, p.b.values) }

func (p pair) shared() []string {
	return slices.DeleteFunc(slices.Clone(p.a.values), func(v string) bool { return !slices.Contains(p.b.values, v) })
}

// besideMixture keeps both of two values that lie side by side where one is no part of
// the tooth's own mixture: on a core and on dentin.
func (p pair) besideMixture() ([]string, bool) {
	m, ok := p.x.words.Joined.Mixtures[p.a.fact]
	return p.all(), ok && m.outside(p.all()) && p.r.split(p.a, p.b, p.x)
}

// mixed makes a mixture of two values that lie side by side, or of one and the whole.
func (p pair) mixed() ([]string, bool) {
	m, ok := p.x.words.Joined.Mixtures[p.a.fact]
	return []string{m.Whole}, ok && (p.r.split(p.a, p.b, p.x) || m.has(p.a, p.b) || m.has(p.b, p.a))
}

// touched lets that count of a surface which came last, or is the worse.
func (p pair) touched() ([]string, bool) {
	least, ok := p.x.words.Joined.Latest[p.a.fact]
	return p.r.touchedLast(p.a, p.b, p.x, least), ok && !slices.Equal(p.a.values, p.b.values)
}

// besideDam lets the field count where before it only the dam was spoken of: a field that
// is dry all the same, "but" it is, or one that is bad in spite of a dam.
func (p pair) besideDam() ([]string, bool) {
	of, then := p.r.tokens[min(p.a.at, p.b.at):p.b.at], clauseOf(p.r.tokens, p.b.at)
	if p.r.tokens[p.a.at].clause == then[0].clause {
		then = p.r.tokens[p.b.at : p.b.at+1] // "as soon as the dam is in he floods it"
	}
	onlyDam := p.x.holds("names-a-dam", of) && !p.x.holds("names-a-dam", then)
	return p.b.values, onlyDam && (p.x.benign(p.b) && p.x.holds("begins-a-clause", then[:1]) || p.x.noneBold(p.b, p.b))
}

// fleeting lets what comes then count where the good was said to last moments.
func (p pair) fleeting() ([]string, bool) {
	good := p.x.benign(p.a) && p.x.forMoments(p.r.tokens, p.a)
	return p.b.values, good && p.x.words.Joined.passes(p.a.fact) && p.x.noneBold(p.b, p.b)
}

// butBad lets what is bad count that a "but" sets against a good part: "height is fine but
// it is so tapered". What passes is told apart by time.
func (p pair) butBad() ([]string, bool) {
	then := clauseOf(p.r.tokens, p.b.at)
	return p.b.values, p.x.benign(p.a) && !p.x.words.Joined.passes(p.a.fact) && p.x.noneBold(p.b, p.b) && p.x.holds("begins-a-clause", then[:1])
}

// worse is the value that counts of two that are both bad.
func (p pair) worse() ([]string, bool) {
	worst := p.x.words.Joined.Worst[p.a.fact]
	return []string{worst}, worst != "" && slices.Contains(p.all(), worst) && p.x.noneBold(p.a, p.b)
}

// passing takes the mention that was picked of a fact that changes during one visit.
func (p pair) passing(picked *stated) ([]string, bool) {
	if picked == nil || !p.x.words.Joined.passes(p.a.fact) {
		return nil, false
	}
	return picked.values, true
}
