package talk

import (
	"slices"

	"mortarboard/planner"
)

// passOver leaves the step that is next out, or ticks it as not needed. Where the hold or
// the fit stands or falls with it, the reason is asked for first. The same button pressed
// by a second person is no second word: that of the answer says "all the same".
func (t *Talk) passOver(turn *turn, r Reply, p *planner.Plan) Reply {
	run, step := turn.run, p.Steps[turn.run.next(p)]
	if turn.deed == runSpare && run.maySpare(p, step) {
		return t.tick(turn, r, p, Tick{Spared: true})
	}
	_, pressed := numberSaid(turn.tokens)
	if run.needs(p, step) && (run.Asked != step.ID || pressed && turn.deed != runInsist) {
		run.Asked = step.ID
		r = t.showStep(turn, r, p)
		r.Headline = t.say("run without", map[string]any{"Step": step.Title, "Fit": step.Bears == planner.TheFit, "Path": string(run.Path), "May": conditional(step)})
		return r
	}
	return t.tick(turn, r, p, Tick{Skipped: true})
}

// conditional reports whether a step hangs on something that the case leaves open.
func conditional(s planner.PlannedStep) bool { return len(s.If) > 0 || s.OnlyIf != "" }

// maySpare reports whether a step may turn out not to be needed.
func (run *Run) maySpare(p *planner.Plan, s planner.PlannedStep) bool {
	return conditional(s) || s.SparedBy != nil || run.doneElsewhere(p, s) != nil
}

// needs reports whether the hold or the fit stands or falls with a step in this run.
func (run *Run) needs(p *planner.Plan, s planner.PlannedStep) bool {
	return s.Bears != "" && s.SparedBy == nil && run.doneElsewhere(p, s) == nil
}

// doneElsewhere is the step of the plan that does the same and was not passed over.
func (run *Run) doneElsewhere(p *planner.Plan, s planner.PlannedStep) *planner.PlannedStep {
	for i, other := range p.Steps {
		if s.DoneBy != "" && other.Stage == s.DoneBy && other.Bears != "" && !run.passedOver(other) {
			return &p.Steps[i]
		}
	}
	return nil
}

// passedOver reports whether a step stands as left out or not needed.
func (run *Run) passedOver(s planner.PlannedStep) bool {
	return slices.ContainsFunc(run.Ticks, func(k Tick) bool { return k.Step == s.ID && !k.Undone && (k.Skipped || k.Spared) })
}

// owed opens steps again that were passed over since the step does the same, when this
// is left out, too: who does not abrade has to clean.
func (t *Talk) owed(run *Run, p *planner.Plan, step planner.PlannedStep) []string {
	if step.Bears == "" || !run.passedOver(step) {
		return nil
	}
	return t.reopen(run, func(s *planner.Step, k Tick) bool {
		return s.DoneBy == step.Stage && (k.Skipped || k.Spared) && run.doneElsewhere(p, planner.PlannedStep{Step: s}) == nil
	})
}

// leftOut are the steps that stand as left out although something stands or falls with
// them. They count in a plan that no longer has them, too.
func (t *Talk) leftOut(run *Run, p *planner.Plan, what planner.Bearing) []string {
	var out []string
	for _, k := range run.Ticks {
		s, known := t.stepOf(p, k.Step)
		if known && k.Skipped && !k.Undone && s.Bears == what && run.needs(p, s) {
			out = append(out, s.Title)
		}
	}
	return out
}

// stepOf is the step of an id as the plan has it, else as it stands in the rules.
func (t *Talk) stepOf(p *planner.Plan, id string) (planner.PlannedStep, bool) {
	if i := slices.IndexFunc(p.Steps, func(s planner.PlannedStep) bool { return s.ID == id }); i >= 0 {
		return p.Steps[i], true
	}
	s := t.stepNamed(id)
	return planner.PlannedStep{Step: s}, s != nil
}
