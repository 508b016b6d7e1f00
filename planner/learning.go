package planner

import (
	"fmt"
	"slices"
)

// A Role is a member of the team whose job the cards teach.
type Role struct {
	Name string   `yaml:"name"`
	Page string   `yaml:"page"` // id of the article on that member's first week
	Says []string `yaml:"says"` // how staff name the role

	Where string `yaml:"-"` // file:line
}

// A Card asks one thing of the job. What it asks for is found by the rules and
// stands nowhere in the card, so that an answer cannot outlive its rule. Only a
// card that hangs on a sentence (Rests, Article) brings its own words for it.
type Card struct {
	ID    string
	Where string   // file:line
	For   []string // names of roles
	Ask   string
	Read  []string // ids of the articles to read

	Case    Case       // what the card tells
	Depends bool       // the strategy hangs on what the card does not tell
	Key     string     // of the setting that is asked for
	Order   []CardStep // of these steps the first is asked for
	After   string     // it comes behind this step; empty: behind none
	Rests   *CardRow   // the row that the right answer rests on
	Article string     // or the article
	Right   string     // in our own words, for cards that hang on a sentence
	Wrong   []string   // likewise; of a setting, as numbers in its unit

	off []float64 // Wrong of a setting, in figures
}

// A CardStep is a step of a plan in a few words.
type CardStep struct{ Step, Label string }

// A CardRow is a sentence of the rules, with what it rests on.
type CardRow struct {
	ID   string
	Says string
	Provenance
}

// A CardKind says what a card asks for.
type CardKind string

// The kinds of card.
const (
	AsksStrategy CardKind = "case"
	AsksSetting  CardKind = "setting"
	AsksOrder    CardKind = "order"
	AsksSafety   CardKind = "safety" // what a sentence of the rules or of an article says
)

// Kind tells what the card asks for.
func (c *Card) Kind() CardKind {
	switch {
	case c.Key != "":
		return AsksSetting
	case c.Order != nil:
		return AsksOrder
	case c.Rests != nil || c.Article != "":
		return AsksSafety
	}
	return AsksStrategy
}

// Articles lists the articles that the card names.
func (c *Card) Articles() []string {
	if c.Article == "" {
		return c.Read
	}
	return append([]string{c.Article}, c.Read...)
}

// IsFor reports whether the card is one for the role; no role is all of them.
func (c *Card) IsFor(role string) bool { return role == "" || slices.Contains(c.For, role) }

// A Solution is what the rules make of a card.
type Solution struct {
	Options []string // to choose from, each once, in an order that gives nothing away
	Right   string   // one of them
	Plan    *Plan    // of a card that asks for a strategy or an order
	Setting *Parameter
	Steps   []PlannedStep // of an order, as the plan has them
}

// Strategies are the answers to a card that asks for one.
func Strategies() []Strategy { return []Strategy{Bond, Cement, Either, Depends, Stop} }

// Solve finds the answer to a card. There is none where rules of the house have
// taken away what it asks for; ok is false then.
func (b *Rulebook) Solve(c *Card) (s Solution, ok bool) {
	switch c.Kind() {
	case AsksSetting:
		return b.solveSetting(c)
	case AsksOrder:
		return b.solveOrder(c)
	case AsksSafety:
		s = Solution{Right: c.Right, Options: append([]string{c.Right}, c.Wrong...)}
		slices.Sort(s.Options)
		return s, true
	}
	s.Plan = b.Plan(c.Case)
	s.Right = string(s.Plan.Strategy)
	for _, strategy := range Strategies() {
		s.Options = append(s.Options, string(strategy))
	}
	return s, s.Plan.Conflicts == nil
}

// solveSetting offers one value within the setting among those outside it, the
// least first. What a house rule has let in is no wrong answer any more.
func (b *Rulebook) solveSetting(c *Card) (s Solution, ok bool) {
	settings := b.Settings(b.Usual(c.Case), c.Key)
	if len(settings) != 1 {
		return s, false
	}
	p := settings[0]
	figures := []float64{p.safe()}
	for _, x := range c.off {
		if p.Judge(x) == Outside {
			figures = append(figures, x)
		}
	}
	slices.Sort(figures)
	for _, x := range figures {
		s.Options = append(s.Options, p.figure(x))
	}
	s.Setting, s.Right = p, p.figure(p.safe())
	return s, len(figures) > 1
}

// safe is a figure that is surely within the setting: of a least value with two
// figures the greater one, else the lower end.
func (p *Parameter) safe() float64 {
	if p.Bound() == AtLeast {
		return p.High
	}
	return p.Low
}

// figure writes a figure of the setting with its unit.
func (p *Parameter) figure(x float64) string {
	switch {
	case x == 0 && p.String() == "never":
		return "never"
	case p.Unit == "ratio":
		return plainNumber(x)
	}
	return plainNumber(x) + " " + p.Unit
}

// solveOrder finds which of the card's steps its plan has first.
func (b *Rulebook) solveOrder(c *Card) (s Solution, ok bool) {
	s.Plan = b.Plan(c.Case)
	for _, step := range c.Order {
		s.Options = append(s.Options, step.Label)
	}
	slices.Sort(s.Options)
	behind := c.After == ""
	for _, step := range s.Plan.Steps {
		i := slices.IndexFunc(c.Order, func(o CardStep) bool { return o.Step == step.ID })
		if i >= 0 {
			s.Steps = append(s.Steps, step)
		}
		if i >= 0 && behind && s.Right == "" {
			s.Right = c.Order[i].Label
		}
		behind = behind || step.ID == c.After
	}
	return s, s.Right != "" && len(s.Steps) == len(c.Order)
}

// Card finds a card by its id.
func (b *Rulebook) Card(id string) (*Card, bool) {
	i := slices.IndexFunc(b.Cards, func(c *Card) bool { return c.ID == id })
	if i < 0 {
		return nil, false
	}
	return b.Cards[i], true
}

// AuditCards proves that every card has one answer: its case comes to one
// strategy within the presumptions, or the card says that it depends; the steps
// of an order all stand in the plan, and for certain.
func (b *Rulebook) AuditCards() []Finding {
	var found []Finding
	for _, c := range b.Cards {
		if what := b.wrongWith(c); what != "" {
			found = append(found, Finding{c.Where, "card " + c.ID + " " + what, c.Case.String()})
		}
	}
	return found
}

func (b *Rulebook) wrongWith(c *Card) string {
	s, ok := b.Solve(c)
	switch {
	case s.Plan != nil && s.Plan.Conflicts != nil:
		return "tells facts that cannot hold together: see " + s.Plan.Conflicts[0].ID
	case c.Kind() == AsksStrategy:
		return strategyFault(c, s.Plan)
	case c.Kind() == AsksOrder:
		return orderFault(c, s)
	case c.Kind() == AsksSetting && s.Setting == nil:
		return fmt.Sprintf("is answered by %d settings of %s: tell a case with exactly one", len(b.Settings(b.Usual(c.Case), c.Key)), c.Key)
	case !ok:
		return "has no answer under these rules"
	}
	return ""
}

func strategyFault(c *Card, p *Plan) string {
	switch {
	case p.Strategy == Depends && !c.Depends:
		hangs := "it has strong reasons on both sides"
		if len(p.Open) > 0 {
			hangs = "it hangs on " + p.Open[0].Name
		}
		return "comes to depends (" + hangs + "): tell it, or write depends: true"
	case c.Depends && p.Strategy != Depends:
		return fmt.Sprintf("says that it depends and comes to %s: take depends away", p.Strategy)
	}
	return ""
}

func orderFault(c *Card, s Solution) string {
	if !s.Plan.Flat() || s.Plan.Path != s.Plan.Strategy {
		return fmt.Sprintf("asks for the steps of a plan that comes to %s: tell more of the case", s.Plan.Strategy)
	}
	for _, step := range c.Order {
		i := slices.IndexFunc(s.Steps, func(p PlannedStep) bool { return p.ID == step.Step })
		switch {
		case i < 0:
			return fmt.Sprintf("names step %s, which its plan does not have", step.Step)
		case len(s.Steps[i].If) > 0:
			return fmt.Sprintf("names step %s, which hangs on %s: tell it", step.Step, s.Steps[i].If[0].Fact.Name)
		}
	}
	if s.Right == "" {
		return fmt.Sprintf("has no step behind %s", c.After)
	}
	return ""
}

// Role finds a role by its name.
func (b *Rulebook) Role(name string) (*Role, bool) {
	i := slices.IndexFunc(b.Roles, func(r *Role) bool { return r.Name == name })
	if i < 0 {
		return nil, false
	}
	return b.Roles[i], true
}

// CardsFor lists the cards for a role, in their order; no role is all of them.
func (b *Rulebook) CardsFor(role string) []*Card {
	var out []*Card
	for _, c := range b.Cards {
		if c.IsFor(role) {
			out = append(out, c)
		}
	}
	return out
}
