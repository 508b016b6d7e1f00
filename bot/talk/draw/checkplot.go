package draw

import (
	"math"

	"mortarboard/planner/sums"
)

// An axis is the common scale of the settings, and where the asked value is.
type axis struct {
	scale
	asked float64 // in the unit of the settings
	off   int     // -1 or 1 if the asked value lies beyond the scale
}

const (
	barHeight = 16.0
	keyGap    = 4.0
	axisLeft  = left + 14
	axisRight = right - 14
)

// axis covers the settings and, if it does not lie far off, the asked value.
func (c Check) axis() axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, set := range c.shown() {
		off := 0.0
		if set.Low == set.High {
			off = set.Slack * math.Abs(set.Low)
		}
		low, high = min(low, set.Low-off), max(high, set.High+off)
	}
	room := max(high-low, 0.5*math.Abs(high))
	if room == 0 {
		room = 1
	}
	a := axis{}
	floor := low >= 0
	if c.Asked != nil {
		a.asked, _ = c.value() // checked before anything is drawn
		switch {
		case high == 0 && low == 0: // never, so any value can be shown
			high = math.Max(0, a.asked)
		case a.asked > high+2*room:
			a.off = 1
		case a.asked < low-2*room:
			a.off = -1
		default:
			low, high = min(low, a.asked), max(high, a.asked)
			floor = floor && a.asked >= 0
		}
	}
	pad := max(0.15*(high-low), 0.15*room)
	a.scale = scale{low - pad, high + pad, axisLeft, axisRight}
	if floor && (a.low < 0 || low < 0.4*high) {
		a.low = 0
	}
	return a
}

// x is where the asked value is marked.
func (a axis) x() float64 { return a.at(a.within(a.asked)) }

// askedLabel writes the asked value above the settings.
func (c Check) askedLabel(s *sheet, a axis) {
	if c.Asked == nil {
		return
	}
	words := "asked: " + c.asked()
	if a.off != 0 {
		words += ", far off the scale"
	}
	half := s.width(small().strong(), words) / 2
	s.write(small().strong().at(0.5), min(max(a.x(), left+half), right-half), s.bottom+11, words)
	s.bottom += 24
}

// upperAxis counts in the asker's unit, if that is another.
func (c Check) upperAxis(s *sheet, a axis) {
	if !c.otherUnit() {
		return
	}
	low, _ := sums.Quantity{Value: a.low, Unit: c.unit()}.In(c.Asked.Unit)
	high, _ := sums.Quantity{Value: a.high, Unit: c.unit()}.In(c.Asked.Unit)
	other := scale{low.Value, high.Value, a.from, a.to}
	s.bottom -= 6
	s.write(lesser(), left, s.bottom+11, "in "+string(c.Asked.Unit))
	y := s.bottom + 36
	s.line(grey, 1.2, nil, point{a.from, y}, point{a.to, y})
	s.ticks(other, y, -1)
	s.bottom = y + 10
}

// lowerAxis counts in the unit of the settings.
func (c Check) lowerAxis(s *sheet, a axis) {
	y := s.bottom + 2
	s.line(grey, 1.2, nil, point{a.from, y}, point{a.to, y})
	s.ticks(a.scale, y, 1)
	name := "in " + c.axisUnit()
	s.write(lesser(), left, y+32, name)
	s.bottom = y + 40
}

// ticks writes the values of an axis below it (1) or above it (-1).
func (s *sheet) ticks(a scale, y, side float64) {
	base := y + 17
	if side < 0 {
		base = y - 8
	}
	for _, v := range a.ticks(5) {
		x := a.at(v)
		s.line(grey, 1, nil, point{x, y}, point{x, y + 4*side})
		half := s.width(lesser(), bare(v)) / 2
		s.write(lesser().at(0.5), min(max(x, left+half), right-half), base, bare(v))
	}
}

// row draws one setting: its words, its bar, the asked value.
func (c Check) row(s *sheet, a axis, set Setting) {
	words := upper(set.Of)
	x := left
	if c.Asked != nil {
		words = upper(set.judged(a.asked)) + ": " + set.Of
		if set.Bound != Reported {
			s.sign(signOf(set.Standing), point{left + 8, s.bottom + 8}, 8)
		}
		x += 24
	}
	s.bottom = s.paragraph(small().strong(), x, s.bottom, right-x, words)
	more := "right: " + set.words()
	if set.Bound == Reported || set.words() == "never" {
		more = set.words()
	}
	if set.Basis != "" {
		more += " (" + set.Basis + ")"
	}
	s.bottom = s.paragraph(small(), x, s.bottom, right-x, more) + 10
	s.line(grey, 1, nil, point{a.from, s.bottom + barHeight/2}, point{a.to, s.bottom + barHeight/2})
	set.bar(s, a, s.bottom)
	if c.Asked != nil {
		s.marker(a, s.bottom)
	}
	s.bottom += barHeight + 14
}

// bar draws where a setting is right, where sources differ, and open ends as
// arrows.
func (set Setting) bar(s *sheet, a axis, y float64) {
	low, high := a.at(set.Low), a.at(set.High)
	switch {
	case set.Bound == Reported:
		s.reference(min(low, high-6), max(high, low+6), y)
	case set.Bound == AtLeast:
		s.differ(low, high, y)
		s.fill(blue, point{high, y}, point{a.to - 1, y}, point{a.to + 9, y + barHeight/2}, point{a.to - 1, y + barHeight}, point{high, y + barHeight})
	case set.Bound == AtMost && set.High == 0:
		s.sign(stopOne, point{a.at(0), y + barHeight/2}, barHeight/2)
	case set.Bound == AtMost:
		s.differ(low, high, y)
		s.fill(blue, point{low, y}, point{a.from + 1, y}, point{a.from - 9, y + barHeight/2}, point{a.from + 1, y + barHeight}, point{low, y + barHeight})
	case set.Low == set.High:
		off := set.Slack * math.Abs(set.Low)
		if from, to := a.at(set.Low-off), a.at(set.High+off); to > from {
			s.fill(sky, rect(from, y, to, y+barHeight)...)
			s.outline(blue, 1.2, rect(from, y, to, y+barHeight)...)
		}
		s.fill(blue, rect(low-3, y-2, low+3, y+barHeight+2)...)
	default:
		s.fill(blue, rect(low, y, high, y+barHeight)...)
	}
}

// differ marks the span between the ends of a bound.
func (s *sheet) differ(from, to, y float64) {
	if to-from < 1 {
		return
	}
	s.fill(straw, rect(from, y, to, y+barHeight)...)
	s.hatch(ochre, 1.2, 6, 1, rect(from, y, to, y+barHeight)...)
	s.outline(ochre, 1.2, rect(from, y, to, y+barHeight)...)
}

func (s *sheet) reference(from, to, y float64) {
	s.fill(paper, rect(from, y, to, y+barHeight)...)
	s.line(grey, 1.5, []float64{2, 2}, append(rect(from, y, to, y+barHeight), point{from, y})...)
}

// marker marks the asked value on a bar, or beyond which end it lies.
func (s *sheet) marker(a axis, y float64) {
	x := a.x()
	if a.off != 0 {
		d := float64(a.off)
		tip := point{x + d*13, y - 5}
		s.line(black, 2.5, nil, point{x - d*8, y - 5}, point{x + d*6, y - 5})
		s.arrow(black, tip, d, 0, 10)
		return
	}
	s.line(paper, 6, nil, point{x, y - 3}, point{x, y + barHeight + 5})
	s.line(black, 2.5, nil, point{x, y - 5}, point{x, y + barHeight + 5})
	s.arrow(black, point{x, y + 2}, 0, 1, 10)
}

// legend writes the key of what occurs.
func (c Check) legend(s *sheet) {
	var single, differ, open, reference bool
	for _, set := range c.shown() {
		bounded := set.Bound == AtLeast || set.Bound == AtMost
		single = single || set.Low == set.High && set.Bound == Between && set.Slack > 0
		differ = differ || bounded && set.Low != set.High
		open = open || bounded && set.High != 0
		reference = reference || set.Bound == Reported
	}
	middle := func(y float64) float64 { return y - barHeight/2 }
	s.bottom += 4
	if open {
		s.key("an arrow: nothing speaks against going on", func(x1, x2, y float64) {
			y = middle(y)
			s.fill(blue, point{x1, y}, point{x2 - 10, y}, point{x2, y + barHeight/2}, point{x2 - 10, y + barHeight}, point{x1, y + barHeight})
		})
	}
	if differ {
		s.bottom += keyGap
		s.key("sources or products differ: taken as not met", func(x1, x2, y float64) { s.differ(x1, x2, middle(y)) })
	}
	if single {
		s.bottom += keyGap
		s.key("pale: still counts as the single figure", func(x1, x2, y float64) {
			s.fill(sky, rect(x1, middle(y), x2, middle(y)+barHeight)...)
			s.outline(blue, 1.2, rect(x1, middle(y), x2, middle(y)+barHeight)...)
		})
	}
	if reference {
		s.bottom += keyGap
		s.key("for reference: nothing to pass or fail", func(x1, x2, y float64) { s.reference(x1, x2, middle(y)) })
	}
	if rest := c.rest(); rest != "" {
		s.foot(rest)
	}
}
