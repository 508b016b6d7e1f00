package talk

import "strconv"

// spelledNumbers reads numbers in words where they count or measure something:
// "four units", "one and a half mm", "twenty five seconds", "point eight mm",
// "minus 3".
func (x *lexicon) spelledNumbers(in []token) []token {
	var out []token
	for i := 0; i < len(in); {
		t, used := x.amountAt(in[i:], i > 0 && x.is("names-a-tooth-number", in[i-1].word))
		if t.isNum && t.number > 0 && i > 0 && x.is("turns-a-number-negative", in[i-1].word) {
			t.number = -t.number
		}
		out = append(out, t)
		i += used
	}
	return out
}

// amountAt reads the token at the start, with those behind it that belong to the
// same number, of a tooth or of a measure. A number in words alone stays a word: "one wing", "the two of them".
func (x *lexicon) amountAt(in []token, tooth bool) (token, int) {
	t, n, used := in[0], in[0].number, 1
	if !t.isNum {
		n, used = x.inWords(in)
	}
	part, more := x.andAPart(in[min(used, len(in)):])
	if used == 0 || more == 0 && (t.isNum || !tooth && !x.counted(in[used:])) {
		return t, 1
	}
	n += part
	return token{word: strconv.FormatFloat(n, 'g', -1, 64), number: n, isNum: true, clause: t.clause}, used + more
}

// inWords reads "four", "twenty five" and "point eight".
func (x *lexicon) inWords(in []token) (n float64, used int) {
	first, ok := x.words.Numbers[in[0].word]
	if len(in) == 1 {
		return first, count(ok)
	}
	second, follows := x.words.Numbers[in[1].word]
	switch {
	case in[0].word == "point" && follows && second < 10:
		return second / 10, 2
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
	if len(in) >= 3 && in[0].word == "and" && in[1].word == "a" {
		if share, ok := x.words.Shares[in[2].word]; ok {
			return share, 3
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
