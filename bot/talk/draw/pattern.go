package draw

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// hatch rules lines across the area within points, gap px apart: rising to the
// right with a slope of 1, falling with -1.
func (s *sheet) hatch(c ink, width, gap, slope float64, points ...point) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = min(low, p.y+slope*p.x), max(high, p.y+slope*p.x)
	}
	var path vg.Path
	for k := math.Ceil(low/gap) * gap; k < high; k += gap {
		ends := crossings(points, slope, k)
		for i := 0; i+1 < len(ends); i += 2 {
			path.Move(ends[i].vg())
			path.Line(ends[i+1].vg())
		}
	}
	if path != nil {
		s.stroke(c, width, nil, path)
	}
}

// crossings are the points where the line y + slope·x = k crosses the edges,
// from left to right.
func crossings(points []point, slope, k float64) []point {
	var out []point
	for i, p := range points {
		q := points[(i+1)%len(points)]
		from, to := p.y+slope*p.x-k, q.y+slope*q.x-k
		if (from < 0) == (to < 0) {
			continue
		}
		t := from / (from - to)
		out = append(out, point{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)})
	}
	slices.SortFunc(out, func(a, b point) int {
		if a.x < b.x {
			return -1
		}
		return 1
	})
	return out
}
