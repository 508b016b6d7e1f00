package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// bindings says of which number of a message it was said what it measures:
// token → fact, topWidth, taperUnclear or wallTaper.
func (x *lexicon) bindings(tokens []token) map[int]string {
	bound := map[int]string{}
	words := slices.DeleteFunc(x.all("measures", tokens), func(f found) bool { return x.inGrade(tokens, f) })
	taken := map[int]bool{} // words that a number has used
	for i, t := range tokens {
		if !t.isNum {
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
	return bound
}

// inAPair reads the two lengths by which people give a stump, "prep 3.5 x 9": the
// lesser is what is short, its height.
func (x *lexicon) inAPair(tokens []token, bound map[int]string) {
	for i := 0; i+2 < len(tokens); i++ {
		a, b := tokens[i], tokens[i+2]
		lengths := a.isNum && b.isNum && x.is("sets-lengths-against-each-other", tokens[i+1].word) && length(a) && length(b) && a.number < b.number
		if lengths && bound[i] == "" && bound[i+2] == "" && x.holds("names-the-stump", tokens) && len(x.all("cue:calc-connector", tokens)) == 0 {
			pair := x.words.Measuring.Pair
			bound[i], bound[i+2] = pair[0], pair[1]
		}
	}
}

// length reports whether a number may be a length of a stump in mm.
func length(t token) bool {
	return t.number > 0 && t.number <= widest && (t.unit == "" || t.unit == sums.Millimetre)
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
	for b, f := range words {
		if tokens[f.from].clause != tokens[i].clause || taken[b] || !x.fitsUnit(f.sense.name, tokens[i]) {
			continue
		}
		d := bindReach
		switch noun := !x.is("follows-its-number", f.words[len(f.words)-1]); {
		case f.from > i && numbersBetween(tokens, i+1, f.from) == 0 && !(noun && numberFollows(tokens, f)):
			d = f.from - i
		case f.to <= i && numbersBetween(tokens, f.to, i) == 0 && !x.namesTooth(f, tokens[i]):
			d = i - f.to + 2 // a word behind the number binds it first: 3.5 high 9 wide
		}
		if d < nearest {
			best, nearest = b, d
		}
	}
	return best
}

func numbersBetween(tokens []token, from, to int) int {
	n := 0
	for _, t := range tokens[from:to] {
		if t.isNum {
			n++
		}
	}
	return n
}

// numberFollows reports whether a number follows a word closely in its clause.
func numberFollows(tokens []token, f found) bool {
	for i := f.to; i < len(tokens) && i < f.to+4 && tokens[i].clause == tokens[f.from].clause; i++ {
		if tokens[i].isNum {
			return true
		}
	}
	return false
}

// widest is the greatest length of a preparation in mm.
const widest = 16

// namesTooth reports whether a bare number behind a word of length is too great for
// one: "flat top, 37" and "flat top 37" name a tooth.
func (x *lexicon) namesTooth(f found, t token) bool {
	return t.unit == "" && t.number > widest && x.unitOf(f.sense.name) != sums.Degree
}

// thinInMicrometres is the length in µm from which a wall may be given in it:
// abrasives and films are finer.
const thinInMicrometres = 300

// fitsUnit reports whether a number in this unit can measure the fact.
func (x *lexicon) fitsUnit(fact string, t token) bool {
	if t.unit == "" {
		whole := t.number == float64(int(t.number))
		return !slices.Contains(x.words.Measuring.UnitNeeded, fact) && (!x.counts(fact) || whole)
	}
	if unit := x.unitOf(fact); unit != sums.Millimetre {
		return t.unit == unit && !x.counts(fact)
	}
	_, err := sums.Quantity{Value: t.number, Unit: t.unit}.In(sums.Millimetre)
	fine := slices.Contains(x.words.Measuring.InMicrometres, fact) && t.number >= thinInMicrometres
	return err == nil && (t.unit != sums.Micrometre || fine)
}
