package talk

import (
	"regexp"
	"strings"
)

// An identifierKind is a way in which a message may give a patient away.
type identifierKind struct {
	says    string
	pattern *regexp.Regexp
}

const (
	day = `(?:\d{1,2}[./-]\d{1,2}[./-](?:\d{4}|\d{2})|\d{4}-\d{2}-\d{2}|\d{1,2}(?:st|nd|rd|th)?\s+(?:of\s+)?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?,?\s+\d{2,4}|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s+\d{1,2}(?:st|nd|rd|th)?,?\s+\d{2,4})`
	// longAgo is a full date that nothing on a shelf bears: too old for a lot or a
	// delivery, so most likely somebody's birthday.
	longAgo = `(?:^|[^\d./-])(?:\d{1,2}[./-]\d{1,2}[./-](?:19\d{2}|200\d|[3-9]\d)|(?:19\d{2}|200\d)[./-]\d{1,2}[./-]\d{1,2})\b`
	about   = `\s*(?:is|was|no\.?|nr\.?|num(?:ber)?|id|#|:|-|=)*\s*`
)

// identifierKinds are looked for in order. They need a label (born, chart no.)
// or a form that nothing in this job shares (an email address, a phone number
// with its label or in groups), so that lot numbers, ISO numbers and wavelengths
// do not trip them. Bare names are not recognised; nobody can, reliably.
var identifierKinds = []identifierKind{
	{"an email address", regexp.MustCompile(`[a-z0-9._%+-]+@[a-z0-9-]+\.[a-z]{2,}`)},
	{"an email address", regexp.MustCompile(`\b[a-z0-9._-]+\s+at\s+[a-z0-9-]+\s+dot\s+[a-z]{2,}\b`)},
	{"a date of birth", regexp.MustCompile(`\b(?:d\.?o\.?b\.?|date of birth|birth ?date|birthday|born(?: on)?|b\.|geb\.?|geboren(?: am)?|geburtsdatum|n[ée]e? le|nacid[oa](?: el)?|fecha de nacimiento|date de naissance)` + about + day)},
	{"a date of birth", regexp.MustCompile(day + `\s*\(?(?:d\.?o\.?b\b|born|birth)`)},
	{"a date of birth", regexp.MustCompile(longAgo)},
	{"a date of birth", regexp.MustCompile(`\bborn\s+(?:in\s+)?(?:19|20)\d{2}\b`)},
	{"a record number", regexp.MustCompile(`\b(?:mrn|chart|record|patient|pt|pat|file|hospital|nhs|health|insurance|policy|ssn|social security|medicare|medicaid|case file|account|card)\s*(?:no\.?|nr\.?|num(?:ber)?s?|id|#|:)+` + about + `[a-z]{0,6}[- ]?\d[\d -]{2,}`)},
	{"a record number", regexp.MustCompile(`\b(?:mrn|nhs|ssn|chart|record|patient id|pt id)` + about + `[a-z]{0,6}[- ]?\d[\d -]{3,}`)},
	{"a record number", regexp.MustCompile(`\d[\d -]{4,}\s*\(?(?:hospital|chart|record|patient|nhs) (?:no|number|id)`)},
	{"a social security number", regexp.MustCompile(`\b\d{3}-\d{2}-\d{4}\b`)},
	{"a phone number", regexp.MustCompile(`\b(?:phone|tel|telephone|mobile|cell|call|ring|text|whatsapp|contact|reach)(?:\s+(?:her|him|them|me|is|no|number|on|at|the pt|pt|the patient|patient|mum|mom|dad|wife|husband|back))*\s*[.:#]*\s*\+?\(?\d[\d ()/.-]{5,}\d`)},
	{"a phone number", regexp.MustCompile(`\b(?:number|no\.?) (?:is|was)\s*\+?\d[\d ()/.-]{5,}\d`)},
	{"a phone number", regexp.MustCompile(`(?:^|[^\d.])\+\d{1,3}[ -]?\(?\d[\d ()-]{6,}\d`)},
	{"a phone number", regexp.MustCompile(`(?:^|[^\d-])\(?0\d{2,4}\)?[ /-]\d{3,4}[ -]?\d{3,4}\b`)},
	{"a phone number", regexp.MustCompile(`(?:^|[^\d-])\(?\d{3}\)?[ .-]\d{3}[ .-]\d{4}\b`)},
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
	s := strings.ToLower(markFolder.Replace(strings.ToValidUTF8(text[:min(len(text), maxSearched)], " ")))
	for _, kind := range identifierKinds {
		for _, at := range kind.pattern.FindAllStringIndex(s, -1) {
			before := s[max(0, at[0]-40):at[0]] + s[at[0]:min(len(s), at[0]+12)]
			goods := kind.says == "a phone number" || kind.pattern.String() == longAgo
			if goods && notPatients.MatchString(before) {
				continue
			}
			return kind.says
		}
	}
	return ""
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
