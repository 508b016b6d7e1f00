package kb

import (
	_ "embed"
	"math"
	"strings"
)

// outsideAsks are examples of questions that are not ours, one a line.
//
//go:embed outside-asks.txt
var outsideAsks string

// A leaning tells our questions from others' by their words: for each token, and
// for each word, pair of words and three letters, little words too, the logarithm
// of how much oftener it stands in our articles' asks and titles than in examples
// of questions that are not ours.
type leaning struct {
	tokens       map[string]float64
	words, pairs versus
	strange      float64 // of a token that stands in neither
	trust        float64 // how far to go by it: little where there are few asks
}

// A versus holds what our asks and others' questions are made of.
type versus struct {
	ours, others *bag
	full         float64 // the sum that leans almost all the way
}

func newLeaning(x *index, words *lexicon, lines []string) *leaning {
	said, pair := newBag(), newBag()
	ours, others := map[string]float64{}, map[string]float64{}
	asks := 0.0
	for _, p := range x.profiles {
		for _, ask := range append(p.asks[:len(p.asks):len(p.asks)], p.title) {
			asks++
			for t := range ask {
				ours[t]++
			}
		}
	}
	for _, line := range lines {
		w := words.words(line)
		stems := words.stemList(w)
		said.add(stems)
		pair.add(pairs(stems))
		for t := range tokenSet(words.tokens(w)) {
			others[t]++
		}
	}
	l := weighLeaning(ours, others, asks, float64(len(lines)))
	l.words, l.pairs = versus{x.words, said, fullWords}, versus{x.pairs, pair, fullPairs}
	return l
}

// outsideExamples are the lines of outside-asks.txt that are questions.
func outsideExamples() []string {
	var out []string
	for line := range strings.Lines(outsideAsks) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			out = append(out, line)
		}
	}
	return out
}

// leanKnown is the least that a token leans to us which our asks hold and no
// example of others' questions does: a rare word of the trade is still ours.
const leanKnown = 0.3

// fewAsks is how many asks are trusted by half to say how our questions are worded.
const fewAsks = 100

// weighLeaning smooths by half a mention, so that no token decides alone.
func weighLeaning(ours, others map[string]float64, asks, examples float64) *leaning {
	of := func(our, other float64) float64 {
		return math.Log((our + 0.5) / (asks + 1) * (examples + 1) / (other + 0.5))
	}
	l := &leaning{tokens: map[string]float64{}, strange: of(0, 0), trust: asks / (asks + fewAsks)}
	for t, n := range ours {
		l.tokens[t] = of(n, others[t])
		if others[t] == 0 {
			l.tokens[t] = max(l.tokens[t], leanKnown)
		}
	}
	for t, n := range others {
		l.tokens[t] = of(ours[t], n)
	}
	return l
}

func tokenSet(tokens []token) map[string]bool {
	set := map[string]bool{}
	for _, t := range tokens {
		set[t.text] = true
	}
	return set
}

// of sums the leanings of the question's terms, scaled and held to -1 to 1:
// above 0 it leans to us. A number that was never met says nothing.
func (l *leaning) of(terms []term) float64 {
	sum := 0.0
	for _, t := range terms {
		lean, ok := l.tokens[t.text]
		if !ok && !strings.ContainsAny(t.text, "0123456789") {
			lean = l.strange
		}
		sum += lean
	}
	return max(-1, min(1, sum/fullLeaning))
}

// of sums the leanings of all words, or pairs, of the question, held softly
// to -1 to 1. What was never met says nothing.
func (v versus) of(said []string) float64 {
	sum := 0.0
	for _, w := range said {
		our, other := v.ours.counts[w], v.others.counts[w]
		if our+other > 0 {
			sum += math.Log((our + 0.5) / (v.ours.size + 1) * (v.others.size + 1) / (other + 0.5))
		}
	}
	return math.Tanh(sum / v.full)
}
