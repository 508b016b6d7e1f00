package planner

import (
	"slices"
)

// Stages are the parts of a seating, in order. Every plan that seats something
// has at least one step in each.
var stages = []string{"try-in", "cleaning", "abrasion", "priming", "tooth", "cement", "seating", "curing", "clean-up", "occlusion", "polishing", "record"}

// A Step is one row of the protocol.
type Step struct {
	Row
	Provenance
	Title   string   // a few words that name it: "abrade the inside"
	Stage   string   // which part of the seating it belongs to
	Surface string   // restoration, tooth, cement or finish
	Paths   []string // bond, cement or stop: the plans it belongs to
	Do      string
	Keys    []string // parameters the step uses
	With    []string // what touches the surface, for safety statements
	Needs   []string // classes of product that serve, the preferred first
	Holding string   // what the product must contain
	Holders []string // the classes of Needs that must contain it; without any, all
	Spared  string   // contents which, brought by the chosen cement, make the step unnecessary
	Caution string
	Timer   string // the parameter key of the time that the step takes at least
	Within  string // the parameter key of the time that it may take at most
	Bears   Bearing
	DoneBy  string // the stage, of those behind it, that does the same
	OnlyIf  string // a condition in words, which no case answers: "the inside binds"

	narrow []Set // by fact: the values of selectors that its settings are shown for
}

// A Bearing is what stands or falls with a step: without it the plan was not followed,
// whatever else was done.
type Bearing string

// What a step can bear: the hold of bond or cement, and the fit.
const (
	TheHold Bearing = "the hold"
	TheFit  Bearing = "the fit"
)

type stepFile struct {
	Steps []struct {
		ID      string     `yaml:"id"`
		Title   string     `yaml:"title"`
		Stage   string     `yaml:"stage"`
		Surface string     `yaml:"surface"`
		Paths   []string   `yaml:"paths"`
		When    conditions `yaml:"when"`
		Unless  conditions `yaml:"unless"`
		Do      string     `yaml:"do"`
		Keys    []string   `yaml:"values"`
		With    []string   `yaml:"with"`
		Needs   []string   `yaml:"needs"`
		Holding string     `yaml:"holding"`
		Holders []string   `yaml:"holding_in"`
		Spared  string     `yaml:"spared_by"`
		Caution string     `yaml:"caution"`
		Timer   string     `yaml:"timer"`
		Within  string     `yaml:"within"`
		Bears   Bearing    `yaml:"bears"`
		DoneBy  string     `yaml:"also_done_by"`
		OnlyIf  string     `yaml:"only_if"`
		Basis   Basis      `yaml:"basis"`
		Sources []string   `yaml:"sources"`
	} `yaml:"steps"`
}

func (r *reader) steps() {
	var file stepFile
	places := r.read("steps.yaml", &file)
	seen, titles := map[string]string{}, map[string]string{}
	for i, in := range file.Steps {
		where := places["steps"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"do": in.Do, "stage": in.Stage, "title": in.Title})
		r.titled(titles, in.Title, where)
		s := &Step{
			Row:        r.row(in.ID, where, in.When, in.Unless),
			Provenance: r.rests(where, in.Basis, in.Sources),
			Title:      in.Title, Stage: in.Stage, Surface: in.Surface, Paths: in.Paths, Do: in.Do, Keys: in.Keys,
			With: in.With, Needs: in.Needs, Holding: in.Holding, Holders: in.Holders, Spared: in.Spared, Caution: in.Caution, Timer: in.Timer, Within: in.Within,
			Bears: in.Bears, DoneBy: in.DoneBy, OnlyIf: in.OnlyIf,
		}
		s.freeSelectors(r.book.Facts)
		r.protocol(s)
		r.book.Steps = append(r.book.Steps, s)
	}
}

// titled refuses a title that stands twice: a record could not tell the steps apart.
func (r *reader) titled(seen map[string]string, title, where string) {
	if other := seen[title]; title != "" && other != "" {
		r.problem(where, "title %q stands at %s already: a run names steps by it", title, other)
	}
	seen[title] = where
}

// freeSelectors keeps what the step wants of selectors for its settings alone:
// naming a cement in a question must not take the cement step out of a plan.
func (s *Step) freeSelectors(facts []*Fact) {
	s.narrow = slices.Clone(s.when)
	for i, f := range facts {
		if f.Selector {
			s.when[i] = f.All()
		}
	}
}

// protocol checks what belongs to a step alone.
func (r *reader) protocol(s *Step) {
	if !slices.Contains(stages, s.Stage) && !slices.Equal(s.Paths, []string{"stop"}) {
		r.problem(s.Where, "stage %q is unknown: allowed are %v", s.Stage, stages)
	}
	if !slices.Contains([]string{"restoration", "tooth", "cement", "finish"}, s.Surface) {
		r.problem(s.Where, "surface %q is unknown: allowed are restoration, tooth, cement, finish", s.Surface)
	}
	if len(s.Paths) == 0 {
		s.Paths = []string{"bond", "cement"}
	}
	for _, path := range s.Paths {
		if !slices.Contains([]string{"bond", "cement", "stop"}, path) {
			r.problem(s.Where, "path %q is unknown: allowed are bond, cement, stop", path)
		}
	}
	for _, class := range s.Needs {
		if !slices.Contains(productClasses(), class) {
			r.problem(s.Where, "needs %q is no class of product: allowed are %v", class, productClasses())
		}
	}
	if s.Holding != "" && !slices.Contains(productContents(), s.Holding) {
		r.problem(s.Where, "holding %q is unknown: allowed are %v", s.Holding, productContents())
	}
	r.bearing(s)
	for _, class := range s.Holders {
		if s.Holding == "" || !slices.Contains(s.Needs, class) {
			r.problem(s.Where, "holding_in %q wants holding, and the class among needs", class)
		}
	}
	for _, key := range append(slices.Clone(s.Keys), s.Timer, s.Within) {
		if key != "" && !slices.Contains(r.book.Keys(), key) {
			r.problem(s.Where, "parameter %q is not in parameters.yaml", key)
		}
	}
}

// bearing checks what is said of leaving a step out.
func (r *reader) bearing(s *Step) {
	if !slices.Contains([]Bearing{"", TheHold, TheFit}, s.Bears) {
		r.problem(s.Where, "bears %q is unknown: allowed are %s, %s", s.Bears, TheHold, TheFit)
	}
	if s.DoneBy != "" && (!slices.Contains(stages, s.DoneBy) || s.DoneBy == s.Stage) {
		r.problem(s.Where, "also_done_by %q is no other stage: allowed are %v", s.DoneBy, stages)
	}
}

// wants reports whether a product of the class must contain what the step asks for.
func (s *Step) wants(class string) bool {
	return s.Holding != "" && (len(s.Holders) == 0 || slices.Contains(s.Holders, class))
}

// on reports whether the step belongs to plans of the path.
func (s *Step) on(path Strategy) bool { return slices.Contains(s.Paths, string(path)) }
