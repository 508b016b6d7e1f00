package draw

import (
	"math"

	"mortarboard/planner/sums"
)

// The room for the cross-section in px: the tooth between fixed edges, the
// measures of its height beside it.
const (
	sectionLeft   = 26.0
	sectionRight  = 254.0
	sectionHeight = 180.0 // at most
	heightColumn  = 286.0 // where the height is written
)

// A section places a preparation on the sheet.
type section struct {
	perMM       float64 // px
	top, margin float64 // y
	feet        [2]point
	shoulders   [2]point
}

func (p Preparation) place(walls [2]wall, y float64) section {
	perMM := min((sectionRight-sectionLeft)/p.Margin.MM, sectionHeight/p.Height.MM)
	middle, half := (sectionLeft+sectionRight)/2, p.Margin.MM*perMM/2
	foot := y + p.Height.MM*perMM
	return section{
		perMM: perMM, top: y, margin: foot,
		feet:      [2]point{{middle - half, foot}, {middle + half, foot}},
		shoulders: [2]point{{middle - half + walls[0].in*perMM, y}, {middle + half - walls[1].in*perMM, y}},
	}
}

// along is the point of wall i at a height above the margin in mm.
func (c section) along(i int, mm float64) point {
	t := mm * c.perMM / (c.margin - c.top)
	return point{c.feet[i].x + t*(c.shoulders[i].x-c.feet[i].x), c.margin - mm*c.perMM}
}

// crossSection draws the tooth with its measures.
func (p Preparation) crossSection(s *sheet, walls [2]wall) {
	labels := s.bottom
	c := p.place(walls, labels+2*smallSize*leading+22)
	p.measures(s, walls, c, labels)
	s.fill(ivory, c.feet[0], c.shoulders[0], c.shoulders[1], c.feet[1])
	s.line(black, 1.2, nil, c.feet[0], c.shoulders[0], c.shoulders[1], c.feet[1])
	s.line(black, 1.2, nil, point{sectionLeft - 12, c.margin}, point{sectionRight + 12, c.margin})
	p.halfLine(s, c)
	for i, w := range walls {
		p.band(s, c, i, w)
	}
	s.bottom = c.margin + 14
	s.across(c.feet[0].x, c.feet[1].x, s.bottom)
	s.write(small().at(0.5), (sectionLeft+sectionRight)/2, s.bottom+smallSize+5, "at the margin "+measured(p.Margin))
	s.bottom += 2*smallSize + 10
	p.heightColumn(s, c)
}

// measures writes the angles of the walls and the width on top above the tooth.
func (p Preparation) measures(s *sheet, walls [2]wall, c section, y float64) {
	for i, w := range walls {
		name, x := "left wall ", left
		if i == 1 {
			name, x = "right wall ", sectionRight+12
		}
		st := small().at(float64(i))
		lines := []string{name + of(w.angle.Value, sums.Degree)}
		if open := span(w.angle.Low, w.angle.High, sums.Degree); w.angle.Low != w.angle.High {
			lines = append(lines, open)
		}
		wide := s.width(st, lines[0])
		end := s.lines(st, x, y, lines)
		from := point{x + wide/2 - float64(i)*wide, end + 2}
		s.angle(c, i, from)
	}
	middle := (c.shoulders[0].x + c.shoulders[1].x) / 2
	middle = min(max(middle, (sectionLeft+sectionRight)/2-3), (sectionLeft+sectionRight)/2+3)
	s.lines(small().at(0.5), middle, y, []string{"on top", measured(p.top(walls))})
	s.across(c.shoulders[0].x, c.shoulders[1].x, c.top-9)
}

// angle marks the angle of a wall: an upright at its foot, an arc, and a line
// that leads to the words.
func (s *sheet) angle(c section, i int, words point) {
	foot, head := c.feet[i], c.shoulders[i]
	upTo := point{foot.x, c.top - 7}
	s.line(grey, 1, []float64{3, 3}, foot, upTo)
	s.line(grey, 1, nil, words, upTo)
	radius := min(60, 0.8*(c.margin-c.top))
	lean := math.Atan2(head.x-foot.x, c.margin-c.top)
	s.line(grey, 1.2, nil, arc(foot, radius, -math.Pi/2, -math.Pi/2+lean)...)
}

// halfLine draws the half of the wall, where the resisting part has to begin.
func (p Preparation) halfLine(s *sheet, c section) {
	y := (c.top + c.margin) / 2
	s.line(ochre, 1.8, halfDash(), point{sectionLeft - 12, y}, point{sectionRight + 12, y})
}

func halfDash() []float64 { return []float64{8, 4} }
func openDash() []float64 { return []float64{2.5, 2.5} }

const bandWidth = 7.0

// band marks how a wall resists: a full band where it does, a broken band
// where the uncertainty leaves it open, nothing where it does not.
func (p Preparation) band(s *sheet, c section, i int, w wall) {
	sure, maybe := p.starts(w)
	s.line(paper, bandWidth, nil, c.along(i, maybe), c.along(i, sure))
	s.line(blue, bandWidth, openDash(), c.along(i, maybe), c.along(i, sure))
	s.line(blue, bandWidth, nil, c.along(i, sure), c.along(i, p.Height.MM))
}

// starts are the heights in mm from which a wall resists for sure, and from
// which it may.
func (p Preparation) starts(w wall) (sure, maybe float64) {
	f := w.resistance.Fraction
	return p.Height.MM * (1 - max(0, f.Low)), p.Height.MM * (1 - min(1, max(0, f.High)))
}

// heightColumn writes the height beside the tooth.
func (p Preparation) heightColumn(s *sheet, c section) {
	s.upright(heightColumn-10, c.top, c.margin)
	lines := []string{"height", of(p.Height.MM, sums.Millimetre)}
	if p.Height.PlusMinus != 0 {
		lines = append(lines, "± "+of(p.Height.PlusMinus, sums.Millimetre))
	}
	tall := float64(len(lines)) * smallSize * leading
	s.lines(small(), heightColumn, (c.top+c.margin-tall)/2, lines)
}

// legend writes the key and the small print.
func (p Preparation) legend(s *sheet, walls [2]wall) {
	w := weaker(walls)
	sure, maybe := p.starts(w)
	of := ""
	if p.Offsets != nil {
		of = "on the weaker wall, "
	}
	s.bottom += 4
	s.key(of+resisting(p, w), func(x1, x2, y float64) {
		if w.resistance.Fraction.Value > 0 {
			s.line(blue, bandWidth, nil, point{x1, y}, point{x2, y})
			return
		}
		s.line(black, 1.2, nil, point{x1, y}, point{x2, y})
	})
	if sure-maybe > 0 {
		s.key("may resist or not: within the uncertainty of the measures", func(x1, x2, y float64) {
			s.line(blue, bandWidth, openDash(), point{x1, y}, point{x2, y})
		})
	}
	s.key(limitWords(p), func(x1, x2, y float64) { s.line(ochre, 1.8, halfDash(), point{x1, y}, point{x2, y}) })
	p.scaleBar(s)
	s.foot("The rule: " + sums.HalfWall.Meaning() + ". " + cannot(w, p.Offsets != nil))
}

// scaleBar shows a round length as it is drawn.
func (p Preparation) scaleBar(s *sheet) {
	perMM := min((sectionRight-sectionLeft)/p.Margin.MM, sectionHeight/p.Height.MM)
	length := roundStep(swatchWidth / perMM / 2)
	s.key("drawn to scale: this is "+of(length, sums.Millimetre), func(x1, _, y float64) {
		s.across(x1+1, x1+1+length*perMM, y)
	})
}

// cannot says what the picture leaves out.
func cannot(w wall, uneven bool) string {
	if uneven {
		return "It is a flat picture of a stiff crown on level margins, without cement. A groove or box changes it and is not computed."
	}
	return w.resistance.Fraction.Cannot
}
