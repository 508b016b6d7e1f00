package talk

import (
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
			switch d := kb.Slips(w, candidate, at); {
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
