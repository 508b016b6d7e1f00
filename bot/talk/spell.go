package talk

import (
	"bytes"
	"math"
	"slices"
	"strings"

	"mortarboard/kb"
)

// spell corrects words that lie within a slip of exactly one known word. Words
// with digits, words shorter than five letters and known words stay as they are.
func (x *lexicon) spell(tokens []token) {
	for i := range tokens {
		w := tokens[i].word
		if tokens[i].isNum || len(w) < 5 || x.known[w] || x.kept[w] || kb.English(w) || strings.ContainsAny(w, "0123456789") {
			continue
		}
		if better := x.closest(w); better != "" {
			tokens[i].word = better
		}
	}
}

// closest is the known word that lies within the slips that a word of this length may
// hold, and is likelier meant than any other; two that are equally likely are no answer.
func (x *lexicon) closest(w string) string {
	allowed := 1
	if len(w) >= 9 {
		allowed = 2
	}
	best, least, tie := "", math.MaxInt, false
	for n := len(w) - allowed; n <= len(w)+allowed; n++ {
		for _, candidate := range x.byLen[n] {
			if len(candidate) < 5 || candidate[0] != w[0] || plural(candidate, w) {
				continue
			}
			d := kb.Slips(w, candidate, allowed)
			if d > allowed {
				continue
			}
			switch u := unlikely(w, candidate, d); {
			case u < least:
				best, least, tie = candidate, u, false
			case u == least && !plural(candidate, best):
				tie = true
			}
		}
	}
	if tie {
		return ""
	}
	return best
}

// unlikely orders words by how unlikely they are meant: by the slips, then letters
// changed or left out rather than swapped, then another letter at the end.
func unlikely(w, candidate string, slips int) int {
	u := 4 * slips
	if !swapped(w, candidate) {
		u += 2
	}
	if w[len(w)-1] != candidate[len(candidate)-1] {
		u++
	}
	return u
}

// swapped reports whether two words have the same letters.
func swapped(a, b string) bool {
	x, y := []byte(a), []byte(b)
	slices.Sort(x)
	slices.Sort(y)
	return bytes.Equal(x, y)
}

// plural reports whether the words differ by a final s alone: that is grammar,
// not a slip, and phrases list the plurals they mean. What ends in "ss" is no plural:
// "drynes" is a slip.
func plural(a, b string) bool {
	longer := max(a, b)
	return (a+"s" == b || b+"s" == a) && !strings.HasSuffix(longer, "ss")
}
