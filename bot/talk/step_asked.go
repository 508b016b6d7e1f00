package talk

import (
	"context"
	"slices"
	"strings"

	"mortarboard/planner"
)

// stepAsked answers what a message in the thread of a plan asks about one step of it
// with yes or no, or by naming the step and nothing else: "do I need primer", "etch?".
// The plan in hand answers it, and no entry that fits another strategy.
func (t *Talk) stepAsked(_ context.Context, turn *turn, _ string) (Reply, bool) {
	task := t.taskAsked(turn)
	if task == "" || !t.isStep(task) {
		return Reply{}, false
	}
	p := t.book.Plan(turn.now)
	t.book.Equip(p, t.now())
	steps := slices.DeleteFunc(slices.Clone(p.Steps), func(s planner.PlannedStep) bool { return !doesTask(s.Keys, task) })
	skips := t.words.holds("asks-to-skip", turn.tokens)
	switch {
	case t.toldOtherwise(turn, steps):
		return Reply{}, false
	case len(steps) > 0:
		return t.theStep(p, steps, skips), true
	case skips || !p.Flat():
		return Reply{}, false
	}
	return t.noSuchStep(turn, p), true
}

// toldOtherwise reports whether the thread knows more of a step than the protocol: what
// happened since, or a resin cement in place of another, which its own step speaks of.
func (t *Talk) toldOtherwise(turn *turn, steps []planner.PlannedStep) bool {
	spared := slices.ContainsFunc(steps, func(s planner.PlannedStep) bool { return s.SparedBy != nil })
	mishap := turn.now.Known(t.words.words.Spoiling.Fact) && !turn.now.Is(t.words.words.Spoiling.Fact, t.words.words.Spoiling.None)
	chosen := turn.now.Known("cement") || len(turn.past.Products) > 0
	return spared || mishap || len(steps) == 0 && chosen
}

// taskAsked is the one thing to do that a message asks about, if it says nothing else.
func (t *Talk) taskAsked(turn *turn) string {
	w, tasks := turn.wants, t.words.tasks(turn.tokens)
	other := t.words.is("asks-for-a-thing", turn.first()) || w.help || w.calculation || w.steps || w.why || turn.deed != "" || turn.fresh || turn.whatIf
	if other || !turn.past.Planned || len(tasks) == 0 || len(turn.measures) > 0 || t.deciding(turn) > 0 || len(t.dimensionsAsked(turn, nil)) > 0 {
		return ""
	}
	for _, f := range tasks {
		if f.sense.name != tasks[0].sense.name {
			return ""
		}
	}
	for i, token := range turn.tokens {
		inTask := slices.ContainsFunc(tasks, func(f found) bool { return f.from <= i && i < f.to })
		if !inTask && !t.words.is("carries-nothing", token.word) && !t.words.is("asks-yes-or-no", token.word) && !t.words.is("asks-for-need", token.word) && !t.words.is("asks-to-skip", token.word) {
			return ""
		}
	}
	return tasks[0].sense.name
}

// isStep reports whether any step of the protocol does the task.
func (t *Talk) isStep(task string) bool {
	return slices.ContainsFunc(t.book.Steps, func(s *planner.Step) bool { return doesTask(s.Keys, task) })
}

// doesTask reports whether one of the settings of a step is of the task.
func doesTask(keys []string, task string) bool {
	return slices.ContainsFunc(keys, func(key string) bool { return strings.HasPrefix(key, task+".") })
}

// theStep tells of the steps that were asked about, or that were to be left out, with
// their settings.
func (t *Talk) theStep(p *planner.Plan, steps []planner.PlannedStep, skips bool) Reply {
	r := Reply{Kind: KindValue}
	var does, cautions []string
	var settings []*planner.Parameter
	for _, s := range steps {
		does = append(does, t.stepText(s))
		cautions = appendNew(cautions, s.Caution)
		settings = append(settings, s.Settings...)
	}
	r.Headline = t.say("step asked", map[string]any{"Do": strings.Join(does, " "), "Path": string(p.Path), "Strategy": string(p.Strategy), "Skips": skips})
	t.listSettings(&r, settings)
	r.section("Caution", false, cautions...)
	return r
}

// noSuchStep says that no step of the plan does what was asked about.
func (t *Talk) noSuchStep(turn *turn, p *planner.Plan) Reply {
	r := t.plan(turn)
	r.Headline = t.say("step not in the plan", map[string]any{"Verdict": t.verdict(p.Verdict), "Flat": p.Flat()})
	r.Sections = slices.DeleteFunc(r.Sections, func(s Section) bool { return !s.Fold })
	return r
}
