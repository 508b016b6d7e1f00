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
func teeth(tokens []token) []tooth {
	var out []tooth
	for i := range tokens {
		if positions := toothAt(tokens, i); positions != nil {
			out = append(out, tooth{i, positions})
		}
	}
	return out
}

func toothAt(tokens []token, i int) []string {
	t := tokens[i]
	if m := quadrantTooth.FindStringSubmatch(t.word); m != nil {
		return []string{byQuadrant(int(m[1][0] - '0'))}
	}
	if !t.isNum || t.unit != "" || measured(tokens, i) {
		return nil
	}
	if n := int(t.number); quadrantBefore(tokens, i) && n >= 1 && n <= 8 && t.word == strings.TrimLeft(t.word, "+-") {
		return []string{byQuadrant(n)}
	}
	if m := dottedTooth.FindStringSubmatch(t.word); m != nil {
		return []string{byQuadrant(int(m[1][0] - '0'))}
	}
	return numbered(tokens, i)
}

// numbered reads a whole number as an FDI or a universal tooth number.
func numbered(tokens []token, i int) []string {
	n := int(tokens[i].number)
	if float64(n) != tokens[i].number || strings.ContainsAny(tokens[i].word, "+-.") {
		return nil
	}
	before := wordBefore(tokens, i)
	fdi := n/10 >= 1 && n/10 <= 4 && n%10 >= 1 && n%10 <= 8
	universal := n >= 1 && n <= 32
	switch {
	case before == "universal" || before == "#":
		fdi = false
	case before == "fdi":
		universal = false
	case before == "tooth" || before == "no" || before == "number":
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

// measured reports whether the number is said to be a measure, a count or a
// name of something else.
func measured(tokens []token, i int) bool {
	if i+1 < len(tokens) && slices.Contains([]string{"unit", "units", "percent", "days", "weeks", "months", "years", "year", "times", "x", "high", "tall", "wide", "thick", "thin", "long", "on", "deep", "/", "parts", "minutes", "degrees"}, tokens[i+1].word) {
		return tokens[i+1].word != "on" || wordBefore(tokens, i) != "tooth"
	}
	switch wordBefore(tokens, i) {
	case "iso", "lot", "ref", "under", "over", "below", "above", "about", "least", "<", ">", "≥", "≤", "=", "delta", "ratio", "class", "/", "x", "page", "version", "astm", "at", "to", "for", "than", "step", "exp", "ra", "is":
		return true
	}
	return false
}

func wordBefore(tokens []token, i int) string {
	if i == 0 {
		return ""
	}
	return tokens[i-1].word
}

// quadrantBefore reports whether "upper left" or the like stands before a token.
func quadrantBefore(tokens []token, i int) bool {
	if i < 2 {
		return i == 1 && slices.Contains([]string{"ur", "ul", "lr", "ll"}, tokens[0].word)
	}
	arch, side := tokens[i-2].word, tokens[i-1].word
	if slices.Contains([]string{"ur", "ul", "lr", "ll"}, side) {
		return true
	}
	return slices.Contains([]string{"upper", "lower", "top", "bottom"}, arch) && (side == "left" || side == "right")
}
