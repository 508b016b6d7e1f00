package talk

import (
	"errors"
	"slices"
	"strconv"

	"mortarboard/planner/sums"
)

func conversionSums() []sum {
	return []sum{
		{name: "the conversion", of: ofTooth, wants: (*question).converts, work: (*Talk).convert},
		{name: "the conversion", of: ofSpecimen, wants: (*question).unitless, work: (*Talk).convertWhat},
		{name: "the conversion", of: ofSpecimen, wants: (*question).unlike, work: (*Talk).convertUnlike},
		{name: "the conversion", of: ofOther, wants: (*question).inches, work: (*Talk).convertInches},
	}
}

// target finds a unit that stands alone and the numbers that are written in
// another unit of its kind: "2.8 bar in psi", "how many psi is 2 bar", "psi for
// 2 bar", "250 kPa = ? bar".
func (q *question) target() (sums.Unit, []number) {
	for i := range q.tokens {
		unit, ok := q.unitAlone(i)
		if !ok {
			continue
		}
		from := q.these(func(n number) bool {
			return !n.tooth && !n.bare && n.unit != unit && n.unit.Dimension() == unit.Dimension()
		})
		if from == nil {
			from = slices.DeleteFunc(q.toldAgain(), func(n number) bool { return n.unit == unit || n.unit.Dimension() != unit.Dimension() })
		}
		if from == nil {
			from = q.inUnitApart(unit, i)
		}
		if len(from) > 0 && q.asksIn(i) {
			return unit, from
		}
	}
	return q.targetAgain()
}

// inUnitApart gives the one number before the unit that is wanted the unit that stands
// apart from it: "the dial is in MPa, 0.25 is what in bar".
func (q *question) inUnitApart(to sums.Unit, at int) []number {
	from := q.these(func(n number) bool { return !n.tooth && n.bare && n.at < at })
	for i := range q.tokens {
		unit, ok := q.unitAlone(i)
		if ok && len(from) == 1 && unit != to && unit.Dimension() == to.Dimension() {
			from[0].unit, from[0].bare = unit, false
			return from
		}
	}
	return nil
}

// targetAgain is the unit of the last conversion for a number in the unit that was
// converted then: "2 bar in psi", then "and 3 bar?"
func (q *question) targetAgain() (sums.Unit, []number) {
	to, known := q.past.Worked.Given[theTarget]
	if q.past.Last != KindCalculation || !known || len(q.tokens) > followWords || len(q.past.Said) == 0 || q.words.has("check", q.tokens) {
		return "", nil
	}
	from := q.these(func(n number) bool { return !n.tooth && !n.bare })
	if bare := q.these(func(n number) bool { return !n.tooth && n.bare }); from == nil && len(bare) == 1 {
		bare[0].unit, bare[0].bare = q.past.Said[0].Unit, false
		from = bare
	}
	if len(from) != 1 || from[0].unit != q.past.Said[0].Unit || len(q.facts) > 0 {
		return "", nil
	}
	return to.Unit, from
}

// unitAlone reads a unit at token i that belongs to no number. One letter is a
// unit only where a temperature is converted.
func (q *question) unitAlone(i int) (sums.Unit, bool) {
	t := q.tokens[i]
	if t.isNum || i > 0 && q.tokens[i-1].isNum && q.tokens[i-1].unit == "" {
		return "", false
	}
	switch t.word {
	case "c":
		return sums.Celsius, true
	case "f":
		return sums.Fahrenheit, true
	case "°", "°c", "°f":
		unit, used := unitAt(q.tokens[i:])
		return unit, used > 1
	}
	return spelledUnit(t.word)
}

// asksIn reports whether the words around a unit at token i ask for it.
func (q *question) asksIn(i int) bool {
	before, x := q.word(i-1), q.words
	if x.is("converts-to", before) || x.is("asks-for-a-unit", before) || x.is("equates", before) {
		return true
	}
	last := i+1 == len(q.tokens) || q.tokens[i+1].clause != q.tokens[i].clause
	if last && i > 0 && q.tokens[i-1].isNum {
		return true // "3 bar psi?"
	}
	if x.is("precedes-a-quantity", q.word(i+1)) {
		return i+2 < len(q.tokens) && (q.tokens[i+2].isNum || i+3 < len(q.tokens) && q.tokens[i+3].isNum)
	}
	return q.says("convert")
}

func (q *question) converts() bool {
	unit, from := q.target()
	return unit != "" && len(from) > 0
}

func (t *Talk) convert(a *answer) *Reply {
	unit, from := a.question.target()
	a.question.worked = Worked{Sum: a.sum.name, Given: map[role]sums.Quantity{theTarget: {Unit: unit}}}
	r := &Reply{}
	var said []string
	a.question.said = nil
	for _, n := range from {
		to, err := converted(n, unit)
		if err != nil {
			return &Reply{Headline: t.say("calc failed", upper(err.Error()))}
		}
		of := sums.Quantity{Value: n.value, Unit: n.unit}
		a.question.said = append(a.question.said, of)
		said = append(said, t.say("calc converted", map[string]any{"From": of.String(), "To": to.String()}))
		r.Values = append(r.Values, Value{Name: "conversion", Of: of.String(), Low: to.Value, High: to.Value, Unit: string(unit), Basis: "computed", Source: conversionSource(unit)})
		r.Notices = append(r.Notices, t.blastNotice(of)...)
	}
	r.Headline = upper(list(said)) + "."
	if turn := a.question.turn; t.asksWhetherOK(turn) && t.fitsAsked(turn) {
		checked := t.check(turn)
		r.section("Also asked", false, append([]string{checked.Headline}, linesOf(checked)...)...)
		r.Notices = append(r.Notices, checked.Notices...)
	}
	r.section("Formula", true, t.say("calc conversion formula", conversionSource(unit)))
	return r
}

// converted refuses what cannot be, such as a negative pressure, and converts.
func converted(n number, to sums.Unit) (sums.Quantity, error) {
	q := sums.Quantity{Value: n.value, Unit: n.unit}
	if err := q.Check(); err != nil {
		return q, err
	}
	return q.In(to)
}

func conversionSource(u sums.Unit) string {
	if u.Dimension() == sums.Pressure {
		return "NIST SP 811"
	}
	return "definition of the units"
}

// strengths begin at this many MPa; what is less may be meant as a pressure of air.
const leastStrengthMPa = 50

// blastNotice warns of a pressure that no blasting unit is used at. What is
// written as a strength, in MPa and high, is none.
func (t *Talk) blastNotice(q sums.Quantity) []string {
	mpa, err := q.In(sums.MPa)
	strength := (q.Unit == sums.MPa || q.Unit == "GPa") && mpa.Value >= leastStrengthMPa
	if err != nil || strength {
		return nil
	}
	var input *sums.InputError
	if errors.As(sums.CheckBlastPressure(t.book.BlastLimits(), q), &input) {
		return []string{t.say("calc blast", input)}
	}
	return nil
}

// unitless reports whether a bare number is to be converted: "2.8 in psi".
func (q *question) unitless() bool {
	_, _, ok := q.withoutUnit()
	return ok
}

// withoutUnit finds a number without a unit that stands before "in psi" or the like.
func (q *question) withoutUnit() (number, sums.Unit, bool) {
	for _, n := range q.numbers {
		unit, ok := spelledUnit(q.word(n.at + 2))
		asked := q.words.is("converts-to", q.word(n.at+1))
		if n.bare && n.fact == "" && ok && asked && unit.Dimension() == sums.Pressure {
			return n, unit, true
		}
	}
	return number{}, "", false
}

func (t *Talk) convertWhat(a *answer) *Reply {
	n, unit, _ := a.question.withoutUnit()
	return &Reply{Headline: t.say("calc which unit", map[string]any{"Number": n.value, "To": unit})}
}

// unlike reports whether a quantity is wanted in a unit of another kind.
func (q *question) unlike() bool {
	_, _, ok := q.otherKind()
	return ok
}

func (q *question) otherKind() (number, sums.Unit, bool) {
	for _, n := range q.numbers {
		in := q.measureEnd(n)
		unit, ok := spelledUnit(q.word(in + 1))
		asked := q.words.is("converts-to", q.word(in))
		if !n.bare && n.fact == "" && ok && asked && unit.Dimension() != n.unit.Dimension() {
			return n, unit, true
		}
	}
	return number{}, "", false
}

// measureEnd is the token behind a number and its unit.
func (q *question) measureEnd(n number) int {
	if q.tokens[n.at].unit == "" {
		return n.at + 2 // a unit that only a sum reads is a word of its own
	}
	return n.at + 1
}

func (t *Talk) convertUnlike(a *answer) *Reply {
	n, unit, _ := a.question.otherKind()
	_, err := sums.Quantity{Value: n.value, Unit: n.unit}.In(unit)
	return &Reply{Headline: t.say("calc failed", upper(err.Error()))}
}

// inches reports whether inches are to be converted, which no unit here is.
func (q *question) inches() bool {
	_, ok := q.inch()
	return ok
}

func (q *question) inch() (number, bool) {
	for _, n := range q.numbers {
		unit := q.word(n.at + 1)
		if !n.bare || unit != "in" && unit != "inch" && unit != "inches" {
			continue
		}
		for i := n.at + 2; i < len(q.tokens); i++ {
			to, ok := spelledUnit(q.word(i))
			if ok && to.Dimension() == sums.Distance && (unit != "in" || i > n.at+2) {
				return n, true
			}
		}
	}
	return number{}, false
}

func (t *Talk) convertInches(a *answer) *Reply {
	n, _ := a.question.inch()
	return &Reply{Headline: t.say("calc inches", strconv.FormatFloat(n.value, 'f', -1, 64))}
}
