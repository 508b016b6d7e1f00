package talk

import (
	"regexp"
	"slices"
	"strings"
)

var (
	quadrantTooth = regexp.MustCompile(`^(?:ur|ul|lr|ll|u|l)([1-8])$`)
	dottedTooth   = regexp.MustCompile(`^[1-4]\.([1-8])$`)
)

// byQuadrant is the position of the tooth counted from the midline: 1 to 8.
func byQuadrant(n int) string {
	switch {
	case n <= 3:
		return "anterior"
	case n <= 5:
		return "premolar"
	}
	return "molar"
}

// byUniversal is the position of a tooth of the universal numbering, 1 to 32.
func byUniversal(n int) string {
	if n > 16 {
		n -= 16
	}
	return byQuadrant(max(n-8, 9-n))
}

// A tooth is where a tooth number stands and which positions it can mean.
type tooth struct {
	at        int
	positions []string
}

// teeth reads tooth numbers in the three notations: quadrant (UR6, upper right
// 6), FDI (36, 3.6) and universal (#14). A bare number that two of them know
// keeps both positions.
func (g grammar) teeth(tokens []token, bound map[int]string) []tooth {
	var out []tooth
	fdi := false
	for i, t := range tokens {
		if positions := g.toothAt(tokens, i); positions != nil && bound[i] == "" {
			out = append(out, tooth{i, positions})
			fdi = fdi || t.isNum && t.number > 32
		}
	}
	fdi = fdi || acrossArches(out, tokens)
	for k, t := range out { // beside a 46 the 26 is no universal number
		if n := int(tokens[t.at].number); fdi && tokens[t.at].isNum && isFDI(n) && wordBefore(tokens, t.at) != "#" {
			out[k].positions = []string{byQuadrant(n % 10)}
		}
	}
	return oneNotation(out, tokens)
}

// acrossArches reports whether two numbers name a row of teeth, as "13-23" does, that
// the universal numbering would put in both jaws: then they are of the FDI notation.
func acrossArches(teeth []tooth, tokens []token) bool {
	for k := 1; k < len(teeth); k++ {
		a, b := teeth[k-1].at, teeth[k].at
		row := b == a+1 || b == a+2 && tokens[a+1].word == "to"
		if row && tokens[a].isNum && tokens[b].isNum && isFDI(int(tokens[b].number)) && (tokens[a].number > 16) != (tokens[b].number > 16) {
			return true
		}
	}
	return false
}

// oneNotation lets the numbers of one message stand for all that any of them may
// mean: read in either notation, "13 to 11" names two teeth.
func oneNotation(teeth []tooth, tokens []token) []tooth {
	var all []string
	for _, t := range teeth {
		if tokens[t.at].isNum {
			all = union(all, t.positions)
		}
	}
	for k, t := range teeth {
		if tokens[t.at].isNum {
			teeth[k].positions = all
		}
	}
	return teeth
}

func (g grammar) toothAt(tokens []token, i int) []string {
	t := tokens[i]
	if m := quadrantTooth.FindStringSubmatch(t.word); m != nil && (opens(tokens, i) || !g.is("denies", wordBefore(tokens, i))) {
		return []string{byQuadrant(int(m[1][0] - '0'))}
	}
	if !t.isNum || t.unit != "" || g.noTooth(tokens, i) {
		return nil
	}
	if n := int(t.number); (g.quadrantBefore(tokens, i) || g.quadrantBehind(tokens, i)) && len(t.word) == 1 && n >= 1 && n <= 8 {
		return []string{byQuadrant(n)}
	}
	if m := dottedTooth.FindStringSubmatch(t.word); m != nil && g.is("precedes-a-dotted-tooth", wordBefore(tokens, i)) {
		return []string{byQuadrant(int(m[1][0] - '0'))}
	}
	return g.numbered(tokens, i)
}

// numbered reads a whole number as an FDI or a universal tooth number.
func (g grammar) numbered(tokens []token, i int) []string {
	n := int(tokens[i].number)
	if float64(n) != tokens[i].number || strings.ContainsAny(tokens[i].word, "+-.") {
		return nil
	}
	before, behind := wordBefore(tokens, i), wordBehind(tokens, i)
	fdi, universal := isFDI(n), n >= 1 && n <= 32
	switch {
	case g.is("counts-teeth-to-32", before) || g.is("counts-teeth-to-32", behind) && behind != "#":
		fdi = false
	case g.is("counts-teeth-by-quadrant", before) || g.is("counts-teeth-by-quadrant", behind):
		universal = false
	case g.is("names-a-tooth-number", before) || g.headsTooth(tokens, i):
		return g.everyNotation(n)
	case !fdi:
		return nil // a bare number that is no FDI tooth may count anything
	}
	var out []string
	if fdi {
		out = append(out, byQuadrant(n%10))
	}
	if universal {
		if p := byUniversal(n); !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// headsTooth reports whether a number stands bare behind a restoration: "crown 29,".
func (g grammar) headsTooth(tokens []token, i int) bool {
	last := closes(tokens, i)
	return g.is("stands-on-a-tooth", wordBefore(tokens, i)) && (last || g.is("opens-a-question", tokens[i+1].word))
}

// everyNotation lists where a bare number may stand: counted from the midline, in
// the two digits of the FDI or in the universal numbering.
func (g grammar) everyNotation(n int) []string {
	var out []string
	add := func(ok bool, position func(int) string, n int) {
		if ok && !slices.Contains(out, position(n)) {
			out = append(out, position(n))
		}
	}
	add(n >= 1 && n <= 8, byQuadrant, n)
	add(isFDI(n), byQuadrant, n%10)
	add(n >= 1 && n <= 32, byUniversal, n)
	return out
}

// namedTooth reports whether a number is a tooth's whatever else is said of it:
// "lower left 5 margins sub", "tooth 5 short".
func (g grammar) namedTooth(tokens []token, i int) bool {
	if tokens[i].unit != "" || len(tokens[i].word) > 2 {
		return false
	}
	quadrant := (g.quadrantBefore(tokens, i) || g.quadrantBehind(tokens, i)) && len(tokens[i].word) == 1
	return quadrant || i > 0 && tokens[i-1].clause == tokens[i].clause && (tokens[i-1].word == "tooth" || tokens[i-1].word == "#")
}

// noTooth reports whether the number is said to be a measure, a count or a name
// of something else: "36 on" is one, "tooth 36 on" is not.
func (g grammar) noTooth(tokens []token, i int) bool {
	before, behind := "", wordBehind(tokens, i)
	if i > 0 && tokens[i-1].clause == tokens[i].clause {
		before = tokens[i-1].word
	}
	if behind == "on" {
		return before != "tooth"
	}
	if i >= 2 && tokens[i-2].isNum && g.is("sets-lengths-against-each-other", before) {
		return true // 2.5 by 4
	}
	if i+2 < len(tokens) && tokens[i+2].isNum && g.is("sets-lengths-against-each-other", behind) {
		return true
	}
	numbered := i >= 2 && tokens[i-2].isNum || i+2 < len(tokens) && tokens[i+2].isNum
	if behind == "/" && (before == "tooth" || before == "/" && !numbered) {
		return false // "crown / tooth 26 / retention poor"
	}
	tall := g.is("is-short-or-tall", behind) && tokens[i].number > tallest // "crown 36 tall"
	if g.is("follows-no-tooth-number", behind) && !tall || g.is("denies", before) {
		return true
	}
	return g.is("precedes-no-tooth-number", before) && !g.placed(tokens, i)
}

// placed reports whether a number is a tooth's in spite of the word before it:
// "bridge 35 to 37", "crown for 36", "tooth is 36".
func (g grammar) placed(tokens []token, i int) bool {
	first, link := wordBefore(tokens, i-1), tokens[i-1].word
	switch {
	case link == "to" && i >= 2 && tokens[i-2].isNum && tokens[i-2].unit == "":
		a, b := int(tokens[i-2].number), int(tokens[i].number)
		return isFDI(a) && isFDI(b) && (a > 30) == (b > 30) && g.holds("spans-teeth", tokens)
	case link == "for":
		what := g.holds("stands-on-a-tooth", tokens[:i]) || g.holds("names-zirconia", tokens[:i]) || slices.ContainsFunc(tokens[:i], isGrade)
		return what && !g.holds("takes-a-time", tokens)
	}
	return link == "is" && g.is("names-a-tooth-number", first)
}

// isGrade reports whether a token is the yttria content of a zirconia: 3y.
func isGrade(t token) bool {
	return t.word == "3y" || t.word == "4y" || t.word == "5y"
}

// isFDI reports whether a number is one of the two digits of the FDI notation.
func isFDI(n int) bool { return n/10 >= 1 && n/10 <= 4 && n%10 >= 1 && n%10 <= 8 }

// quadrantBefore reports whether "upper left" or the like stands before a token.
func (g grammar) quadrantBefore(tokens []token, i int) bool {
	if i < 2 {
		return i == 1 && g.is("names-a-quadrant", tokens[0].word)
	}
	arch, side := tokens[i-2].word, tokens[i-1].word
	swapped := g.is("left-or-right", arch) && g.is("names-an-arch", side)
	return g.is("names-a-quadrant", side) || g.is("names-an-arch", arch) && g.is("left-or-right", side) || swapped
}

// quadrantBehind reports whether "upper left" or the like stands behind a token.
func (g grammar) quadrantBehind(tokens []token, i int) bool {
	return i+2 < len(tokens) && g.is("names-an-arch", tokens[i+1].word) && g.is("left-or-right", tokens[i+2].word)
}
