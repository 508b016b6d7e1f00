package slack

import (
	"cmp"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	sdk "github.com/slack-go/slack"
)

// markup is text that is safe to hand to Slack. Only escape makes it from
// outside text, and only the functions in this file add to it, so no angle
// bracket that we did not write can reach the channel, and with none there is no
// calling a channel or a person and no disguised link.
type markup string

// shortcode matches what Slack would turn into a picture, such as :100:.
var shortcode = regexp.MustCompile(`:([\pL\pN_+'-]+):`)

// quoteLine matches a > that would open a quotation and vanish from sight.
var quoteLine = regexp.MustCompile(`(?m)^([ \t]*)>`)

// edge matches an underscore at the edge of a word, where it would set italics.
var edge = regexp.MustCompile(`(^|[^\pL\pN_])_|_($|[^\pL\pN_])`)

// lookalikes stand in for characters that Slack would read as formatting. They
// read the same: a minus, a multiplication or an "about" must not vanish.
var lookalikes = strings.NewReplacer("*", "\u2217", "~", "\u223c", "`", "'")

// escapes are the service's own.
var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// escape makes text from outside safe and keeps how it reads.
func escape(text string) markup {
	text = lookalikes.Replace(clean(text))
	if strings.Contains(text, ">") {
		text = quoteLine.ReplaceAllString(text, "${1}\uff1e")
	}
	if strings.Count(text, ":") > 1 {
		text = shortcode.ReplaceAllString(text, ":${1}\u2236")
	}
	for strings.Contains(text, "_") && edge.MatchString(text) {
		text = edge.ReplaceAllString(text, "${1}\u02cd${2}")
	}
	return markup(escapes.Replace(text))
}

// clean drops control characters and what would turn the reading direction, and
// mends broken UTF-8.
func clean(text string) string {
	text = strings.ToValidUTF8(text, "\ufffd")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r == '\u2028' || r == '\u2029' || r == '\v' || r == '\f':
			return '\n'
		case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
			return -1
		}
		return r
	}, text)
}

// bold sets one line in bold; several lines or none stay as they are.
func bold(m markup) markup {
	trimmed := strings.TrimSpace(string(m))
	if trimmed == "" || strings.Contains(trimmed, "\n") {
		return m
	}
	return "*" + markup(trimmed) + "*"
}

// channelID matches the ids of channels, public and private, and no other reference.
var channelID = regexp.MustCompile(`^[CG][A-Z0-9]+$`)

// channelName is a channel by its name, which leads to it; false for anything else,
// such as the direct messages of a person.
func channelName(id string) (markup, bool) {
	return markup("<#" + id + ">"), channelID.MatchString(id)
}

// size is the length as the service counts it.
func (m markup) size() int { return utf8.RuneCountInString(string(m)) }

// object is the markup as a text object. verbatim keeps Slack from turning
// names and addresses in it into references.
func (m markup) object() *sdk.TextBlockObject {
	return &sdk.TextBlockObject{Type: sdk.MarkdownType, Text: string(m), Verbatim: true}
}

// label is a short plain text, such as the words on a button, of at most limit
// characters. It is shown as it stands, so it only loses what could be mistaken
// for a reference.
func label(text string, limit int) *sdk.TextBlockObject {
	text = strings.Join(strings.Fields(clean(text)), " ")
	text = strings.ReplaceAll(text, "<", "\uff1c")
	off := false
	return &sdk.TextBlockObject{Type: sdk.PlainTextType, Text: shorten(cmp.Or(text, "-"), limit), Emoji: &off}
}

// shorten cuts a label at a word's end and marks the cut.
func shorten(text string, limit int) string {
	if utf8.RuneCountInString(text) <= limit {
		return text
	}
	kept := string([]rune(text)[:limit-1])
	if space := strings.LastIndexByte(kept, ' '); space > len(kept)/2 {
		kept = kept[:space]
	}
	return kept + "\u2026"
}
