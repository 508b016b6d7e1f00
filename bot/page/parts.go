package page

import (
	"slices"
	"strings"
	"unicode"

	"mortarboard/bot/talk"
)

// A reply says much of itself twice: as sections for surfaces that show text,
// and as lists (steps, reasons, values, choices, facts) for those that can do
// more with them. Here the two are brought together: a section that restates a
// list gives its place, title and wording to the richer form, and what its lines
// say beyond the list is kept. No line of a section is lost.

// A part is one titled piece of an answer. Notes are lines of its section that
// fit none of its other forms.
type part struct {
	Title   string
	Fold    bool
	Assumes bool // it stands on the sheet, too
	Lines   []item
	Facts   []fact
	Known   bool // the facts are what was said, not what is presumed
	Reasons []reason
	Steps   []step
	Values  []setting
	Asks    []choice
	Notes   []string
}

// A fact is something said of the case, with the values still possible.
type fact struct{ Name, Values string }

// Ordered reports whether every line of the part brought its number.
func (p part) Ordered() bool {
	return len(p.Lines) > 0 && !slices.ContainsFunc(p.Lines, func(i item) bool { return i.N == 0 && !i.Below })
}

// Count is how many steps there are to tick.
func (p part) Count() int { return len(p.Steps) }

// A list is something a reply brings as data, which a section may restate.
type list struct {
	phrases []string // one for each of its items, with which its line begins
	within  bool     // the phrase stands somewhere in the line
	title   string   // if no section restates it
	fold    bool     // likewise
	fill    func(p *part, said []saying)
	taken   bool
}

// A saying is a line of a section, and the item of a list that it says, or -1.
type saying struct {
	item
	of int
}

// partsOf are a reply's pieces in reading order: its sections, with what restates
// a list in its place, and then the lists that no section restates.
func partsOf(r talk.Reply) (shown, folded []part) {
	lists := listsOf(r)
	var all []part
	known := len(r.Case) == 0
	for _, s := range r.Sections {
		if onlyRests(s, r.Values) {
			continue
		}
		p := partOf(s, lists)
		p.Known = !known && namesAll(s, r.Case)
		known = known || p.Known
		all = append(all, p)
	}
	if !known {
		all = slices.Insert(all, 0, casePart(r.Case))
	}
	for _, l := range lists {
		if !l.taken && len(l.phrases) > 0 {
			all = place(all, l.alone())
		}
	}
	for _, p := range all {
		if p.Fold {
			folded = append(folded, p)
		} else {
			shown = append(shown, p)
		}
	}
	return shown, folded
}

// alone is a list as a part of its own.
func (l *list) alone() part {
	p := part{Title: l.title, Fold: l.fold}
	l.fill(&p, nil)
	return p
}

// place puts a part where it reads best: questions before the reasons, since
// their answers may turn them, all else behind.
func place(all []part, p part) []part {
	at := len(all)
	if len(p.Asks) > 0 {
		reasons := slices.IndexFunc(all, func(q part) bool { return len(q.Reasons)+len(q.Steps)+len(q.Values) > 0 })
		if reasons >= 0 {
			at = reasons
		}
	}
	return slices.Insert(all, at, p)
}

// partOf is a section as a part, in the form of the list it restates.
func partOf(s talk.Section, lists []*list) part {
	p := part{Title: s.Title, Fold: s.Fold, Assumes: s.Assumes}
	items := itemsOf(s.Lines)
	for _, l := range lists {
		if said, ok := l.restatedBy(items); ok {
			l.taken = true
			l.fill(&p, said)
			return p
		}
	}
	if facts, rest, ok := pairs(items); ok {
		p.Facts, p.Notes = facts, rest
		return p
	}
	p.Lines = items
	return p
}

// restatedBy reports whether lines say most of a list, and for each line which
// of its items.
func (l *list) restatedBy(items []item) (said []saying, ok bool) {
	found := map[int]bool{}
	for _, it := range items {
		of := slices.IndexFunc(l.phrases, func(phrase string) bool {
			return begins(it.Text, phrase) || l.within && says(it.Text, phrase)
		})
		found[of] = true
		said = append(said, saying{item: it, of: of})
	}
	delete(found, -1)
	return said, !l.taken && 2*len(found) > len(l.phrases)
}

// Sizes up to which a line counts as a pair: "zirconia grade: 4Y or 5Y".
const (
	pairName = 48
	pairSize = 96
)

// pairs reads lines of name and value; a line of another sort among them is a
// note.
func pairs(items []item) (facts []fact, notes []string, ok bool) {
	for _, it := range items {
		name, values, cut := strings.Cut(it.Text, ": ")
		sentence := strings.HasSuffix(values, ".") || strings.ContainsFunc(name, unicode.IsDigit)
		if cut && it.N == 0 && len(name) <= pairName && len(it.Text) <= pairSize && !sentence {
			facts = append(facts, fact{Name: name, Values: values})
		} else {
			notes = append(notes, it.Text)
		}
	}
	return facts, notes, len(facts) > 0 && len(notes) <= len(facts)
}

// An item is one line of a section.
type item struct {
	N     int // its number if it brought one, else 0
	Text  string
	Head  bool // it only announces the lines below it
	Below bool // it belongs to the line above it
}

// itemsOf reads a section's lines: bullets go, numbers are kept apart.
func itemsOf(text []string) []item {
	var items []item
	for line := range strings.Lines(strings.Join(text, "\n")) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		n, rest := number(line)
		items = append(items, item{N: n, Text: rest, Head: heading(line), Below: len(items) > 0 && strings.TrimLeft(line, " \t") != line})
	}
	return items
}

// heading reports whether a line only announces what follows.
func heading(line string) bool { return strings.HasSuffix(strings.TrimSpace(line), ":") }

// number cuts the number off a numbered line such as "3. prime"; 0 if it has none.
func number(line string) (n int, rest string) {
	line = strings.TrimSpace(line)
	digits := 0
	for digits < len(line) && digits < 3 && line[digits] >= '0' && line[digits] <= '9' {
		n = 10*n + int(line[digits]-'0')
		digits++
	}
	for _, mark := range []string{". ", ") "} {
		if rest, ok := strings.CutPrefix(line[digits:], mark); ok && n > 0 {
			return n, strings.TrimSpace(rest)
		}
	}
	return 0, unbullet(line)
}

func unbullet(line string) string {
	line = strings.TrimSpace(line)
	for _, bullet := range []string{"• ", "- ", "* ", "– "} {
		if rest, ok := strings.CutPrefix(line, bullet); ok {
			return strings.TrimSpace(rest)
		}
	}
	return line
}
