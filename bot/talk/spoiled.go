package talk

import "slices"

// spoiled adds the mishap that a message tells in its own words: what got onto a
// surface after this was treated. "Etch rinsed, dried, then her tongue touched it".
// The phrases are those of the mentions, one by one.
func (x *lexicon) spoiled(tokens []token, mentions []stated, phrases []found) []stated {
	fact := x.words.Spoiling.Fact
	if slices.ContainsFunc(mentions, func(s stated) bool { return s.fact == fact }) {
		return mentions
	}
	for _, soil := range x.all("spoils", tokens) {
		values, ontoIt := x.treatedBefore(tokens, soil)
		if values == nil || x.elsewhere(tokens, soil) {
			continue
		}
		at := slices.IndexFunc(phrases, func(f found) bool { return overlap(f, soil) })
		switch {
		case x.negated(tokens, soil):
			x.spendDenial(tokens, soil)
			if !ontoIt {
				continue
			}
			values = []string{x.unspoiled()}
		case at >= 0:
			mentions = slices.Delete(mentions, at, at+1) // "saliva contamination" is that of the surface
		}
		spend(tokens, soil)
		return append(mentions, stated{fact: fact, values: values, at: soil.from})
	}
	return mentions
}

// unspoiled is the value of a seating without a mishap.
func (x *lexicon) unspoiled() string { return x.words.Spoiling.None }

// treatedBefore is what was spoiled by what stands at the soil: the surface behind
// it, as in "blood ran over the adhesive", or the treatment that was told before.
func (x *lexicon) treatedBefore(tokens []token, soil found) (values []string, ontoIt bool) {
	for _, s := range x.all("onto", tokens) {
		if s.from >= soil.to && x.getsOnto(tokens, soil, s) {
			return s.sense.values, true
		}
	}
	for _, s := range slices.Backward(x.all("deeds", tokens)) {
		if s.to <= soil.from && !spent(tokens, s) && x.toldAfter(tokens, s, soil) {
			return s.sense.values, false
		}
	}
	return nil, false
}

// ontoReach is how many words may stand between "on" and the surface.
const ontoReach = 4

// getsOnto reports whether words such as "on the" or "after I put the" lead from
// what spoils to the surface behind it.
func (x *lexicon) getsOnto(tokens []token, soil, surface found) bool {
	link := -1
	if x.is("follows-upon", soil.words[len(soil.words)-1]) {
		link = soil.to - 1 // "contaminated the bond layer"
	}
	for i := soil.to; i < surface.from; i++ {
		switch {
		case x.turnsRound(tokens[i].word) || x.is("asks-what-to-do", tokens[i].word):
			return false
		case x.is("follows-upon", tokens[i].word), x.is("lies-in", tokens[i].word) && i+1 < surface.from && x.is("shows-which", tokens[i+1].word):
			link = i
		}
	}
	return link >= 0 && surface.from-link <= ontoReach+1 && tokens[soil.from].clause == tokens[surface.from].clause
}

// toldReach is over how many clauses a treatment is still the last one told of.
const toldReach = 3

// toldAfter reports whether the soil goes on telling what came after the deed.
func (x *lexicon) toldAfter(tokens []token, deed, soil found) bool {
	here := tokens[deed.from].clause == tokens[soil.from].clause
	goesOn := x.is("tells-a-deed", soil.words[0]) || x.is("follows-upon", deed.words[0]) && here // "he sneezed into it", "after etching"
	if soil.to < len(tokens) && x.is("everywhere", tokens[soil.to].word) {
		goesOn = true // "etched, dam slipped, spit all over"
	}
	for i := deed.to; i < soil.from; i++ {
		switch {
		case x.is("ends-the-risk", tokens[i].word):
			return false // "primed and seated, then cleaned up saliva"
		case x.turnsRound(tokens[i].word) && tokens[i].clause == tokens[soil.from].clause || x.is("asks-what-to-do", tokens[i].word) && tokens[i].word != "before":
			return false
		case tokens[i].clause == tokens[soil.from].clause && x.is("goes-on-telling", tokens[i].word):
			goesOn = true
		case here && x.is("gets-spoiled", tokens[i].word):
			goesOn = true // "the adhesive layer got flooded with spit"
		}
	}
	return goesOn && tokens[soil.from].clause-tokens[deed.from].clause <= toldReach
}
