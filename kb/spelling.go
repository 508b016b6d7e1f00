package kb

import (
	_ "embed"
	"slices"
	"sort"
	"strings"
)

// englishWords lists English words of five letters and more, folded and sorted,
// one a line. They are never corrected: "brain" is no slip for "grain". See
// english.LICENSE for where the list comes from.
//
//go:embed english.txt
var englishWords string

// English reports whether a folded word of five letters and more stands in a list
// of some 38,000 English words, and is therefore no slip of a word of the trade.
// It looks the word up by halving the text, without a copy of it.
func English(word string) bool {
	lineAt := func(i int) string {
		start := strings.LastIndexByte(englishWords[:i], '\n') + 1
		return englishWords[start : start+strings.IndexByte(englishWords[start:], '\n')]
	}
	i := sort.Search(len(englishWords), func(i int) bool { return lineAt(i) >= word })
	return i < len(englishWords) && lineAt(i) == word
}

const (
	minCorrected = 5 // letters
	twoErrors    = 8 // letters from which two errors are allowed
	// correctedCertain is what a corrected word counts for beside one that was
	// written right: enough to find, too little to overrule.
	correctedCertain = 0.85
)

// A speller corrects words against a vocabulary.
type speller struct {
	known  map[string]int // word to the number of articles it stands in
	byLen  map[int][]string
	never  map[[2]string]bool
	stems  map[string]bool
	stemOf func(string) string
}

func newSpeller(x *lexicon, counts map[string]int) *speller {
	s := &speller{known: map[string]int{}, byLen: map[int][]string{}, never: x.never, stems: map[string]bool{}, stemOf: x.stem}
	for w := range x.known {
		s.known[w] = 0
	}
	for w, n := range counts {
		s.known[w] = n
	}
	for w := range s.known {
		s.byLen[len(w)] = append(s.byLen[len(w)], w)
		s.stems[s.stemOf(w)] = true
	}
	for _, ws := range s.byLen {
		slices.Sort(ws)
	}
	return s
}

// correct returns the nearest known word, and whether it differs from word.
func (s *speller) correct(word string) (string, bool) {
	if !s.mayCorrect(word) {
		return word, false
	}
	most := 1
	if len(word) >= twoErrors {
		most = 2
	}
	best, bestRank := word, [3]int{most + 1}
	for n := len(word) - most; n <= len(word)+most; n++ {
		for _, w := range s.byLen[n] {
			d := Slips(word, w, min(most, bestRank[0]))
			if d > most || s.never[pair(word, w)] {
				continue
			}
			if rank := s.rank(word, w, d); slices.Compare(rank[:], bestRank[:]) < 0 {
				best, bestRank = w, rank
			}
		}
	}
	return best, best != word
}

// rank orders candidates: fewer errors, then the same first letter, then the
// commoner word in the articles.
func (s *speller) rank(word, w string, d int) [3]int {
	first := 0
	if word[0] != w[0] {
		first = 1
	}
	return [3]int{d, first, -s.known[w]}
}

func (s *speller) mayCorrect(word string) bool {
	if len(word) < minCorrected || s.stems[s.stemOf(word)] || English(word) {
		return false
	}
	if _, ok := s.known[word]; ok {
		return false
	}
	for i := range len(word) {
		if word[i] < 'a' || word[i] > 'z' {
			return false
		}
	}
	return true
}

func pair(a, b string) [2]string {
	if a > b {
		a, b = b, a
	}
	return [2]string{a, b}
}

// maxWord bounds the distance table; longer words are not corrected.
const maxWord = 24

// Slips counts the slips of the pen between two ASCII words, by their optimal
// string alignment: inserted, left-out and changed letters, and swapped
// neighbours, each cost 1. It returns most+1 as soon as there must be more than
// most, and for words of more than 24 letters.
func Slips(a, b string, most int) int {
	if len(a) > maxWord || len(b) > maxWord || len(a)-len(b) > most || len(b)-len(a) > most {
		return most + 1
	}
	var rows [3][maxWord + 1]int
	for j := range len(b) + 1 {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		if slipsRow(a, b, i, &rows) > most {
			return most + 1
		}
	}
	return rows[len(a)%3][len(b)]
}

// slipsRow fills row i of the table and returns its smallest entry.
func slipsRow(a, b string, i int, rows *[3][maxWord + 1]int) int {
	row, above, above2 := &rows[i%3], &rows[(i+2)%3], &rows[(i+1)%3]
	row[0] = i
	least := i
	for j := 1; j <= len(b); j++ {
		cost := 1
		if a[i-1] == b[j-1] {
			cost = 0
		}
		d := min(above[j]+1, row[j-1]+1, above[j-1]+cost)
		if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
			d = min(d, above2[j-2]+1)
		}
		row[j] = d
		least = min(least, d)
	}
	return least
}
