package kb

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
)

// What the checker holds articles to.
const (
	reviewYears = 2   // an article must be read through again after so many years
	longAnswer  = 480 // characters; an answer longer than that is no two-line answer
)

// Check lints all articles: what Load cannot see in one file alone, and what
// needs the planner's numbers, the sources or the date. Problems come in the
// order of files and lines.
func (b *Base) Check(today time.Time, refs References) []Problem {
	c := &checker{base: b, today: today, refs: refs, problems: slices.Clone(b.loose)}
	for _, a := range b.articles {
		c.page = &page{file: a.File}
		c.links(a)
		c.review(a)
		c.rendering(a)
		c.shape(a)
		c.texts(a)
		c.problems = append(c.problems, c.page.problems...)
	}
	c.rulings()
	c.doubles()
	c.findable()
	sortProblems(c.problems)
	return c.problems
}

// A checker goes through a base; page is the article at hand.
type checker struct {
	base     *Base
	today    time.Time
	refs     References
	page     *page
	problems []Problem
}

// look adds a problem that somebody should look at.
func (c *checker) look(line int, mend, format string, args ...any) {
	c.page.add(line, mend, format, args...)
	c.page.problems[len(c.page.problems)-1].Level = Look
}

func (c *checker) links(a *Article) {
	for i, id := range a.Related {
		c.link(a, id, a.line(fmt.Sprintf("related/%d", i)))
	}
	for part := range a.parts() {
		if part.Link != nil {
			c.link(a, part.Link.ID, part.Line)
		}
	}
}

func (c *checker) link(a *Article, id string, line int) {
	switch _, ok := c.base.byID[id]; {
	case id == a.ID:
		c.page.add(line, "take it out", "article links to itself")
	case !ok:
		c.page.add(line, "name an existing article, or take the link out", "link to %q, which does not exist", id)
	}
}

func (c *checker) review(a *Article) {
	due := a.Reviewed.AddDate(reviewYears, 0, 0)
	switch {
	case a.Reviewed.After(c.today):
		c.page.add(a.line("reviewed"), "write the day it was read through", "reviewed on %s, which is still to come", a.Reviewed.Format(dateLayout))
	case due.Before(c.today):
		c.page.add(a.line("reviewed"), "read it through against its sources and set the date", "review was due on %s", due.Format(dateLayout))
	}
}

// rendering checks references and sources without writing the text.
func (c *checker) rendering(a *Article) {
	for part := range a.parts() {
		switch {
		case part.Ref != nil && c.refs.Value != nil:
			if _, err := c.refs.Value(part.Ref.Key, part.Ref.Conditions); err != nil {
				c.page.add(part.Line, "use a key and conditions of the planner's parameters", "%s does not resolve: %v", part.Ref.Written, err)
			}
		case part.Tag != nil && c.refs.Source != nil:
			c.sources(part)
		}
	}
}

func (c *checker) sources(p Part) {
	for _, id := range p.Tag.Sources {
		_, fromMemory, ok := c.refs.Source(id)
		switch {
		case !ok:
			c.page.add(p.Line, "use an id of the list of sources", "source %q is not known", id)
		case fromMemory && p.Tag.Basis == Published:
			c.page.add(p.Line, "write [from memory: "+id+"]", "source %q was never seen but is tagged published", id)
		case fromMemory && p.Tag.Basis == Inferred:
			c.look(p.Line, "write [from memory: "+id+"] unless other sources carry it", "source %q was never seen but a conclusion rests on it", id)
		}
	}
}

// shape checks that each block ends with its basis and steps count up.
func (c *checker) shape(a *Article) {
	for _, s := range a.Sections {
		step := 0
		for _, b := range s.Blocks {
			if !b.endsWithTag() {
				c.page.add(b.Line, "end it with what it rests on, e.g. [common practice]", "a %s has no basis tag at its end", b.Kind)
			}
			if b.Kind != Step {
				continue
			}
			if step++; b.Number != step {
				c.page.add(b.Line, fmt.Sprintf("number it %d", step), "step is numbered %d", b.Number)
				step = b.Number
			}
		}
		if n := s.length(); s.Title == "Answer" && n > longAnswer {
			c.look(s.Line, "say it in two or three short sentences and move the rest down", "answer has %d characters", n)
		}
	}
}

// String names the kind as messages do.
func (k BlockKind) String() string {
	return [...]string{"paragraph", "bullet item", "step"}[k]
}

func (b Block) endsWithTag() bool {
	for _, p := range slices.Backward(b.Parts) {
		if p.Tag != nil {
			return true
		}
		if p.Ref != nil || p.Link != nil || strings.Trim(p.Text, " .;") != "" {
			return false
		}
	}
	return false
}

// length counts the characters of the section's text, tags left out.
func (s Section) length() int {
	n := 0
	for _, b := range s.Blocks {
		n += len([]rune(b.plain()))
	}
	return n
}

// parts goes through all parts of all blocks.
func (a *Article) parts() func(yield func(Part) bool) {
	return func(yield func(Part) bool) {
		for _, s := range a.Sections {
			for _, b := range s.Blocks {
				for _, p := range b.Parts {
					if !yield(p) {
						return
					}
				}
			}
		}
	}
}

// doubles finds titles and asks that stand in two articles, also when they only
// differ in spelling or in words that the search takes for the same.
func (c *checker) doubles() {
	titles, asks := map[string]place{}, map[string]place{}
	for _, a := range c.base.articles {
		c.double(titles, "title", place{a, a.File, a.line("title"), a.Title})
		for _, ask := range a.allAsks() {
			c.double(asks, "ask", ask)
		}
	}
}

func (c *checker) double(first map[string]place, what string, now place) {
	var tokens []string
	for _, t := range c.base.words.analyse(now.text) {
		tokens = append(tokens, t.text)
	}
	slices.Sort(tokens)
	norm := strings.Join(slices.Compact(tokens), " ")
	old, met := first[norm]
	switch {
	case !met:
		first[norm] = now
	case old.article != now.article:
		c.problems = append(c.problems, doubled(c.base.words, what, old, now))
	}
}

func doubled(x *lexicon, what string, old, now place) Problem {
	p := Problem{File: now.file, Line: now.line, Mend: "keep it in the article that answers it and word the other one differently",
		What: fmt.Sprintf("%s %q stands in %s:%d too", what, now.text, old.file, old.line)}
	if !slices.Equal(x.words(old.text), x.words(now.text)) {
		p.Level = Look
		p.What = fmt.Sprintf("%s %q reads like %q in %s:%d", what, now.text, old.text, old.file, old.line)
	}
	return p
}

// findable asks each article's own asks and reports where another article, or
// none, is what the search gives back.
func (c *checker) findable() {
	for _, a := range c.base.articles {
		for _, ask := range a.allAsks() {
			c.page = &page{file: ask.file}
			c.find(ask)
			c.problems = append(c.problems, c.page.problems...)
		}
	}
}

func (c *checker) find(ask place) {
	result, err := c.base.Search(context.Background(), ask.text, 1)
	switch {
	case err != nil:
		c.page.add(ask.line, "mend what the error names", "ask %q cannot be searched for: %v", ask.text, err)
	case len(result.Hits) == 0:
		c.look(ask.line, "word it with words that the article uses", "ask %q finds nothing", ask.text)
	case result.Hits[0].Article != ask.article:
		c.look(ask.line, "word it so that it tells the two apart, or move it", "ask %q finds %s first", ask.text, result.Hits[0].Article.ID)
	case !result.Close:
		c.look(ask.line, "reword it, or see kb/outofscope.yaml", "ask %q would be declined: %s", ask.text, result.Why)
	}
}
