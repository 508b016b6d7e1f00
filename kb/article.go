package kb

import (
	"slices"
	"time"
)

// An Article is one entry of the knowledge base.
type Article struct {
	ID       string // the file's name without .md
	Title    string
	Topic    string   // one of Topics
	Asks     []string // ways staff really ask it
	Roles    []string // whom it concerns most; empty means everybody
	Related  []string // ids of articles worth reading next
	RulesOut []string // deeds to which the answer says no
	Reviewed time.Time
	By       string // who reviewed it
	Hide     bool   // in a practice's folder: takes the article of this id away
	Sections []Section
	File     string // where it was read from, as messages name it

	more  []moreAsks     // further asks, from files beside the articles
	lines map[string]int // front matter key, or "asks/0", to its line in File
}

// A Section is one titled part of an article.
type Section struct {
	Title  string // Answer, Why, How, Limits or Disagreements
	Line   int
	Blocks []Block
}

// A BlockKind tells running text from list items.
type BlockKind int

// The kinds of block.
const (
	Paragraph BlockKind = iota
	Bullet
	Step // a numbered item
)

// A Block is one paragraph or list item, cut into text, tags and references.
type Block struct {
	Kind   BlockKind
	Number int // of a Step, as written
	Line   int
	Parts  []Part
}

// A Part is a stretch of text, or a Tag, or a Reference, or a link to another
// article; exactly one of them is set.
type Part struct {
	Text string
	Tag  *Tag
	Ref  *Reference
	Link *Link
	Line int
}

// A Link points at another article from within a text.
type Link struct {
	Text string
	ID   string
}

// A Basis says what a claim rests on.
type Basis string

// The bases a tag may name.
const (
	Published      Basis = "published"       // named sources that were seen
	Inferred       Basis = "inferred"        // follows from named sources, stated by none
	CommonPractice Basis = "common practice" // a fact of the trade, without a source
	FromMemory     Basis = "from memory"     // recalled, not verified
	Computed       Basis = "computed"        // by a formula whose origin is named
	HouseRule      Basis = "house rule"      // the practice's own: who approved it, and when
)

// A Tag gives the basis of the text before it.
type Tag struct {
	Basis   Basis
	Sources []string // source ids (Published, Inferred, FromMemory)
	Origin  string   // free text (Computed, HouseRule)
}

// A Reference stands for a setting that the planner owns.
type Reference struct {
	Key        string            // "task.name", e.g. "abrasion.pressure"
	Conditions map[string]string // fact to value, e.g. "zirconia" to "3Y"
	Written    string            // as it stands in the file, braces included
}

// Topics returns the topics an article may have, as the work goes.
func Topics() []string {
	return []string{
		"materials", "choosing", "preparation", "moisture", "provisional", "laboratory", "try-in",
		"cleaning", "abrasion", "priming", "adhesives", "cements", "mixing", "seating", "excess",
		"light", "occlusion", "adjusting", "polishing", "implants", "bridges", "partial-coverage",
		"re-cementation", "removal", "troubleshooting", "records", "shade", "safety", "storage",
		"infection-control", "glossary", "first-week",
	}
}

// Roles returns the roles an article may name.
func Roles() []string {
	return []string{"assistant", "hygienist", "front desk", "laboratory runner", "dentist"}
}

// sectionTitles are the headings in the order in which they must stand; the
// last one is optional.
func sectionTitles() []string {
	return []string{"Answer", "Why", "How", "Limits", "Disagreements"}
}

// Section returns the section of that title.
func (a *Article) Section(title string) (Section, bool) {
	i := slices.IndexFunc(a.Sections, func(s Section) bool { return s.Title == title })
	if i < 0 {
		return Section{}, false
	}
	return a.Sections[i], true
}

// line returns the line of a front matter key, or 1 when it is not written.
func (a *Article) line(key string) int {
	if n, ok := a.lines[key]; ok {
		return n
	}
	return 1
}
