package planner

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

type cardEntry struct {
	ID        string            `yaml:"id"`
	For       []string          `yaml:"for"`
	Ask       string            `yaml:"ask"`
	Case      conditions        `yaml:"case"`
	Depends   bool              `yaml:"depends"`
	Setting   string            `yaml:"setting"`
	Order     map[string]string `yaml:"order"`
	After     string            `yaml:"after"`
	Statement string            `yaml:"statement"`
	Exclusion string            `yaml:"exclusion"`
	Article   string            `yaml:"article"`
	Right     string            `yaml:"right"`
	Wrong     []string          `yaml:"wrong"`
	Read      []string          `yaml:"read"`
}

// cards reads learning.yaml, after the rules that the cards hang on.
func (r *reader) cards() {
	var file struct {
		Roles []*Role     `yaml:"roles"`
		Cards []cardEntry `yaml:"cards"`
	}
	places := r.read("learning.yaml", &file)
	seen := map[string]string{}
	for i, role := range file.Roles {
		role.Where = places["roles"][i]
		r.unique(seen, role.Name, role.Where)
		r.wanted(role.Where, map[string]string{"name": role.Name, "page": role.Page, "says": strings.Join(role.Says, "")})
	}
	r.book.Roles = file.Roles
	seen = map[string]string{}
	for i, in := range file.Cards {
		where := places["cards"][i]
		r.unique(seen, in.ID, where)
		r.book.Cards = append(r.book.Cards, r.card(in, where))
	}
}

// cardID is what an id of a card may be, since people type it.
var cardID = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// cardIDMost is the greatest length of a card's id.
const cardIDMost = 40

func (r *reader) card(in cardEntry, where string) *Card {
	c := &Card{
		ID: in.ID, Where: where, For: in.For, Ask: in.Ask, Read: in.Read, Depends: in.Depends,
		Key: in.Setting, After: in.After, Article: in.Article, Right: in.Right, Wrong: in.Wrong,
	}
	if !cardID.MatchString(in.ID) || len(in.ID) > cardIDMost {
		r.problem(where, "id %q: write at most %d small letters and digits, with hyphens between", in.ID, cardIDMost)
	}
	r.wanted(where, map[string]string{"ask": in.Ask})
	r.cardFor(c)
	r.cardCase(c, in)
	for _, step := range sortedKeys(in.Order) {
		c.Order = append(c.Order, CardStep{step, in.Order[step]})
	}
	if kinds := r.cardKinds(c, in); kinds != 1 {
		r.problem(where, "%s asks for %d things: give a case alone, or one of setting, order, statement, exclusion, article", in.ID, kinds)
		return c
	}
	r.cardAnswers(c)
	return c
}

// cardKinds finds the row that a card rests on, and counts what it asks for.
func (r *reader) cardKinds(c *Card, in cardEntry) int {
	n := 0
	for _, named := range []string{in.Setting, in.Statement, in.Exclusion, in.Article} {
		if named != "" {
			n++
		}
	}
	if in.Order != nil {
		n++
	}
	if in.Case != nil && n == 0 {
		n = 1
	}
	if in.Statement != "" {
		r.restsOnStatement(c, in.Statement)
	}
	if in.Exclusion != "" {
		r.restsOnExclusion(c, in.Exclusion)
	}
	return n
}

func (r *reader) restsOnStatement(c *Card, id string) {
	i := slices.IndexFunc(r.book.Statements, func(s *Statement) bool { return s.ID == id })
	c.Rests = &CardRow{ID: id}
	if i < 0 {
		r.problem(c.Where, "no statement of safety.yaml is called %q", id)
		return
	}
	c.Rests.Says, c.Rests.Provenance = r.book.Statements[i].Says, r.book.Statements[i].Provenance
}

func (r *reader) restsOnExclusion(c *Card, id string) {
	i := slices.IndexFunc(r.book.Exclusions, func(x *Exclusion) bool { return x.ID == id })
	c.Rests = &CardRow{ID: id}
	if i < 0 {
		r.problem(c.Where, "no row of exclusions.yaml is called %q", id)
		return
	}
	c.Rests.Says, c.Rests.Provenance = r.book.Exclusions[i].Because, r.book.Exclusions[i].Provenance
}

// cardFor checks for whom the card is; without a word it is for everybody.
func (r *reader) cardFor(c *Card) {
	var all []string
	for _, role := range r.book.Roles {
		all = append(all, role.Name)
	}
	for _, name := range c.For {
		if !slices.Contains(all, name) {
			r.problem(c.Where, "no role is called %q: allowed are %s", name, strings.Join(all, ", "))
		}
	}
	if len(c.For) == 0 {
		c.For = all
	}
}

func (r *reader) cardCase(c *Card, in cardEntry) {
	known := map[string][]string{}
	for fact, values := range in.Case {
		known[fact] = values
	}
	var err error
	if c.Case, err = r.book.Case(known); err != nil {
		r.problem(c.Where, "%s: %w", c.ID, err)
		c.Case = r.book.NewCase()
	}
	if c.Depends && c.Kind() != AsksStrategy {
		r.problem(c.Where, "depends belongs to a card that asks for a strategy")
	}
}

// cardAnswers checks the answers of a card, by what it asks for.
func (r *reader) cardAnswers(c *Card) {
	switch c.Kind() {
	case AsksSetting:
		r.settingCard(c)
	case AsksOrder:
		r.orderCard(c)
	case AsksSafety:
		r.wanted(c.Where, map[string]string{"right": c.Right})
		if len(c.Case.Facts()) > 0 {
			r.problem(c.Where, "a card that hangs on a sentence has no case: write it into ask")
		}
		r.cardLabels(c, append([]string{c.Right}, c.Wrong...))
	case AsksStrategy:
		r.noWords(c, c.Wrong)
	}
	if c.After != "" && c.Kind() != AsksOrder {
		r.problem(c.Where, "after belongs to a card with an order")
	}
}

// noWords refuses answers in a card whose answer the rules give.
func (r *reader) noWords(c *Card, wrong []string) {
	if c.Right != "" || wrong != nil {
		r.problem(c.Where, "the rules answer this card: take right and wrong away")
	}
}

func (r *reader) settingCard(c *Card) {
	if c.Right != "" {
		r.problem(c.Where, "parameters.yaml gives the right answer: take right away")
	}
	settings := r.book.Settings(r.book.Usual(c.Case), c.Key)
	if len(settings) == 0 {
		r.problem(c.Where, "no setting %q can apply to its case", c.Key)
	}
	for _, p := range settings {
		if p.Bound() == Reported {
			r.problem(c.Where, "%s passes and fails nothing: nothing can be asked of it", p.ID)
		}
	}
	r.figuresOff(c, settings)
}

// figuresOff reads the wrong values of a setting; each must be a fault.
func (r *reader) figuresOff(c *Card, settings []*Parameter) {
	for _, text := range c.Wrong {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !finite(x) {
			r.problem(c.Where, "wrong %q: write a number in the setting's unit, without the unit", text)
			continue
		}
		for _, p := range settings {
			if p.Bound() != Reported && p.Judge(x) != Outside {
				r.problem(c.Where, "wrong %s is not outside %s of %s: choose another", text, p, p.ID)
			}
		}
		if slices.Contains(c.off, x) {
			r.problem(c.Where, "wrong %s stands twice", text)
		}
		c.off = append(c.off, x)
	}
	if len(c.off) < cardWrongLeast {
		r.problem(c.Where, "%d wrong answers: give at least %d", len(c.off), cardWrongLeast)
	}
}

func (r *reader) orderCard(c *Card) {
	r.noWords(c, c.Wrong)
	var labels, steps []string
	for _, o := range c.Order {
		labels, steps = append(labels, o.Label), append(steps, o.Step)
	}
	if slices.Contains(steps, c.After) {
		r.problem(c.Where, "step %q stands under after and under order", c.After)
	}
	if c.After != "" {
		steps = append(steps, c.After)
	}
	for _, id := range steps {
		if !slices.ContainsFunc(r.book.Steps, func(s *Step) bool { return s.ID == id }) {
			r.problem(c.Where, "no step is called %q", id)
		}
	}
	r.cardLabels(c, labels)
}

// How many answers a card has, and how long one is: it stands on a button.
const (
	cardWrongLeast  = 2
	cardAnswersMost = 5
	cardLabelMost   = 75 // characters
)

func (r *reader) cardLabels(c *Card, labels []string) {
	if n := len(labels); n <= cardWrongLeast || n > cardAnswersMost {
		r.problem(c.Where, "%d answers: give %d to %d in all", n, cardWrongLeast+1, cardAnswersMost)
	}
	for i, label := range labels {
		switch n := utf8.RuneCountInString(label); {
		case n > cardLabelMost || label == "":
			r.problem(c.Where, "the answer %q has %d characters: 1 to %d are allowed", label, n, cardLabelMost)
		case !unicode.IsUpper([]rune(label)[0]):
			r.problem(c.Where, "the answer %q begins small: if a comma parted it from another, put both into one pair of quotes", label)
		}
		if slices.ContainsFunc(labels[:i], func(other string) bool { return strings.EqualFold(other, label) }) {
			r.problem(c.Where, "the answer %q stands twice", label)
		}
	}
}
