package page

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// says reports whether a line holds a phrase as whole words, whatever the case
// and spacing: "none" does not say "no", and 150 µm does not say 50 µm.
func says(line, phrase string) bool {
	line, phrase = squash(line), trimStop(squash(phrase))
	for from := 0; phrase != ""; {
		i := strings.Index(line[from:], phrase)
		if i < 0 {
			return false
		}
		start, end := from+i, from+i+len(phrase)
		if edge(line[:start], line[end:]) {
			return true
		}
		from = end
	}
	return false
}

// begins reports whether a line begins with a phrase as whole words: "Do not seat
// it" does not begin with "Seat it".
func begins(line, phrase string) bool {
	phrase = trimStop(squash(phrase))
	rest, ok := strings.CutPrefix(squash(line), phrase)
	return ok && phrase != "" && edge("", rest)
}

// edge reports whether a word may end between what stands before and behind it.
func edge(before, behind string) bool {
	last, _ := utf8.DecodeLastRuneInString(before)
	next, _ := utf8.DecodeRuneInString(behind)
	return !wordly(last) && last != '.' && last != ',' && !wordly(next)
}

func wordly(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// adds reports whether a line says more than some pieces of text.
func adds(line string, pieces ...string) bool {
	return strings.ContainsFunc(without(line, pieces...), wordly)
}

// without is a line less some pieces of text, longest first so that none is cut
// by another.
func without(line string, pieces ...string) string {
	rest := squash(line)
	pieces = slices.Clone(pieces)
	slices.SortStableFunc(pieces, func(a, b string) int { return len(b) - len(a) })
	for _, piece := range pieces {
		if piece = trimStop(squash(piece)); piece != "" {
			rest = strings.Replace(rest, piece, " ", 1)
		}
	}
	return rest
}

// span matches a range of figures written in words.
var span = regexp.MustCompile(`(\d) to (\d)`)

// dashes are the ways to write a range or a minus.
var dashes = strings.NewReplacer("–", "-", "—", "-", "−", "-", "‑", "-")

// squash makes text comparable: small letters, single spaces, one way to write a range.
func squash(text string) string {
	text = dashes.Replace(strings.ToLower(strings.Join(strings.Fields(text), " ")))
	return span.ReplaceAllString(text, "$1-$2")
}

func trimStop(text string) string { return strings.TrimRight(text, ".") }
