package planner

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
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
	Low       float64  `yaml:"low"`
	High      float64  `yaml:"high"`
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
	ID       string     `yaml:"id"`
	When     conditions `yaml:"when"`
	Unless   conditions `yaml:"unless"`
	For      Strategy   `yaml:"for"`
	Weight   Weight     `yaml:"weight"`
	Because  string     `yaml:"because"`
	Mend     string     `yaml:"mend"`
	Approved Approval   `yaml:"approved"`

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
	for i, e := range file.Envelopes {
		e.where = places["envelopes"][i]
		r.approved(e.where, e.Approved, e.Because)
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
	r := &reader{book: b.clone()}
	r.book.Practice = p
	for _, e := range p.House.Envelopes {
		r.envelope(e)
	}
	for _, s := range p.House.Silenced {
		r.silence(s)
	}
	for _, a := range p.House.pending {
		r.houseArgument(a)
	}
	for _, pr := range p.House.Prefer {
		if !slices.ContainsFunc(p.Shelf, func(x *Product) bool { return x.Name == pr.Product }) {
			r.problem(pr.where, "no product on the shelf is called %q", pr.Product)
		}
	}
	if err := errors.Join(r.problems...); err != nil {
		return nil, err
	}
	var err error
	if r.book.decide, err = r.book.newGrid(nil); err != nil {
		return nil, err
	}
	return r.book, r.book.safe()
}

// clone copies what house rules may change.
func (b *Rulebook) clone() *Rulebook {
	next := *b
	next.Arguments = slices.Clone(b.Arguments)
	next.Parameters = slices.Clone(b.Parameters)
	return &next
}

// safe refuses a rulebook in which the audit finds anything.
func (b *Rulebook) safe() error {
	if len(b.Practice.House.Envelopes)+len(b.Practice.House.Silenced)+len(b.Practice.House.pending) == 0 {
		return nil
	}
	var problems []error
	for _, f := range b.Audit().Findings {
		problems = append(problems, fmt.Errorf("house.yaml: refused, it breaks the rules: %s", f))
	}
	return errors.Join(problems...)
}

func (r *reader) envelope(e *Envelope) {
	i := slices.IndexFunc(r.book.Parameters, func(p *Parameter) bool { return p.ID == e.Parameter })
	switch {
	case i < 0:
		r.problem(e.where, "no parameter is called %q", e.Parameter)
		return
	case e.Low > e.High:
		r.problem(e.where, "low %v is above high %v", e.Low, e.High)
		return
	}
	base := r.book.Parameters[i]
	house := *base
	house.Low, house.High = e.Low, e.High
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
	a := &Argument{
		Row:        r.row(in.ID, in.where, in.When, in.Unless),
		Provenance: Provenance{Basis: HouseRule, House: in.Approved.String()},
		For:        in.For, Weight: in.Weight, Because: in.Because, Mend: in.Mend,
	}
	r.side(a)
	r.book.Arguments = append(r.book.Arguments, a)
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
		if slices.ContainsFunc(plan.Reasons, func(x *Argument) bool { return x.ID == a.ID }) {
			out = append(out, Departure{a.where, "counted here: " + a.Because, a.Approved})
		}
	}
	for _, e := range b.Practice.House.Envelopes {
		if slices.ContainsFunc(plan.Steps, func(s PlannedStep) bool { return s.uses(e.Parameter) }) {
			out = append(out, Departure{e.where, fmt.Sprintf("%s is %v to %v here: %s", e.Parameter, e.Low, e.High, e.Because), e.Approved})
		}
	}
	slices.SortStableFunc(out, func(x, y Departure) int { return cmp.Compare(x.Where, y.Where) })
	return out
}

func (s PlannedStep) uses(parameter string) bool {
	return slices.ContainsFunc(s.Settings, func(p *Parameter) bool { return p.ID == parameter })
}
