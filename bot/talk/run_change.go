package talk

import (
	"slices"
	"strings"

	"mortarboard/planner"
)

// halted says why a run cannot go on: its plan has become another one.
func (t *Talk) halted(run *Run, p *planner.Plan) string {
	if workable(p) && p.Path == run.Path {
		return ""
	}
	return t.say("run halted", map[string]any{"Path": string(run.Path), "Now": t.verdict(p.Verdict)})
}

// halt gives the new plan in place of a step; the run stays open until it is ended or
// the case allows it again.
func (t *Talk) halt(turn *turn, r Reply, why string) Reply {
	turn.run.Held = true
	r.Notices = append([]string{why}, r.Notices...)
	r.Choices = append([]Choice{t.runChoice(t.say("run halted ask", nil), runEnd)}, r.Choices...)
	return r
}

// runGoesOn reminds of an open run under an answer to something else, and tells what
// the case that the answer left makes of its steps.
func (t *Talk) runGoesOn(turn *turn, r *Reply) {
	if turn.run == nil {
		return
	}
	p := t.book.Plan(t.runCase(turn))
	if why := t.halted(turn.run, p); why != "" {
		*r = t.halt(turn, *r, why)
		return
	}
	before := t.book.Plan(turn.before)
	lines := t.stepsChanged(before, p)
	lines = append(lines, t.doneAgain(turn, before, p)...)
	if turn.run.Held {
		turn.run.Held = false
		r.Notices = append([]string{t.say("run held before", nil)}, r.Notices...)
	}
	if n := turn.run.next(p); n < len(p.Steps) {
		place := map[string]any{"N": n + 1, "Of": len(p.Steps), "Step": named(p.Steps[n].ID)}
		r.section(t.say("run open", nil), false, append(lines, t.say("run stands", place))...)
		r.Choices = append([]Choice{t.runChoice(t.say("run ask", place), runWhere, runEnd)}, r.Choices...)
	}
}

// doneAgain takes back the ticks of treatments that have to be done again, since the
// case brought in a step on the same surface that comes before them, or since the
// message tells of something that got onto a surface: what was cleaned, abraded and
// primed is so anew after blood.
func (t *Talk) doneAgain(turn *turn, before, now *planner.Plan) []string {
	var again []string
	fresh := map[string]bool{} // surfaces that were treated before what came now
	for _, s := range now.Steps {
		treats := s.Surface == "restoration" || s.Surface == "tooth"
		if came := before.Path == now.Path && !contains(before, s.ID); treats && (came || t.soils(turn, s)) {
			fresh[s.Surface] = true
		}
		for i, k := range turn.run.Ticks {
			if fresh[s.Surface] && k.Step == s.ID && !k.Undone && !k.Skipped {
				turn.run.Ticks[i].Undone = true
				again = append(again, named(s.ID))
			}
		}
	}
	if again == nil {
		return nil
	}
	return []string{t.say("run again", strings.Join(again, ", "))}
}

// soils reports whether the message tells what is on a surface now, and the step hangs
// on that: saliva on the inner surface, where the cleaning begins.
func (t *Talk) soils(turn *turn, s planner.PlannedStep) bool {
	return slices.ContainsFunc(turn.facts, func(f stated) bool {
		treated, surface := t.words.words.DoneToWork[f.fact]
		return surface && !slices.Equal(f.values, treated) && t.book.HangsOn(s.Step, f.fact)
	})
}

// stepsChanged names the steps that came into the plan or went out of it.
func (t *Talk) stepsChanged(before, now *planner.Plan) []string {
	var lines []string
	if fresh := missingFrom(now, before); fresh != nil {
		lines = append(lines, t.say("run new", strings.Join(fresh, ", ")))
	}
	if gone := missingFrom(before, now); gone != nil {
		lines = append(lines, t.say("run gone", strings.Join(gone, ", ")))
	}
	return lines
}

// missingFrom names the steps of one plan that the other has not.
func missingFrom(p, other *planner.Plan) []string {
	var out []string
	for _, s := range p.Steps {
		if !contains(other, s.ID) {
			out = append(out, named(s.ID))
		}
	}
	return out
}

func contains(p *planner.Plan, step string) bool {
	return slices.ContainsFunc(p.Steps, func(s planner.PlannedStep) bool { return s.ID == step })
}
