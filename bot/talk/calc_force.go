package talk

import "mortarboard/planner/sums"

func forceSums() []sum {
	return []sum{
		{name: "the speed at the edge", of: ofOther, wants: (*question).wantsSpeed, read: readSpeed, work: (*Talk).edgeSpeed,
			needs: []need{{role: theDiameter}, {role: theSpeed}}},
		{name: "the force to pull the crown off", wants: (*question).wantsPull, read: readPull, work: (*Talk).pull,
			needs: []need{{role: theArea}}},
		{name: "the bite force", wants: (*question).wantsBite, work: (*Talk).bite},
	}
}

func (q *question) turns() []number { return q.measured(sums.Rotation) }

func (q *question) wantsSpeed() bool {
	return q.says("edge-speed") && (len(q.turns()) > 0 || len(q.diameters()) > 0)
}

// diameters are the lengths that may be the size of an instrument.
func (q *question) diameters() []number {
	return q.these(func(n number) bool {
		return !n.tooth && n.unit == sums.Millimetre || n.bare && n.fact == "" && !n.tooth
	})
}

func readSpeed(q *question, g *given) {
	g.takeAll(theSpeed, q.turns())
	for _, n := range q.diameters() {
		n.fact = ""
		g.take(theDiameter, n)
	}
}

func (t *Talk) edgeSpeed(a *answer) *Reply {
	f, err := sums.PeripheralSpeed(a.given.of(theDiameter), a.given.of(theSpeed))
	if err != nil {
		return t.failed(a, err)
	}
	r := t.worked(a, t.say("calc figure", f.String()), nil, f.Origin)
	a.figures(r, f)
	return r
}

func (q *question) wantsPull() bool { return q.says("pull") }

// readPull takes the area of the walls, or works it out from the preparation.
func readPull(q *question, g *given) {
	readTop(q, g)
	g.takeAll(theArea, q.measured(sums.Area))
	if !g.has(theArea) && g.has(theBase, theTop, theHeight) {
		f, err := sums.FrustumArea(sums.MM(g.of(theBase)), sums.MM(g.of(theTop)), sums.MM(g.of(theHeight)))
		if err == nil {
			g.values[theArea] = sums.Quantity{Value: f.Lateral.Value, Unit: sums.MM2}
		}
	}
}

func (t *Talk) pull(a *answer) *Reply {
	b, err := sums.RetentionForce(t.book.ForceLimits(), a.given.of(theArea))
	if err != nil {
		return t.failed(a, err)
	}
	r := t.worked(a, t.say("calc pull", bounds(b)), b.Notes, b.Origin)
	a.bands(r, b)
	return r
}

func (q *question) wantsBite() bool { return q.says("bite") && q.says("amount") }

// bite answers with the force to design for. It is no sum: the bounds come from
// published loads, and the answer says so.
func (t *Talk) bite(a *answer) *Reply {
	limits := t.book.ForceLimits()
	b, err := sums.BiteForce(limits, a.question.position())
	if err != nil {
		return t.failed(a, err)
	}
	means := b.Notes
	for _, m := range limits.Measured {
		means = append(means, t.say("calc bite measured", map[string]any{"What": m.Name, "Span": bounds(m), "Source": m.Source}))
	}
	r := t.worked(a, t.say("calc bite", b.String()), means, b.Origin)
	a.bands(r, b)
	return r
}
