package talk

import (
	"slices"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

func formSums() []sum {
	walls := []need{{role: theHeight}, {role: theBase}, {role: theTop}}
	return []sum{
		{name: "the total convergence of unlike walls", of: ofStump, wants: (*question).wantsUnlike, read: readUnlike, work: (*Talk).unlikeWalls,
			needs: []need{{role: theInward}, {role: theOther}, {role: theHeight}}},
		{name: "the least height", wants: (*question).wantsLeastHeight, read: readForm, work: (*Talk).leastHeight,
			needs: []need{{role: theBase}, {role: theTOC}}},
		{name: "the largest convergence", wants: (*question).wantsMostConvergence, read: readForm, work: (*Talk).mostConvergence,
			needs: []need{{role: theHeight}, {role: theBase}}},
		{name: "the total convergence", wants: (*question).wantsConvergence, read: readForm, work: (*Talk).convergence, needs: walls},
		{name: "the part of the wall that resists", wants: (*question).wantsPart, read: readForm, work: (*Talk).partOfWall,
			needs: []need{{role: theHeight}, {role: theBase}, {role: theTOC}}},
		{name: "the form", wants: (*question).wantsForm, read: readForm, work: (*Talk).holds,
			needs: []need{{role: theHeight, optional: true}, {role: theBase, optional: true}, {role: theTOC, optional: true}}},
	}
}

// angles are the numbers that may be a total convergence: bound to it, or a
// bare number of degrees.
func (q *question) angles() []number {
	return q.these(func(n number) bool {
		return n.fact == "convergence_deg" || n.fact == "" && !n.bare && n.unit == sums.Degree
	})
}

// formKnown counts which of height, width and convergence the message gives.
func (q *question) formKnown() int {
	known := 0
	for _, numbers := range [][]number{q.bound("height_mm"), q.bound("width_mm"), q.angles()} {
		if len(numbers) > 0 {
			known++
		}
	}
	return known
}

func (q *question) wantsUnlike() bool {
	return q.says("lean") && len(q.leans()) == 2
}

// leans are the lengths that no other word explains.
func (q *question) leans() []number {
	return q.these(func(n number) bool {
		free := n.fact == "" || n.fact == "wall_mm" // the wall of the tooth, not of the crown
		return !n.tooth && free && (n.bare || n.unit == sums.Millimetre)
	})
}

func (q *question) wantsLeastHeight() bool {
	given := len(q.bound("width_mm")) + len(q.angles())
	return q.says("least-height") && given > 0 && len(q.bound("height_mm")) == 0
}

func (q *question) wantsMostConvergence() bool {
	given := len(q.bound("width_mm")) + len(q.bound("height_mm"))
	return q.says("most-convergence") && given > 0 && len(q.angles()) == 0 && len(q.bound(topWidth)) == 0
}

// wantsConvergence reports whether the angle is asked for, or is what the width
// on top was given for.
func (q *question) wantsConvergence() bool {
	lengths := len(q.bound("width_mm")) + len(q.bound("height_mm"))
	tops := len(q.bound(topWidth))
	angle := len(q.angles()) + len(q.bound(taperUnclear))
	switch {
	case tops > 0:
		return lengths > 0 || q.asksAngle()
	}
	return angle == 0 && (lengths > 0 && q.asksAngle() || q.says("my-angle"))
}

// asksAngle reports whether a word for the angle stands where a question puts
// it: behind "what" or "how", or alone between two marks.
func (q *question) asksAngle() bool {
	for _, f := range q.words.all("cue:calc-angle", q.tokens) {
		first := f.from == 0 || q.tokens[f.from-1].clause != q.tokens[f.from].clause
		last := f.to == len(q.tokens) || q.tokens[f.to].clause != q.tokens[f.from].clause
		if first && (last || q.words.is("leads-to-what-is-given", q.word(f.to))) {
			return true
		}
		for back := 1; back <= 3; back++ {
			if q.words.is("asks-for-a-result", q.word(f.from-back)) {
				return true
			}
		}
	}
	return false
}

func (q *question) wantsPart() bool {
	return q.says("part-of-wall") && q.formKnown() >= 2 && !q.moreThanForm()
}

// wantsForm reports whether the message asks if a form holds: by a word for that, by
// asking for a degree of it, or by asking of all its measures at once whether they are
// all right.
func (q *question) wantsForm() bool {
	asked := slices.ContainsFunc(q.doubted, func(d doubt) bool {
		alone := q.words.askedAlone(q.tokens, stated{at: q.saidAt(d)}) || q.talk.opensWithYesOrNo(q.turn)
		return d.say != "" && slices.Contains(q.words.words.Degrees, d.fact) && alone
	})
	known := q.formKnown()
	all := known == wholeForm && q.words.has("check", q.tokens)
	return (q.says("holds") || asked || all) && known >= 2 && !q.moreThanForm()
}

// wholeForm is how many measures make a form: height, width and convergence.
const wholeForm = 3

// said is the token where the word of a doubt stands.
func (q *question) saidAt(d doubt) int {
	return max(0, slices.IndexFunc(q.tokens, func(t token) bool { return t.word == d.word }))
}

// moreThanForm reports whether the message states facts that a plan turns on
// and the form does not: then "enough" may be said of the enamel.
func (q *question) moreThanForm() bool {
	return slices.ContainsFunc(q.facts, func(s stated) bool {
		return s.within == nil && !slices.Contains(q.words.words.Form, s.fact)
	})
}

// readForm takes the measures of the preparation from the message, and from the
// case what the message leaves out.
func readForm(q *question, g *given) {
	g.takeAll(theHeight, q.bound("height_mm"))
	g.takeAll(theBase, q.bound("width_mm"))
	g.takeAll(theTop, q.bound(topWidth))
	for _, n := range q.angles() {
		if n.fact == "" {
			g.notices = append(g.notices, q.talk.say("calc read as total", sums.Quantity{Value: n.value, Unit: n.unit}.String()))
		}
		g.take(theTOC, n)
	}
	readLegend(q, g)
	if q.hasWord("names-a-groove") {
		g.notices = append(g.notices, q.talk.say("calc groove", nil))
	}
	for r, fact := range map[role]string{theHeight: "height_mm", theBase: "width_mm", theTOC: "convergence_deg"} {
		if within, ok := q.now.Measure(fact); ok && within.Exact() && !g.has(r) {
			g.values[r] = sums.Quantity{Value: within.From, Unit: r.unit()}
		}
	}
	g.settle(q)
}

// settle lets the later of two values count where the speaker took the first
// one back: the case then holds one value only.
func (g *given) settle(q *question) {
	for r, fact := range map[role]string{theHeight: "height_mm", theBase: "width_mm", theTOC: "convergence_deg"} {
		if within, ok := q.now.Measure(fact); ok && within.Exact() && g.twice[r] != nil {
			g.values[r] = sums.Quantity{Value: within.From, Unit: r.unit()}
			delete(g.twice, r)
		}
	}
}

// readLegend reads three numbers in a row with their order in words behind:
// "4 / 10 / 8.6 (height, base, top)". Without such words it says which order
// was taken.
func readLegend(q *question, g *given) {
	at := slices.IndexFunc(q.numbers, func(n number) bool { return q.rowAt(n.at) })
	if at < 0 || at+3 > len(q.numbers) {
		return
	}
	row := q.numbers[at : at+3]
	order := q.legend(row[2].at)
	if order == nil {
		g.notices = append(g.notices, q.talk.say("calc row", []float64{row[0].value, row[1].value, row[2].value}))
		return
	}
	for i, r := range order {
		g.values[r] = sums.Quantity{Value: row[i].value, Unit: sums.Millimetre}
	}
	for r, fact := range map[role]string{theHeight: "height_mm", theBase: "width_mm"} {
		q.now = q.now.Without(fact)
		if c, err := q.now.WithRange(fact, planner.Range{From: g.of(r), To: g.of(r)}); err == nil {
			q.now = c
		}
	}
}

// rowAt reports whether three numbers set off by strokes begin at a token.
func (q *question) rowAt(i int) bool {
	return i+4 < len(q.tokens) && q.word(i+1) == "/" && q.word(i+3) == "/" && q.tokens[i+2].isNum && q.tokens[i+4].isNum
}

// legend reads the first three words for measures after token i, if each of
// them names another one.
func (q *question) legend(i int) []role {
	names := map[string]role{"height_mm": theHeight, "width_mm": theBase, topWidth: theTop}
	var order []role
	for _, f := range q.words.all("measures", q.tokens) {
		r, ok := names[f.sense.name]
		if f.from > i && ok && !slices.Contains(order, r) {
			order = append(order, r)
		}
	}
	if len(order) != 3 {
		return nil
	}
	return order
}

func readUnlike(q *question, g *given) {
	readForm(q, g)
	leans := q.leans()
	if len(leans) != 2 {
		return
	}
	g.take(theInward, leans[0])
	g.take(theOther, leans[1])
}

// position is where the tooth stands, if that is known.
func (q *question) position() sums.Position {
	if values := q.now.Values("position"); len(values) == 1 {
		return sums.Position(values[0])
	}
	return ""
}

// caliper is a length of the preparation with what a caliper leaves open, nil
// if it is not known.
func (g *given) caliper(r role) *sums.Length {
	if !g.has(r) {
		return nil
	}
	l := sums.Caliper(g.of(r))
	return &l
}

// angle is the convergence that was given, nil if none was.
func (g *given) angle() *sums.Angle {
	if !g.has(theTOC) {
		return nil
	}
	return &sums.Angle{Deg: g.of(theTOC), PlusMinus: max(0, g.angleError)}
}
