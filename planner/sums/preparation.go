package sums

import (
	"cmp"
	"math"
)

// The sizes that a tooth preparation can have, in mm and deg. What lies
// outside is a slip of the pen or of the unit.
var (
	heightBounds = bounds{"height", 0.5, 15, Millimetre, "measure from the margin to the top, in mm"}
	baseBounds   = bounds{"width at the margin", 2, 16, Millimetre, "measure across the preparation at the margin, in mm"}
	topBounds    = bounds{"width on top", 0.5, 16, Millimetre, "measure across the top in the same plane, in mm"}
	tocBounds    = bounds{"total convergence", 0, 90, Degree, "give both opposing walls together; a taper of one wall counts twice"}
	taperBounds  = bounds{"taper of one wall", 0, 45, Degree, "give one wall; the total convergence is twice that"}
	errorBounds  = bounds{"uncertainty", 0, 1, Millimetre, "a caliper is good to about 0.1 mm"}

	angleErrorBounds = bounds{"uncertainty of the convergence", 0, 30, Degree, "give it in degrees"}
)

var convergenceOrigin = Origin{
	Formula: "convergence = 2 arctan((margin width - top width) / (2 height))",
	Source:  "plane geometry",
	Cannot:  "It takes straight walls that lean alike, and all three measures in one cross-section. It sees no groove, box or finish line.",
}

// TotalConvergence is the angle in deg between two opposing walls, from the
// widths in mm at the margin and on top and the height in mm, all in one
// cross-section. A top wider than the margin is an error, not a negative angle.
func TotalConvergence(base, top, height Length) (Figure, error) {
	if err := checkWalls(base, top, height); err != nil {
		return Figure{}, err
	}
	f := figure("total convergence", Degree, convergenceOrigin, func(in []float64) float64 {
		return 2 * deg(math.Atan((in[0]-in[1])/(2*in[2])))
	}, base.input(), top.input(), height.input())
	if f.Value > tocBounds.high {
		return Figure{}, tocBounds.check(f.Value)
	}
	if f.Low < 0 {
		f.Low = 0
		f.Notes = append(f.Notes, "an undercut is within the uncertainty of the measures: look along the path of insertion")
	}
	return f, nil
}

// TopWidth is the width in mm on top of a preparation, from its width in mm at the
// margin, its height in mm and its total convergence in deg. It is less than
// nothing where the walls would meet below the top: what is worked out from it then
// refuses it.
func TopWidth(baseMM, heightMM, tocDeg float64) float64 {
	return baseMM - 2*heightMM*math.Tan(rad(tocDeg/2))
}

// checkWalls refuses measures that make no preparation.
func checkWalls(base, top, height Length) error {
	if err := cmp.Or(baseBounds.check(base.MM), topBounds.check(top.MM), heightBounds.check(height.MM),
		errorBounds.check(base.PlusMinus), errorBounds.check(top.PlusMinus), errorBounds.check(height.PlusMinus)); err != nil {
		return err
	}
	if height.PlusMinus >= height.MM {
		return &InputError{"uncertainty of the height", lengthOf(height.PlusMinus), "less than the height itself", "measure again"}
	}
	if top.MM > base.MM {
		return &InputError{"width on top", lengthOf(top.MM), "at most the width at the margin, " + lengthOf(base.MM),
			"either the two widths are swapped, or there is an undercut that no crown can pass"}
	}
	return nil
}

func lengthOf(mm float64) string { return Quantity{mm, Millimetre}.String() }

// ConvergenceOfWalls is the total convergence in deg of two walls that lean
// differently, from the inward offset in mm of each over the height in mm.
func ConvergenceOfWalls(firstOffset, secondOffset, height Length) (Figure, error) {
	offset := bounds{"inward offset of a wall", 0, 8, Millimetre, "a negative offset is an undercut"}
	if err := cmp.Or(offset.check(firstOffset.MM), offset.check(secondOffset.MM), heightBounds.check(height.MM)); err != nil {
		return Figure{}, err
	}
	o := Origin{"convergence = arctan(x1 / height) + arctan(x2 / height)", "plane geometry", convergenceOrigin.Cannot}
	f := figure("total convergence", Degree, o, func(in []float64) float64 {
		return deg(math.Atan(in[0]/in[2]) + math.Atan(in[1]/in[2]))
	}, firstOffset.input(), secondOffset.input(), height.input())
	return f, tocBounds.check(f.Value)
}

// A Frustum is the size of a round preparation taken as a cut cone.
type Frustum struct {
	Slant   Figure // along the wall, mm
	Lateral Figure // the walls, mm²
	Top     Figure // the occlusal surface, mm²
	Total   Figure // walls and top, mm²
	Solid   Figure // the stump, µL
}

var frustumOrigin = Origin{
	Formula: "walls = π (base + top)/2 × slant, top = π top²/4, stump = π height/12 (base² + base × top + top²)",
	Source:  "solid geometry of a cut cone",
	Cannot:  "A tooth is not round and its top not flat; take it as a size, not as a measurement.",
}

// FrustumArea sizes a round preparation from its diameters in mm at the margin
// and on top and its height in mm.
func FrustumArea(base, top, height Length) (Frustum, error) {
	if err := checkWalls(base, top, height); err != nil {
		return Frustum{}, err
	}
	size := func(name string, unit Unit, f func(b, o, h float64) float64) Figure {
		return figure(name, unit, frustumOrigin, func(in []float64) float64 { return f(in[0], in[1], in[2]) },
			base.input(), top.input(), height.input())
	}
	return Frustum{
		Slant:   size("length of the wall", Millimetre, slant),
		Lateral: size("area of the walls", MM2, lateral),
		Top:     size("area of the top", MM2, func(_, o, _ float64) float64 { return disc(o) }),
		Total:   size("area under the crown", MM2, area),
		Solid:   size("volume of the stump", Microlitre, cone),
	}, nil
}

func slant(b, o, h float64) float64   { return math.Hypot(h, (b-o)/2) }
func lateral(b, o, h float64) float64 { return math.Pi * (b + o) / 2 * slant(b, o, h) }
func disc(o float64) float64          { return math.Pi * o * o / 4 }
func area(b, o, h float64) float64    { return lateral(b, o, h) + disc(o) }
func cone(b, o, h float64) float64    { return math.Pi * h / 12 * (b*b + b*o + o*o) }

// SquareArea is the area in mm² of the walls, and of walls and top together,
// of a square stump from its width in mm at the margin, its height in mm and
// the taper in deg of one wall.
func SquareArea(baseMM, heightMM, taperDeg float64) (walls, total Figure, err error) {
	if err := cmp.Or(baseBounds.check(baseMM), heightBounds.check(heightMM), taperBounds.check(taperDeg)); err != nil {
		return walls, total, err
	}
	top := TopWidth(baseMM, heightMM, 2*taperDeg)
	if top <= 0 {
		return walls, total, &InputError{"taper of one wall", Quantity{taperDeg, Degree}.String(),
			"less than would bring the walls to a point", "check the height and the taper"}
	}
	o := Origin{"walls = 4 (base + top)/2 × height / cos taper", "solid geometry of a cut pyramid", frustumOrigin.Cannot}
	w := 2 * (baseMM + top) * heightMM / math.Cos(rad(taperDeg))
	return exact("area of the walls", w, MM2, o), exact("area under the crown", w+top*top, MM2, o), nil
}
