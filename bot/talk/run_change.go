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
	if was := turn.run.Held; was && !turn.run.Paused {
		r.Notices = append([]string{t.say("run held before", nil)}, r.Notices...)
	}
	turn.run.Held = false
	if turn.run.next(p) == len(p.Steps) {
		return
	}
	place, stands, on := t.place(turn.run, p), "run stands", runWhere
	if turn.run.Paused {
		stands, on = "run paused", runOn
	}
	r.section(t.say("run open", nil), false, append(lines, t.say(stands, place))...)
	r.Choices = append([]Choice{t.runChoice(t.say("run ask", place), on, runEnd)}, r.Choices...)
}

// doneAgain takes back the ticks of treatments that have to be done again, since the
// case brought in a step on the same surface that comes before them, or since the
// message tells of something that got onto a surface: what was cleaned, abraded and
// primed is so anew after blood. What was left out of the treatment of that surface is
// open again as well, wherever it stands.
func (t *Talk) doneAgain(turn *turn, before, now *planner.Plan) []string {
	fresh := map[string]int{} // surface → where what was treated before what came now begins
	for i, s := range now.Steps {
		treats := s.Surface == "restoration" || s.Surface == "tooth"
		came := before.Path == now.Path && !contains(before, s.ID)
		if _, known := fresh[s.Surface]; treats && !known && (came || t.soils(turn, s)) {
			fresh[s.Surface] = i
		}
	}
	again := t.reopen(turn.run, func(s *planner.Step, k Tick) bool {
		from, soiled := fresh[s.Surface]
		behind := slices.ContainsFunc(now.Steps[min(from, len(now.Steps)):], func(o planner.PlannedStep) bool { return o.ID == s.ID })
		return soiled && (behind || k.Skipped && s.Bears == planner.TheHold)
	})
	if again == nil {
		return nil
	}
	return []string{t.say("run again", strings.Join(again, ", "))}
}

// reopen takes back the ticks of some steps, and names those.
func (t *Talk) reopen(run *Run, which func(*planner.Step, Tick) bool) []string {
	var again []string
	for i, k := range run.Ticks {
		if s := t.stepNamed(k.Step); s != nil && !k.Undone && which(s, k) {
			run.Ticks[i].Undone = true
			again = append(again, s.Title)
		}
	}
	return again
}

// stepNamed is the step of an id; nil if the rules no longer have it.
func (t *Talk) stepNamed(id string) *planner.Step {
	if i := slices.IndexFunc(t.book.Steps, func(s *planner.Step) bool { return s.ID == id }); i >= 0 {
		return t.book.Steps[i]
	}
	return nil
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
			out = append(out, s.Title)
		}
	}
	return out
}

func contains(p *planner.Plan, step string) bool {
	return slices.ContainsFunc(p.Steps, func(s planner.PlannedStep) bool { return s.ID == step })
}
