package talk

import (
	"strconv"
	"strings"
)

// spelledNumbers reads numbers in words where they count or measure something:
// "four units", "one and a half mm", "twenty five seconds", "point eight mm",
// "minus 3".
func (x *lexicon) spelledNumbers(in []token) []token {
	var out []token
	for i := 0; i < len(in); {
		t, used := x.amountAt(in, i)
		if t.isNum && t.number > 0 && i > 0 && x.is("turns-a-number-negative", in[i-1].word) {
			t.number = -t.number
		}
		out = append(out, t)
		i += used
	}
	return out
}

// amountAt reads the token at i, with those behind it that belong to the same
// number, of a tooth or of a measure. A number in words alone stays a word: "one wing", "the two of them".
func (x *lexicon) amountAt(in []token, i int) (token, int) {
	t, n, used := in[i], in[i].number, 1
	if !t.isNum {
		n, used = x.inWords(in[i:], x.is("names-a-tooth-number", wordBefore(in, i)))
	}
	part, more := x.andAPart(in[min(i+used, len(in)):])
	if used == 0 || more == 0 && (t.isNum || !x.meant(in, i, i+used, n)) {
		return t, 1
	}
	n += part
	return token{word: strconv.FormatFloat(n, 'g', -1, 64), number: n, isNum: true, clause: t.clause}, used + more
}

// meant reports whether a number in words, from token i up to the one at end, is a
// measure, a count of units or the number of a tooth, rather than a count of what
// follows: "nine across" and "height three", but not "two tall walls".
func (x *lexicon) meant(in []token, i, end int, n float64) bool {
	if x.is("names-a-tooth-number", wordBefore(in, i)) || end < len(in) && in[end].clause == in[i].clause && x.counted(in[end:]) {
		return true
	}
	said := func(j int) string {
		if j < 0 || j >= len(in) || in[j].clause != in[i].clause {
			return ""
		}
		return in[j].word
	}
	if x.is("spans-a-range", said(end)) && x.words.Numbers[said(end+1)] > n && x.counted(in[end+2:]) {
		return true // "two to three mm"
	}
	if n > 1 && x.is("measures-what-precedes", said(end)) && !x.namesStumps(in[end+1:]) && (said(end+1) == "" || x.is("goes-on-behind-a-measure", said(end+1)) || x.words.Numbers[said(end+1)] > 1) {
		return true
	}
	j := i - 1
	for x.is("leads-to-a-number", said(j)) {
		j--
	}
	alone := said(end) == "" || x.is("goes-on-behind-a-measure", said(end))
	if in[i].word == "point" {
		return j < i-1 || x.is("is-measured", said(j)) || x.is("less-than", said(j)) || x.is("names-a-wall", said(j))
	}
	return n > 1 && alone && x.is("is-measured", said(j))
}

// inWords reads "four", "twenty five", "point eight", and the two digits of a tooth.
func (x *lexicon) inWords(in []token, tooth bool) (n float64, used int) {
	first, ok := x.words.Numbers[in[0].word]
	if len(in) == 1 {
		return first, count(ok)
	}
	second, follows := x.words.Numbers[in[1].word]
	switch {
	case in[0].word == "point" && follows && second < 10:
		return second / 10, 2
	case tooth && ok && follows && first <= 4 && second <= 8:
		return 10*first + second, 2 // "tooth one six"
	case ok && first >= 20 && follows && second < 10:
		return first + second, 2
	}
	return first, count(ok)
}

func count(ok bool) int {
	if ok {
		return 1
	}
	return 0
}

// andAPart reads "and a half", "point five" and the like behind a number.
func (x *lexicon) andAPart(in []token) (part float64, used int) {
	for _, n := range []int{2, 3} { // "and half mm", "and a half"
		if len(in) < n || in[0].word != "and" || n == 3 && in[1].word != "a" {
			continue
		}
		share, ok := x.words.Shares[in[n-1].word]
		if ok && (n == 3 || x.counted(in[n:]) || n < len(in) && x.is("measures-what-precedes", in[n].word)) {
			return share, n
		}
	}
	if len(in) >= 2 && in[0].word == "point" {
		if n, ok := x.words.Numbers[in[1].word]; ok && n < 10 {
			return n / 10, 2
		}
	}
	return 0, 0
}

// counted reports whether a unit or a word of measure follows a number.
func (x *lexicon) counted(in []token) bool {
	if len(in) == 0 {
		return false
	}
	_, unit := unitAt(in)
	return unit > 0 || x.is("counts-units", in[0].word)
}

// stumpReach is how many words may stand between a count and the stumps it counts.
const stumpReach = 4

// namesStumps reports whether preparations follow closely, which the number then counts:
// "two tall, near parallel abutments".
func (x *lexicon) namesStumps(in []token) bool {
	for _, t := range in[:min(stumpReach, len(in))] {
		if t.isNum {
			return false
		}
		if x.is("names-the-stump", t.word) && strings.HasSuffix(t.word, "s") {
			return true
		}
	}
	return false
}
