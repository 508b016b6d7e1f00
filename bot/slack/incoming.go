package slack

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// reference matches what the service writes between angle brackets.
var reference = regexp.MustCompile(`<([^<>|]*)(?:\|([^<>]*))?>`)

// typed undoes escapes, and what a keyboard or a copied text puts in place of
// plain spaces, hyphens and quotes.
var typed = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&",
	"\u00a0", " ", "\u202f", " ", "\u2011", "-", "\u2018", "'", "\u2019", "'", "\u201c", `"`, "\u201d", `"`)

// plainText is what a person said: our own mention gone, links and channel names
// as their words, other people as "someone", the service's escapes undone.
func plainText(text, me string) string {
	text = reference.ReplaceAllStringFunc(text, func(ref string) string {
		parts := reference.FindStringSubmatch(ref)
		return spoken(parts[1], parts[2], me)
	})
	return strings.TrimSpace(typed.Replace(text))
}

// spoken is one reference in words.
func spoken(target, label, me string) string {
	switch {
	case target == "@"+me:
		return ""
	case strings.HasPrefix(target, "@"):
		return "someone"
	case strings.HasPrefix(target, "!"):
		return ""
	case strings.HasPrefix(target, "#"):
		return "#" + label
	}
	return cmp.Or(label, target)
}

// earlier reports whether a message's time stamp is before another's.
func earlier(a, b string) bool {
	if x, y := stampTime(a), stampTime(b); !x.Equal(y) {
		return x.Before(y)
	}
	_, first, _ := strings.Cut(a, ".")
	_, second, _ := strings.Cut(b, ".")
	return first < second
}

// stampTime is the time in a message's time stamp, "seconds.serial"; the zero
// time if it is malformed.
func stampTime(stamp string) time.Time {
	seconds, _, _ := strings.Cut(stamp, ".")
	n, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil {
		return time.Time{}
	}
	return time.Unix(n, 0)
}
