package draw

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// The page in px. Its height is what the picture needs.
const (
	pageWidth = 360.0
	margin    = 14.0
	left      = margin
	right     = pageWidth - margin
)

// A point on the sheet in px, from the top left corner.
type point struct{ x, y float64 }

// A shape is one path, filled or stroked in one colour.
type shape struct {
	path  vg.Path // x to the right and y down, in px
	ink   ink
	width float64 // of the stroke in px; 0 fills the path
	dash  []vg.Length
}

// A box is where words stand.
type box struct {
	left, top, right, bottom float64
	size                     float64
	words                    string
}

// A sheet is a picture being laid out: shapes in the order in which they cover
// each other.
type sheet struct {
	name   string
	alt    string // what the picture shows, in words
	fonts  fonts
	shapes []shape
	boxes  []box
	bottom float64 // where the next part of the picture begins
}

func newSheet(name, alt string) *sheet {
	return &sheet{name: name, alt: alt, fonts: loadFonts(), bottom: margin}
}

// height is the height of the page in whole px.
func (s *sheet) height() float64 { return math.Ceil(s.bottom + margin) }

// polygon makes a path through points; closed joins the last to the first.
func polygon(closed bool, points ...point) vg.Path {
	var p vg.Path
	for i, at := range points {
		if i == 0 {
			p.Move(at.vg())
		} else {
			p.Line(at.vg())
		}
	}
	if closed {
		p.Close()
	}
	return p
}

func (p point) vg() vg.Point { return vg.Point{X: vg.Length(p.x), Y: vg.Length(p.y)} }

// fill covers the area within points.
func (s *sheet) fill(c ink, points ...point) {
	s.shapes = append(s.shapes, shape{path: polygon(true, points...), ink: c})
}

// line draws through points, dashed if lengths of dashes and gaps are given.
func (s *sheet) line(c ink, width float64, dash []float64, points ...point) {
	s.stroke(c, width, dash, polygon(false, points...))
}

// outline draws around points.
func (s *sheet) outline(c ink, width float64, points ...point) {
	s.stroke(c, width, nil, polygon(true, points...))
}

func (s *sheet) stroke(c ink, width float64, dash []float64, path vg.Path) {
	sh := shape{path: path, ink: c, width: width}
	for _, d := range dash {
		sh.dash = append(sh.dash, vg.Length(d))
	}
	s.shapes = append(s.shapes, sh)
}

// rect gives the corners of a rectangle.
func rect(left, top, right, bottom float64) []point {
	return []point{{left, top}, {right, top}, {right, bottom}, {left, bottom}}
}

// regular gives the corners of a regular polygon; with many sides, of a circle.
func regular(centre point, radius float64, sides int, turned float64) []point {
	out := make([]point, sides)
	for i := range out {
		sin, cos := math.Sincos(turned + 2*math.Pi*float64(i)/float64(sides))
		out[i] = point{centre.x + radius*cos, centre.y + radius*sin}
	}
	return out
}

// round is fine enough a polygon for a small circle.
func round(centre point, radius float64) []point { return regular(centre, radius, 32, 0) }

// arc gives points along an arc; angles in radians, clockwise from the right.
func arc(centre point, radius, from, to float64) []point {
	const steps = 12
	out := make([]point, steps+1)
	for i := range out {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/steps)
		out[i] = point{centre.x + radius*cos, centre.y + radius*sin}
	}
	return out
}
