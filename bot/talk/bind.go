package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// bindings says of which number of a message it was said what it measures:
// token → fact, topWidth, taperUnclear or wallTaper.
func (x *lexicon) bindings(tokens []token) map[int]string {
	bound := map[int]string{}
	words := slices.DeleteFunc(x.all("measures", tokens), func(f found) bool {
		return x.inGrade(tokens, f) || x.inCheck(tokens, f) || x.ofPart(tokens, f) || x.ofBite(tokens, f)
	})
	taken := map[int]bool{} // words that a number has used
	x.deny(tokens)
	x.markRanges(tokens)
	for i, t := range tokens {
		if !t.isNum || t.spent || t.ends || x.namedTooth(tokens, i) || x.is("has-its-own-depth", wordBefore(tokens, i)) {
			continue
		}
		if b := x.bind(tokens, words, taken, i); b >= 0 {
			taken[b] = true
			bound[i] = words[b].sense.name
			spend(tokens, words[b])
		}
	}
	x.inARow(tokens, bound)
	x.inAPair(tokens, bound)
	for i, fact := range bound {
		for b, f := range words {
			if !taken[b] && f.sense.name == fact && tokens[f.from].clause == tokens[i].clause {
				spend(tokens, f) // "prep is 4 mm in height"
			}
		}
	}
	x.onSides(tokens, bound)
	x.inARange(tokens, bound)
	x.replaced(tokens, bound)
	x.answering(tokens, words, bound)
	x.tapers(tokens, words, bound)
	return bound
}

// inAPair reads the two lengths by which people give a stump, "prep 3.5 x 9": the
// lesser is what is short, its height.
func (x *lexicon) inAPair(tokens []token, bound map[int]string) {
	pair := x.words.Measuring.Pair
	for i := 0; i+2 < len(tokens); i++ {
		a, b := tokens[i], tokens[i+2]
		lengths := a.isNum && b.isNum && x.is("sets-lengths-against-each-other", tokens[i+1].word) && length(a) && length(b) && a.number < b.number
		free := (bound[i] == "" || bound[i] == pair[0]) && (bound[i+2] == "" || bound[i+2] == pair[1])
		if lengths && free && x.holds("names-the-stump", tokens) && len(x.all("cue:calc-connector", tokens)) == 0 {
			bound[i], bound[i+2] = pair[0], pair[1]
		}
	}
}

// length reports whether a number may be a length of a stump in mm.
func length(t token) bool {
	return t.number > 0 && t.number <= widest && (t.unit == "" || t.unit == sums.Millimetre)
}

// inCheck reports whether a word of measure asks about a time: the long of "too long".
func (x *lexicon) inCheck(tokens []token, f found) bool {
	return slices.ContainsFunc(x.all("cue:asks-of-time", tokens), func(c found) bool { return overlap(c, f) })
}

// ofBite reports whether a word of height is said of the bite: "bite is 1 mm high".
func (x *lexicon) ofBite(tokens []token, f found) bool {
	return slices.Contains(x.words.Measuring.Pair, f.sense.name) && x.holds("names-the-bite", clauseOf(tokens, f.from))
}

// ofPart reports whether a word of depth belongs to a part that the clause names and
// that has a depth of its own: "chamfer 0.4 mm deep" says nothing of the gum.
func (x *lexicon) ofPart(tokens []token, f found) bool {
	own := x.words.Measured[f.sense.name]
	if own != "" && wordBehind(tokens, f.to-1) == "to" && len(f.words) == 1 {
		return true // "ground down to 0.4"
	}
	if x.is("says-how-deep", f.words[0]) && slices.ContainsFunc(tokens, func(t token) bool {
		return t.clause == tokens[f.from].clause && x.is("has-its-own-depth", t.word)
	}) {
		return true
	}
	if !x.is("says-how-deep", f.words[len(f.words)-1]) {
		return false
	}
	tasks := x.wide("tasks", tokens)
	return slices.ContainsFunc(tasks, func(task found) bool {
		depth := x.words.Settings[task.sense.name]["depth"]
		return own != "" && depth != "" && depth != own && x.words.Usual["depth"] == own && tokens[task.from].clause == tokens[f.from].clause
	})
}

// inGrade reports whether a word of measure belongs to the name of a zirconia
// grade, as the high of "high strength".
func (x *lexicon) inGrade(tokens []token, f found) bool {
	return slices.ContainsFunc(x.all("facts", tokens), func(g found) bool {
		return g.sense.name == "zirconia" && g.from <= f.from && f.to <= g.to && g.to-g.from > f.to-f.from
	})
}

// inARow reads three numbers set off by strokes in the order in which they are
// written down.
func (x *lexicon) inARow(tokens []token, bound map[int]string) {
	for i := 0; i+4 < len(tokens); i++ {
		row := tokens[i : i+5]
		if row[0].isNum && row[1].word == "/" && row[2].isNum && row[3].word == "/" && row[4].isNum {
			order := x.words.Measuring.Row
			bound[i], bound[i+2], bound[i+4] = order[0], order[1], order[2]
		}
	}
}

// bindReach is how many words may stand between a number and its word.
const bindReach = 7

// bind finds the word that says what a number measures.
func (x *lexicon) bind(tokens []token, words []found, taken map[int]bool, i int) int {
	best, nearest := -1, bindReach
	if x.rough(tokens, i) {
		return best
	}
	for b, f := range words {
		if tokens[f.from].clause != tokens[i].clause || taken[b] || !x.fitsUnit(f.sense.name, tokens[i]) {
			continue
		}
		if tokens[i].unit == "" && x.unitOf(f.sense.name) == sums.Degree && !x.holds("speaks-of-an-angle", tokens) {
			continue // "4 crowns in total"
		}
		d := bindReach
		switch noun := !x.is("follows-its-number", f.words[len(f.words)-1]); {
		case f.from > i && numbersBetween(tokens, i+1, f.from) == 0 && !(noun && (x.numberFollows(tokens, f) || x.led(tokens, words, taken, i))) && !((noun || x.describes(tokens, f)) && x.namesTooth(f, tokens[i])) && !x.toothBefore(tokens, f, i):
			d = f.from - i
		case f.to <= i && x.numbersNext(tokens, f, i):
		case f.to <= i && numbersBetween(tokens, f.to, i) == 0 && !x.namesTooth(f, tokens[i]):
			d = i - f.to + 2 // a word behind the number binds it first: 3.5 high 9 wide
		}
		if d < nearest {
			best, nearest = b, d
		}
	}
	return best
}

// numbersNext reports whether a number behind a word of measure is that of a tooth: in
// "unit 11" it counts no units, and in "conv crown prep 37" it is no angle.
func (x *lexicon) numbersNext(tokens []token, f found, i int) bool {
	before := wordBefore(tokens, i)
	if x.counts(f.sense.name) {
		return x.is("names-a-tooth-number", f.words[len(f.words)-1])
	}
	bare := tokens[i].unit == "" && isFDI(int(tokens[i].number)) && f.to < i
	return bare && (x.is("stands-on-a-tooth", before) || x.is("names-the-preparation", before))
}

// led reports whether a noun of measure stands right before a number, so that no
// noun behind it names it: the height of "height 4.1 convergence?".
func (x *lexicon) led(tokens []token, words []found, taken map[int]bool, i int) bool {
	for b, f := range words {
		noun := !x.is("follows-its-number", f.words[len(f.words)-1])
		if noun && f.to == i && !taken[b] && tokens[f.from].clause == tokens[i].clause && x.fitsUnit(f.sense.name, tokens[i]) {
			return true
		}
	}
	return false
}

// describes reports whether a word of length belongs to the preparation behind it:
// "24 long abutments" gives no length.
func (x *lexicon) describes(tokens []token, f found) bool {
	return f.to < len(tokens) && tokens[f.to].clause == tokens[f.from].clause && x.is("names-the-stump", tokens[f.to].word)
}

// toothBefore reports whether a bare number may be a tooth's, and the word of length
// behind it names the number that follows: the 26 of "26 wall 0.3".
func (x *lexicon) toothBefore(tokens []token, f found, i int) bool {
	if tokens[i].unit != "" || !isFDI(int(tokens[i].number)) || tokens[i].number != float64(int(tokens[i].number)) {
		return false
	}
	if x.is("is-short-or-tall", f.words[0]) && tokens[i].number > tallest {
		return true // "crown 47 tall"
	}
	next := f.to
	for next < len(tokens) && x.is("leads-to-a-number", tokens[next].word) {
		next++
	}
	if next >= len(tokens) || tokens[next].clause != tokens[i].clause || !tokens[next].isNum || !x.fitsUnit(f.sense.name, tokens[next]) {
		return false
	}
	_, ownWord := x.at("measures", tokens, min(next+1, len(tokens)-1)) // "11 high 8 wide"
	return !ownWord
}

// tapers lets other words of a clause say whether its one angle counts one wall or
// both: "8 degree taper total", "each side converges by 5 degrees". The word for it
// then speaks of nothing else.
func (x *lexicon) tapers(tokens []token, words []found, bound map[int]string) {
	angles := map[int]int{} // by clause
	for i, fact := range bound {
		angles[tokens[i].clause] += count(x.unitOf(fact) == sums.Degree)
	}
	for i, fact := range bound {
		for _, f := range words {
			if x.unitOf(fact) != sums.Degree || tokens[f.from].clause != tokens[i].clause || angles[tokens[i].clause] > 1 {
				continue
			}
			one, both := f.sense.name == wallTaper, x.unitOf(f.sense.name) == sums.Degree && f.sense.name != taperUnclear && !x.is("only-converges", f.words[len(f.words)-1])
			if one && !x.total(tokens, words, tokens[i].clause) || fact == taperUnclear && both {
				bound[i] = f.sense.name
				spend(tokens, f)
			}
		}
	}
	for i, fact := range bound {
		for _, f := range words {
			if x.unitOf(fact) == sums.Degree && fact != taperUnclear && f.sense.name == taperUnclear && tokens[f.from].clause == tokens[i].clause {
				spend(tokens, f)
			}
		}
	}
}

// total reports whether a clause says that its angle counts both walls.
func (x *lexicon) total(tokens []token, words []found, clause int) bool {
	return slices.ContainsFunc(words, func(f found) bool {
		angle := x.unitOf(f.sense.name) == sums.Degree && f.sense.name != taperUnclear && f.sense.name != wallTaper
		return angle && tokens[f.from].clause == clause && !x.is("only-converges", f.words[len(f.words)-1])
	})
}

func numbersBetween(tokens []token, from, to int) int {
	n := 0
	for _, t := range tokens[from:to] {
		if t.isNum && !t.spent && !t.ends {
			n++
		}
	}
	return n
}

// numberFollows reports whether a number that the word can name follows it closely
// in its clause: behind the taper of "18 deg taper 3.2 mm tall" none does.
func (x *lexicon) numberFollows(tokens []token, f found) bool {
	for i := f.to; i < len(tokens) && i < f.to+4 && tokens[i].clause == tokens[f.from].clause; i++ {
		if tokens[i].isNum && x.fitsUnit(f.sense.name, tokens[i]) {
			return true
		}
	}
	return false
}

// widest is the greatest length of a preparation in mm, and the most units of a bridge.
const widest = 16

// tallest is the greatest height of one: "prep 14" is a tooth.
const tallest = 10

// namesTooth reports whether a bare number behind a word of length is too great for
// one: "flat top, 37" and "flat top 37" name a tooth.
func (x *lexicon) namesTooth(f found, t token) bool {
	most := float64(widest)
	if f.sense.name == x.words.Measuring.Pair[0] {
		most = tallest
	}
	return t.unit == "" && t.number > most && x.unitOf(f.sense.name) != sums.Degree
}

// thinInMicrometres is the length in µm from which a wall may be given in it:
// abrasives and films are finer.
const thinInMicrometres = 300

// leastAngle is the least bare number that is taken for an angle: a wall that leans
// in 0.9 does so by a length.
const leastAngle = 2

// fitsUnit reports whether a number in this unit can measure the fact.
func (x *lexicon) fitsUnit(fact string, t token) bool {
	if t.unit == "" {
		if x.unitOf(fact) == sums.Degree && t.number < leastAngle {
			return false
		}
		whole := t.number == float64(int(t.number))
		return !slices.Contains(x.words.Measuring.UnitNeeded, fact) && (!x.counts(fact) || whole && t.number <= widest)
	}
	if unit := x.unitOf(fact); unit != sums.Millimetre {
		return t.unit == unit && !x.counts(fact)
	}
	_, err := sums.Quantity{Value: t.number, Unit: t.unit}.In(sums.Millimetre)
	fine := slices.Contains(x.words.Measuring.InMicrometres, fact) && t.number >= thinInMicrometres
	return err == nil && (t.unit != sums.Micrometre || fine)
}
