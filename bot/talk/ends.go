package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// deny marks the lengths, areas and angles that a message only names to take them
// back: in "the height isn't 4, it's 3" nothing is 4.
func (x *lexicon) deny(tokens []token) {
	for i, t := range tokens {
		of := t.unit == "" || t.unit == sums.Millimetre || t.unit == sums.Degree || t.unit == sums.MM2
		asked := slices.ContainsFunc(tokens[:i], func(w token) bool { return w.word == "why" && w.clause == t.clause })
		if t.isNum && of && !asked && i > 0 && tokens[i-1].clause == t.clause && x.is("denies", tokens[i-1].word) {
			tokens[i].spent = true
		}
	}
}

// markRanges lets the words around a range of numbers speak of its first one.
func (x *lexicon) markRanges(tokens []token) {
	for i := range tokens {
		if j := x.otherEnd(tokens, i); j == i+2 && tokens[i+1].word != "/" && !tokens[i].ends {
			tokens[j].ends = true
			if tokens[i].unit == "" {
				tokens[i].unit = tokens[j].unit
			}
		}
	}
}

// inARange binds both ends of what is given from one number up to another, "2 to
// 2.5 mm high", and marks the second as the end of a range.
func (x *lexicon) inARange(tokens []token, bound map[int]string) {
	for i, t := range tokens {
		j := x.otherEnd(tokens, i)
		if !t.isNum || j < 0 || bound[i] != "" && bound[j] != "" && bound[i] != bound[j] {
			continue
		}
		fact := bound[i] + bound[j]
		if bound[i] == bound[j] {
			fact = bound[i]
		}
		tokens[j].ends = false
		if fact == "" || !x.fitsUnit(fact, tokens[j]) || t.unit != "" && !x.fitsUnit(fact, t) {
			continue
		}
		bound[i], bound[j] = fact, fact
		tokens[j].ends = true
		if t.unit == "" {
			tokens[i].unit = tokens[j].unit
		}
	}
}

// otherEnd is the number that ends a range which begins at token i, or -1: the
// greater one close behind it, with "to" or the like between, or nothing, where a
// dash was written.
func (x *lexicon) otherEnd(tokens []token, i int) int {
	link, j, most := "", i+1, 1.5
	if j < len(tokens) && !tokens[j].isNum {
		link, j = tokens[j].word, j+1
	}
	switch {
	case j >= len(tokens) || !tokens[j].isNum || tokens[j].clause != tokens[i].clause || tokens[i].spent || tokens[j].spent:
		return -1
	case link == "" || link == "/":
	case x.is("spans-a-range", link), link == "and" && wordBefore(tokens, i) == "between":
		most = 3
	default:
		return -1
	}
	from, to := tokens[i].number, tokens[j].number
	if from <= 0 || to <= from || to > most*from || tokens[i].unit != "" && tokens[i].unit != tokens[j].unit {
		return -1
	}
	return j
}

// onSides binds a length of another side of the tooth: "height 4 mm buccal 3 mm lingual".
func (x *lexicon) onSides(tokens []token, bound map[int]string) {
	for i, t := range tokens {
		j := i + 2
		if !t.isNum || bound[i] == "" || j >= len(tokens) || !tokens[j].isNum || bound[j] != "" || tokens[j].clause != t.clause {
			continue
		}
		behind := x.is("side-of-the-tooth", wordBehind(tokens, j)) // "4 mm buccal 3 mm lingual"
		before := i > 0 && x.is("side-of-the-tooth", tokens[i-1].word)
		if x.is("side-of-the-tooth", tokens[i+1].word) && (behind || before) && x.fitsUnit(bound[i], tokens[j]) {
			bound[j] = bound[i]
		}
	}
}

// replaced lets a number stand for what the one before it measures where it takes
// that one back: "height 3, no, 4 mm".
func (x *lexicon) replaced(tokens []token, bound map[int]string) {
	for i, t := range tokens {
		if !t.isNum || t.spent {
			continue
		}
		j, back := i-1, false
		for ; j > 0 && !tokens[j].isNum && (x.is("takes-a-number-back", tokens[j].word) || x.is("stands-by-a-number", tokens[j].word)); j-- {
			back = back || x.is("takes-a-number-back", tokens[j].word)
		}
		for k := 0; k < 2 && j > 0 && !tokens[j].isNum && tokens[j].spent; k++ {
			j--
		}
		if !back || j < 0 || bound[j] == "" || bound[i] != "" && bound[i] != bound[j] || !x.fitsUnit(bound[j], t) {
			continue
		}
		bound[i] = bound[j]
		delete(bound, j)
		tokens[j].spent = true
	}
}

// answering binds a length or an angle that is all its clause says to what the
// clause before it speaks of: "the prep is short, about 3 mm".
func (x *lexicon) answering(tokens []token, words []found, bound map[int]string) {
	for i, t := range tokens {
		if !t.isNum || t.spent || bound[i] != "" || t.unit == "" && t.number == float64(int(t.number)) {
			continue
		}
		first := i
		for first > 0 && tokens[first-1].clause == t.clause {
			first--
		}
		if list := first - 1; first == i && list >= 0 && tokens[list].isNum && slices.Contains(x.words.Joined.Least, bound[list]) && length(t) && t.number < 2*tokens[list].number && (t.unit != "" || t.number < 1) {
			bound[i] = bound[list] // "walls 0.9, 0.8"
			continue
		}
		last := i
		for last+1 < len(tokens) && tokens[last+1].clause == t.clause {
			last++
		}
		said := slices.Concat(tokens[first:i], tokens[i+1:last+1])
		if first == 0 || slices.ContainsFunc(said, func(w token) bool { return !x.is("says-roughly", w.word) }) {
			continue
		}
		fact := x.measuredIn(tokens, words, tokens[first-1].clause, t)
		if fact == "" && t.number <= thickWall && (x.endsInGrade(tokens, first) || x.beginsWithGrade(tokens, last+1)) && (t.unit == sums.Millimetre || t.unit == "" && t.number >= thinnest) {
			fact = "wall_mm" // "veneer, 5Y, half a mm"
		}
		if fact != "" {
			bound[i] = fact
		}
	}
}

// thickWall is the length in mm up to which one that stands alone behind a zirconia
// grade or a restoration is that of its wall.
const thickWall = 1.5

// thinnest is the least bare number in mm that is taken for a wall.
const thinnest = 0.2

// beginsWithGrade reports whether the clause that begins at token i opens with a
// zirconia grade or a restoration: "table top, 0.7 mm, 4Y".
func (x *lexicon) beginsWithGrade(tokens []token, i int) bool {
	if i >= len(tokens) {
		return false
	}
	p, ok := x.at("facts", tokens, i)
	return ok && slices.Contains(x.words.Measuring.WallBeside, p.sense.name)
}

// endsInGrade reports whether the clause before token i ends in a zirconia grade or a
// restoration and speaks of no margin.
func (x *lexicon) endsInGrade(tokens []token, i int) bool {
	clause, ends := tokens[i-1].clause, false
	for _, f := range x.all("facts", tokens[:i]) {
		if tokens[f.from].clause == clause {
			onTooth := f.to == i-1 && tokens[f.to].isNum && tokens[f.to].unit == "" && isFDI(int(tokens[f.to].number)) // "5Y crown 14, 1.2 mm"
			ends = (f.to == i || onTooth) && slices.Contains(x.words.Measuring.WallBeside, f.sense.name)
		}
	}
	return ends && !slices.ContainsFunc(x.all("about", tokens[:i]), func(f found) bool {
		return tokens[f.from].clause == clause && (f.sense.name == "margin" || f.sense.name == "margin_level")
	})
}

// measuredIn is what a clause without a number of its own speaks of that a number
// can measure, the last if there are several.
func (x *lexicon) measuredIn(tokens []token, words []found, clause int, t token) string {
	fact := ""
	for i, w := range tokens {
		if w.clause != clause {
			continue
		}
		if w.isNum {
			return ""
		}
		if x.is("is-short-or-tall", w.word) && x.fitsUnit(x.words.Measuring.Pair[0], t) {
			fact = x.words.Measuring.Pair[0]
		}
		for _, f := range words {
			if f.from == i && x.fitsUnit(f.sense.name, t) {
				fact = f.sense.name
			}
		}
	}
	return fact
}
