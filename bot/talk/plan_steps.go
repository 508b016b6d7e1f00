package talk

import (
	"fmt"
	"strings"

	"mortarboard/planner"
)

// steps writes the plan's protocol in the contract's form.
func (t *Talk) steps(p *planner.Plan) []Step {
	var out []Step
	for _, s := range p.Steps {
		step := Step{ID: s.ID, Surface: s.Surface, Do: t.stepText(s), Values: []Value{}, Caution: s.Caution}
		for _, setting := range s.Settings {
			step.Values = append(step.Values, value(setting))
		}
		out = append(out, step)
	}
	return out
}

func (t *Talk) stepText(s planner.PlannedStep) string {
	var conditions []string
	for _, c := range s.If {
		conditions = append(conditions, c.Fact.Title+" is "+strings.Join(c.Fact.Names(c.Values), " or "))
	}
	if s.OnlyIf != "" {
		conditions = append(conditions, s.OnlyIf)
	}
	return t.say("step", map[string]any{
		"Do": s.Do, "If": strings.Join(conditions, " and "), "Missing": s.Missing, "Needs": strings.Join(s.Needs, " or "),
		"Product": nameOf(s.Product), "SparedBy": nameOf(s.SparedBy), "Contents": s.Spared,
	})
}

// nameOf is a product's name, or nothing where there is none.
func nameOf(p *planner.Product) string {
	if p == nil {
		return ""
	}
	return p.Name
}

func (t *Talk) stepLines(p *planner.Plan) []string {
	var lines []string
	for i, s := range p.Steps {
		line := fmt.Sprintf("%d. %s", i+1, t.stepText(s))
		for _, setting := range s.Settings {
			line += "\n   " + t.setting(setting)
		}
		if s.Caution != "" {
			line += "\n   " + t.say("step caution", s.Caution)
		}
		lines = append(lines, line)
	}
	return lines
}

// setting writes one setting with what it rests on.
func (t *Talk) setting(p *planner.Parameter) string {
	return t.say("setting", map[string]any{"Name": p.Name, "Of": p.Of, "Is": p.String(), "Basis": string(p.Basis), "House": p.House, "Departs": p.Departs()})
}
