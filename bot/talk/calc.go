package talk

import (
	_ "embed"
	"slices"
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
	read  func(q *question, g *given)     // sorts the message's numbers into what is needed
	work  func(t *Talk, a *answer) *Reply // is called with everything that is needed
}

// A subject is what the measures of a message belong to.
type subject int

const (
	ofTooth  subject = iota // the tooth of the case, which keeps them
	ofOther                 // a specimen, a connector, an instrument, a path of light
	ofColour                // a colour: no bare number is a tooth number either
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
	return slices.Concat(refusedSums(), conversionSums(), colourSums(), strengthSums(), forceSums(), lightSums(), cementSums(), formSums())
}

// calculates reports whether the message asks for a calculation. Measures that
// turn out to be of something else than the tooth are taken out of the case.
func (t *Talk) calculates(turn *turn) bool {
	s, ok := t.sumOf(t.question(turn))
	if ok && s.of != ofTooth {
		t.release(turn, s.of)
	}
	return ok
}

// sumOf finds the calculation that a message wants.
func (t *Talk) sumOf(q *question) (sum, bool) {
	known := sumsKnown()
	i := slices.IndexFunc(known, func(s sum) bool { return s.wants(q) })
	if i < 0 {
		return sum{}, false
	}
	return known[i], true
}

// calculation works out what the message asks for.
func (t *Talk) calculation(turn *turn) Reply {
	q := t.question(turn)
	s, _ := t.sumOf(q)
	a := &answer{question: q, given: newGiven(), sum: s}
	if s.read != nil {
		s.read(q, a.given)
	}
	r := t.lacking(a)
	if r == nil {
		r = s.work(t, a)
	}
	r.Kind = KindCalculation
	for _, n := range a.given.assumed {
		r.Notices = append(r.Notices, t.say("unit assumed", map[string]any{"Number": n.Value, "Unit": n.Unit}))
	}
	r.Notices = append(r.Notices, a.given.notices...)
	return *r
}

// release takes back what the message said of the tooth in numbers that belong
// to something else, and the notices that came of them.
func (t *Talk) release(u *turn, of subject) {
	other := func(s stated) bool { return s.within != nil || of == ofColour && u.tokens[s.at].isNum }
	echo := &turn{before: u.before}
	for _, s := range u.facts {
		if !other(s) {
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
	echo.measures = u.measures
	echo.conflicts = factsIn(u.conflicts, echo.facts)
	t.apply(echo)
	u.facts = slices.DeleteFunc(u.facts, other)
	u.conflicts = slices.DeleteFunc(u.conflicts, func(f string) bool { return slices.Contains(echo.conflicts, f) })
	u.notices = slices.DeleteFunc(u.notices, func(n string) bool { return slices.Contains(echo.notices, n) })
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
