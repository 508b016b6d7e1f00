package sums

import (
	"cmp"
	"math"
)

// Resists tells whether a wall keeps the crown from tipping.
type Resists string

// The answers of a resistance criterion.
const (
	DoesResist    Resists = "resists"
	DoesNotResist Resists = "does not resist"
	TooClose      Resists = "too close to tell"
)

// A Criterion is a rule on how much of a wall must block the tipping crown.
type Criterion string

// The two criteria in use. They differ by a factor of two in the height they
// ask for, so it must be said which one is meant.
const (
	HalfWall Criterion = "half-wall" // the whole upper half of the wall blocks
	TopEdge  Criterion = "top-edge"  // the occlusal edge alone blocks
)

// Meaning says in a sentence what the criterion asks for.
func (c Criterion) Meaning() string {
	if c == HalfWall {
		return "at least the upper half of the wall has to block the crown when it tips about the opposite margin"
	}
	return "the top edge of the wall alone has to block the crown when it tips about the opposite margin"
}

// share is the part of the height at which the lowest blocking point may lie.
func (c Criterion) share() float64 {
	if c == HalfWall {
		return 0.5
	}
	return 1
}

const resistanceCannot = "It is a flat picture: a stiff crown, walls that lean alike, level margins, no cement. " +
	"A groove or box changes it and is not computed."

var (
	fractionOrigin = Origin{
		"resisting part = 1 - width sin(taper) cos(taper) / height, taper = convergence/2",
		"plane geometry of a crown tipping about one margin; the half-wall rule after Parker 2004, Dent Clin North Am 48:387-396",
		resistanceCannot,
	}
	limitOrigin = Origin{
		"half-wall: sin(convergence) = height/width; top-edge: sin(convergence) = 2 height/width",
		fractionOrigin.Source, resistanceCannot,
	}
	minimumOrigin = Origin{
		"half-wall: height = width sin(convergence); top-edge: half of that",
		fractionOrigin.Source, resistanceCannot,
	}
)

// A Resistance tells how a preparation keeps its crown from tipping off.
type Resistance struct {
	Fraction     Figure // part of the wall height, from the top, that blocks, 0 to 1
	HalfWall     Judged
	TopEdge      Judged
	ResistingLow Figure // height in mm above the margin at which blocking begins
}

// A Judged criterion: the verdict, the convergence that would be the limit for
// this height and width, and the height needed for this convergence and width.
type Judged struct {
	Criterion Criterion
	Verdict   Resists
	Limit     Figure // deg, total convergence
	Minimum   Figure // mm
}

// ResistanceForm judges a preparation by both criteria, from its height and its
// width at the margin in mm and its total convergence in deg.
func ResistanceForm(height, base Length, toc Angle) (Resistance, error) {
	if err := checkForm(height, base, toc); err != nil {
		return Resistance{}, err
	}
	ins := []input{height.input(), base.input(), toc.input()}
	r := Resistance{
		Fraction: figure("part of the wall that resists", Ratio, fractionOrigin, func(in []float64) float64 {
			return max(0, resisting(in[0], in[1], in[2]))
		}, ins...),
		ResistingLow: figure("height where the wall begins to resist", Millimetre, fractionOrigin, func(in []float64) float64 {
			return in[1] * math.Sin(rad(in[2])) / 2
		}, ins...),
	}
	r.HalfWall, r.TopEdge = judge(HalfWall, height, base, toc), judge(TopEdge, height, base, toc)
	return r, nil
}

func checkForm(height, base Length, toc Angle) error {
	return cmp.Or(heightBounds.check(height.MM), baseBounds.check(base.MM), tocBounds.check(toc.Deg),
		errorBounds.check(height.PlusMinus), errorBounds.check(base.PlusMinus), angleErrorBounds.check(toc.PlusMinus))
}

// resisting is the part of the wall above the lowest blocking point; below zero
// no point blocks. B sin α cos α = B sin(convergence)/2.
func resisting(height, base, toc float64) float64 {
	return 1 - base*math.Sin(rad(toc))/(2*height)
}

func judge(c Criterion, height, base Length, toc Angle) Judged {
	_, low, high := spread(func(in []float64) float64 {
		return resisting(in[0], in[1], in[2]) - (1 - c.share())
	}, height.input(), base.input(), toc.input())
	verdict := TooClose
	switch {
	case low > 0 || low == 0 && c == HalfWall:
		verdict = DoesResist
	case high <= 0:
		verdict = DoesNotResist
	}
	return Judged{c, verdict, limit(c, height, base), minimum(c, base, toc)}
}

// ConvergenceLimit is the largest total convergence in deg at which a wall of
// this height in mm and width at the margin in mm meets the criterion.
func ConvergenceLimit(c Criterion, height, base Length) (Figure, error) {
	if err := checkForm(height, base, Deg(0)); err != nil {
		return Figure{}, err
	}
	return limit(c, height, base), nil
}

func limit(c Criterion, height, base Length) Figure {
	f := figure("largest total convergence, "+string(c), Degree, limitOrigin, func(in []float64) float64 {
		return deg(math.Asin(min(1, in[0]/(c.factor()*in[1]))))
	}, height.input(), base.input())
	if f.Value >= 90-1e-9 {
		f.Notes = append(f.Notes, "it resists at any taper below 45° a wall")
	}
	return f
}

// factor is the width in heights at which the criterion is met at any taper.
func (c Criterion) factor() float64 {
	if c == HalfWall {
		return 1
	}
	return 0.5
}

// MinimumHeight is the height in mm that the criterion asks for at this width
// at the margin in mm and total convergence in deg.
func MinimumHeight(c Criterion, base Length, toc Angle) (Figure, error) {
	if err := checkForm(MM(heightBounds.high), base, toc); err != nil {
		return Figure{}, err
	}
	return minimum(c, base, toc), nil
}

func minimum(c Criterion, base Length, toc Angle) Figure {
	return figure("least height, "+string(c), Millimetre, minimumOrigin, func(in []float64) float64 {
		return c.factor() * in[0] * math.Sin(rad(in[1]))
	}, base.input(), toc.input())
}

// BlocksAt reports whether the wall point at height pointMM above its margin
// blocks a crown that tips about the opposite margin, for a width of baseMM and
// a taper of one wall of taperDeg. unevenMM is how much lower the margin is
// about which it tips; negative if that margin is higher.
func BlocksAt(pointMM, baseMM, taperDeg, unevenMM float64) (bool, error) {
	point := bounds{"height of the point", 0, heightBounds.high, Millimetre, ""}
	uneven := bounds{"difference of the margins", -10, 10, Millimetre, ""}
	if err := cmp.Or(point.check(pointMM), baseBounds.check(baseMM), taperBounds.check(taperDeg), uneven.check(unevenMM)); err != nil {
		return false, err
	}
	sin, cos := math.Sincos(rad(taperDeg))
	return baseMM*sin*cos < pointMM+unevenMM*cos*cos, nil
}
