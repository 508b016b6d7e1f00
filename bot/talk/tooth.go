package talk

import (
	"regexp"
	"slices"
	"strings"
)

var (
	quadrantTooth = regexp.MustCompile(`^(?:ur|ul|lr|ll)([1-8])$`)
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
func (g grammar) teeth(tokens []token) []tooth {
	var out []tooth
	for i := range tokens {
		if positions := g.toothAt(tokens, i); positions != nil {
			out = append(out, tooth{i, positions})
		}
	}
	return out
}

func (g grammar) toothAt(tokens []token, i int) []string {
	t := tokens[i]
	if m := quadrantTooth.FindStringSubmatch(t.word); m != nil {
		return []string{byQuadrant(int(m[1][0] - '0'))}
	}
	if !t.isNum || t.unit != "" || g.noTooth(tokens, i) {
		return nil
	}
	if n := int(t.number); (g.quadrantBefore(tokens, i) || g.quadrantBehind(tokens, i)) && len(t.word) == 1 && n >= 1 && n <= 8 {
		return []string{byQuadrant(n)}
	}
	if m := dottedTooth.FindStringSubmatch(t.word); m != nil {
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
	before := wordBefore(tokens, i)
	fdi := n/10 >= 1 && n/10 <= 4 && n%10 >= 1 && n%10 <= 8
	universal := n >= 1 && n <= 32
	switch {
	case g.is("counts-teeth-to-32", before):
		fdi = false
	case g.is("counts-teeth-by-quadrant", before):
		universal = false
	case g.is("names-a-tooth-number", before):
	case g.headsTooth(tokens, i):
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
	last := i+1 == len(tokens) || tokens[i+1].clause != tokens[i].clause
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
	add(n/10 >= 1 && n/10 <= 4 && n%10 >= 1 && n%10 <= 8, byQuadrant, n%10)
	add(n >= 1 && n <= 32, byUniversal, n)
	return out
}

// noTooth reports whether the number is said to be a measure, a count or a name
// of something else: "36 on" is one, "tooth 36 on" is not.
func (g grammar) noTooth(tokens []token, i int) bool {
	before, behind := wordBefore(tokens, i), ""
	if i+1 < len(tokens) {
		behind = tokens[i+1].word
	}
	if behind == "on" {
		return before != "tooth"
	}
	return g.is("follows-no-tooth-number", behind) || g.is("precedes-no-tooth-number", before)
}

func wordBefore(tokens []token, i int) string {
	if i == 0 {
		return ""
	}
	return tokens[i-1].word
}

// quadrantBefore reports whether "upper left" or the like stands before a token.
func (g grammar) quadrantBefore(tokens []token, i int) bool {
	if i < 2 {
		return i == 1 && g.is("names-a-quadrant", tokens[0].word)
	}
	arch, side := tokens[i-2].word, tokens[i-1].word
	return g.is("names-a-quadrant", side) || g.is("names-an-arch", arch) && g.is("left-or-right", side)
}

// quadrantBehind reports whether "upper left" or the like stands behind a token.
func (g grammar) quadrantBehind(tokens []token, i int) bool {
	return i+2 < len(tokens) && g.is("names-an-arch", tokens[i+1].word) && g.is("left-or-right", tokens[i+2].word)
}
