package talk

import (
	"cmp"
	"slices"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A topic is a word that says which fact is spoken of.
type topic struct {
	found
	said bool // a phrase that names a value has taken it already
}

// abouts finds the topics, in the order of the message. One word may speak of
// several facts, as the margin does of what it lies in and of how deep it lies.
func (x *lexicon) abouts(tokens []token) []topic {
	var out []topic
	for _, f := range x.all("about", tokens) {
		for _, p := range x.lists["about"].byFirst[f.words[0]] {
			if slices.Equal(p.words, f.words) {
				out = append(out, topic{found{p, f.from, f.to}, spent(tokens, f)})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b topic) int {
		return cmp.Or(a.from-b.from, strings.Compare(a.sense.name, b.sense.name))
	})
	return out
}

// aboutMentions finds values that name themselves only beside a word that says
// which fact is spoken of: "margin … in dentin", "bite … heavy".
func (x *lexicon) aboutMentions(tokens []token, book *planner.Rulebook) []stated {
	var out []stated
	for _, about := range x.abouts(tokens) {
		if x.elsewhere(tokens, about.found) || x.ofMargin(tokens, about.found) || x.wardedOff(tokens, about.found) {
			continue
		}
		allSaid := about.said && x.isJudged(about.sense.name) // "no retention"
		for _, w := range x.spread("weak:"+about.sense.name, tokens) {
			again := slices.ContainsFunc(out, func(s stated) bool { return s.fact == w.sense.name && s.at == w.from })
			if again || allSaid && !x.onOtherSide(tokens, about, w) || !x.valued(tokens, about, w) {
				continue
			}
			spend(tokens, w)
			s := stated{fact: w.sense.name, values: w.sense.values, at: w.from}
			if x.negated(tokens, w) {
				x.spendDenial(tokens, w)
				s.values, s.negated = complement(book, s), true
			}
			out = append(out, x.onOneSide(tokens, w, s))
			spend(tokens, about.found)
		}
	}
	return out
}

// valued reports whether a word gives the value of what is spoken of. One that has
// been taken for another fact counts for a margin that it follows closely: in
// "margin on composite core" the core is both.
func (x *lexicon) valued(tokens []token, about topic, w found) bool {
	if spent(tokens, w) && (about.said || !x.linked(tokens, about.found, w)) {
		return false
	}
	return x.near(tokens, about.found, w) && !overlap(w, about.found) && !x.ofLength(tokens, w)
}

// near reports whether a value word belongs to the word that says which fact is
// meant: it stands in the same clause, or gives the rest of a margin in the next
// one, as in "margin in enamel, root on the distal".
func (x *lexicon) near(tokens []token, about, w found) bool {
	ahead := tokens[w.from].clause - tokens[about.from].clause
	if ahead == 1 && repliedTo(tokens, about, w) {
		return true
	}
	if x.onOtherSide(tokens, topic{found: about}, w) {
		return true
	}
	if about.sense.name == "margin" {
		leads := opens(tokens, w.from)
		ends := closes(tokens, w.to-1)
		part := leads && ends && slices.Contains(x.words.Joined.Mixtures[about.sense.name].Of, w.sense.values[0]) // "margin supra, dentin"
		aside := ahead == 2 && w.from-about.to < asideReach && x.besideSide(tokens, w)                            // "on enamel, uh no sorry, root on the mesial"
		return ahead == 0 || ahead == 1 && (x.besideSide(tokens, w) || part || leads && x.is("lies-in", w.words[0])) || aside
	}
	return ahead == 0 && w.from-about.to <= weakReach && about.from-w.to <= weakReach/2
}

// onOtherSide reports whether the next clause says of one side what is left there:
// "enamel good buccally, none palatally".
func (x *lexicon) onOtherSide(tokens []token, about topic, w found) bool {
	_, sided := x.words.Turns.OneSide[about.sense.name]
	return sided && tokens[w.from].clause-tokens[about.from].clause == 1 && x.besideSide(tokens, w)
}

// asideReach is within how many words a margin is still spoken of after an aside.
const asideReach = 14

// repliedTo reports whether a word answers a one-word question: "margin? root".
func repliedTo(tokens []token, about, w found) bool {
	alone := opens(tokens, about.from)
	return alone && w.from == about.to && tokens[about.to-1].question
}

// weakReach is how many words may stand between what is spoken of and its value.
const weakReach = 4

// ofLength reports whether a word belongs to a length of its clause or asks for
// one: "prep 3 mm short of", "how long". In "cured 40 s, short" it does not.
func (x *lexicon) ofLength(tokens []token, f found) bool {
	if f.from == 0 {
		return false
	}
	before := tokens[f.from-1]
	length := before.isNum && before.clause == tokens[f.from].clause && (before.unit == "" || before.unit.Dimension() == sums.Distance)
	return length && x.isDegree(f) || x.asksHow(tokens, f)
}

// isDegree reports whether a phrase names a degree besides its fact.
func (x *lexicon) isDegree(f found) bool { return slices.Contains(x.words.Degrees, f.sense.name) }

// asksHow reports whether a degree is asked for or compared: "how tapered", "as tall as".
func (x *lexicon) asksHow(tokens []token, f found) bool {
	return f.from > 0 && x.is("grades-what-follows", tokens[f.from-1].word)
}

// asksDegree reports whether the degree that a phrase names is asked for.
func (x *lexicon) asksDegree(tokens []token, f found) bool {
	return x.isDegree(f) && x.asksHow(tokens, f)
}

// besideSide reports whether the clause of a phrase speaks of a part of the tooth.
func (x *lexicon) besideSide(tokens []token, f found) bool {
	return slices.ContainsFunc(tokens, func(t token) bool { return t.clause == tokens[f.from].clause && x.onSide(t.word) })
}

// yields reports whether a phrase stands beside a word of another fact that the
// same words also speak of: in "the margin is all dentin" the margin is meant.
func (x *lexicon) yields(tokens []token, f found) bool {
	if x.ofMargin(tokens, f) {
		return true
	}
	if slices.Contains(f.words, gap) {
		return false
	}
	for _, about := range x.abouts(tokens) {
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

// ofMargin reports whether words on enamel say what the margin lies in.
func (x *lexicon) ofMargin(tokens []token, f found) bool {
	return f.sense.name == "enamel" && slices.ContainsFunc(x.abouts(tokens), func(about topic) bool { return x.linked(tokens, about.found, f) })
}

// linked reports whether nothing but such words as "is all in" stands between
// the margin and a phrase behind it that names enamel or dentin.
func (x *lexicon) linked(tokens []token, margin, f found) bool {
	if margin.sense.name != "margin" || margin.to > f.from || tokens[margin.from].clause != tokens[f.from].clause || slices.Contains(f.words, "enamel") && slices.Equal(f.sense.values, []string{"none"}) {
		return false
	}
	return !slices.ContainsFunc(tokens[margin.to:f.from], func(t token) bool { return !x.is("ties-to-the-margin", t.word) })
}
