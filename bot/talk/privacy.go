package talk

import (
	"regexp"
	"strings"
	"unicode"
)

// An identifierKind is a way in which a message may give a patient away.
type identifierKind struct {
	says    string
	pattern *regexp.Regexp
	goods   bool // goods carry the like, too: it counts for none beside their words
}

const (
	month = `(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*`
	// parted is a full date, its parts with spaces between or without; only a label makes a date of three bare numbers.
	parted = `\d{1,2}\s?[./-]\s?\d{1,2}\s?[./-]\s?`
	day    = `(?:` + parted + `(?:\d{4}|\d{2})|\d{1,2} \d{1,2} (?:19|20)?\d{2}\b|\d{1,2}-` + month + `-\d{2,4}|\d{4}-\d{2}-\d{2}|\d{1,2}(?:st|nd|rd|th)?\s+(?:of\s+)?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?,?\s+\d{2,4}|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s+\d{1,2}(?:st|nd|rd|th)?,?\s+\d{2,4})`
	// longAgo is a full date that nothing on a shelf bears: too old for a lot or a
	// delivery, so most likely somebody's birthday.
	longAgo = `(?:^|[^\d./-])(?:` + parted + `(?:19\d{2}|200\d)|\d{1,2}[ -]` + month + `[ -](?:19\d{2}|200\d|[3-9]\d)|\d{1,2}[./-]\d{1,2}[./-](?:19\d{2}|200\d|[3-9]\d)|(?:19\d{2}|200\d)[./-]\d{1,2}[./-]\d{1,2})\b`
	about   = `\s*(?:is|was|no\.?|nr\.?|num(?:ber)?|id|#|:|-|=)*\s*`
)

// identifierKinds are looked for in order. They need a label (born, chart no.)
// or a form that nothing in this job shares (an email address, a phone number
// with its label or in groups), so that lot numbers, ISO numbers and wavelengths
// do not trip them. Bare names are not recognised; nobody can, reliably.
var identifierKinds = []identifierKind{
	{"an email address", regexp.MustCompile(`[a-z0-9._%+-]+@[a-z0-9-]+\.[a-z]{2,}`), false},
	{"an email address", regexp.MustCompile(`[a-z0-9._-]+\s*[(\[]\s*at\s*[)\]]\s*[a-z0-9-]+`), false},
	{"an email address", regexp.MustCompile(`\b[a-z0-9._-]+\s+at\s+[a-z0-9-]+\s+dot\s+[a-z]{2,}\b`), false},
	{"a date of birth", regexp.MustCompile(`\b(?:d\.?o\.?b\.?|date of birth|birth ?date|birthday|born(?: on)?|b\.|geb\.?|geboren(?: am)?|geburtsdatum|n[ée]e? le|nacid[oa](?: el)?|fecha de nacimiento|date de naissance)` + about + day), false},
	{"a date of birth", regexp.MustCompile(day + `\s*\(?(?:d\.?o\.?b\b|born|birth)`), false},
	{"a date of birth", regexp.MustCompile(longAgo), true},
	{"a date of birth", regexp.MustCompile(`\bborn\s+(?:in\s+)?(?:19|20)\d{2}\b`), false},
	{"a record number", regexp.MustCompile(`\b(?:mrn|chart|record|patient|pt|pat|file|hospital|nhs|health|insurance|policy|ssn|social security|medicare|medicaid|case file|account|card)\s*(?:no\.?|nr\.?|num(?:ber)?s?|id|#|:)+` + about + `[a-z]{0,6}[- ]?\d[\d -]{2,}`), false},
	{"a record number", regexp.MustCompile(`\b(?:mrn|nhs|ssn|chart|record|patient id|pt id|passport|iban)` + about + `[a-z]{0,6}[- ]?\d[\d -]{3,}`), false},
	{"a record number", regexp.MustCompile(`\d[\d -]{4,}\s*\(?(?:hospital|chart|record|patient|nhs) (?:no|number|id)`), false},
	{"a social security number", regexp.MustCompile(`\b\d{3}-\d{2}-\d{4}\b`), false},
	{"a phone number", regexp.MustCompile(`\b(?:phone|tel|telephone|mobile|cell|call|ring|text|whatsapp|contact|reach)(?:\s+(?:her|him|them|me|is|no|number|on|at|the pt|pt|the patient|patient|mum|mom|dad|wife|husband|back))*\s*[.:#]*\s*\+?\(?\d[\d ()/.-]{5,}\d`), true},
	{"a phone number", regexp.MustCompile(`\b(?:number|no\.?) (?:is|was)\s*\+?\d[\d ()/.-]{5,}\d`), true},
	{"a phone number", regexp.MustCompile(`(?:^|[^\d.])\+\d{1,3}[ -]?\(?\d[\d ()-]{6,}\d`), true},
	{"a phone number", regexp.MustCompile(`(?:^|[^\d-])\(?0\d{2,4}\)?[ /-]\d{3,4}[ -]?\d{3,4}\b`), true},
	{"a phone number", regexp.MustCompile(`(?:^|[^\d-])\(?\d{3}\)?[ .-]\d{3}[ .-]\d{4}\b`), true},
}

// namedKinds are looked for where capitals still stand. A name needs a label or a title;
// of the people of a practice only the dentists have one that is left alone.
var namedKinds = []identifierKind{
	{"a name", regexp.MustCompile(`(?i:\b(?:(?:pt|patient|pat|her|his|their)(?:'s|s)?\s+(?:sur|first\s|last\s|full\s|family\s)?name|surname))\s*(?:[:=]\s*\p{L}{2,}|(?i:is|was)\s+(?i:spel(?:led|t)\s+)?\p{Lu})`), false},
	{"a name", regexp.MustCompile(`\b(?:(?:Mr|Ms|Herr|Frau|Mme)\.?\s+\p{Lu}|(?:mrs|MRS|Mrs)\.?\s+\p{Lu})[\p{L}'-]{2,}`), false},
	{"a name", regexp.MustCompile(`\b(?i:patient|pt)\s*:?\s+\p{Lu}\p{Ll}+\s+\p{Lu}\p{Ll}+`), false},
}

// notPatients are contexts in which a number belongs to goods, not to people.
var notPatients = regexp.MustCompile(`\b(?:lot|batch|ref|exp|expiry|expires|serial|order|invoice|supplier|hotline|support|customer service|manufacturer|helpline|lab(?:oratory)? (?:phone|number|no)|rep(?:'s)?|sales|delivery|tracking|shipment|iso|pmid|doi|astm|part)\b`)

// maxSearched is how many bytes of a message are searched for an identifier: more
// than any surface lets through, and far more than is read of it.
const maxSearched = 200_000

// identifier names what in a message may identify a patient, or nothing. It
// looks at the text alone and keeps nothing of it. It searches beyond what is
// read, since a message is kept by the channel as a whole.
func identifier(text string) string {
	s := plain(text[:min(len(text), maxSearched)])
	for _, kind := range namedKinds {
		if kind.pattern.MatchString(s) {
			return kind.says
		}
	}
	s = strings.ToLower(s)
	for _, kind := range identifierKinds {
		for _, at := range kind.pattern.FindAllStringIndex(s, -1) {
			around := s[max(0, at[0]-40):at[0]] + s[at[0]:min(len(s), at[0]+12)]
			if !kind.goods || !notPatients.MatchString(around) {
				return kind.says
			}
		}
	}
	return ""
}

// plain writes a text in plain characters: without marks that nobody sees, and with
// the usual ones in place of wide letters and other strokes.
func plain(text string) string {
	return markFolder.Replace(strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Cf, r):
			return -1
		case r >= '\uff01' && r <= '\uff5e':
			return r - '\uff01' + '!'
		case r == '\u2044' || r == '\u2215':
			return '/'
		case r == '\u3000':
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, " ")))
}

// withheld is the answer to a message that may identify a patient: it repeats
// nothing of it.
func (t *Talk) withheld(what string) Reply {
	r := Reply{Question: withheldQuestion, Kind: KindDeclined, Private: true}
	r.Headline = t.say("private", what)
	r.Notices = []string{r.Headline}
	t.declined(DeclinedIdentifier, "")
	t.finish(&r)
	return r
}

// withheldQuestion stands in place of a question that is not repeated.
const withheldQuestion = "(withheld: it may identify a patient)"
