package draw

import (
	"cmp"
	"fmt"
	"math"

	"mortarboard/planner/sums"
)

// A Preparation is a measured preparation in one cross-section. Besides the
// height and the width at the margin it takes one of Top, Convergence and
// Offsets.
type Preparation struct {
	Height      sums.Length     // from the margin to the top
	Margin      sums.Length     // width at the margin
	Top         *sums.Length    // width on top, of walls that lean alike
	Convergence *sums.Angle     // of both walls together, that lean alike
	Offsets     *[2]sums.Length // how far the left and the right wall come in from margin to top
	Form        *sums.Form      // the judged retentive form, if the answer has it
}

// A wall is one side of the cross-section.
type wall struct {
	in         float64     // how far it comes in, in mm
	angle      sums.Figure // from the upright
	resistance sums.Resistance
}

// Resistance judges the preparation from its measures as the picture does. Of
// walls that lean differently it is that of the weaker wall: the crown tips
// where it is held least. The uncertainty of the convergence is that of the
// measures, taken alike to both sides.
func (p Preparation) Resistance() (sums.Resistance, error) {
	walls, err := p.walls()
	if err != nil {
		return sums.Resistance{}, err
	}
	return weaker(walls).resistance, nil
}

func weaker(walls [2]wall) wall {
	if walls[1].resistance.Fraction.Value < walls[0].resistance.Fraction.Value {
		return walls[1]
	}
	return walls[0]
}

func (p Preparation) walls() ([2]wall, error) {
	var walls [2]wall
	given := 0
	for _, is := range []bool{p.Top != nil, p.Convergence != nil, p.Offsets != nil} {
		if is {
			given++
		}
	}
	if given != 1 {
		return walls, fmt.Errorf("lean of the walls: got %d of top width, convergence and offsets, allowed exactly one", given)
	}
	if err := finite("measure of the preparation", p.Height.MM, p.Height.PlusMinus, p.Margin.MM, p.Margin.PlusMinus); err != nil {
		return walls, err
	}
	convergence, err := p.convergences()
	if err != nil {
		return walls, err
	}
	for i, toc := range convergence {
		if walls[i], err = p.wall(toc); err != nil {
			return walls, err
		}
	}
	if p.Margin.MM-walls[0].in-walls[1].in < leastTop {
		return walls, &sums.InputError{What: "walls", Got: "a top of " + plain(of(max(0, p.Margin.MM-walls[0].in-walls[1].in), sums.Millimetre)),
			Allowed: "walls that do not meet below the top", Mend: "check the height, the width and the lean"}
	}
	return walls, nil
}

// leastTop is the least width in mm of a top that can be drawn.
const leastTop = 0.1

// convergences gives for each wall the total convergence if both leaned like it.
func (p Preparation) convergences() ([2]sums.Figure, error) {
	var both sums.Figure
	var err error
	switch {
	case p.Offsets != nil:
		return p.convergencesOfOffsets()
	case p.Top != nil:
		both, err = sums.TotalConvergence(p.Margin, *p.Top, p.Height)
	default:
		c := *p.Convergence
		both = sums.Figure{Value: c.Deg, Low: max(0, c.Deg-c.PlusMinus), High: c.Deg + c.PlusMinus, Unit: sums.Degree}
		_, err = sums.ResistanceForm(p.Height, p.Margin, c)
		err = cmp.Or(finite("convergence", c.Deg, c.PlusMinus), err)
	}
	return [2]sums.Figure{both, both}, err
}

func (p Preparation) convergencesOfOffsets() (out [2]sums.Figure, err error) {
	for i, offset := range p.Offsets {
		if err = finite("offset of a wall", offset.MM, offset.PlusMinus); err != nil {
			return out, err
		}
		if out[i], err = sums.ConvergenceOfWalls(offset, offset, p.Height); err != nil {
			return out, err
		}
		out[i].Low = max(0, out[i].Low)
	}
	return out, nil
}

// wall judges one wall from the convergence if both leaned like it.
func (p Preparation) wall(toc sums.Figure) (wall, error) {
	angle := sums.Angle{Deg: toc.Value, PlusMinus: max(toc.High-toc.Value, toc.Value-toc.Low)}
	resistance, err := sums.ResistanceForm(p.Height, p.Margin, angle)
	return wall{
		in:         p.Height.MM * math.Tan(toc.Value*math.Pi/360),
		angle:      sums.Figure{Value: toc.Value / 2, Low: toc.Low / 2, High: toc.High / 2, Unit: sums.Degree},
		resistance: resistance,
	}, err
}

// top is the width on top as measured, or as it follows from the rest with the
// uncertainties added up.
func (p Preparation) top(walls [2]wall) sums.Length {
	if p.Top != nil {
		return *p.Top
	}
	worst := p.Margin.PlusMinus
	for _, w := range walls {
		out := (p.Height.MM + p.Height.PlusMinus) * math.Tan(w.angle.High*math.Pi/180)
		if p.Offsets != nil {
			out = w.in + p.Offsets[0].PlusMinus
		}
		worst += out - w.in
	}
	top := sums.Length{MM: p.Margin.MM - walls[0].in - walls[1].in}
	if worst > 0 { // no finer than a caliper reads
		top.MM, top.PlusMinus = math.Round(top.MM*10)/10, math.Ceil(worst*10-1e-9)/10
	}
	return top
}

// Drawing draws the cross-section to scale, with the part of the walls that
// keeps the crown from tipping off, and the half of the wall that the limit
// asks for.
func (p Preparation) Drawing() (Drawing, error) { return finish(p.layout()) }

func (p Preparation) layout() (*sheet, error) {
	walls, err := p.walls()
	if err != nil {
		return nil, err
	}
	s := newSheet("preparation", p.alt(walls))
	title, more, which := p.verdict(walls)
	s.title(which, title, more)
	p.crossSection(s, walls)
	p.legend(s, walls)
	return s, nil
}

// verdict gives the heading: the judged form where there is one, since a wall
// that resists may still be too low, and the half-wall rule.
func (p Preparation) verdict(walls [2]wall) (title, more string, which sign) {
	rule := ruleWords(weaker(walls).resistance.HalfWall.Verdict)
	which = map[sums.Resists]sign{sums.DoesResist: rightOne, sums.DoesNotResist: wrongOne}[weaker(walls).resistance.HalfWall.Verdict]
	if which == noSign {
		which = openOne
	}
	if p.Form == nil {
		return rule, "", which
	}
	switch p.Form.Verdict {
	case sums.Inadequate:
		which = wrongOne
	case sums.NotDecidable:
		if which == rightOne {
			which = openOne
		}
	}
	return "Retentive form: " + string(p.Form.Verdict), rule + "." + missed(p.Form), which
}

func ruleWords(v sums.Resists) string {
	switch v {
	case sums.DoesResist:
		return "Half-wall rule: it resists tipping"
	case sums.DoesNotResist:
		return "Half-wall rule: it does not resist"
	}
	return "Half-wall rule: too close to tell"
}

// missed names the criteria that a form misses or may miss.
func missed(f *sums.Form) string {
	out := ""
	for _, c := range f.Criteria {
		if c.State == sums.Missed || c.State == sums.Close {
			out += fmt.Sprintf(" %s %s: %s (wanted: %s).", upper(c.Name), unbroken(c.Got), c.State, c.Wanted)
		}
	}
	return out
}

// alt describes the picture.
func (p Preparation) alt(walls [2]wall) string {
	title, more, _ := p.verdict(walls)
	lean := "both walls lean " + figure(walls[0].angle)
	if p.Offsets != nil {
		lean = fmt.Sprintf("the left wall leans %s and the right wall %s", figure(walls[0].angle), figure(walls[1].angle))
	}
	w := weaker(walls)
	return plain(fmt.Sprintf("Cross-section of the preparation, to scale: %s high, %s wide at the margin and %s on top; %s. %s: %s. %s.%s",
		measured(p.Height), measured(p.Margin), measured(p.top(walls)), lean,
		upper(resisting(p, w)), limitWords(p), title, prefixed(more)))
}

func prefixed(more string) string {
	if more == "" {
		return ""
	}
	return " " + more
}

// resisting says which part of a wall resists.
func resisting(p Preparation, w wall) string {
	f, start := w.resistance.Fraction, w.resistance.ResistingLow
	switch {
	case f.High == 0:
		return "no part of the wall resists tipping"
	case f.Value == 0:
		return "it is not sure that any part of the wall resists tipping"
	}
	share := func(v float64) string { return fmt.Sprintf("%.0f", 100*v) }
	out := fmt.Sprintf("the upper %s %% of the wall resists tipping, from %s above the margin up", share(f.Value), of(start.Value, sums.Millimetre))
	if f.Low != f.High {
		out += fmt.Sprintf(" (%s to %s %% within the uncertainty of the measures)", share(f.Low), share(min(1, f.High)))
	}
	return out
}

func limitWords(p Preparation) string {
	return fmt.Sprintf("the limit is that it begins no higher than half of the wall, %s", of(p.Height.MM/2, sums.Millimetre))
}
