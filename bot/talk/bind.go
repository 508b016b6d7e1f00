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
		if b := bind(tokens, words, taken, i); b >= 0 {
			taken[b] = true
			bound[i] = words[b].sense.name
			spend(tokens, words[b])
		}
	}
	inARow(tokens, bound)
	return bound
}

// inGrade reports whether a word of measure belongs to the name of a zirconia
// grade, as the high of "high strength".
func (x *lexicon) inGrade(tokens []token, f found) bool {
	return slices.ContainsFunc(x.all("facts", tokens), func(g found) bool {
		return g.sense.name == "zirconia" && g.from <= f.from && f.to <= g.to && g.to-g.from > f.to-f.from
	})
}

// inARow reads three numbers set off by strokes the way they are written down:
// width at the margin, width on top, height.
func inARow(tokens []token, bound map[int]string) {
	for i := 0; i+4 < len(tokens); i++ {
		row := tokens[i : i+5]
		if row[0].isNum && row[1].word == "/" && row[2].isNum && row[3].word == "/" && row[4].isNum {
			bound[i], bound[i+2], bound[i+4] = "width_mm", topWidth, "height_mm"
		}
	}
}

// postfix are the words that stand behind the number they explain. The others
// are nouns, which stand before it, or behind it if no number follows them.
var postfix = []string{"high", "tall", "wide", "long", "thick", "thin", "top", "across", "unit", "units", "bridge", "margin", "wall", "walls", "side", "together", "total"}

// bindReach is how many words may stand between a number and its word.
const bindReach = 7

// bind finds the word that says what a number measures.
func bind(tokens []token, words []found, taken map[int]bool, i int) int {
	best, nearest := -1, bindReach
	for b, f := range words {
		if tokens[f.from].clause != tokens[i].clause || taken[b] || !fitsUnit(f.sense.name, tokens[i]) {
			continue
		}
		d := bindReach
		switch noun := !slices.Contains(postfix, f.words[len(f.words)-1]); {
		case f.from > i && numbersBetween(tokens, i+1, f.from) == 0 && !(noun && numberFollows(tokens, f)):
			d = f.from - i
		case f.to <= i && numbersBetween(tokens, f.to, i) == 0 && !namesTooth(f, tokens[i]):
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
func namesTooth(f found, t token) bool {
	angle := slices.Contains([]string{"convergence_deg", taperUnclear, wallTaper}, f.sense.name)
	return t.unit == "" && t.number > widest && !angle
}

// thinInMicrometres is the length in µm from which a wall may be given in it:
// abrasives and films are finer.
const thinInMicrometres = 300

// fitsUnit reports whether a number in this unit can measure the fact.
func fitsUnit(fact string, t token) bool {
	if t.unit == "" {
		whole := t.number == float64(int(t.number))
		return fact != "margin_depth_mm" && fact != "connector_mm2" && (fact != "span_units" || whole)
	}
	q := sums.Quantity{Value: t.number, Unit: t.unit}
	switch fact {
	case "span_units":
		return false
	case "convergence_deg", taperUnclear, wallTaper:
		return t.unit == sums.Degree
	case "connector_mm2":
		return t.unit == sums.MM2
	}
	_, err := q.In(sums.Millimetre)
	return err == nil && (t.unit != sums.Micrometre || fact == "wall_mm" && t.number >= thinInMicrometres)
}
