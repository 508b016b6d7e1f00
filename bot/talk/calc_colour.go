package talk

import (
	"slices"
	"strings"

	"mortarboard/planner/sums"
)

func colourSums() []sum {
	return []sum{
		{name: "the translucency", of: ofSpecimen, wants: (*question).wantsTranslucency, read: readColours, work: (*Talk).translucency},
		{name: "the colour difference", of: ofSpecimen, wants: (*question).wantsColours, read: readColours, work: (*Talk).colours},
		{name: "the judgement of the difference", of: ofSpecimen, wants: (*question).wantsThreshold, work: (*Talk).threshold},
	}
}

// colourNumbers are the numbers that may be coordinates of a colour or a
// difference: all that carry no unit, tooth numbers too, but for those that
// belong to the name of a formula.
func (q *question) colourNumbers() []number {
	return q.these(func(n number) bool {
		name := n.value == 2000 || n.value == 76 || q.word(n.at) == "00"
		return !name && (n.bare || n.unit.Dimension() == sums.Colour2000 || n.unit.Dimension() == sums.ColourLab ||
			n.unit.Dimension() == sums.Translucent || n.unit.Dimension() == sums.TranslucentL)
	})
}

// asksColour reports whether a colour difference is spoken of; "dE" only right
// before a number, since it is a word of other languages.
func (q *question) asksColour() bool {
	for i, t := range q.tokens {
		next := i + 1
		if q.word(next) == "of" {
			next++
		}
		if q.words.is("begins-a-difference", t.word) && next < len(q.tokens) && q.tokens[next].isNum {
			return true
		}
	}
	return q.says("colour")
}

func (q *question) wantsTranslucency() bool {
	return q.says("translucency") && len(q.colourNumbers()) >= 3
}

func (q *question) wantsColours() bool {
	return q.asksColour() && len(q.colourNumbers()) >= 3
}

func (q *question) wantsThreshold() bool {
	return (q.asksColour() || q.says("translucency-difference")) && len(q.colourNumbers()) == 1
}

// readColours takes six numbers as two colours.
func readColours(q *question, g *given) {
	n := q.colourNumbers()
	if len(n) != 6 {
		return
	}
	for i := 0; i < 6; i += 3 {
		g.colours = append(g.colours, sums.Lab{L: n[i].value, A: n[i+1].value, B: n[i+2].value})
	}
}

// twoColours asks for what is needed where there are not two colours.
func (t *Talk) twoColours(a *answer) *Reply {
	if len(a.given.colours) == 2 {
		return nil
	}
	return &Reply{Headline: t.say("calc two colours", len(a.question.colourNumbers()))}
}

func (t *Talk) colours(a *answer) *Reply {
	if r := t.twoColours(a); r != nil {
		return r
	}
	c := a.given.colours
	de, err := sums.CIEDE2000(c[0], c[1])
	if err != nil {
		return t.failed(a, err)
	}
	older, err := sums.CIELAB76(c[0], c[1])
	if err != nil {
		return t.failed(a, err)
	}
	seen, limits, err := sums.JudgeDifference(t.book.ColourThresholds(), de.Value, de.Unit)
	if err != nil {
		return t.failed(a, err)
	}
	means := []string{t.say("calc thresholds", limits), t.say("calc older difference", told(older))}
	origin := de.Origin
	r := t.worked(a, t.say("calc colour", map[string]any{"Figure": de.String(), "Seen": string(seen)}), means,
		origin, sums.Origin{Formula: older.Formula, Source: older.Source, Cannot: sums.BoothOnly})
	lines := []string{t.say("calc lab", map[string]any{"Name": "first colour", "Lab": c[0]}), t.say("calc lab", map[string]any{"Name": "second colour", "Lab": c[1]})}
	t.coloured(r, lines, de, older)
	return r
}

// coloured puts the colours in front of the answer and its values in the data.
func (t *Talk) coloured(r *Reply, lines []string, figures ...sums.Figure) {
	r.Sections = slices.Insert(r.Sections, 0, Section{Title: "Worked out from", Lines: upperAll(lines)})
	for _, f := range figures {
		r.Values = append(r.Values, Value{Name: f.Name, Of: strings.Join(lines, ", "), Low: f.Low, High: f.High, Unit: string(f.Unit), Basis: "computed", Source: f.Source})
	}
}

func (t *Talk) translucency(a *answer) *Reply {
	if r := t.twoColours(a); r != nil {
		return r
	}
	white, black := a.given.colours[0], a.given.colours[1]
	if a.question.blackFirst() {
		white, black = black, white
	}
	lab, ciede, err := sums.TranslucencyParameter(white, black)
	if err != nil {
		return t.failed(a, err)
	}
	r := t.worked(a, t.say("calc translucency", map[string]any{"Ciede": ciede.Value, "Lab": lab.Value}), []string{t.say("calc translucency means", nil)}, ciede.Origin)
	lines := []string{t.say("calc lab", map[string]any{"Name": "over white", "Lab": white}), t.say("calc lab", map[string]any{"Name": "over black", "Lab": black})}
	t.coloured(r, lines, ciede, lab)
	return r
}

// blackFirst reports whether the colour over black was given first.
func (q *question) blackFirst() bool {
	black := slices.IndexFunc(q.tokens, func(t token) bool { return q.words.is("over-black", t.word) })
	white := slices.IndexFunc(q.tokens, func(t token) bool { return q.words.is("over-white", t.word) })
	return black >= 0 && black < white
}

// differenceUnits are the units in which the difference may have been given.
func (q *question) differenceUnits(n number) []sums.Unit {
	older := q.hasWord("names-the-older-formula")
	newer := q.says("ciede")
	switch translucent := q.says("translucency-difference"); {
	case !n.bare:
		return []sums.Unit{n.unit}
	case translucent && older:
		return []sums.Unit{sums.TPab}
	case translucent && newer:
		return []sums.Unit{sums.TP00}
	case translucent:
		return []sums.Unit{sums.TP00, sums.TPab}
	case older:
		return []sums.Unit{sums.DeltaEab}
	case newer:
		return []sums.Unit{sums.DeltaE00}
	}
	return []sums.Unit{sums.DeltaE00, sums.DeltaEab}
}

// threshold says how a difference of a given size is seen. Where the formula
// was not named it is judged by both.
func (t *Talk) threshold(a *answer) *Reply {
	n := a.question.colourNumbers()[0]
	var said, means, sources []string
	r := &Reply{}
	for _, u := range a.question.differenceUnits(n) {
		seen, limits, err := sums.JudgeDifference(t.book.ColourThresholds(), n.value, u)
		if err != nil {
			return t.failed(a, err)
		}
		of := sums.Quantity{Value: n.value, Unit: u}.String()
		said = append(said, t.say("calc seen", map[string]any{"Of": of, "Seen": string(seen)}))
		means = append(means, t.say("calc thresholds", limits))
		sources = appendNew(sources, limits.Source)
		for name, at := range map[string]float64{"perceptible": limits.Perceptible, "acceptable": limits.Acceptable} {
			r.Values = append(r.Values, Value{Name: name + " difference", Of: "half of the observers", Low: at, High: at, Unit: string(u), Basis: limits.Basis, Source: limits.Source})
		}
	}
	slices.SortFunc(r.Values, func(x, y Value) int { return strings.Compare(x.Unit+y.Name, y.Unit+x.Name) })
	r.Headline = upper(strings.Join(said, "; ")) + "."
	r.section("What it means", false, means...)
	r.section("What it cannot say", false, sums.BoothOnly)
	r.section("Rests on", true, sources...)
	if len(said) > 1 {
		r.Notices = append(r.Notices, t.say("calc which formula", nil))
	}
	return r
}
