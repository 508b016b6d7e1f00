package planner

import (
	"fmt"
	"slices"
)

// A Statement is something that must hold in every case. Exactly one of its
// demands is set.
type Statement struct {
	Row
	Provenance
	Says  string
	Paths []Strategy

	NeverPath  []Strategy
	NeverStep  *match
	AlwaysStep *match
	InOrder    *order
	NotAbove   *ceiling
}

// match picks steps; every part that is set must fit.
type match struct {
	ID      string   `yaml:"id"`
	Stage   string   `yaml:"stage"`
	Surface string   `yaml:"surface"`
	With    []string `yaml:"with"`
}

// order wants every step of the one kind before every step of the other.
type order struct {
	First match `yaml:"first"`
	Then  match `yaml:"then"`
}

// ceiling wants the settings of a key no higher than they are under other facts,
// or than a figure.
type ceiling struct {
	Key    string     `yaml:"key"`
	Than   conditions `yaml:"than"`
	Figure *float64   `yaml:"figure"`

	than Row
}

func (m *match) fits(s *Step) bool {
	return (m.ID == "" || m.ID == s.ID) &&
		(m.Stage == "" || m.Stage == s.Stage) &&
		(m.Surface == "" || m.Surface == s.Surface) &&
		(m.With == nil || slices.ContainsFunc(m.With, func(w string) bool { return slices.Contains(s.With, w) }))
}

type statementFile struct {
	Statements []struct {
		ID         string     `yaml:"id"`
		Says       string     `yaml:"says"`
		When       conditions `yaml:"when"`
		Unless     conditions `yaml:"unless"`
		Paths      []Strategy `yaml:"paths"`
		NeverPath  []Strategy `yaml:"never_path"`
		NeverStep  *match     `yaml:"never_step"`
		AlwaysStep *match     `yaml:"always_step"`
		InOrder    *order     `yaml:"in_order"`
		NotAbove   *ceiling   `yaml:"not_above"`
		Basis      Basis      `yaml:"basis"`
		Sources    []string   `yaml:"sources"`
	} `yaml:"statements"`
}

func (r *reader) statements() {
	var file statementFile
	places := r.read("safety.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Statements {
		where := places["statements"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"says": in.Says})
		s := &Statement{
			Row: r.row(in.ID, where, in.When, in.Unless), Provenance: r.rests(where, in.Basis, in.Sources),
			Says: in.Says, Paths: in.Paths, NeverPath: in.NeverPath, NeverStep: in.NeverStep,
			AlwaysStep: in.AlwaysStep, InOrder: in.InOrder, NotAbove: in.NotAbove,
		}
		if len(s.Paths) == 0 {
			s.Paths = []Strategy{Bond, Cement}
		}
		r.demand(s)
		r.book.Statements = append(r.book.Statements, s)
	}
}

// demand checks that a statement demands exactly one thing, of things that exist.
func (r *reader) demand(s *Statement) {
	n := 0
	for _, set := range []bool{s.NeverPath != nil, s.NeverStep != nil, s.AlwaysStep != nil, s.InOrder != nil, s.NotAbove != nil} {
		if set {
			n++
		}
	}
	if n != 1 {
		r.problem(s.Where, "%s makes %d demands: give exactly one of never_path, never_step, always_step, in_order, not_above", s.ID, n)
	}
	for _, m := range s.matches() {
		r.named(s.Where, s.ID, m)
	}
	for _, path := range append(slices.Clone(s.Paths), s.NeverPath...) {
		if path != Bond && path != Cement && path != Stop {
			r.problem(s.Where, "path %q is unknown: allowed are bond, cement, stop", path)
		}
	}
	if s.NotAbove == nil {
		return
	}
	if !slices.Contains(r.book.Keys(), s.NotAbove.Key) {
		r.problem(s.Where, "parameter %q is not in parameters.yaml", s.NotAbove.Key)
	}
	if (s.NotAbove.Figure == nil) == (s.NotAbove.Than == nil) {
		r.problem(s.Where, "%s: give not_above either than or figure", s.ID)
	}
	s.NotAbove.than = r.row(s.ID, s.Where, s.NotAbove.Than, nil)
}

func (s *Statement) matches() []*match {
	switch {
	case s.NeverStep != nil:
		return []*match{s.NeverStep}
	case s.AlwaysStep != nil:
		return []*match{s.AlwaysStep}
	case s.InOrder != nil:
		return []*match{&s.InOrder.First, &s.InOrder.Then}
	}
	return nil
}

// named notes a match that could never fit because it names no step or stage.
func (r *reader) named(where, id string, m *match) {
	if m.ID == "" && m.Stage == "" && m.Surface == "" && len(m.With) == 0 {
		r.problem(where, "%s picks every step: name id, stage, surface or with", id)
	}
	if m.ID != "" && !slices.ContainsFunc(r.book.Steps, func(s *Step) bool { return s.ID == m.ID }) {
		r.problem(where, "no step is called %q", m.ID)
	}
	if m.Stage != "" && !slices.Contains(stages, m.Stage) {
		r.problem(where, "stage %q is unknown: allowed are %v", m.Stage, stages)
	}
}

// allowedPaths are the sides that a verdict leaves open to take.
func (v Verdict) allowedPaths() []Strategy {
	switch v.Strategy {
	case Stop:
		return []Strategy{Stop}
	case Either, Depends:
		return []Strategy{Bond, Cement}
	}
	return []Strategy{v.Strategy}
}

// broken tells how a plan on the path, made of the steps that apply, breaks the
// statement; it is empty where the statement holds.
func (s *Statement) broken(path Strategy, steps []*Step) string {
	switch {
	case slices.Contains(s.NeverPath, path):
		return fmt.Sprintf("the plan may %s", path)
	case s.NeverStep != nil:
		for _, step := range steps {
			if s.NeverStep.fits(step) {
				return fmt.Sprintf("step %s (%s) applies", step.ID, step.Where)
			}
		}
	case s.AlwaysStep != nil && !slices.ContainsFunc(steps, s.AlwaysStep.fits):
		return "no such step applies"
	case s.InOrder != nil:
		return s.InOrder.broken(steps)
	}
	return ""
}

func (o *order) broken(steps []*Step) string {
	for i, later := range steps {
		if !o.First.fits(later) {
			continue
		}
		for _, earlier := range steps[:i] {
			if o.Then.fits(earlier) && !o.First.fits(earlier) {
				return fmt.Sprintf("step %s (%s) comes before %s (%s)", earlier.ID, earlier.Where, later.ID, later.Where)
			}
		}
	}
	return ""
}
