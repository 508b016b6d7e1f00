package talk

import (
	"slices"
	"strings"
	"time"

	"mortarboard/planner"
)

// endRun closes a run, finished or not, and writes its record.
func (t *Talk) endRun(turn *turn, r Reply, p *planner.Plan) Reply {
	run := turn.run
	turn.run = nil
	r.Headline = t.say("run over", map[string]any{"All": run.next(p) == len(p.Steps), "Done": run.standing(), "Of": len(p.Steps), "Halted": t.halted(run, p) != "",
		"Left": slices.Concat(t.leftOut(run, p, planner.TheHold), t.leftOut(run, p, planner.TheFit))})
	r.Sections, r.Choices, r.Notices = nil, nil, nil
	r.section(t.say("run record", nil), false, t.record(run, p, turn.at)...)
	r.section(t.say("run to add", nil), false, t.toFill(run, p)...)
	return r
}

// record writes what was done, to be copied into the patient's record.
func (t *Talk) record(run *Run, p *planner.Plan, end time.Time) []string {
	halted := t.halted(run, p) != ""
	lines := []string{t.say("run from to", map[string]any{"Begun": run.Begun, "End": end, "Path": string(run.Path), "All": run.next(p) == len(p.Steps),
		"Halted": halted, "Now": t.verdict(p.Verdict), "Without": t.leftOut(run, p, planner.TheHold), "Untried": t.leftOut(run, p, planner.TheFit)})}
	for _, fact := range p.Case.Facts() {
		lines = append(lines, t.title(fact)+": "+p.Case.Describe(fact))
	}
	lines = append(lines, t.tickLines(run, p)...)
	for _, s := range p.Steps {
		if !run.ticked(s) && !halted {
			lines = append(lines, t.say("run not done", s.Title))
		}
	}
	return lines
}

// toFill are the lines of a record that are filled in by hand.
func (t *Talk) toFill(run *Run, p *planner.Plan) []string {
	lines := strings.Split(t.say("run to add list", nil), "; ")
	for _, k := range run.Ticks {
		s, known := t.stepOf(p, k.Step)
		if known && k.Skipped && !k.Undone && (s.Bears == "" || run.needs(p, s)) {
			lines = append(lines, t.say("run why left", map[string]any{"Step": s.Title, "Decided": s.Bears != ""}))
		}
	}
	for i := range lines {
		lines[i] = t.say("run to fill", lines[i])
	}
	return lines
}

// tickLines are the ticked steps, each with its time and the product used, and the falls
// among them.
func (t *Talk) tickLines(run *Run, p *planner.Plan) []string {
	var lines []string
	falls := run.Falls
	for _, k := range run.Ticks {
		for len(falls) > 0 && falls[0].Before(k.At) {
			lines, falls = append(lines, t.say("run fell", falls[0])), falls[1:]
		}
		lines = append(lines, t.tickLine(run, p, k))
	}
	for _, at := range falls {
		lines = append(lines, t.say("run fell", at))
	}
	return lines
}

func (t *Talk) tickLine(run *Run, p *planner.Plan, k Tick) string {
	data := map[string]any{"At": k.At, "Step": k.Step, "Skipped": k.Skipped, "Spared": k.Spared, "Undone": k.Undone,
		"Product": (*planner.Product)(nil), "Off": "", "Needed": ""}
	s, known := t.stepOf(p, k.Step)
	if known {
		data["Step"] = s.Title
	}
	switch {
	case !known || k.Spared:
	case k.Skipped && run.needs(p, s):
		data["Needed"] = string(s.Bears)
	case !k.Skipped:
		data["Product"], data["Off"] = s.Product, t.offTime("record", p, s, k)
	}
	return t.say("run tick", data)
}

// closeRun writes the record of a run that a new case puts an end to.
func (t *Talk) closeRun(turn *turn, r *Reply) {
	if turn.closed == nil {
		return
	}
	p := t.book.Plan(caseOf(t.book, *turn.closed))
	r.section(t.say("run closed", nil), false, t.record(turn.closed.Run, p, turn.at)...)
}

// runTitle says what is being seated, and how: "crown, molar, 4Y: bonding".
func (t *Talk) runTitle(p *planner.Plan, run *Run) string {
	var parts []string
	for _, fact := range []string{"restoration", "position", "zirconia"} {
		if p.Case.Known(fact) {
			parts = append(parts, p.Case.Describe(fact))
		}
	}
	return t.say("run title", map[string]any{"Of": strings.Join(parts, ", "), "Path": string(run.Path)})
}
