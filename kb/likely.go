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
	absent := math.Log(1 - share)
	for _, w := range words {
		n := all.counts[w]
		switch here := b.counts[w]; {
		case n == 0:
		case here == 0:
			sum += absent
		default:
			sum += math.Log(share*here/b.size*all.size/n + 1 - share)
		}
	}
	return sum / float64(max(1, len(words)))
}

// pairSpan is how many words further the second word of a pair may stand.
const pairSpan = 3

// pairs are any two words that stand near each other, in their order, the first
// ones also with the beginning: "before cement" and "cement before" ask for
// different articles.
func pairs(words []string) []string {
	all := append([]string{"^"}, words...)
	var out []string
	for i, w := range all {
		for _, next := range all[i+1 : min(len(all), i+1+pairSpan)] {
			out = append(out, w+" "+next)
		}
	}
	return out
}

// letters are any three neighbouring letters of the words, little ones too, so
// that a word nobody asked with yet still counts by what it shares with others:
// "unblasted" with "blast", "dentinal" with "dentin".
func letters(words []string) []string {
	var out []string
	for _, w := range words {
		marked := "^" + w + "$"
		for i := 0; i+3 <= len(marked); i++ {
			out = append(out, marked[i:i+3])
		}
	}
	return out
}
