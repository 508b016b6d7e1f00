package talk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mortarboard/planner/sums"
)

func connectorSums() []sum {
	first := []need{{role: theConnWidth}, {role: theConnHeight}}
	return []sum{
		{name: "the comparison of the connectors", of: ofOther, wants: (*question).wantsConnectors, read: readConnectors, work: (*Talk).connectors,
			needs: append(slices.Clone(first), need{role: theOtherWidth}, need{role: theOtherHeight})},
		{name: "the area of the connector", of: ofOther, wants: (*question).wantsConnector, read: readConnectors, work: (*Talk).connector, needs: first},
	}
}

func (q *question) wantsConnectors() bool {
	_, unclear := q.sides()
	return q.says("connector") && (len(q.pairs()) >= 2 || unclear)
}

func (q *question) wantsConnector() bool {
	known := slices.ContainsFunc(q.numbers, func(n number) bool { return n.unit == sums.MM2 }) // "pontic 6, connectors 10 mm2" gives the area
	return q.says("connector") && len(q.pairs()) == 1 && !known
}

// A side is one side of a connector: its width or its height, or not said.
type side struct {
	number
	fact string
}

// sides lists the lengths in order, "3x4" too. Whether "3x4.2" means 4.2 or the
// sentence ends behind 4 cannot be told; that is unclear.
func (q *question) sides() (out []side, unclear bool) {
	next := 0
	for i := range q.tokens {
		if next < len(q.numbers) && q.numbers[next].at == i {
			n := q.numbers[next]
			next++
			length := (n.fact == "" || slices.Contains(q.words.words.Measuring.ConnectorSide, n.fact)) && (n.bare || n.unit == sums.Millimetre)
			if length && !n.tooth && !q.countsUnits(n.at) {
				out = append(out, side{n, n.fact})
			}
			continue
		}
		digits, glued := strings.CutPrefix(q.tokens[i].word, "x")
		value, err := strconv.ParseFloat(digits, 64)
		if !glued || err != nil || i == 0 || !q.tokens[i-1].isNum {
			continue
		}
		out = append(out, side{number: number{value: value, bare: true, at: i}})
		follows := i+1 < len(q.tokens) && q.tokens[i+1].isNum && q.tokens[i+1].clause != q.tokens[i].clause
		unclear = unclear || follows && !strings.HasPrefix(q.word(i+2), "x")
	}
	return out, unclear
}

// countsUnits reports whether the number at a token is that of a bridge's units.
func (q *question) countsUnits(i int) bool { return q.words.is("counts-units", q.word(i+1)) }

// pairs puts the sides together, two and two, as width and height. Sides of
// which it is not said are taken in that order.
func (q *question) pairs() [][2]number {
	all, _ := q.sides()
	var out [][2]number
	for i := 0; i+1 < len(all); i += 2 {
		first, second := all[i], all[i+1]
		if first.fact == "height_mm" || second.fact == "width_mm" {
			first, second = second, first
		}
		out = append(out, [2]number{first.number, second.number})
	}
	return out
}

func readConnectors(q *question, g *given) {
	sides, unclear := q.sides()
	if unclear {
		g.notices = append(g.notices, q.talk.say("calc write apart", nil))
		return
	}
	var row []number
	for _, p := range q.pairs()[:min(2, len(q.pairs()))] {
		row = append(row, p[0], p[1])
	}
	for i, n := range inherit(row) {
		g.take([]role{theConnWidth, theConnHeight, theOtherWidth, theOtherHeight}[i], n)
	}
	if !slices.ContainsFunc(sides, func(s side) bool { return s.fact != "" }) {
		g.notices = append(g.notices, q.talk.say("calc width by height", nil))
	}
}

// size writes the sides of a connector.
func (g *given) size(width, height role) string {
	return fmt.Sprintf("%s × %s", sums.Quantity{Value: g.of(width)}, sums.Quantity{Value: g.of(height), Unit: sums.Millimetre})
}

func (t *Talk) connectors(a *answer) *Reply {
	g := a.given
	f, err := sums.ConnectorStressRatio(g.of(theConnWidth), g.of(theConnHeight), g.of(theOtherWidth), g.of(theOtherHeight))
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{
		"First": g.size(theConnWidth, theConnHeight), "Second": g.size(theOtherWidth, theOtherHeight), "Ratio": told(f),
		"Better": f.Value < 1-1e-9, "Same": f.Value > 1-1e-9 && f.Value < 1+1e-9,
	}
	r := t.worked(a, t.say("calc connectors", data), []string{t.say("calc connectors mean", nil)}, f.Origin)
	a.figures(r, f)
	return r
}

// connector answers with the area of one connector, held against its settings.
func (t *Talk) connector(a *answer) *Reply {
	g := a.given
	width, height := g.of(theConnWidth), g.of(theConnHeight)
	figure, err := sums.ConnectorArea(width, height)
	if err != nil {
		return t.failed(a, err)
	}
	area := sums.Quantity{Value: figure.Value, Unit: figure.Unit}
	v, err := t.book.Check(t.book.Usual(a.question.now), connectorKey, area)
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{"Size": g.size(theConnWidth, theConnHeight), "Area": area.String(), "Verdict": string(v.Verdict)}
	r := t.worked(a, t.say("calc connector", data), []string{t.say("calc connectors mean", nil)}, figure.Origin)
	r.Values = append(r.Values, Value{Name: figure.Name, Of: "connector " + g.size(theConnWidth, theConnHeight), Low: area.Value, High: area.Value,
		Unit: string(area.Unit), Basis: "computed", Source: figure.Formula})
	t.judged(r, area, v)
	return r
}

// connectorKey is the parameter that the area of a connector is held against.
const connectorKey = "connector.area"
