package kb

import "math"

// A bag counts words, so that one can say how likely they make a question.
type bag struct {
	counts map[string]float64
	size   float64
}

func newBag() *bag { return &bag{counts: map[string]float64{}} }

func (b *bag) add(words []string) {
	for _, w := range words {
		b.counts[w]++
		b.size++
	}
}

func (b *bag) join(other *bag) {
	for w, n := range other.counts {
		b.counts[w] += n
	}
	b.size += other.size
}

// likelier is the mean logarithm of how much likelier the bag makes the words
// than all articles together do, if a share of them is drawn from the bag and the
// rest from all. Words that nobody asks with say nothing.
func (b *bag) likelier(words []string, all *bag, share float64) float64 {
	sum := 0.0
	for _, w := range words {
		if n := all.counts[w]; n > 0 {
			sum += math.Log(share*(b.counts[w]/max(1, b.size))/(n/all.size) + 1 - share)
		}
	}
	return sum / float64(max(1, len(words)))
}

// pairs are the neighbours among the words, the first word with the beginning:
// "before cement" and "cement before" ask for different articles.
func pairs(words []string) []string {
	out := make([]string, len(words))
	last := "^"
	for i, w := range words {
		out[i] = last + " " + w
		last = w
	}
	return out
}
