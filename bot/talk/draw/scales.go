package draw

import (
	"fmt"
	"math"
)

// The balance in px.
const (
	beamHalf   = 88.0
	panHalf    = 62.0
	mostListed = 6 // reasons of a side in the list
	mostLines  = 6 // of a label
)

// tilt is how far the beam is tipped, in rad: fully where it is decided,
// slightly where it leans; to the left is positive, where bonding hangs.
func (b Balance) tilt() float64 {
	angle := map[string]float64{Bond: 0.19, Cement: 0.19, Either: 0.08, Depends: 0.08}[b.Strategy]
	switch b.leaning() {
	case Bond:
		return angle
	case Cement:
		return -angle
	}
	return 0
}

// scales draws the balance with the reasons as weights in its pans.
func (b Balance) scales(s *sheet) {
	bond, cement := stack(b.side(Bond)), stack(b.side(Cement))
	sin, cos := math.Sincos(b.tilt())
	sunk := beamHalf * math.Abs(sin)
	pivot := point{pageWidth / 2, s.bottom + max(22, sunk+8)}
	ends := [2]point{{pivot.x - beamHalf*cos, pivot.y + beamHalf*sin}, {pivot.x + beamHalf*cos, pivot.y - beamHalf*sin}}
	cord := max(40, bond.height+12, cement.height+12)
	floor := pivot.y + sunk + cord + 26
	s.line(grey, 3, nil, pivot, point{pivot.x, floor})
	s.line(grey, 3, nil, point{pivot.x - 30, floor}, point{pivot.x + 30, floor})
	s.line(black, 4, nil, ends[0], ends[1])
	s.fill(black, round(pivot, 5)...)
	s.pan(ends[0], cord, bond, Bond)
	s.pan(ends[1], cord, cement, Cement)
	if b.Strategy == Stop {
		s.fill(paper, round(pivot, 21)...)
		s.sign(stopOne, pivot, 17)
	}
	s.bottom = floor + 10
}

// pan hangs a pan with its blocks from an end of the beam.
func (s *sheet) pan(end point, cord float64, blocks pile, side string) {
	y := end.y + cord
	s.line(grey, 1.2, nil, point{end.x - panHalf, y}, end, point{end.x + panHalf, y})
	s.line(black, 2.5, nil, point{end.x - panHalf - 4, y}, point{end.x + panHalf + 4, y})
	for _, b := range blocks.blocks {
		s.block(point{end.x + b.x, y - 1.5 + b.y}, b.weight, inkOf(side))
	}
	s.write(body().strong().at(0.5), end.x, y+17, gerund(side))
}

func inkOf(side string) ink {
	return map[string]ink{Bond: blue, Cement: ochre, Stop: crimson}[side]
}

// A size is how wide and high a block is.
type size struct{ w, h float64 }

func sizeOf(weight string) size {
	return map[string]size{Decisive: {27, 21}, Strong: {20, 16}, Weak: {14, 11}}[weight]
}

// block draws a weight that stands on p, the middle of its foot: full if it is
// decisive, hatched if strong, empty if weak.
func (s *sheet) block(p point, weight string, c ink) {
	z := sizeOf(weight)
	corners := rect(p.x-z.w/2, p.y-z.h, p.x+z.w/2, p.y)
	switch weight {
	case Decisive:
		s.fill(c, corners...)
	case Strong:
		s.fill(paper, corners...)
		s.hatch(c, 1.8, 5, 1, corners...)
	default:
		s.fill(paper, corners...)
	}
	s.outline(c, 1.6, corners...)
}

// A placed block stands at an offset from the middle of its pan.
type placed struct {
	point
	weight string
}

// A pile is the blocks of a pan, row upon row.
type pile struct {
	blocks []placed
	height float64
}

// stack piles up reasons, the weightiest at the bottom, each row centred.
func stack(reasons []Reason) pile {
	const gap = 3.0
	var out pile
	for len(reasons) > 0 {
		wide, n := 0.0, 0
		for n < len(reasons) && (n == 0 || wide+gap+sizeOf(reasons[n].Weight).w <= 1.3*panHalf) {
			wide += sizeOf(reasons[n].Weight).w + gap
			n++
		}
		x := -(wide - gap) / 2
		for _, r := range reasons[:n] {
			w := sizeOf(r.Weight).w
			out.blocks = append(out.blocks, placed{point{x + w/2, -out.height}, r.Weight})
			x += w + gap
		}
		out.height += sizeOf(reasons[0].Weight).h + 2
		reasons = reasons[n:]
	}
	return out
}

// stops lists the reasons to stop across the whole width.
func (b Balance) stops(s *sheet) {
	reasons := b.side(Stop)
	if len(reasons) == 0 {
		return
	}
	s.sign(stopOne, point{left + 9, s.bottom + 9}, 9)
	s.bottom = s.paragraph(body().strong(), left+26, s.bottom, right-left-26, "To stop, whichever way")
	s.bottom = s.list(reasons, left, s.bottom+8, right-left, inkOf(Stop)) + 6
}

// columns lists the reasons of both sides beside each other.
func (b Balance) columns(s *sheet) {
	const gutter = 16
	width := (right - left - gutter) / 2
	top, end := s.bottom, s.bottom
	for i, side := range []string{Bond, Cement} {
		x := left + float64(i)*(width+gutter)
		y := s.paragraph(body().strong(), x, top, width, "For "+gerund(side))
		s.line(inkOf(side), 2, nil, point{x, y + 1}, point{x + width, y + 1})
		reasons := b.side(side)
		if len(reasons) == 0 {
			y = s.paragraph(lesser(), x, y+6, width, "no reason")
		}
		end = max(end, s.list(reasons, x, y+6, width, inkOf(side)))
	}
	s.bottom = end
}

// list writes reasons below y, each with its block and its weight in words.
func (s *sheet) list(reasons []Reason, x, y, width float64, c ink) float64 {
	for _, r := range reasons[:min(len(reasons), mostListed)] {
		wide, foot := sizeOf(r.Weight).w, y+max(sizeOf(r.Weight).h, smallSize+1)
		s.block(point{x + 1 + wide/2, foot}, r.Weight, c)
		s.write(small().strong(), x+wide+9, foot-1, r.Weight)
		y = s.lines(small(), x, foot+3, s.clipped(small(), width, r.Label, mostLines)) + 5
	}
	if rest := len(reasons) - mostListed; rest > 0 {
		y = s.paragraph(lesser(), x, y, width, fmt.Sprintf("and %s in the text", count(rest, "more", "more")))
	}
	return y
}
