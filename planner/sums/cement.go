package sums

import (
	"cmp"
	"math"
)

var filmBounds = bounds{"film thickness", 1, 500, Micrometre, "give the cement film in µm; 0.05 mm is 50 µm"}

// A Cement is the cement that the space under a crown holds.
type Cement struct {
	Thin  Figure // area times film, µL; good to about 2 % up to 100 µm
	Shell Figure // the exact shell, µL
}

var cementOrigin = Origin{
	Formula: "thin: area under the crown × film; shell: outer cut cone less inner one",
	Source:  "solid geometry of a cut cone",
	Cannot: "It is the space that the film fills, not the dose to dispense: a dose is many times this, " +
		"and nearly all the rest becomes excess, so line the crown thinly.",
}

// CementVolume is the cement in µL between a round preparation and its crown,
// from the diameters at the margin and on top and the height in mm, and the
// film in µm. 1 µL is 1 mm³.
func CementVolume(base, top, height Length, filmUM float64) (Cement, error) {
	if err := cmp.Or(checkWalls(base, top, height), filmBounds.check(filmUM)); err != nil {
		return Cement{}, err
	}
	ins := []input{base.input(), top.input(), height.input()}
	film := filmUM / 1000
	return Cement{
		Thin: figure("cement in the space", Microlitre, cementOrigin, func(in []float64) float64 {
			return area(in[0], in[1], in[2]) * film
		}, ins...),
		Shell: figure("cement in the space", Microlitre, cementOrigin, func(in []float64) float64 {
			return shell(in[0], in[1], in[2], film)
		}, ins...),
	}, nil
}

// shell is the volume in mm³ between a cut cone and one whose wall lies t mm
// farther out, measured square to the wall, and whose top lies t mm higher.
func shell(b, o, h, t float64) float64 {
	lean := (b - o) / (2 * h) // tangent of the taper of one wall
	outer := b + 2*t*math.Sqrt(1+lean*lean)
	return cone(outer, outer-2*(h+t)*lean, h+t) - cone(b, o, h)
}

var liftOrigin = Origin{
	Formula: "lift = (film - space on the wall) / sin(convergence/2)",
	Source:  "Windeler 1979, J Prosthet Dent 42:299-303, as reported with Pilo et al. 1988, J Prosthet Dent 59:429-433; the same from geometry",
	Cannot:  "It takes an even film that cannot flow out any further. Spaced crowns were measured to seat far better than crowns without a spacer.",
}

// SeatingLift is how far in µm a crown stands above its seat because of the
// film in µm on its walls, for a total convergence in deg and a cement space in
// µm that the laboratory left on the walls.
func SeatingLift(filmUM float64, toc Angle, spaceUM float64) (Figure, error) {
	space := bounds{"cement space", 0, 300, Micrometre, "give the spacer in µm"}
	leaning := bounds{"total convergence", 1, 90, Degree, "parallel walls give no finite lift"}
	if err := cmp.Or(filmBounds.check(filmUM), space.check(spaceUM),
		leaning.check(toc.Deg), leaning.check(toc.Deg-toc.PlusMinus)); err != nil {
		return Figure{}, err
	}
	return figure("lift of the crown", Micrometre, liftOrigin, func(in []float64) float64 {
		return max(0, filmUM-spaceUM) / math.Sin(rad(in[0])/2)
	}, toc.input()), nil
}
