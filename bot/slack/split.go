package slack

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// splitMarkup cuts text into pieces of at most limit characters: at line ends if
// it can, else at sentence ends. Only a sentence that is longer than a whole piece
// is cut between words. Nothing is dropped but the space at a cut.
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

// nextWord is how many characters after the limit show whether a sentence ends there.
const nextWord = 8

// cutAt is the best byte to cut text at, within the first limit characters.
func cutAt(text string, limit int) int {
	head, more := text[:byteOffset(text, limit)], text[:byteOffset(text, limit+nextWord)]
	if i := strings.LastIndexByte(more[:min(len(head)+1, len(more))], '\n'); i > 0 {
		return i
	}
	if i := lastSentence(more, len(head)); i > 0 {
		return i
	}
	if i := strings.LastIndexByte(head, ' '); i > 0 {
		return i
	}
	return beforeEntity(head)
}

// sentenceEnd matches the end of a sentence and what begins the next one, which
// is no small letter: "e.g. the wall" goes on.
var sentenceEnd = regexp.MustCompile(`[.?!][)"'*\x{2019}\x{201d}]* +[^\s\p{Ll}]`)

// shortForm matches what ends in a full stop and ends no sentence: some short
// forms never, others not before a number.
var shortForm = regexp.MustCompile(`(?i)(^|[^\pL])((e\.g|i\.e|approx|ca|cf|vs|dr|mr|mrs|ms|prof|st|\pL)\. +\S|(no|nos|fig|min|max)\. +\d)$`)

const longestShort = len(" approx")

// lastSentence is where the last whole sentence of text ends, not after most, or 0.
func lastSentence(text string, most int) int {
	last := 0
	for _, at := range sentenceEnd.FindAllStringIndex(text, -1) {
		end := at[0] + strings.IndexByte(text[at[0]:at[1]], ' ')
		if end > most {
			break
		}
		if !shortForm.MatchString(text[max(at[0]-longestShort, 0):at[1]]) {
			last = end
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
