package planner

import "slices"

// A PlannedStep is a step as it applies to one case.
type PlannedStep struct {
	*Step
	If       []Condition  // what it hangs on, where facts are still open
	Settings []*Parameter // the parameters it uses, as far as the case settles them
	Product  *Product     // what the practice's shelf has for it
	Missing  bool         // the shelf has nothing for it
	SparedBy *Product     // the chosen product that makes the step unnecessary
}

// A Condition is a fact that must be one of the values for a step to apply.
type Condition struct {
	Fact   *Fact
	Values Set
}

// protocol lists the steps of a path in order. Where neither side leads, only
// the steps that both share are given.
func (b *Rulebook) protocol(c Case, path Strategy) []PlannedStep {
	var out []PlannedStep
	for _, s := range b.Steps {
		_, possible := s.applies(c)
		if !possible || !s.follows(path) {
			continue
		}
		planned := PlannedStep{Step: s}
		for _, f := range s.unsettled(c) {
			planned.If = append(planned.If, Condition{f, s.when[f.index] & c.sets[f.index]})
		}
		planned.Settings = b.settingsOf(s, c)
		out = append(out, planned)
	}
	return out
}

// follows reports whether the step is on the path, or on both where none leads.
func (s *Step) follows(path Strategy) bool {
	if path == "" {
		return s.on(Bond) && s.on(Cement)
	}
	return s.on(path)
}

// settingsOf collects the parameters a step uses, under the case and the
// step's own conditions.
func (b *Rulebook) settingsOf(s *Step, c Case) []*Parameter {
	narrowed := c
	for i, f := range b.Facts {
		if both := c.sets[i] & s.narrow[i]; both != 0 {
			narrowed = narrowed.withSet(f, both)
		} else {
			narrowed = narrowed.withSet(f, s.narrow[i])
		}
	}
	var out []*Parameter
	for _, key := range s.Keys {
		for _, p := range b.Settings(narrowed, key) {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// Fitting parts the settings of a step into those for what is used, by the shelf or since
// nothing else serves, and the rest: with alumina at hand those for glass beads.
func (p *Plan) Fitting(s PlannedStep) (fit, rest []*Parameter) {
	classes := p.used(s)
	for _, setting := range s.Settings {
		if slices.ContainsFunc(classes, setting.isForAnother) {
			rest = append(rest, setting)
		} else {
			fit = append(fit, setting)
		}
	}
	if fit == nil {
		return s.Settings, nil
	}
	return fit, rest
}

// used are the classes of product that are known to be used at a step: the cement of the
// plan, and what the step itself takes.
func (p *Plan) used(s PlannedStep) []string {
	var classes []string
	for _, other := range p.Steps {
		if other.Product != nil && other.Stage == "cement" {
			classes = append(classes, other.Product.Class)
		}
	}
	switch {
	case s.Product != nil:
		classes = append(classes, s.Product.Class)
	case len(s.Needs) == 1:
		classes = append(classes, s.Needs[0])
	}
	return classes
}
