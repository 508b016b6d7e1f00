package talk

import (
	"cmp"
	"slices"
	"strings"
)

// matchReach is how many words may stand between a number and the word that
// names it.
const matchReach = 6

// No sum takes more numbers than this, and none has use for more words; the
// bounds keep a message of nothing but numbers from taking long.
const (
	mostNumbers = 12
	mostWords   = 24
)

// named gives each number that may be one the role that a word beside it names.
// Words and numbers are matched so that as many numbers as possible are named,
// and among those ways the one with the least words between.
func (q *question) named(g *given, may func(number) bool, cues map[string]role) {
	m := matcher{question: q, known: map[[2]int]match{}}
	for cue := range cues {
		m.words = append(m.words, q.words.all("cue:calc-"+cue, q.tokens)...)
	}
	slices.SortFunc(m.words, func(a, b found) int {
		return cmp.Or(a.from-b.from, b.to-a.to, strings.Compare(a.sense.name, b.sense.name))
	})
	m.words = slices.CompactFunc(m.words, overlap)
	m.words = m.words[:min(mostWords, len(m.words))]
	for _, n := range q.numbers {
		if may(n) && len(m.numbers) < mostNumbers {
			m.numbers = append(m.numbers, n)
		}
	}
	pairs := m.best(0, 0).pairs
	for i, n := range m.numbers {
		if w, ok := pairs[i]; ok {
			n.fact = "" // the sum's own word counts
			g.take(cues[strings.TrimPrefix(m.words[w].sense.name, "calc-")], n)
		}
	}
}

// A matcher finds which word names which number. Both keep their order.
type matcher struct {
	*question
	words   []found
	numbers []number
	known   map[[2]int]match
}

// A match is a way to name numbers.
type match struct {
	pairs map[int]int // number → word
	gap   int         // words between them, in all
}

func (m match) better(than match) bool {
	return len(m.pairs) > len(than.pairs) || len(m.pairs) == len(than.pairs) && m.gap < than.gap
}

// best is the best match of the numbers from i on with the words from w on.
func (m *matcher) best(i, w int) match {
	if i >= len(m.numbers) || w >= len(m.words) {
		return match{}
	}
	if known, ok := m.known[[2]int{i, w}]; ok {
		return known
	}
	best := m.best(i+1, w) // the number stays without a name
	for k := w; k < len(m.words); k++ {
		gap, ok := m.gap(i, k)
		if !ok {
			continue
		}
		rest := m.best(i+1, k+1)
		pairs := map[int]int{i: k}
		for n, word := range rest.pairs {
			pairs[n] = word
		}
		if one := (match{pairs, rest.gap + gap}); one.better(best) {
			best = one
		}
	}
	m.known[[2]int{i, w}] = best
	return best
}

// gap counts the words between number i and word k; they must stand in one
// clause with no other number of the sum between.
func (m *matcher) gap(i, k int) (int, bool) {
	n, w := m.numbers[i], m.words[k]
	if m.tokens[n.at].clause != m.tokens[w.from].clause {
		return 0, false
	}
	low, high := n.at+1, w.from
	if w.to <= n.from {
		low, high = w.to, n.from
	}
	between := func(o number) bool { return o.at >= low && o.at < high }
	return high - low, low <= high && high-low <= matchReach && !slices.ContainsFunc(m.numbers, between)
}
