package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

func strengthSums() []sum {
	bar := []need{{role: theLoad}, {role: theSpan}, {role: theWidth}, {role: theThickness}}
	return []sum{
		{name: "the biaxial strength", of: ofSpecimen, wants: (*question).wantsDisc, read: readDisc, work: (*Talk).discStrength,
			needs: []need{{role: theLoad}, {role: theThickness}, {role: theSupport}, {role: thePiston}, {role: theDisc}, {role: thePoisson, optional: true}}},
		{name: "the four-point strength", of: ofSpecimen, wants: (*question).wantsFourPoint, read: readBar, work: (*Talk).barStrength, needs: bar},
		{name: "the three-point strength", of: ofSpecimen, wants: (*question).wantsThreePoint, read: readBar, work: (*Talk).barStrength, needs: bar},
		{name: "the share that breaks", of: ofSpecimen, wants: (*question).wantsWeibull, read: readWeibull, work: (*Talk).weibull,
			needs: []need{{role: theStress}, {role: theCharact}, {role: theModulus}}},
		{name: "the comparison of the walls", of: ofOther, wants: (*question).wantsWalls, read: readWalls, work: (*Talk).compareWalls,
			needs: []need{{role: theWall}, {role: theOtherWall}, {role: theStrength, optional: true}, {role: theOtherStren, optional: true}}},
	}
}

func (q *question) forces() []number { return q.measured(sums.Force) }

func (q *question) wantsDisc() bool {
	return q.says("disc") && (len(q.forces()) > 0 || len(q.numbers) >= 3)
}

func (q *question) wantsFourPoint() bool { return q.says("four-point") && len(q.numbers) >= 2 }

func (q *question) wantsThreePoint() bool { return q.says("three-point") && len(q.numbers) >= 2 }

// mayBeMM reports whether a number may be a length in mm: written so, or bare,
// and no part of a name such as 3-point. MPa behind a full stop is a question,
// not the number's unit.
func (q *question) mayBeMM(n number) bool {
	length := n.unit == sums.Millimetre || n.unit == sums.Centimetre || n.bare || n.unit == sums.MPa
	return length && !q.words.is("names-a-bending-test", q.word(n.at+1))
}

func readDisc(q *question, g *given) {
	g.takeAll(theLoad, q.forces())
	q.named(g, q.mayBeMM, map[string]role{
		"role-thickness": theThickness, "role-support": theSupport, "role-piston": thePiston, "role-disc": theDisc, "role-poisson": thePoisson,
	})
}

func (t *Talk) discStrength(a *answer) *Reply {
	g := a.given
	if !g.has(thePoisson) {
		g.values[thePoisson] = sums.Quantity{Value: t.book.Poisson(), Unit: sums.Ratio}
		g.notices = append(g.notices, t.say("calc poisson", t.book.Poisson()))
	}
	f, err := sums.BiaxialStrength(sums.Disc{
		LoadN: g.of(theLoad), ThicknessMM: g.of(theThickness), SupportRadius: g.of(theSupport),
		PistonRadius: g.of(thePiston), DiscRadius: g.of(theDisc), Poisson: g.of(thePoisson),
	})
	return t.strength(a, f, err)
}

func readBar(q *question, g *given) {
	g.takeAll(theLoad, q.forces())
	q.named(g, q.mayBeMM, map[string]role{"role-thickness": theThickness, "role-width": theWidth, "role-span": theSpan})
}

func (t *Talk) barStrength(a *answer) *Reply {
	g := a.given
	bar := sums.BendingBar{LoadN: g.of(theLoad), SpanMM: g.of(theSpan), WidthMM: g.of(theWidth), ThicknessMM: g.of(theThickness)}
	bend := sums.ThreePointStrength
	if a.question.wantsFourPoint() {
		bend = sums.FourPointStrength
	}
	f, err := bend(bar)
	return t.strength(a, f, err)
}

func (t *Talk) strength(a *answer, f sums.Figure, err error) *Reply {
	if err != nil {
		return t.failed(a, err)
	}
	r := t.worked(a, t.say("calc figure", f.String()), []string{t.say("calc strength means", nil)}, f.Origin)
	a.figures(r, f)
	return r
}

func (q *question) wantsWeibull() bool { return q.says("weibull") && len(q.numbers) >= 2 }

func readWeibull(q *question, g *given) {
	may := func(n number) bool { return n.bare || n.unit == sums.MPa }
	q.named(g, may, map[string]role{"role-stress": theStress, "role-characteristic": theCharact, "role-modulus": theModulus})
}

func (t *Talk) weibull(a *answer) *Reply {
	f, err := sums.FailureProbability(a.given.of(theStress), a.given.of(theCharact), a.given.of(theModulus))
	if err != nil {
		return t.failed(a, err)
	}
	r := t.worked(a, t.say("calc figure", f.String()), nil, f.Origin)
	a.figures(r, f)
	return r
}

// plainWalls are the lengths of a comparison: in mm, or bare beside one in mm.
func (q *question) plainWalls() []number {
	walls := q.these(func(n number) bool {
		free := n.fact == "" || n.fact == "wall_mm"
		return !n.tooth && free && (n.bare || n.unit.Dimension() == sums.Distance)
	})
	if !slices.ContainsFunc(walls, func(n number) bool { return !n.bare || n.fact == "wall_mm" }) {
		return nil
	}
	return walls
}

func (q *question) wantsWalls() bool {
	return len(q.plainWalls()) == 2 && q.says("weaker") && !q.says("connector")
}

// readWalls takes the two walls of a comparison; of one alone it is not said which it
// replaces.
func readWalls(q *question, g *given) {
	walls := inherit(q.plainWalls())
	if len(walls) != 2 {
		return
	}
	g.take(theWall, walls[0])
	g.take(theOtherWall, walls[1])
	if s := q.measured(sums.Pressure); len(s) == 2 {
		g.take(theStrength, s[0])
		g.take(theOtherStren, s[1])
	} else if slices.Contains(q.conflicts, "zirconia") || len(q.now.Values("zirconia")) == 2 && q.now.Known("zirconia") {
		g.notices = append(g.notices, q.talk.say("calc grades differ", nil))
	}
}

func (t *Talk) compareWalls(a *answer) *Reply {
	g := a.given
	first := sums.Layer{WallMM: g.of(theWall), StrengthMPa: g.of(theStrength)}
	second := sums.Layer{WallMM: g.of(theOtherWall), StrengthMPa: g.of(theOtherStren)}
	f, err := sums.RelativeCrackLoad(first, second)
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{
		"First": g.values[theWall].String(), "Second": g.values[theOtherWall].String(), "Ratio": told(f), "Alike": !g.has(theStrength),
	}
	r := t.worked(a, t.say("calc walls", data), []string{t.say("calc walls mean", nil)}, f.Origin)
	a.figures(r, f)
	return r
}

// inherit gives bare numbers the unit that another number of the same row was
// written in: 3 x 4 mm.
func inherit(row []number) []number {
	i := slices.IndexFunc(row, func(n number) bool { return !n.bare })
	for j := range row {
		if i >= 0 && row[j].bare {
			row[j].unit, row[j].bare = row[i].unit, false
		}
	}
	return row
}
