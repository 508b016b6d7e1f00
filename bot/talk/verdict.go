package talk

import (
	"math"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// headVerdict gives the answer the worst verdict, with the quantities that earned it:
// one that is outside is not hidden behind another of which nothing can be said flatly.
func (t *Talk) headVerdict(r *Reply, found []checked) {
	for _, worst := range []planner.Standing{planner.Outside, planner.Unknown, planner.Within} {
		var asked []string
		var rows []planner.Judged
		for _, c := range found {
			if c.Verdict == worst {
				asked = appendNew(asked, asRead(c))
				rows = append(rows, c.Rows...)
			}
		}
		if asked != nil {
			r.Verdict = string(worst)
			r.Headline = t.say("check", map[string]any{
				"Verdict": r.Verdict, "Asked": list(asked), "Too": t.onOneSide(rows), "Settings": settingsOf(rows), "Each": t.standings(rows, len(asked)),
			})
			return
		}
	}
}

// asRead writes a quantity, and beside it what it is in the unit of its settings.
func asRead(c checked) string {
	in := sums.Unit(c.Rows[0].Unit)
	if c.quantity.Unit == in {
		return c.quantity.String()
	}
	return c.quantity.String() + " (" + sums.Quantity{Value: c.Rows[0].Value, Unit: in}.String() + ")"
}

// headRows is how many settings a headline names.
const headRows = 3

// settingsOf writes the settings that a headline names, or nothing where there are too
// many. Where there is one, what it is of goes without saying.
func settingsOf(rows []planner.Judged) string {
	var each []string
	for _, j := range rows {
		each = appendNew(each, j.String()+" ("+j.Of+")")
	}
	switch {
	case len(rows) == 1:
		return rows[0].String()
	case len(each) > headRows:
		return ""
	}
	return strings.Join(each, "; ")
}

// standings says for each setting how the one quantity that is asked about stands to it.
func (t *Talk) standings(rows []planner.Judged, asked int) string {
	var each []string
	for _, j := range rows {
		each = appendNew(each, t.say("stands", map[string]any{"Standing": string(j.Standing), "Too": t.too(j), "Of": j.Of}))
	}
	if asked > 1 || len(each) > headRows {
		return ""
	}
	return strings.Join(each, "; ")
}

// onOneSide is how a quantity misses its settings, if it misses all on the same side.
func (t *Talk) onOneSide(rows []planner.Judged) string {
	sides := []string{}
	for _, j := range rows {
		sides = appendNew(sides, t.too(j))
	}
	if len(sides) == 1 {
		return sides[0]
	}
	return ""
}

// too is how a value misses its setting: too much, too short; nothing if it does not.
func (t *Talk) too(j planner.Judged) string {
	if j.Standing != planner.Outside {
		return ""
	}
	return t.say("too", map[string]any{"More": j.Value > j.High, "Measures": string(sums.Unit(j.Unit).Dimension())})
}

// farOff says by how much a value misses its setting, as finely as the setting is given.
func (t *Talk) farOff(j planner.Judged) string {
	by := j.Low - j.Value
	if j.Value > j.High {
		by = j.Value - j.High
	}
	if by <= 0 {
		return ""
	}
	finest := math.Pow(10, math.Floor(math.Log10(by))-1)
	return sums.Quantity{Value: math.Round(by/finest) * finest, Unit: sums.Unit(j.Unit)}.String() + " " + t.too(j)
}
