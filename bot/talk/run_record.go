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
	done, all := run.standing(), run.next(p) == len(p.Steps)
	r.Headline = t.say("run over", map[string]any{"All": all, "Done": done, "Of": len(p.Steps)})
	r.Sections, r.Choices, r.Notices = nil, nil, nil
	r.section(t.say("run record", nil), false, t.record(run, p, turn.at)...)
	r.section(t.say("run to add", nil), false, strings.Split(t.say("run to add list", nil), "; ")...)
	return r
}

// record writes what was done, to be copied into the patient's record.
func (t *Talk) record(run *Run, p *planner.Plan, end time.Time) []string {
	lines := []string{t.say("run from to", map[string]any{"Begun": run.Begun, "End": end, "Path": string(run.Path), "All": run.next(p) == len(p.Steps)})}
	for _, fact := range p.Case.Facts() {
		lines = append(lines, t.title(fact)+": "+p.Case.Describe(fact))
	}
	lines = append(lines, t.tickLines(run, p)...)
	for _, s := range p.Steps {
		if !run.ticked(s) {
			lines = append(lines, t.say("run not done", named(s.ID)))
		}
	}
	return lines
}

// tickLines are the ticked steps, each with its time and the product used.
func (t *Talk) tickLines(run *Run, p *planner.Plan) []string {
	var lines []string
	for _, k := range run.Ticks {
		data := map[string]any{"At": k.At, "Step": named(k.Step), "Skipped": k.Skipped, "Undone": k.Undone, "Product": (*planner.Product)(nil), "Off": ""}
		i := slices.IndexFunc(p.Steps, func(s planner.PlannedStep) bool { return s.ID == k.Step })
		if i >= 0 && !k.Skipped {
			data["Product"], data["Off"] = p.Steps[i].Product, t.offTime(p.Steps[i], k)
		}
		lines = append(lines, t.say("run tick", data))
	}
	return lines
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

// named is an id in words.
func named(id string) string { return strings.ReplaceAll(id, "-", " ") }
