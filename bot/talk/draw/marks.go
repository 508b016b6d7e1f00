package draw

import "math"

// A sign is the shape that stands for a state.
type sign int

// The signs. Each has an outline of its own.
const (
	noSign   sign = iota
	rightOne      // a tick in a disc
	wrongOne      // a cross in a diamond
	openOne       // a question mark in a ring
	stopOne       // a bar in an octagon
)

// sign draws a sign around a centre.
func (s *sheet) sign(which sign, centre point, radius float64) {
	at := func(dx, dy float64) point { return point{centre.x + dx*radius, centre.y + dy*radius} }
	switch which {
	case rightOne:
		s.fill(blue, round(centre, radius)...)
		s.line(paper, radius/4, nil, at(-0.5, 0.05), at(-0.12, 0.42), at(0.52, -0.4))
	case wrongOne:
		s.fill(crimson, regular(centre, radius*1.2, 4, 0)...)
		s.line(paper, radius/4, nil, at(-0.38, -0.38), at(0.38, 0.38))
		s.line(paper, radius/4, nil, at(-0.38, 0.38), at(0.38, -0.38))
	case openOne:
		s.fill(straw, round(centre, radius)...)
		s.outline(black, 1.5, round(centre, radius-0.75)...)
		s.write(style{size: max(smallSize, radius*1.5), bold: true, ink: black, anchor: 0.5}, centre.x, centre.y+radius*0.55, "?")
	case stopOne:
		s.fill(crimson, regular(centre, radius*1.1, 8, math.Pi/8)...)
		s.fill(paper, rect(centre.x-radius*0.6, centre.y-radius*0.17, centre.x+radius*0.6, centre.y+radius*0.17)...)
	}
}

// title writes the heading of a picture with its sign, and lesser words below.
func (s *sheet) title(which sign, words, more string) {
	x := left
	if which != noSign {
		s.sign(which, point{left + 9, s.bottom + 10}, 9)
		x += 26
	}
	s.bottom = s.paragraph(heading(), x, s.bottom, right-x, words)
	if more != "" {
		s.bottom = s.paragraph(body(), left, s.bottom+3, right-left, more)
	}
	s.bottom += 6
}

// arrow draws the head of an arrow with its tip at p, pointing along (dx, dy),
// which has the length 1.
func (s *sheet) arrow(c ink, tip point, dx, dy, size float64) {
	base := point{tip.x - dx*size, tip.y - dy*size}
	s.fill(c, tip, point{base.x - dy*size*0.45, base.y + dx*size*0.45}, point{base.x + dy*size*0.45, base.y - dx*size*0.45})
}

// across draws a dimension line from one x to another with bars at its ends.
func (s *sheet) across(x1, x2, y float64) {
	s.line(grey, 1.2, nil, point{x1, y}, point{x2, y})
	for _, x := range []float64{x1, x2} {
		s.line(grey, 1.2, nil, point{x, y - 4}, point{x, y + 4})
	}
}

// upright draws a dimension line from one y to another with bars at its ends.
func (s *sheet) upright(x, y1, y2 float64) {
	s.line(grey, 1.2, nil, point{x, y1}, point{x, y2})
	for _, y := range []float64{y1, y2} {
		s.line(grey, 1.2, nil, point{x - 4, y}, point{x + 4, y})
	}
}

// The swatch of a key stands in a column of its own.
const swatchWidth = 34.0

// key writes one row of the key: draw puts the swatch around the middle of the
// given height.
func (s *sheet) key(words string, draw func(x1, x2, y float64)) {
	draw(left, left+swatchWidth, s.bottom+8)
	s.bottom = s.paragraph(small(), left+swatchWidth+8, s.bottom, right-left-swatchWidth-8, words) + 4
}

// foot writes the small print.
func (s *sheet) foot(words string) {
	s.bottom = s.paragraph(lesser(), left, s.bottom+3, right-left, words)
}
