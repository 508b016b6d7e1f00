package kb

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// The weights of the search, in one place. They were set on the half of
// testdata/questions that is not held out; kb-golden.txt shows what they give
// on both halves.
const (
	// For bleve's choice of candidates: a word in the title or in an ask says
	// what an article is about, a word in its text only that it comes up.
	boostTitle = 3.0
	boostAsks  = 2.0
	boostBody  = 1.0

	// How often an article speaks of a term, by where: the title once counts for
	// three mentions in the text, an ask for two. The count is saturated, so that
	// halfMentions mentions give half of the most.
	mentionTitle  = 3.0
	mentionAsk    = 2.0
	mentionAnswer = 1.5
	mentionBody   = 1.0
	halfMentions  = 2.0

	// What the words of an article are thought to be drawn from, for the
	// likelihood of the question: its asks and title, its text, the asks of its
	// topic, and all articles. The shares add up to 1.
	mixAsks   = 0.3
	mixText   = 0.2
	mixTopic  = 0.1
	mixCorpus = 0.4
	// fullLikely is the mean logarithm that counts 1: twenty times as likely.
	fullLikely = 3.0

	// The parts of the order: how likely the article's words make the question; how
	// usual its words are in articles of the topic; how much of the title it says;
	// how likely the asks make its letters and its pairs of words, little words too
	// ("before" and "after" tell two articles apart); and, if the question asks for
	// the meaning of a word, that an article is of the glossary. They were fitted to
	// asks that were left out of the index (see fit_test.go). A question that is word
	// for word an ask has its article.
	partLikely  = 1.00
	partTopic   = 0.22
	partTitle   = 0.11
	partLetters = 0.17
	partPairs   = 0.084
	partMeaning = 0.48
	fewTerms    = 3 // a question for a meaning has no more terms
	partExact   = 2.00
	mixAsked    = 0.8 // share of letters and pairs thought to be drawn from the article's asks

	// The closeness, by which the search abstains: what the order goes by, and how
	// far the question leans to us by its tokens, words and pairs of words (see
	// leaning.go), each in full from its full… on. They were fitted to asks left out
	// and examples left out (see fit_test.go).
	closeScore  = 3.1
	closeTokens = 4.0
	closeWords  = 2.6
	closePairs  = 2.4
	closeAsked  = 4.0 // in place of the leanings, as far as there are too few asks to trust them
	fullLeaning = 10.0
	fullWords   = 8.0
	fullPairs   = 12.0

	// What words that no article holds weigh. A number is seldom what a question is
	// about, an everyday word hardly ever; any other word probably names a
	// subject that is not ours.
	strangeNumber = 0.0
	strangeCommon = 0.1
	strangeWord   = 1.5

	// What an everyday word weighs that articles do hold, as a share of the weight
	// its rarity would give it: "later" and "way" say little, however rare.
	everyday = 0.6

	// Below this closeness the search abstains.
	closeEnough = 2.1 // about even odds on the tuned halves

	// What a word of others' subjects takes from the closeness, unless the article is
	// about it: it has this share of the question's weight in what it is asked for.
	// "clean lithium disilicate" is no question of the article that sends lithium
	// disilicate away.
	closeOutside = 4.0
	outsideAsked = 0.80
)

// parts are what the order of an article adds up, before it is weighted.
type parts struct{ likely, topic, title, letters, pairs, meaning float64 }

func (p parts) score() float64 {
	return partLikely*p.likely + partTopic*p.topic + partTitle*p.title + partLetters*p.letters + partPairs*p.pairs + partMeaning*p.meaning
}

// A ranked candidate carries what the order goes by.
type ranked struct {
	profile *profile
	parts   parts
	score   float64
	covered float64 // share of the question held anywhere in the article
	asked   float64 // share held by title and asks
}

// measure scores one article for a question.
func (b *Base) measure(r reading, p *profile) ranked {
	out := ranked{profile: p}
	if r.weight == 0 {
		return out
	}
	for _, t := range r.terms {
		m := p.mentions(t)
		out.parts.likely += t.certain * b.index.likely(t, m, p) / float64(len(r.terms))
		out.parts.topic += b.index.topical(t, p, r)
		if p.title[t.text] {
			out.parts.title += b.index.idf(t.text) / p.titleWeight
		}
		out.asked += t.weight * min(1, max(m.title, m.ask)) / r.weight
		out.covered += t.weight * max(m.title, m.ask, m.answer, m.body) / r.weight
	}
	out.parts.letters = p.letters.likelier(r.letters, b.index.letters, mixAsked)
	out.parts.pairs = p.pairs.likelier(r.pairs, b.index.pairs, mixAsked)
	if p.topic == glossaryTopic && r.meaning && len(r.terms) <= fewTerms {
		out.parts.meaning = 1
	}
	out.score = out.parts.score()
	if p.exactly(r) {
		out.score += partExact
	}
	return out
}

// closeness says how sure it is that the candidate answers the question, on a
// scale that is the same for every question.
func (b *Base) closeness(r reading, top ranked) float64 {
	trust := b.index.leaning.trust
	return b.signs(r, top).sum() + (1-trust)*closeAsked*top.asked
}

// signs are what the closeness adds up, before it is weighted.
type signs struct{ score, tokens, words, pairs float64 }

func (s signs) sum() float64 {
	return closeScore*s.score + closeTokens*s.tokens + closeWords*s.words + closePairs*s.pairs
}

func (b *Base) signs(r reading, top ranked) signs {
	l := b.index.leaning
	return signs{top.score, l.trust * l.of(r.terms), l.trust * l.words.of(r.stems), l.trust * l.pairs.of(r.pairs)}
}

// topical is how usual a term of the question is in asks of the article's topic,
// as a share of the question.
func (x *index) topical(t term, p *profile, r reading) float64 {
	return t.weight * x.topics[p.topic][t.text] / r.weight
}

// exactly reports whether the question has word for word the words of an ask.
func (p *profile) exactly(r reading) bool {
	return slices.ContainsFunc(p.wordings, func(ask map[string]bool) bool { return maps.Equal(ask, r.words) })
}

// glossaryTopic is the topic that explains words.
const glossaryTopic = "glossary"

// likely is the logarithm of how much likelier the article makes the term than
// all articles together do, in units of fullLikely.
func (x *index) likely(t term, m mentions, p *profile) float64 {
	corpus := (float64(x.counts[t.text]) + 0.5) / x.size
	mixed := mixAsks*(m.asks+2*m.title)/p.askSize + mixText*(2*m.answer+m.body)/p.textSize +
		mixTopic*x.topics[p.topic][t.text]/x.topicSizes[p.topic] + mixCorpus*corpus
	return math.Log(mixed/corpus) / fullLikely
}

// mentions says how far an article's parts hold a term: 1 for the term itself,
// less for a near one. asks is summed over the asks, ask is the best of them.
type mentions struct{ title, ask, asks, answer, body float64 }

func (p *profile) mentions(t term) mentions {
	m := mentions{title: t.in(p.title), answer: t.in(p.answer), body: t.in(p.body)}
	for _, ask := range p.asks {
		in := t.in(ask)
		m.asks += in
		m.ask = max(m.ask, in)
	}
	return m
}

// in is 1 if the set holds the term, the weight of the best near one if it
// holds that, 0 otherwise.
func (t term) in(set map[string]bool) float64 {
	if set[t.text] {
		return 1
	}
	best := 0.0
	for _, n := range t.near {
		if n.weight > best && set[n.token] {
			best = n.weight
		}
	}
	return best
}

// judge decides whether the best candidate is close enough to be an answer.
func (b *Base) judge(r reading, found []ranked) Result {
	if len(r.terms) == 0 {
		return Result{Why: "the question holds no word to search for"}
	}
	if len(found) == 0 {
		return Result{Why: "no article holds any word of the question"}
	}
	top := found[0]
	foreign := b.foreign(r, top)
	close := b.closeness(r, top)
	if foreign != nil {
		close -= closeOutside
	}
	switch {
	case r.weight > 0 && close >= closeEnough:
		return Result{Close: true}
	case foreign != nil:
		return Result{Why: fmt.Sprintf("%q is about %s, which the articles leave to others", strings.Join(foreign.words, " "), foreign.group.Says)}
	}
	return Result{Why: fmt.Sprintf("no article is close enough: the nearest covers %.0f %% of the question, and %.0f %% by what it is asked for",
		100*top.covered, 100*top.asked)}
}

// foreign finds a word of others' subjects that the candidate is not about.
func (b *Base) foreign(r reading, top ranked) *outsideWord {
	for i, w := range r.outside {
		if !top.profile.outside[w.key] || top.asked < outsideAsked {
			return &r.outside[i]
		}
	}
	return nil
}
