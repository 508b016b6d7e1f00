package draw

import (
	"fmt"
	"math"

	"mortarboard/planner/sums"
)

// A Light is a curing lamp held on zirconia of a thickness.
type Light struct {
	Irradiance float64 // of the lamp, in mW/cm²
	Seconds    float64
	WallMM     float64 // asked thickness of the zirconia
	Target     float64 // dose aimed for, in J/cm²; 0 takes that of the limits
	Limits     sums.LightLimits
}

// Drawing draws the dose behind the zirconia against its thickness, as the
// band that published losses allow, with the target and the asked thickness.
func (l Light) Drawing() (Drawing, error) { return finish(l.layout()) }

func (l Light) layout() (*sheet, error) {
	if l.Target == 0 {
		l.Target = l.Limits.Dose
	}
	behind, err := sums.LightBehindZirconia(l.Limits, l.Irradiance, l.Seconds, l.WallMM, l.Target)
	if err != nil {
		return nil, err
	}
	s := newSheet("light", l.alt(behind))
	which, title := l.verdict(behind.Dose)
	s.title(which, title, l.setting())
	c := l.chart(behind.Dose, s.bottom+42)
	l.plot(s, c, behind.Dose)
	l.legend(s, c, behind)
	return s, nil
}

func (l Light) setting() string {
	return upper(fmt.Sprintf("%s for %s, behind %s of zirconia",
		of(l.Irradiance, sums.MilliwattPerCM), of(l.Seconds, sums.Second), of(l.WallMM, sums.Millimetre)))
}

func (l Light) verdict(dose sums.Band) (sign, string) {
	switch {
	case dose.High < l.Target:
		return wrongOne, "The dose falls short even in the best case"
	case dose.Low < l.Target:
		return openOne, "The dose may fall short"
	}
	return rightOne, "The target is reached across the whole band"
}

// alt describes the picture.
func (l Light) alt(behind sums.Behind) string {
	_, title := l.verdict(behind.Dose)
	out := fmt.Sprintf("Light dose against thickness of zirconia, as a band that falls from %s at the surface. "+
		"%s: the dose is %s, the target is %s. %s.",
		of(l.dose(0, 0), sums.JoulePerCM2), l.setting(),
		doses(behind.Dose, " to "), of(l.Target, sums.JoulePerCM2), title)
	for _, note := range l.notes(behind) {
		out += " " + note
	}
	return plain(out)
}

// notes are the sentences that must stand beside the band.
func (l Light) notes(behind sums.Behind) []string {
	out := []string{fmt.Sprintf("The target would take %s there.", howLong(behind.Time))}
	for _, note := range behind.Dose.Notes {
		if note != "the dose falls short even in the best case" && note != "the dose may fall short" { // they are the title
			out = append(out, upper(note)+".")
		}
	}
	return out
}

// longest is the time in s from which on nobody holds a lamp.
const longest = 600

// howLong writes a band of times.
func howLong(b sums.Band) string {
	switch {
	case b.Low > longest:
		return "more than ten minutes even at best"
	case b.High > longest:
		return of(b.Low, sums.Second) + " to more than ten minutes"
	}
	return span(b.Low, b.High, sums.Second)
}

// doses writes a band of doses between words; what is next to nothing is not
// counted out.
func doses(b sums.Band, and string) string {
	switch {
	case b.High < nothing:
		return "less than " + of(nothing, b.Unit)
	case b.Low < nothing:
		return "less than " + bare(nothing) + and + of(b.High, b.Unit)
	}
	return bare(b.Low) + and + of(b.High, b.Unit)
}

// nothing is a dose in J/cm² too small to count.
const nothing = 0.01

// A chart places thickness and dose on the sheet.
type chart struct{ x, y scale }

func (c chart) at(mm, dose float64) point { return point{c.x.at(mm), c.y.at(c.y.within(dose))} }

const (
	chartLeft   = 46.0
	chartRight  = right - 8
	chartHeight = 190.0
)

// chart chooses the axes. A dose at the surface far above the target would
// press what matters flat, so the dose axis may end below it.
func (l Light) chart(dose sums.Band, top float64) chart {
	highest := max(1.15*l.Target, min(l.dose(0, 0), 8*l.Target), 1.1*dose.High)
	return chart{
		x: scale{0, max(l.Limits.MeasuredMM, math.Ceil(2*l.WallMM+0.5)/2), chartLeft, chartRight},
		y: scale{0, highest, top + chartHeight, top},
	}
}

// dose in J/cm² behind a thickness in mm, for an attenuation per mm.
func (l Light) dose(attenuation, mm float64) float64 {
	return l.Irradiance * l.Seconds / 1000 * math.Exp(-attenuation*mm)
}

// curve gives the points of a dose over the thickness, from where it comes down
// to the end of the axis.
func (l Light) curve(c chart, attenuation, from, to float64) []point {
	const steps = 60
	from = min(max(from, math.Log(l.dose(attenuation, 0)/c.y.high)/attenuation), to)
	out := make([]point, steps+1)
	for i := range out {
		mm := from + (to-from)*float64(i)/steps
		out[i] = c.at(mm, l.dose(attenuation, mm))
	}
	return out
}

// reversed gives points in the opposite order.
func reversed(points []point) []point {
	out := make([]point, len(points))
	for i, p := range points {
		out[len(points)-1-i] = p
	}
	return out
}

// plot draws axes, band, target and the asked thickness.
func (l Light) plot(s *sheet, c chart, dose sums.Band) {
	s.axes(c)
	l.band(s, c, 0, min(l.Limits.MeasuredMM, c.x.high), 1)
	if c.x.high > l.Limits.MeasuredMM {
		l.band(s, c, l.Limits.MeasuredMM, c.x.high, -1)
		s.line(grey, 1, nil, c.at(l.Limits.MeasuredMM, 0), c.at(l.Limits.MeasuredMM, c.y.high))
	}
	y := c.y.at(l.Target)
	s.line(crimson, 2, targetDash(), point{chartLeft, y}, point{chartRight, y})
	l.asked(s, c, dose)
	if spot, ok := l.targetSpot(s, c); ok {
		s.tag(small().at(1), spot.x, spot.y, l.targetWords())
	}
	s.bottom = c.y.from + 40
}

func targetDash() []float64 { return []float64{9, 3, 2, 3} }
func lossDash() []float64   { return []float64{6, 3} }

// band draws the doses that are possible between two thicknesses.
func (l Light) band(s *sheet, c chart, from, to, slope float64) {
	least, greatest := l.curve(c, l.Limits.Loss.Low, from, to), l.curve(c, l.Limits.Loss.High, from, to)
	area := append(append([]point{}, least...), reversed(greatest)...)
	if slope > 0 {
		s.fill(sky, area...)
	}
	s.hatch(blue, 0.7, 7, slope, area...)
	s.line(blue, 2, nil, least...)
	s.line(blue, 2, lossDash(), greatest...)
}

// asked marks the thickness in question and the doses possible there.
func (l Light) asked(s *sheet, c chart, dose sums.Band) {
	low, high := c.at(l.WallMM, dose.Low), c.at(l.WallMM, dose.High)
	top := point{low.x, c.y.to}
	s.line(black, 1.2, nil, top, point{low.x, c.y.from})
	s.line(paper, 9, nil, low, high)
	s.line(black, 6, nil, low, high)
	for _, p := range []point{low, high} {
		s.line(black, 2.5, nil, point{p.x - 8, p.y}, point{p.x + 8, p.y})
	}
	s.arrow(black, top, 0, 1, 7)
	words := of(l.WallMM, sums.Millimetre) + ": " + unbroken(doses(dose, " to "))
	half := s.width(small().strong(), words) / 2
	s.write(small().strong().at(0.5), min(max(low.x, left+half), right-half), top.y-12, words)
}

// targetSpot finds where the words for the target line end, so that they cover
// neither the band nor the asked thickness: from the right, above the line
// before below it. There may be no such place.
func (l Light) targetSpot(s *sheet, c chart) (point, bool) {
	y, wide := c.y.at(l.Target), s.width(small(), l.targetWords())
	for x := chartRight - 4; x-wide > chartLeft+4; x -= 10 {
		for _, spot := range []point{{x, y - 5}, {x, y + smallSize + 2}} {
			if l.free(c, spot, wide) {
				return spot, true
			}
		}
	}
	return point{}, false
}

func (l Light) targetWords() string { return "target " + of(l.Target, sums.JoulePerCM2) }

// free reports whether words that end at p cover nothing of the plot.
func (l Light) free(c chart, p point, wide float64) bool {
	from, to := c.x.value(p.x-wide-4), c.x.value(p.x+4)
	bottom, top := c.y.value(p.y+4), c.y.value(p.y-smallSize)
	asked := c.x.at(l.WallMM)
	switch {
	case asked > p.x-wide-12 && asked < p.x+12, bottom < 0, top > c.y.high:
		return false
	}
	return top < l.dose(l.Limits.Loss.High, to) || bottom > l.dose(l.Limits.Loss.Low, from)
}

// axes draws the frame of a chart with its ticks and what it shows.
func (s *sheet) axes(c chart) {
	for _, v := range c.y.ticks(5) {
		y := c.y.at(v)
		s.line(pale, 1, nil, point{chartLeft, y}, point{chartRight, y})
		s.write(lesser().at(1), chartLeft-5, y+4, bare(v))
	}
	for _, v := range c.x.ticks(6) {
		x := c.x.at(v)
		s.line(grey, 1, nil, point{x, c.y.from}, point{x, c.y.from + 4})
		s.write(lesser().at(0.5), x, c.y.from+17, bare(v))
	}
	s.line(grey, 1.2, nil, point{chartLeft, c.y.to}, point{chartLeft, c.y.from}, point{chartRight, c.y.from})
	s.write(lesser(), left, c.y.to-28, "dose in J/cm²")
	s.write(lesser().at(1), right, c.y.from+33, "thickness of zirconia in mm")
}

// legend writes the key and the small print.
func (l Light) legend(s *sheet, c chart, behind sums.Behind) {
	s.bottom += 4
	s.key(fmt.Sprintf("least loss, %.1f per mm", l.Limits.Loss.Low), func(x1, x2, y float64) {
		s.line(blue, 2, nil, point{x1, y}, point{x2, y})
	})
	s.key(fmt.Sprintf("greatest loss, %.1f per mm; anywhere between is possible", l.Limits.Loss.High), func(x1, x2, y float64) {
		s.line(blue, 2, lossDash(), point{x1, y}, point{x2, y})
	})
	if _, named := l.targetSpot(s, c); !named {
		s.key(l.targetWords(), func(x1, x2, y float64) { s.line(crimson, 2, targetDash(), point{x1, y}, point{x2, y}) })
	}
	if c.x.high > l.Limits.MeasuredMM {
		s.key(fmt.Sprintf("beyond %.0f mm: not measured, carried on", l.Limits.MeasuredMM), func(x1, x2, y float64) {
			s.hatch(blue, 0.7, 7, -1, rect(x1, y-6, x2, y+6)...)
		})
	}
	notes := l.notes(behind)
	if surface := l.dose(0, 0); surface > c.y.high*(1+1e-9) {
		notes = append(notes, fmt.Sprintf("At the surface it is %s, above the end of the axis.", of(surface, sums.JoulePerCM2)))
	}
	for _, note := range notes {
		s.bottom = s.paragraph(small(), left, s.bottom+2, right-left, note)
	}
	s.foot(behind.Dose.Cannot)
}
