package talk

import (
	"slices"

	"mortarboard/planner"
)

// pause holds a run, if there is one, until somebody says to go on.
func (run *Run) pause() {
	if run != nil {
		run.Paused = true
	}
}

// onHold says that a run waits to be told to go on.
func (t *Talk) onHold(turn *turn, r Reply, p *planner.Plan) Reply {
	r.Sections, r.Notices = nil, nil
	r.Headline = t.say("run paused", t.place(turn.run, p))
	r.Choices = []Choice{t.runChoice(r.Headline, runOn, runEnd)}
	return r
}

// resume goes on with a run that was held by a word or a fall.
func (t *Talk) resume(turn *turn, r Reply, p *planner.Plan) Reply {
	was := turn.run.Paused
	turn.run.Paused = false
	if len(turn.run.Falls) > 0 && turn.run.Shown.Before(turn.run.Falls[len(turn.run.Falls)-1]) {
		turn.run.Shown = turn.at // another step than the one that came up then
	}
	r = t.showStep(turn, r, p)
	if was {
		r.Notices = append(r.Notices, t.say("run held before", nil))
	}
	return r
}

// whichWord shows the step again and says by which words it is ticked: "ok" may be said
// to the one who holds the lamp.
func (t *Talk) whichWord(turn *turn, r Reply, p *planner.Plan) Reply {
	r = t.showStep(turn, r, p)
	r.Notices = append(r.Notices, t.say("run which", t.place(turn.run, p)))
	return r
}

// place is where a run stands, for sentences.
func (t *Talk) place(run *Run, p *planner.Plan) map[string]any {
	n := min(run.next(p), len(p.Steps)-1)
	return map[string]any{"N": n + 1, "Of": len(p.Steps), "Step": p.Steps[n].Title}
}

// idles reports whether a message says to a run what has none to be said to, right after
// the thread offered one, refused it or ended it.
func (t *Talk) idles(turn *turn) bool {
	if turn.run != nil || turn.fresh || !turn.past.Offered || len(turn.facts) > 0 {
		return false
	}
	return slices.ContainsFunc(runWords, func(deed string) bool { return t.saysOnly("cue:run-"+deed, turn.tokens) })
}

// noRun says that no run is open and how one begins, or what the plan waits for.
func (t *Talk) noRun(turn *turn) Reply {
	p := t.book.Plan(turn.now)
	r := Reply{Kind: KindHelp}
	turn.idle = true
	r.Headline = t.say("run none", map[string]any{"Planned": turn.past.Planned, "Ready": workable(p), "Stop": p.Strategy == planner.Stop, "Of": t.runTitle(p, &Run{Path: p.Path})})
	switch {
	case !turn.past.Planned || p.Strategy == planner.Stop:
	case workable(p):
		r.Choices = t.runOffer(turn, p)
	default:
		r.section(t.say("run waits", nil), false, t.settles(p)...)
		r.Choices = t.choices(p)
	}
	return r
}
