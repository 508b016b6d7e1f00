package talk

import (
	"cmp"
	"math"

	"mortarboard/bot/talk/draw"
	"mortarboard/planner/sums"
)

// convergence answers with the angle between the walls, and with what it means
// for the form.
func (t *Talk) convergence(a *answer) *Reply {
	height, base, top := a.given.caliper(theHeight), a.given.caliper(theBase), a.given.caliper(theTop)
	toc, err := sums.TotalConvergence(*base, *top, *height)
	if err != nil {
		return t.failed(a, err)
	}
	angle := sums.Angle{Deg: toc.Value, PlusMinus: math.Min(plusMinus(toc), mostAngleError)}
	form, err := sums.RetentiveForm(t.book.FormLimits(), height, base, &angle, a.question.position())
	resistance, err2 := sums.ResistanceForm(*height, *base, angle)
	if err := cmp.Or(err, err2); err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{"Figure": toc.String(), "Verdict": ""}
	if a.question.says("holds") || !a.question.asksAngle() {
		data["Verdict"] = t.formVerdict(form)
	}
	means := append(t.formLines(form), t.resistanceLines(resistance)...)
	means = append(means, toc.Notes...)
	means = append(means, t.say("calc caliper", sums.CaliperMM), t.say("calc take over", toc.Value))
	a.draws(draw.Preparation{Height: *height, Margin: *base, Top: top, Form: &form})
	r := t.worked(a, t.say("calc convergence", data), means, toc.Origin, resistance.HalfWall.Limit.Origin, form.Origin)
	a.figures(r, toc, resistance.Fraction, resistance.HalfWall.Limit, resistance.HalfWall.Minimum)
	return r
}

// mostAngleError is the largest uncertainty of an angle, in degrees, that is
// carried on; beyond it nothing is decided anyway.
const mostAngleError = 30

// holds answers whether the form holds the crown, from what is known of it.
func (t *Talk) holds(a *answer) *Reply {
	height, base, toc := a.given.caliper(theHeight), a.given.caliper(theBase), a.given.angle()
	form, err := sums.RetentiveForm(t.book.FormLimits(), height, base, toc, a.question.position())
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{"Verdict": t.formVerdict(form), "Tipping": "", "Limit": ""}
	means, origins := t.formLines(form), []sums.Origin{form.Origin}
	var figures []sums.Figure
	switch {
	case height != nil && base != nil && toc != nil:
		resistance, err := sums.ResistanceForm(*height, *base, *toc)
		if err != nil {
			return t.failed(a, err)
		}
		a.draws(draw.Preparation{Height: *height, Margin: *base, Convergence: toc, Form: &form})
		j := resistance.HalfWall
		data["Tipping"], data["Limit"] = string(j.Verdict), told(j.Limit)
		means = append(means, t.resistanceLines(resistance)...)
		origins = append(origins, j.Limit.Origin)
		figures = append(figures, resistance.Fraction, j.Limit, j.Minimum)
	case height != nil && base != nil:
		limit, err := sums.ConvergenceLimit(sums.HalfWall, *height, *base)
		if err != nil {
			return t.failed(a, err)
		}
		data["Limit"] = told(limit)
		origins, figures = append(origins, limit.Origin), append(figures, limit)
	}
	r := t.worked(a, t.say("calc holds", data), means, origins...)
	a.figures(r, figures...)
	return r
}

// partOfWall answers which part of the wall keeps the crown from tipping.
func (t *Talk) partOfWall(a *answer) *Reply {
	r, err := sums.ResistanceForm(*a.given.caliper(theHeight), *a.given.caliper(theBase), *a.given.angle())
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{
		"None": r.Fraction.Value == 0, "Part": percent(r.Fraction), "From": told(r.ResistingLow), "Verdict": string(r.HalfWall.Verdict),
	}
	a.draws(draw.Preparation{Height: *a.given.caliper(theHeight), Margin: *a.given.caliper(theBase), Convergence: a.given.angle()})
	out := t.worked(a, t.say("calc part of wall", data), t.resistanceLines(r), r.Fraction.Origin, r.HalfWall.Limit.Origin)
	a.figures(out, r.Fraction, r.ResistingLow, r.HalfWall.Limit, r.HalfWall.Minimum)
	return out
}

// percent writes a figure between 0 and 1 as a share with its span.
func percent(f sums.Figure) string {
	f.Value, f.Low, f.High, f.Unit = 100*f.Value, 100*f.Low, 100*f.High, sums.Percent
	return told(f)
}

func (t *Talk) leastHeight(a *answer) *Reply {
	base, toc := *a.given.caliper(theBase), *a.given.angle()
	half, err := sums.MinimumHeight(sums.HalfWall, base, toc)
	edge, err2 := sums.MinimumHeight(sums.TopEdge, base, toc)
	if err := cmp.Or(err, err2); err != nil {
		return t.failed(a, err)
	}
	means := []string{
		t.say("calc criterion", map[string]any{"Name": "half-wall rule", "Meaning": sums.HalfWall.Meaning()}),
		t.say("calc criterion", map[string]any{"Name": "top-edge rule", "Meaning": sums.TopEdge.Meaning()}),
		t.say("calc advised height", t.book.FormLimits()),
	}
	r := t.worked(a, t.say("calc least height", map[string]any{"Half": told(half), "Edge": told(edge)}), means, half.Origin)
	a.figures(r, half, edge)
	return r
}

func (t *Talk) mostConvergence(a *answer) *Reply {
	height, base := *a.given.caliper(theHeight), *a.given.caliper(theBase)
	half, err := sums.ConvergenceLimit(sums.HalfWall, height, base)
	edge, err2 := sums.ConvergenceLimit(sums.TopEdge, height, base)
	if err := cmp.Or(err, err2); err != nil {
		return t.failed(a, err)
	}
	means := []string{
		t.say("calc criterion", map[string]any{"Name": "half-wall rule", "Meaning": sums.HalfWall.Meaning()}),
		t.say("calc criterion", map[string]any{"Name": "top-edge rule", "Meaning": sums.TopEdge.Meaning()}),
		t.say("calc top-edge limit", told(edge)),
		t.say("calc advised convergence", t.book.FormLimits()),
	}
	means = append(means, half.Notes...)
	r := t.worked(a, t.say("calc most convergence", told(half)), means, half.Origin)
	a.figures(r, half, edge)
	return r
}

func (t *Talk) unlikeWalls(a *answer) *Reply {
	length := func(r role) sums.Length { return sums.Caliper(a.given.of(r)) }
	toc, err := sums.ConvergenceOfWalls(length(theInward), length(theOther), length(theHeight))
	if err != nil {
		return t.failed(a, err)
	}
	if base := a.given.caliper(theBase); base != nil {
		a.draws(draw.Preparation{Height: length(theHeight), Margin: *base, Offsets: &[2]sums.Length{length(theInward), length(theOther)}})
	}
	r := t.worked(a, t.say("calc convergence", map[string]any{"Figure": toc.String(), "Verdict": ""}), []string{t.say("calc advised convergence", t.book.FormLimits())}, toc.Origin)
	a.figures(r, toc)
	return r
}

// formVerdict says what the measures tell of the form, without a full stop.
func (t *Talk) formVerdict(f sums.Form) string {
	var missed, near []string
	for _, c := range f.Criteria {
		switch c.State {
		case sums.Missed:
			missed = append(missed, c.Name)
		case sums.Close:
			near = append(near, c.Name)
		}
	}
	return t.say("calc form", map[string]any{"Verdict": string(f.Verdict), "Missed": list(missed), "Close": list(near), "Missing": list(f.Missing)})
}

// formLines lists how each published limit stands, and what to note.
func (t *Talk) formLines(f sums.Form) []string {
	lines := t.criteria(f.Criteria)
	if len(f.Missing) > 0 {
		lines = append(lines, t.say("calc to measure", list(f.Missing)))
	}
	return append(lines, f.Notes...)
}

// resistanceLines says what each criterion asks for and how the wall stands to it.
func (t *Talk) resistanceLines(r sums.Resistance) []string {
	lines := []string{t.say("calc part", map[string]any{"Part": percent(r.Fraction), "From": told(r.ResistingLow)})}
	for _, j := range []sums.Judged{r.HalfWall, r.TopEdge} {
		lines = append(lines, t.say("calc judged", map[string]any{
			"Name": string(j.Criterion) + " rule", "Meaning": j.Criterion.Meaning(), "Verdict": string(j.Verdict),
			"Limit": told(j.Limit), "Minimum": told(j.Minimum),
		}))
		lines = append(lines, j.Limit.Notes...)
	}
	return lines
}
