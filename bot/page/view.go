package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"mortarboard/bot/talk"
)

// A pageView is all that a template shows.
type pageView struct {
	Title    string
	Practice string
	Token    string
	Limit    int   // characters of a question
	Draft    draft // the case that the form goes on with, and what stands in it
	Intro    *introView
	Newest   *cardView
	Earlier  []cardView
	Trouble  *trouble
	Caution  string // beside a trouble
}

// An introView is what stands where there is no card yet.
type introView struct {
	Parts   []part
	Choices []choice
}

// A cardView is a card made ready.
type cardView struct {
	Case     string
	N        int
	Question string // empty if it was not kept
	Kind     string
	At       string
	AtExact  string // for machines
	Stamp    stamp
	Headline []string
	Notices  []string
	Parts    []part
	Folded   []part
	Pictures []picture
	Look     bool // the pictures are the answer and come first
	Entries  []string
	Caution  string
}

// A placed part knows where its questions are sent, and whether they still are.
type placed struct {
	part
	Live        bool
	Token, Case string
}

// Live places a part where its questions have buttons.
func (p pageView) Live(q part) placed {
	return placed{part: q, Live: true, Token: p.Token, Case: p.Draft.Case}
}

// Still places a part where its questions can only be read.
func (p pageView) Still(q part) placed { return placed{part: q} }

// Asking places the questions of an empty page.
func (p pageView) Asking(c []choice) placed { return p.Live(part{Asks: c}) }

type picture struct{ Address, Alt string }

func (s *site) page(title string) pageView {
	if s.o.Practice != "" {
		title += " · " + s.o.Practice
	}
	return pageView{Title: title, Practice: s.o.Practice, Limit: questionLimit}
}

func (s *site) emptyPage() pageView {
	p := s.page("New case")
	given := s.o.Intro()
	p.Intro = &introView{Choices: choices(given.Choices)}
	for _, section := range given.Sections {
		p.Intro.Parts = append(p.Intro.Parts, partOf(section, nil))
	}
	return p
}

func (s *site) casePage(f *file) pageView {
	cards := s.store.cards(f)
	if len(cards) == 0 {
		p := s.emptyPage()
		p.Draft.Case = f.id
		return p
	}
	newest := s.viewOf(f, cards[0])
	p := s.page(newest.title())
	p.Draft.Case = f.id
	p.Newest = &newest
	for _, c := range cards[1:] {
		p.Earlier = append(p.Earlier, s.viewOf(f, c))
	}
	return p
}

func (s *site) sheetPage(f *file, c card) pageView {
	v := s.viewOf(f, c)
	p := s.page("Sheet, " + v.title())
	p.Draft.Case = f.id
	v = v.forTheRoom()
	p.Newest = &v
	return p
}

func (s *site) troublePage(t *trouble) pageView {
	p := s.page("Not done")
	p.Trouble, p.Caution = t, standingCaution
	if t.Draft != nil {
		p.Draft = *t.Draft
	}
	return p
}

// title tells windows apart without the question in it: titles stay in the
// browser's history.
func (v cardView) title() string {
	title := v.Kind
	if v.Stamp.Word != "" {
		title += ": " + v.Stamp.Word
	}
	return fmt.Sprintf("%s · card %d", title, v.N)
}

func (s *site) viewOf(f *file, c card) cardView {
	r := c.Reply
	v := cardView{
		Case: f.id, N: c.N, Question: c.Question, Kind: kindLabel(r.Kind), Stamp: stampOf(r),
		At: dayAndTime(c.At), AtExact: c.At.Format(time.RFC3339),
		Headline: headline(r), Notices: notices(r),
		Pictures: pictures(f.id, c), Look: r.Kind != talk.KindPlan, Entries: r.Entries, Caution: cmp.Or(r.Caution, standingCaution),
	}
	v.Parts, v.Folded = partsOf(r)
	v.nameSteps()
	return v
}

// nameSteps gives each step a name of its own on the page, for its tick box.
func (v *cardView) nameSteps() {
	for _, list := range [][]part{v.Parts, v.Folded} {
		for _, p := range list {
			for i := range p.Steps {
				p.Steps[i].ID = fmt.Sprintf("card-%d-step-%d", v.N, i+1)
			}
		}
	}
}

// headline is the answer in short, or without one the whole text less the
// caution, which has its own place.
func headline(r talk.Reply) []string {
	if r.Headline != "" {
		return []string{r.Headline}
	}
	text := r.Text
	if r.Caution != "" {
		text = strings.TrimSuffix(strings.TrimSpace(text), r.Caution)
	}
	var out []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// notices are a reply's notices, less one that only repeats the headline.
func notices(r talk.Reply) []string {
	return slices.DeleteFunc(slices.Clone(r.Notices), func(n string) bool { return n == r.Headline })
}

// pictures are addresses rather than drawings set into the page: a drawing that
// carries style or script of its own stays shut in its picture.
func pictures(id string, c card) []picture {
	var out []picture
	for i, p := range c.Reply.Pictures {
		format := "svg"
		if len(p.SVG) == 0 {
			format = "png"
		}
		out = append(out, picture{Address: fmt.Sprintf("/case/%s/%d/picture/%d.%s", id, c.N, i, format), Alt: p.Alt})
	}
	return out
}

// forTheRoom is a card less what is not needed at the chair: where there are
// steps, the reasons, folded detail and pictures stay on the card; what is taken for
// granted goes along.
func (v cardView) forTheRoom() cardView {
	all := slices.Concat(v.Parts, v.Folded)
	steps := slices.IndexFunc(all, func(p part) bool { return len(p.Steps) > 0 })
	if steps < 0 {
		return v
	}
	v.Parts = slices.DeleteFunc(slices.Clone(v.Parts), func(p part) bool { return len(p.Reasons) > 0 || len(p.Steps) > 0 })
	v.Parts = append(v.Parts, all[steps])
	v.Folded = slices.DeleteFunc(slices.Clone(v.Folded), func(p part) bool { return !p.Assumes })
	v.Pictures, v.Entries = nil, nil
	return v
}
