package planner

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// House holds the rules of one practice. Each names who approved it and when.
type House struct {
	Envelopes []*Envelope
	Arguments []*Argument
	Silenced  []*Silence
	Prefer    []*Preference
	pending   []pendingArgument // compiled once the rulebook is known
}

// An Approval says who stands for a rule of the house, and since when.
type Approval struct {
	By string `yaml:"by"`
	On Date   `yaml:"on"`
}

// String writes an approval the way answers show it.
func (a Approval) String() string {
	return fmt.Sprintf("house rule, approved by %s on %s", a.By, a.On.Format(time.DateOnly))
}

// An Envelope replaces the limits of one parameter.
type Envelope struct {
	Parameter string   `yaml:"parameter"` // the parameter's id
	Low       *float64 `yaml:"low"`
	High      *float64 `yaml:"high"`
	Because   string   `yaml:"because"`
	Approved  Approval `yaml:"approved"`

	where string
}

// A Silence takes an argument out of every verdict.
type Silence struct {
	Argument string   `yaml:"argument"` // the argument's id
	Because  string   `yaml:"because"`
	Approved Approval `yaml:"approved"`

	where string
	row   *Argument // the silenced argument, so that answers can say when it would have counted
}

// A Preference puts one product before others of its class.
type Preference struct {
	Product  string   `yaml:"product"`
	Because  string   `yaml:"because"`
	Approved Approval `yaml:"approved"`

	where string
}

type pendingArgument struct {
	argumentEntry `yaml:",inline"`
	Approved      Approval `yaml:"approved"`

	where string
}

func (r *reader) house() House {
	var file struct {
		Envelopes []*Envelope       `yaml:"envelopes"`
		Arguments []pendingArgument `yaml:"arguments"`
		Silence   []*Silence        `yaml:"silence"`
		Prefer    []*Preference     `yaml:"prefer"`
	}
	places := r.read("house.yaml", &file)
	first := map[string]string{}
	for i, e := range file.Envelopes {
		e.where = places["envelopes"][i]
		r.approved(e.where, e.Approved, e.Because)
		r.envelopeEnds(e.where, "", e.Low, e.High)
		if at, twice := first[e.Parameter]; twice {
			r.problem(e.where, "parameter %q has an envelope already at %s", e.Parameter, at)
		}
		first[e.Parameter] = e.where
	}
	for i := range file.Arguments {
		file.Arguments[i].where = places["arguments"][i]
		r.approved(file.Arguments[i].where, file.Arguments[i].Approved, file.Arguments[i].Because)
	}
	for i, s := range file.Silence {
		s.where = places["silence"][i]
		r.approved(s.where, s.Approved, s.Because)
	}
	for i, p := range file.Prefer {
		p.where = places["prefer"][i]
		r.approved(p.where, p.Approved, p.Because)
	}
	return House{Envelopes: file.Envelopes, Silenced: file.Silence, Prefer: file.Prefer, pending: file.Arguments}
}

func (r *reader) approved(where string, a Approval, because string) {
	r.wanted(where, map[string]string{"because": because, "approved.by": a.By})
	if a.On.IsZero() {
		r.problem(where, "approved.on is missing: write the day as 2026-11-24")
	}
}

// With returns the rulebook as the practice's house rules change it. A rule
// that breaks a safety statement, names what does not exist, or contradicts
// another is refused: the error says which, with file:line.
func (b *Rulebook) With(p *Practice) (*Rulebook, error) {
	next, err := b.under(p, p.House)
	if err != nil || p.House.rules() == 0 {
		return next, err
	}
	if findings := next.Audit().Findings; len(findings) > 0 {
		return nil, b.refused(p, findings)
	}
	return next, nil
}

// under applies house rules without proving the result.
func (b *Rulebook) under(p *Practice, h House) (*Rulebook, error) {
	r := &reader{book: b.clone()}
	r.book.Practice = p
	for _, e := range h.Envelopes {
		r.envelope(e)
	}
	for _, s := range h.Silenced {
		r.silence(s)
	}
	for _, a := range h.pending {
		r.houseArgument(a)
	}
	for _, pr := range h.Prefer {
		if !slices.ContainsFunc(p.Shelf, func(x *Product) bool { return x.Name == pr.Product }) {
			r.problem(pr.where, "no product on the shelf is called %q", pr.Product)
		}
	}
	if err := errors.Join(r.problems...); err != nil {
		return nil, err
	}
	var err error
	r.book.decide, err = r.book.newGrid(nil)
	return r.book, err
}

// rules counts the house rules that can change a verdict or a setting.
func (h House) rules() int { return len(h.Envelopes) + len(h.Silenced) + len(h.pending) }

// alone lists the house's rules one by one, with where each stands.
func (h House) alone() map[string]House {
	out := map[string]House{}
	for _, e := range h.Envelopes {
		out[e.where] = House{Envelopes: []*Envelope{e}}
	}
	for _, s := range h.Silenced {
		out[s.where] = House{Silenced: []*Silence{s}}
	}
	for _, a := range h.pending {
		out[a.where] = House{pending: []pendingArgument{a}}
	}
	return out
}

// refused says which house rules break what. A rule that does so by itself is
// named with its own findings; otherwise all are named with what they break together.
func (b *Rulebook) refused(p *Practice, together []Finding) error {
	var problems []error
	rules := p.House.alone()
	for _, where := range sortedKeys(rules) {
		next, err := b.under(p, rules[where])
		if err != nil {
			continue
		}
		for _, f := range next.Audit().Findings {
			problems = append(problems, fmt.Errorf("%s: refused, it breaks the rules: %s", where, f))
		}
	}
	if problems == nil {
		where := strings.Join(sortedKeys(rules), ", ")
		for _, f := range together {
			problems = append(problems, fmt.Errorf("%s: refused, together they break the rules: %s", where, f))
		}
	}
	return errors.Join(problems...)
}

// clone copies what house rules may change.
func (b *Rulebook) clone() *Rulebook {
	next := *b
	next.Arguments = slices.Clone(b.Arguments)
	next.Parameters = slices.Clone(b.Parameters)
	return &next
}

func (r *reader) envelope(e *Envelope) {
	i := slices.IndexFunc(r.book.Parameters, func(p *Parameter) bool { return p.ID == e.Parameter })
	if i < 0 {
		r.problem(e.where, "no parameter is called %q", e.Parameter)
		return
	}
	base := r.book.Parameters[i]
	house := *base
	house.Low, house.High, house.Where = *e.Low, *e.High, e.where
	house.Provenance = Provenance{Basis: HouseRule, House: e.Approved.String()}
	house.Base = base
	house.Note = e.Because
	r.book.Parameters[i] = &house
}

// Departs reports whether a house rule lets a setting leave the envelope it replaces.
func (p *Parameter) Departs() bool {
	return p.Base != nil && (p.Low < p.Base.Low || p.High > p.Base.High)
}

func (r *reader) silence(s *Silence) {
	i := slices.IndexFunc(r.book.Arguments, func(a *Argument) bool { return a.ID == s.Argument })
	if i < 0 {
		r.problem(s.where, "no argument is called %q", s.Argument)
		return
	}
	s.row = r.book.Arguments[i]
	r.book.Arguments = slices.Delete(r.book.Arguments, i, i+1)
}

func (r *reader) houseArgument(in pendingArgument) {
	if slices.ContainsFunc(r.book.Arguments, func(a *Argument) bool { return a.ID == in.ID }) {
		r.problem(in.where, "id %q is taken by a built-in argument: give it another", in.ID)
	}
	r.argument(in.argumentEntry, in.where).Provenance = Provenance{Basis: HouseRule, House: in.Approved.String()}
}

// A Departure is where the house parts from the built-in rules in one plan.
type Departure struct {
	Where string // file:line in the practice's folder
	What  string
	By    Approval
}

// Departures lists the house rules that touch the plan: arguments silenced that
// would have counted, arguments added that count, and settings replaced.
func (b *Rulebook) Departures(plan *Plan) []Departure {
	if b.Practice == nil {
		return nil
	}
	var out []Departure
	for _, s := range b.Practice.House.Silenced {
		if _, possible := s.row.applies(plan.Presumed); possible {
			out = append(out, Departure{s.where, fmt.Sprintf("not counted here: %q (%s)", s.row.Because, s.Because), s.Approved})
		}
	}
	for _, a := range b.Practice.House.pending {
		counts := func(x *Argument) bool { return x.ID == a.ID }
		switch {
		case slices.ContainsFunc(plan.Reasons, counts):
			out = append(out, Departure{a.where, "counted here: " + a.Because, a.Approved})
		case slices.ContainsFunc(plan.Possible, counts):
			out = append(out, Departure{a.where, "counted here if it applies: " + a.Because, a.Approved})
		}
	}
	for _, e := range b.Practice.House.Envelopes {
		if slices.ContainsFunc(plan.Steps, func(s PlannedStep) bool { return s.uses(e.Parameter, plan.Presumed) }) {
			out = append(out, Departure{e.where, fmt.Sprintf("%s here: %s", b.nameOf(e.Parameter), e.Because), e.Approved})
		}
	}
	slices.SortStableFunc(out, func(x, y Departure) int { return cmp.Compare(x.Where, y.Where) })
	return out
}

// nameOf writes a setting with what it is of: "pressure of … is 1.5 to 2 bar".
func (b *Rulebook) nameOf(id string) string {
	i := slices.IndexFunc(b.Parameters, func(p *Parameter) bool { return p.ID == id })
	p := b.Parameters[i]
	return fmt.Sprintf("%s, %s, is %s", p.Name, p.Of, p)
}

// uses reports whether the step certainly uses the parameter; which abrasive or
// cement is taken may still be open.
func (s PlannedStep) uses(parameter string, c Case) bool {
	return slices.ContainsFunc(s.Settings, func(p *Parameter) bool {
		return p.ID == parameter && !slices.ContainsFunc(p.unsettled(c), func(f *Fact) bool { return !f.Selector })
	})
}
