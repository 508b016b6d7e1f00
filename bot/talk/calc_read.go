package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// A question is a message as the sums see it.
type question struct {
	*turn
	talk    *Talk
	words   *lexicon
	numbers []number
}

// A number of the message, with what was said of it.
type number struct {
	value float64
	unit  sums.Unit
	bare  bool   // no unit was written behind it
	fact  string // what a word beside it says it measures, as in a measure
	tooth bool   // it was read as the number of a tooth
	from  int    // the token where it begins
	at    int    // the token where it ends
}

func (t *Talk) question(u *turn) *question {
	q := &question{turn: u, talk: t, words: t.words}
	for i := 0; i < len(u.tokens); i++ {
		if !u.tokens[i].isNum {
			continue
		}
		n := q.number(i)
		q.numbers = append(q.numbers, n)
		if n.at > i { // two tokens made one number
			i = n.at
		}
	}
	return q
}

// number reads the number at token i, with the units that only a sum expects.
func (q *question) number(i int) number {
	token := q.tokens[i]
	n := number{value: token.number, unit: token.unit, from: i, at: i, tooth: token.spent}
	at := func(m measure) bool { return m.at == i }
	if m := slices.IndexFunc(q.measures, at); m >= 0 {
		n.fact = q.measures[m].fact
	}
	if n.unit == "" {
		q.unusual(&n)
	}
	n.bare = n.unit == ""
	n.tooth = n.tooth && n.bare
	if n.fact != "" && !q.words.counts(n.fact) && n.unit != sums.Newton {
		m := q.measures[slices.IndexFunc(q.measures, at)]
		n.value, n.unit = finite(m), q.words.unitOf(n.fact)
	}
	return n
}

// finite is the number that was said, in the fact's unit, of a measure that may
// be known only from one side ("under 3 mm").
func finite(m measure) float64 {
	if m.within.From == noLow && !m.within.Exact() {
		return m.within.To
	}
	return m.within.From
}

// unusual reads what stands behind a number as a unit although it is none in
// other messages: N, °C, thousands set off or written as k.
func (q *question) unusual(n *number) {
	next, after := q.word(n.at+1), q.word(n.at+2)
	if next == "000" && q.tokens[n.at+1].isNum {
		n.value, n.unit, n.at = n.value*1000, q.tokens[n.at+1].unit, n.at+1
		return
	}
	switch next {
	case "n":
		n.unit = sums.Newton
	case "c":
		n.unit = sums.Celsius
	case "f":
		n.unit = sums.Fahrenheit
	case "k", "krpm":
		n.value *= 1000
		if next == "krpm" || after == "rpm" {
			n.unit = sums.RPM
		}
	case "mwith", "with": // how the text folds mW/ and W/
		if after == "cm2" {
			n.unit = map[string]sums.Unit{"mwith": sums.MilliwattPerCM, "with": "W/cm²"}[next]
		}
	}
}

// word is the word of a token, or nothing beyond the end of the message.
func (q *question) word(i int) string {
	if i < 0 || i >= len(q.tokens) {
		return ""
	}
	return q.tokens[i].word
}

// says reports whether the message holds one of the cues for calculations.
func (q *question) says(cues ...string) bool {
	return slices.ContainsFunc(cues, func(cue string) bool { return q.words.has("calc-"+cue, q.tokens) })
}

// hasWord reports whether a word that does what the name of the grammar says
// stands in the message.
func (q *question) hasWord(name string) bool {
	return slices.ContainsFunc(q.tokens, func(t token) bool { return !t.isNum && q.words.is(name, t.word) })
}

// measured lists the numbers that were written in a unit of the dimension.
func (q *question) measured(d sums.Dimension) []number {
	return q.these(func(n number) bool { return !n.tooth && !n.bare && n.unit.Dimension() == d })
}

// bound lists the numbers that measure a fact.
func (q *question) bound(fact string) []number {
	return q.these(func(n number) bool { return n.fact == fact })
}

func (q *question) these(ok func(number) bool) []number {
	var out []number
	for _, n := range q.numbers {
		if ok(n) {
			out = append(out, n)
		}
	}
	return out
}

// A given is what a message gives a sum to work with.
type given struct {
	values  map[role]sums.Quantity // in the role's unit
	twice   map[role][]sums.Quantity
	used    map[int]bool // tokens of numbers that have a role
	colours []sums.Lab
	assumed []sums.Quantity // numbers whose unit was assumed, in that unit
	notices []string

	angleError float64 // deg, of a convergence that was worked out from lengths
	quiet      bool    // units assumed for measures of the tooth were named when the facts were read
}

func newGiven() *given {
	return &given{values: map[role]sums.Quantity{}, twice: map[role][]sums.Quantity{}, used: map[int]bool{}}
}

// take puts a number in its role. A unit that cannot be that of the role was
// written for something else: "disc radius 7. MPa?"
func (g *given) take(r role, n number) {
	value := sums.Quantity{Value: n.value, Unit: r.unit()}
	written, err := sums.Quantity{Value: n.value, Unit: n.unit}.In(r.unit())
	switch {
	case err == nil && !n.bare:
		value = written
	case !(g.quiet && n.fact != "") && r.unit() != sums.Ratio:
		g.assumed = append(g.assumed, value)
	}
	g.used[n.from] = true
	old, known := g.values[r]
	if !known {
		g.values[r] = value
	} else if old != value {
		g.twice[r] = append(g.twice[r], value)
	}
}

// takeAll puts numbers in one role; more than one different number is asked about.
func (g *given) takeAll(r role, numbers []number) {
	for _, n := range numbers {
		g.take(r, n)
	}
}

func (g *given) has(roles ...role) bool {
	return !slices.ContainsFunc(roles, func(r role) bool { _, ok := g.values[r]; return !ok })
}

// of is the value of a role in its unit, or 0.
func (g *given) of(r role) float64 { return g.values[r].Value }
