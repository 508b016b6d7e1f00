package slack

import (
	"strings"
	"unicode/utf8"
)

// splitMarkup cuts text into pieces of at most limit characters: at line ends if
// it can, else at sentence ends, else between words. Nothing is dropped but the
// space at a cut.
func splitMarkup(m markup, limit int) []markup {
	var pieces []markup
	rest := string(m)
	for utf8.RuneCountInString(rest) > limit {
		cut := cutAt(rest, limit)
		pieces = appendText(pieces, rest[:cut])
		rest = strings.TrimLeft(rest[cut:], " \n")
	}
	return appendText(pieces, rest)
}

func appendText(pieces []markup, text string) []markup {
	text = strings.TrimRight(text, " \n")
	if strings.TrimSpace(text) == "" {
		return pieces
	}
	return append(pieces, markup(text))
}

// cutAt is the best byte to cut text at, within the first limit characters.
func cutAt(text string, limit int) int {
	head := text[:byteOffset(text, limit)]
	if i := strings.LastIndexByte(head, '\n'); i > 0 {
		return i
	}
	if i := lastSentence(head); i > 0 {
		return i
	}
	if i := strings.LastIndexByte(head, ' '); i > 0 {
		return i
	}
	return beforeEntity(head)
}

// lastSentence is where the last whole sentence of text ends, or 0.
func lastSentence(text string) int {
	last := 0
	for _, end := range []string{". ", "? ", "! ", "; "} {
		if i := strings.LastIndex(text, end); i >= 0 {
			last = max(last, i+1)
		}
	}
	return last
}

// beforeEntity is the end of text, or before an escape such as &amp; that the
// end may have torn.
func beforeEntity(text string) int {
	const longest = len("&amp;")
	if i := strings.LastIndexByte(text, '&'); i > 0 && len(text)-i < longest && !strings.Contains(text[i:], ";") {
		return i
	}
	return len(text)
}

// byteOffset is where the first n characters of text end.
func byteOffset(text string, n int) int {
	for i := range text {
		if n == 0 {
			return i
		}
		n--
	}
	return len(text)
}
