package talk

import "mortarboard/planner/sums"

func cementSums() []sum {
	walls := []need{{role: theBase}, {role: theTop}, {role: theHeight}}
	return []sum{
		{name: "the cement volume", wants: (*question).wantsVolume, read: readFilm, work: (*Talk).cementVolume,
			needs: append(walls, need{role: theFilm})},
		{name: "the lift of the crown", wants: (*question).wantsLift, read: readLift, work: (*Talk).lift,
			needs: []need{{role: theFilm}, {role: theTOC}, {role: theSpace, optional: true}}},
		{name: "the area", wants: (*question).wantsArea, read: readTop, work: (*Talk).area,
			needs: append(walls, need{role: theTOC, optional: true})},
	}
}

// sizes counts the measures of the preparation in the message.
func (q *question) sizes() int {
	return len(q.bound("width_mm")) + len(q.bound(topWidth)) + len(q.bound("height_mm")) + len(q.bound("convergence_deg"))
}

func (q *question) wantsVolume() bool {
	return q.says("volume") && (q.sizes() > 0 || len(q.films()) > 0)
}

func (q *question) wantsLift() bool {
	return q.says("lift") && (len(q.films()) > 0 || len(q.angles()) > 0)
}

func (q *question) wantsArea() bool { return q.says("area") && q.sizes() > 0 && !q.says("connector") }

// films are the numbers in µm.
func (q *question) films() []number {
	return q.these(func(n number) bool { return !n.tooth && !n.bare && n.unit == sums.Micrometre })
}

// thickestFilm is the greatest length in mm that is taken for a film.
const thickestFilm = 0.5

// readFilm takes the preparation, the film and the space that the laboratory
// left. A single number in µm is the film.
func readFilm(q *question, g *given) {
	readTop(q, g)
	if len(q.films()) == 1 {
		g.takeAll(theFilm, q.films())
		return
	}
	mayBeFilm := func(n number) bool {
		thin := n.unit == sums.Micrometre || n.unit == sums.Millimetre && n.value <= thickestFilm
		return !n.tooth && n.fact == "" && (n.bare || thin)
	}
	q.named(g, mayBeFilm, map[string]role{"role-film": theFilm, "role-space": theSpace})
	if g.has(theSpace) && !g.has(theFilm) {
		g.values[theFilm] = g.values[theSpace]
		delete(g.values, theSpace)
	}
}

// leastLean is the least convergence in degrees for which a lift is computed.
const leastLean = 1

// readLift takes the film and the convergence, which may have to be worked out
// from the widths and the height.
func readLift(q *question, g *given) {
	readFilm(q, g)
	if !g.has(theHeight, theBase, theTop) || g.has(theTOC) {
		return
	}
	if toc, err := sums.TotalConvergence(*g.caliper(theBase), *g.caliper(theTop), *g.caliper(theHeight)); err == nil {
		g.values[theTOC] = sums.Quantity{Value: toc.Value, Unit: sums.Degree}
		g.angleError = min(plusMinus(toc), toc.Value-leastLean)
	}
}

// readTop takes the preparation, and works out the width on top if convergence
// was given in its place.
func readTop(q *question, g *given) {
	readForm(q, g)
	if !g.has(theHeight, theBase, theTOC) || g.has(theTop) {
		return
	}
	g.values[theTop] = sums.Quantity{Value: sums.TopWidth(g.of(theBase), g.of(theHeight), g.of(theTOC)), Unit: sums.Millimetre}
	g.notices = append(g.notices, q.talk.say("calc top from angle", g.values[theTop].String()))
}

func (t *Talk) cementVolume(a *answer) *Reply {
	g := a.given
	v, err := sums.CementVolume(*g.caliper(theBase), *g.caliper(theTop), *g.caliper(theHeight), g.of(theFilm))
	if err != nil {
		return t.failed(a, err)
	}
	means := []string{t.say("calc cement shell", told(v.Shell))}
	r := t.worked(a, t.say("calc cement", told(v.Thin)), means, v.Thin.Origin)
	a.figures(r, v.Thin)
	return r
}

func (t *Talk) lift(a *answer) *Reply {
	lift, err := sums.SeatingLift(a.given.of(theFilm), *a.given.angle(), a.given.of(theSpace))
	if err != nil {
		return t.failed(a, err)
	}
	means := []string{t.say("calc lift means", lift.Value == 0)}
	r := t.worked(a, t.say("calc lift", told(lift)), means, lift.Origin)
	a.figures(r, lift)
	return r
}

func (t *Talk) area(a *answer) *Reply {
	g := a.given
	if a.question.hasWord("square-in-plan") && g.has(theTOC) {
		walls, total, err := sums.SquareArea(g.of(theBase), g.of(theHeight), g.of(theTOC)/2)
		if err != nil {
			return t.failed(a, err)
		}
		r := t.worked(a, t.say("calc area", map[string]any{"Total": told(total), "Walls": told(walls)}), nil, walls.Origin)
		a.figures(r, total, walls)
		return r
	}
	f, err := sums.FrustumArea(*g.caliper(theBase), *g.caliper(theTop), *g.caliper(theHeight))
	if err != nil {
		return t.failed(a, err)
	}
	means := []string{t.say("calc area parts", map[string]any{"Top": told(f.Top), "Slant": told(f.Slant), "Solid": told(f.Solid)})}
	r := t.worked(a, t.say("calc area", map[string]any{"Total": told(f.Total), "Walls": told(f.Lateral)}), means, f.Total.Origin)
	a.figures(r, f.Total, f.Lateral, f.Top)
	return r
}
