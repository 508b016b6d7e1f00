package page

import (
	"cmp"
	"slices"
	"strings"

	"mortarboard/bot/talk"
)

type reason struct {
	Text, Weight, Marks, Rests string
	Notes                      []string
}

// A step is one item to tick.
type step struct {
	ID            string // unique on its page
	Surface, Text string
	Settings      []setting
	Notes         []string
	Caution       string
}

// Sourced reports whether any setting of the step names a source.
func (s step) Sourced() bool {
	return slices.ContainsFunc(s.Settings, func(v setting) bool { return v.Rests != v.Basis })
}

// A choice is an open question. Without options it is answered by typing.
type choice struct {
	Ask     string
	Options []talk.Option
}

// listsOf are a reply's lists, in the order in which they stand if no section
// gives them a place.
func listsOf(r talk.Reply) []*list {
	lists := []*list{choiceList(r)}
	for _, side := range sidesOf(r.Reasons) {
		lists = append(lists, reasonList(r, side))
	}
	return append(lists, valueList(r), stepList(r))
}

// sidesOf names what the reasons argue for, in the order they came.
func sidesOf(reasons []talk.Reason) []string {
	var sides []string
	for _, r := range reasons {
		if !slices.Contains(sides, r.For) {
			sides = append(sides, r.For)
		}
	}
	return sides
}

func reasonList(r talk.Reply, side string) *list {
	given := slices.DeleteFunc(slices.Clone(r.Reasons), func(g talk.Reason) bool { return g.For != side })
	l := &list{title: sideTitle(side)}
	for _, g := range given {
		l.phrases = append(l.phrases, g.Because)
	}
	l.fill = func(p *part, said []saying) {
		for _, g := range given {
			p.Reasons = append(p.Reasons, reason{Text: g.Because, Weight: g.Weight, Marks: weightMarks(g.Weight), Rests: rests(g.Basis, g.Source)})
		}
		p.Notes = hand(said, func(i int, line string, first bool) {
			at, g := &p.Reasons[i], given[i]
			switch more := adds(line, g.Because, g.Weight, g.Basis, g.Source); {
			case more && first:
				at.Text = line
			case more:
				at.Notes = append(at.Notes, line)
			}
		})
	}
	return l
}

// stepsAtOnce is how many steps are never folded away.
const stepsAtOnce = 3

func stepList(r talk.Reply) *list {
	l := &list{title: "Steps"}
	for _, s := range r.Steps {
		l.phrases = append(l.phrases, s.Do)
	}
	l.fill = func(p *part, said []saying) {
		for _, given := range r.Steps {
			p.Steps = append(p.Steps, step{Surface: given.Surface, Text: given.Do, Caution: given.Caution, Settings: settings(r, given.Values)})
		}
		p.Fold = p.Fold && len(p.Steps) > stepsAtOnce
		p.Notes = hand(said, func(i int, line string, first bool) {
			p.Steps[i].take(line, r.Steps[i], first)
		})
	}
	return l
}

// take puts a line of the steps' section to its step: as its text if it says
// more than the step, as the wording of one of its settings, or as a note.
func (s *step) take(line string, given talk.Step, first bool) {
	switch {
	case first && adds(line, given.Do):
		s.Text = line
	case first || word(s.Settings, given.Values, line):
	case adds(line, given.Do, given.Caution, "caution"):
		s.Notes = append(s.Notes, line)
	}
}

// choiceList is the open questions. A question that only the section asks is
// answered by typing, and keeps its place among the others.
func choiceList(r talk.Reply) *list {
	given := choices(r.Choices)
	l := &list{title: "What would settle it"}
	for _, c := range given {
		l.phrases = append(l.phrases, c.Ask)
	}
	l.fill = func(p *part, said []saying) {
		asked := map[int]bool{}
		for _, s := range said {
			switch {
			case s.of >= 0 && !asked[s.of]:
				asked[s.of] = true
				p.Asks = append(p.Asks, given[s.of])
			case strings.HasSuffix(s.Text, "?"):
				p.Asks = append(p.Asks, choice{Ask: s.Text})
			case s.of < 0:
				p.Notes = append(p.Notes, s.Text)
			}
		}
		for i, c := range given {
			if !asked[i] {
				p.Asks = append(p.Asks, c)
			}
		}
	}
	return l
}

// choices leaves out options that stand for no message.
func choices(given []talk.Choice) []choice {
	var out []choice
	for _, c := range given {
		options := slices.DeleteFunc(slices.Clone(c.Options), func(o talk.Option) bool { return strings.TrimSpace(o.Says) == "" })
		for i, o := range options {
			options[i].Label = cmp.Or(strings.TrimSpace(o.Label), o.Says)
		}
		out = append(out, choice{Ask: cmp.Or(c.Ask, c.Fact), Options: options})
	}
	return out
}

// hand gives each line to the item it says, or to the item before it; first is
// the line that says the item for the first time. It gives back what stands
// before the first item. Lines that only announce others go, since the items are
// announced already.
func hand(said []saying, take func(i int, line string, first bool)) (before []string) {
	current, seen := -1, map[int]bool{}
	for _, s := range said {
		switch {
		case s.of >= 0:
			current = s.of
			take(current, s.Text, !seen[current])
			seen[current] = true
		case s.Head:
		case current < 0:
			before = append(before, s.Text)
		default:
			take(current, s.Text, false)
		}
	}
	return before
}
