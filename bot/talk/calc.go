package talk

import (
	_ "embed"
	"maps"
	"slices"
	"strconv"
	"strings"

	"mortarboard/planner/sums"
)

// calcWordingText holds the sentences of the calculations.
//
//go:embed wording_calc.tmpl
var calcWordingText string

// A sum is one calculation that a message can ask for.
type sum struct {
	name  string // as it stands in "To work out … I still need …"
	of    subject
	wants func(q *question) bool
	needs []need                          // what it is worked out from, in the order in which it is told and asked for
	read  func(q *question, g *given)     // sorts the message's numbers into what is needed; a sum that is resumed reads any message
	work  func(t *Talk, a *answer) *Reply // is called with everything that is needed
}

// A subject is what the measures of a message belong to.
type subject int

const (
	ofTooth    subject = iota // the tooth of the case, which keeps them
	ofStump                   // the same, and a wall is one of the tooth, not of the crown
	ofOther                   // a connector, an instrument, a path of light
	ofSpecimen                // a specimen or a colour: no bare number is a tooth number either
)

// A need is one measure that a sum takes.
type need struct {
	role     role
	optional bool // it is used if it is there
}

// sumsKnown lists every calculation. They are tried in order, and the first that the
// message wants is worked out; what is never computed comes first, since its
// words are the most particular.
func sumsKnown() []sum {
	return slices.Concat(refusedSums(), conversionSums(), colourSums(), strengthSums(), connectorSums(), forceSums(), lightSums(), cementSums(), formSums())
}

// calculates reports whether the message asks for a calculation. Measures that
// turn out to be of something else than the tooth are taken out of the case.
func (t *Talk) calculates(turn *turn) bool {
	q := t.question(turn)
	s, ok := t.sumOf(q)
	if ok {
		t.release(q, s.of)
	}
	return ok
}

// sumOf finds the calculation that a message wants.
func (t *Talk) sumOf(q *question) (sum, bool) {
	known := sumsKnown()
	i := slices.IndexFunc(known, func(s sum) bool { return s.wants(q) })
	if i < 0 {
		return t.resumed(q)
	}
	return known[i], true
}

// calculation works out what the message asks for.
func (t *Talk) calculation(turn *turn) Reply {
	r, drawings := t.workOut(turn)
	turn.drawings = drawings
	return r
}

// workOut works out what the message asks for, and what there is to draw of it.
func (t *Talk) workOut(turn *turn) (Reply, []drawer) {
	q := t.question(turn)
	s, _ := t.sumOf(q)
	a := &answer{question: q, given: newGiven(), sum: s}
	a.given.quiet = s.of <= ofStump
	if s.read != nil {
		s.read(q, a.given)
		a.takeUp()
		turn.worked = Worked{Sum: s.name, Given: a.given.values}
	}
	r := t.lacking(a)
	if r == nil {
		r = s.work(t, a)
	}
	r.Kind = KindCalculation
	r.Notices = slices.Concat(r.Notices, t.assumedUnits(a.given.assumed), a.given.notices, t.unused(a))
	return *r, a.drawings
}

// unused names numbers with a unit that the sum had no use for, so that nobody
// takes them to be in it. What the case keeps is not lost.
func (t *Talk) unused(a *answer) []string {
	if a.sum.read == nil || a.sum.of == ofSpecimen {
		return nil
	}
	var left []string
	for _, n := range a.question.numbers {
		kept := a.sum.of <= ofStump && n.fact != ""
		if !n.bare && n.unit != sums.Percent && !kept && !a.given.used[n.from] {
			left = append(left, sums.Quantity{Value: n.value, Unit: n.unit}.String())
		}
	}
	if left == nil {
		return nil
	}
	return []string{t.say("calc unused", list(left))}
}

// assumedUnits says which numbers were read in a unit that was not written.
func (t *Talk) assumedUnits(assumed []sums.Quantity) []string {
	numbers := map[sums.Unit][]string{}
	for _, q := range assumed {
		numbers[q.Unit] = appendNew(numbers[q.Unit], strconv.FormatFloat(q.Value, 'g', -1, 64))
	}
	var out []string
	for _, unit := range slices.Sorted(maps.Keys(numbers)) {
		out = append(out, t.say("unit assumed", map[string]any{"Numbers": strings.Join(numbers[unit], ", "), "Unit": unit}))
	}
	return out
}

// release takes back what the message said of the tooth in numbers that belong
// to something else, and the notices that came of them.
func (t *Talk) release(q *question, of subject) {
	u := q.turn
	echo := &turn{before: u.before}
	for _, s := range u.facts {
		if !q.elsewhere(s, of) {
			continue
		}
		echo.facts = append(echo.facts, s)
		u.now = u.now.Without(s.fact)
		if span, ok := u.before.Measure(s.fact); ok {
			u.now, _ = u.now.WithRange(s.fact, span)
		} else if u.before.Known(s.fact) {
			u.now, _ = u.now.With(s.fact, u.before.Values(s.fact)...)
		}
	}
	if of > ofStump {
		echo.measures = u.measures
	}
	echo.conflicts = factsIn(u.conflicts, echo.facts)
	t.apply(echo)
	u.facts = slices.DeleteFunc(u.facts, func(s stated) bool { return q.elsewhere(s, of) })
	u.conflicts = slices.DeleteFunc(u.conflicts, func(f string) bool { return slices.Contains(echo.conflicts, f) })
	u.notices = slices.DeleteFunc(u.notices, func(n string) bool { return slices.Contains(echo.notices, n) })
}

// elsewhere reports whether a fact was read from a number that is no measure of
// the tooth and no tooth number: a side of a connector, 37 °C.
func (q *question) elsewhere(s stated, of subject) bool {
	switch {
	case s.fact == "span_units":
		return of > ofStump && !q.countsUnits(s.at)
	case s.within != nil:
		return of > ofStump || of == ofStump && s.fact == "wall_mm"
	}
	return slices.ContainsFunc(q.numbers, func(n number) bool { return n.from == s.at && (of == ofSpecimen || !n.bare) })
}

// factsIn are the names among those of the stated facts.
func factsIn(names []string, facts []stated) []string {
	var out []string
	for _, s := range facts {
		if slices.Contains(names, s.fact) {
			out = append(out, s.fact)
		}
	}
	return out
}
