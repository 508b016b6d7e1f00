package talk

import "strings"

// spell corrects words that lie within a slip of exactly one known word. Words
// with digits, words shorter than five letters and known words stay as they are.
func (x *lexicon) spell(tokens []token) {
	for i := range tokens {
		w := tokens[i].word
		if tokens[i].isNum || len(w) < 5 || x.known[w] || x.kept[w] || strings.ContainsAny(w, "0123456789") {
			continue
		}
		if better := x.closest(w); better != "" {
			tokens[i].word = better
		}
	}
}

// closest is the one known word within the slips that a word of this length
// may hold; two equally close words are no answer.
func (x *lexicon) closest(w string) string {
	allowed := 1
	if len(w) >= 9 {
		allowed = 2
	}
	best, at, tie := "", allowed+1, false
	for n := len(w) - allowed; n <= len(w)+allowed; n++ {
		for _, candidate := range x.byLen[n] {
			if len(candidate) < 5 || candidate[0] != w[0] || plural(candidate, w) {
				continue
			}
			switch d := slips(w, candidate, at); {
			case d < at:
				best, at, tie = candidate, d, false
			case d == at && at <= allowed && !plural(candidate, best):
				tie = true
			}
		}
	}
	if tie || at > allowed {
		return ""
	}
	return best
}

// plural reports whether the words differ by a final s alone: that is grammar,
// not a slip, and phrases list the plurals they mean.
func plural(a, b string) bool { return a+"s" == b || b+"s" == a }

// slips counts insertions, deletions, substitutions and swaps of neighbours
// between two words, up to a limit beyond which it returns the limit plus one.
func slips(a, b string, limit int) int {
	prev2, prev, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], prev2[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > limit {
			return limit + 1
		}
		prev2, prev, row = prev, row, prev2
	}
	return prev[len(b)]
}
