package kb

import (
	"fmt"
	"math"
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

	// The parts of the order: how likely the article's words make the question;
	// how usual its words are in articles of the topic; how like the question is to
	// the nearest ask by all its words, little ones too ("before" and "after" tell
	// two articles apart); how like it is to the nearest and the next nearest ask
	// by weight; and, if the question asks for the meaning of a word, that an article
	// is of the glossary. A question that is word for word an ask has its article.
	partLikely  = 1.00
	partTopic   = 0.17
	partWording = 0.31
	partNearest = 0.11
	partSecond  = 0.16
	partMeaning = 0.23
	fewTerms    = 3 // a question for a meaning has no more terms
	partExact   = 2.00

	// The parts of the closeness, by which the search abstains. They are shares of
	// the question and so have the same scale for every question and every number
	// of articles: how much of it the article speaks of, how usual it is in the
	// topic, and its likeness to the nearest asks.
	closeSpoken  = 1.00
	closeTopic   = 0.20
	closeWording = 0.50
	closeNearest = 0.05
	closeSecond  = 0.20

	// What words that no article holds weigh. A number is seldom what a question is
	// about, an everyday word hardly ever; any other word probably names a
	// subject that is not ours.
	strangeNumber = 0.0
	strangeCommon = 0.1
	strangeWord   = 1.5

	// What an everyday word weighs that articles do hold, as a share of the weight
	// its rarity would give it: "later" and "way" say little, however rare.
	everyday = 0.6

	// Below this sum of closeness and leaning the search abstains. The leaning
	// (see leaning.go) is counted in full from fullLeaning on, about the odds
	// that four plain words of the trade give. A question
	// that names others' subjects must moreover have this share of its weight in
	// what the article is asked for: "clean lithium disilicate" is no question of
	// the article that sends lithium disilicate away.
	closeEnough  = 0.8
	partLeaning  = 3.0
	fullLeaning  = 10.0
	outsideAsked = 0.80
)

// A ranked candidate carries what the order and the abstaining go by.
type ranked struct {
	profile *profile
	score   float64
	close   float64
	covered float64 // share of the question held anywhere in the article
	asked   float64 // share held by title and asks
}

// measure scores one article for a question.
func (b *Base) measure(r reading, p *profile) ranked {
	out := ranked{profile: p}
	if r.weight == 0 {
		return out
	}
	var spoken, topic, likely float64
	for _, t := range r.terms {
		m := p.mentions(t)
		n := mentionTitle*m.title + mentionAsk*m.asks + mentionAnswer*m.answer + mentionBody*m.body
		spoken += t.weight * n / (n + halfMentions) / r.weight
		topic += t.weight * b.index.topics[p.topic][t.text] / r.weight
		likely += t.certain * b.index.likely(t, m, p) / float64(len(r.terms))
		out.asked += t.weight * min(1, max(m.title, m.ask)) / r.weight
		out.covered += t.weight * max(m.title, m.ask, m.answer, m.body) / r.weight
	}
	nearest, second := b.likest(r, p)
	wording := wording(r, p)
	out.close = closeSpoken*spoken + closeTopic*topic + closeNearest*nearest + closeSecond*second + closeWording*wording
	out.score = partLikely*likely + partTopic*topic + partNearest*nearest + partSecond*second + partWording*wording
	if wording == 1 {
		out.score += partExact
		out.close += partExact
	}
	if p.topic == glossaryTopic && r.meaning && len(r.terms) <= fewTerms {
		out.score += partMeaning
	}
	return out
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

// wording compares all words of the question with those of the likest ask; 1
// means that they are the same.
func wording(r reading, p *profile) float64 {
	best := 0.0
	for _, ask := range p.wordings {
		shared := 0
		for w := range r.words {
			if ask[w] {
				shared++
			}
		}
		best = max(best, 2*float64(shared)/float64(len(ask)+len(r.words)))
	}
	return best
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

// likest returns the likeness of the question to the two nearest of the asks
// and the title.
func (b *Base) likest(r reading, p *profile) (first, second float64) {
	for i, ask := range append(p.asks[:len(p.asks):len(p.asks)], p.title) {
		like := likeness(r, ask, p.weights[i])
		if like > first {
			first, second = like, first
		} else if like > second {
			second = like
		}
	}
	return first, second
}

// likeness is the harmonic mean of the share of the question that the ask
// covers and the share of the ask that the question covers, both by weight.
func likeness(r reading, ask map[string]bool, whole float64) float64 {
	shared := 0.0
	for _, t := range r.terms {
		shared += t.weight * t.in(ask)
	}
	if shared == 0 {
		return 0
	}
	return min(1, 2*shared/(r.weight+whole))
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
	for _, w := range r.outside {
		if !top.profile.outside[w.key] || top.asked < outsideAsked {
			return Result{Why: fmt.Sprintf("%q is about %s, which the articles leave to others", strings.Join(w.words, " "), w.group.Says)}
		}
	}
	if top.close+partLeaning*b.index.leaning.of(r.terms) < closeEnough {
		return Result{Why: fmt.Sprintf("no article is close enough: the nearest covers %.0f %% of the question, and %.0f %% by what it is asked for",
			100*top.covered, 100*top.asked)}
	}
	return Result{Close: true}
}
