package sums

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestSpanCoversEveryInput(t *testing.T) {
	f := must(TotalConvergence(Caliper(9), Caliper(7.8), Caliper(3.5)))
	if math.Abs(f.Value-19.455) > 0.001 || math.Abs(f.Low-15.81) > 0.01 || math.Abs(f.High-23.27) > 0.01 {
		t.Errorf("got %v (%v to %v)", f.Value, f.Low, f.High)
	}
}

func TestUndercutWithinTheUncertaintyIsNoted(t *testing.T) {
	f := must(TotalConvergence(Caliper(8), Caliper(7.9), Caliper(4)))
	if f.Low != 0 || len(f.Notes) != 1 || !strings.Contains(f.Notes[0], "undercut") {
		t.Errorf("got low %v, notes %q", f.Low, f.Notes)
	}
}

func TestImpossibleMeasuresAreExplained(t *testing.T) {
	toc := func(b, o, h Length) error { _, err := TotalConvergence(b, o, h); return err }
	tests := []struct {
		name string
		err  error
		want string
	}{
		{"undercut", toc(MM(8), MM(9), MM(4)), "width on top: got 9 mm, allowed at most the width at the margin, 8 mm: either the two widths are swapped, or there is an undercut that no crown can pass"},
		{"negative", toc(MM(-8), MM(6), MM(4)), "width at the margin: got -8 mm, allowed 2 to 16 mm: measure across the preparation at the margin, in mm"},
		{"no height", toc(MM(8), MM(6), MM(0)), "height: got 0 mm, allowed 0.5 to 15 mm: measure from the margin to the top, in mm"},
		{"centimetres", toc(MM(0.8), MM(0.6), MM(4)), "width at the margin: got 0.8 mm, allowed 2 to 16 mm: measure across the preparation at the margin, in mm"},
		{"absurd", toc(MM(900), MM(6), MM(4)), "width at the margin: got 900 mm, allowed 2 to 16 mm: measure across the preparation at the margin, in mm"},
		{"not a number", toc(MM(math.NaN()), MM(6), MM(4)), "width at the margin: got no number mm, allowed 2 to 16 mm: measure across the preparation at the margin, in mm"},
		{"uncertain", toc(MM(8), MM(6), Length{0.6, 0.7}), "uncertainty of the height: got 0.7 mm, allowed less than the height itself: measure again"},
		{"as uncertain as high", toc(MM(8), MM(6), Length{0.5, 0.5}), "uncertainty of the height: got 0.5 mm, allowed less than the height itself: measure again"},
		{"a cone", toc(MM(12), MM(2), MM(2)), "total convergence: got 136°, allowed 0 to 90°: give both opposing walls together; a taper of one wall counts twice"},
	}
	for _, tt := range tests {
		var in *InputError
		if !errors.As(tt.err, &in) || tt.err.Error() != tt.want {
			t.Errorf("%s: got %v\nwant %s", tt.name, tt.err, tt.want)
		}
	}
	if _, _, err := SquareArea(6, 10, 25); err == nil {
		t.Error("a square stump that ends in a point: want an error")
	}
	if _, err := ConvergenceOfWalls(MM(-1), MM(1), MM(4)); err == nil {
		t.Error("a wall that leans outward: want an error")
	}
}

// The resisting part is checked against a crown that is really turned: a point
// of its wall must move into the stump.
func TestBlocksAtAgreesWithATurnedCrown(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6872, 1))
	blocked := 0
	for range 1000 {
		base, taper := 2+14*rnd.Float64(), 44*rnd.Float64()
		point, uneven := 0.05+9*rnd.Float64(), 3*rnd.Float64()-1.5
		got := must(BlocksAt(point, base, taper, uneven))
		margin := base*math.Sin(rad(taper))*math.Cos(rad(taper)) - point - uneven*square(math.Cos(rad(taper)))
		if math.Abs(margin) < 1e-3 {
			continue // the turned crown cannot tell so near the limit
		}
		if want := turnedIntoStump(point, base, taper, uneven); got != want {
			t.Errorf("point %v, base %v, taper %v, uneven %v: got %v, want %v", point, base, taper, uneven, got, want)
		}
		if got {
			blocked++
		}
	}
	if blocked < 100 || blocked > 900 {
		t.Errorf("%d of 1000 cases block: the cases do not try both sides", blocked)
	}
}

// turnedIntoStump turns the crown a little about the pivot margin at x = 0 and
// reports whether the point of the opposite wall, whose margin is at x = base,
// comes to lie inside the stump. The pivot margin lies lower by uneven.
func turnedIntoStump(point, base, taper, uneven float64) bool {
	const turn = 1e-6
	x, y := base-point*math.Tan(rad(taper)), point
	px, py := 0.0, -uneven
	// the crown lifts at the far wall, so it turns counterclockwise
	nx := px + (x-px)*math.Cos(turn) - (y-py)*math.Sin(turn)
	ny := py + (x-px)*math.Sin(turn) + (y-py)*math.Cos(turn)
	return nx < base-ny*math.Tan(rad(taper))
}

func TestResistanceVerdicts(t *testing.T) {
	tests := []struct {
		name         string
		height, base Length
		toc          Angle
		half, edge   Resists
	}{
		{"short and wide at 20°", MM(2.5), MM(10), Deg(20), DoesNotResist, DoesResist},
		{"very short at 35°", MM(2), MM(10), Deg(35), DoesNotResist, DoesNotResist},
		{"tall", MM(6), MM(10), Deg(20), DoesResist, DoesResist},
		{"parallel", MM(1), MM(10), Deg(0), DoesResist, DoesResist},
		{"as tall as wide", MM(9), MM(9), Deg(80), DoesResist, DoesResist},
		{"near the limit by caliper", Caliper(3.5), Caliper(10), Deg(20.5), TooClose, DoesResist},
	}
	for _, tt := range tests {
		r := must(ResistanceForm(tt.height, tt.base, tt.toc))
		if r.HalfWall.Verdict != tt.half || r.TopEdge.Verdict != tt.edge {
			t.Errorf("%s: got %s and %s, want %s and %s", tt.name, r.HalfWall.Verdict, r.TopEdge.Verdict, tt.half, tt.edge)
		}
	}
}

func TestResistanceIsConsistent(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2001, 1))
	for range 500 {
		height, base, toc := 0.6+9*rnd.Float64(), 2+14*rnd.Float64(), 88*rnd.Float64()
		r := must(ResistanceForm(MM(height), MM(base), Deg(toc)))
		if got, want := r.HalfWall.Verdict == DoesResist, toc <= r.HalfWall.Limit.Value; got != want {
			t.Errorf("%v/%v/%v: half-wall verdict %v against the limit %v", height, base, toc, got, r.HalfWall.Limit)
		}
		if got, want := r.HalfWall.Verdict == DoesResist, height >= r.HalfWall.Minimum.Value; got != want {
			t.Errorf("%v/%v/%v: half-wall verdict %v against the least height %v", height, base, toc, got, r.HalfWall.Minimum)
		}
		if got, want := r.Fraction.Value, 1-r.ResistingLow.Value/height; got > 0 && math.Abs(got-want) > 1e-12 {
			t.Errorf("%v/%v/%v: fraction %v, but it begins to resist at %v", height, base, toc, got, r.ResistingLow)
		}
		if 2*r.TopEdge.Minimum.Value != r.HalfWall.Minimum.Value {
			t.Errorf("%v/%v/%v: the criteria do not differ by two", height, base, toc)
		}
	}
}

func TestUnevenMarginsCanLoseParallelWalls(t *testing.T) {
	if must(BlocksAt(1, 8, 0, -1.2)) {
		t.Error("parallel walls, pivot margin 1.2 mm higher: a point at 1 mm cannot block (Parker 2004)")
	}
	if !must(BlocksAt(1.5, 8, 0, -1.2)) {
		t.Error("the same at 1.5 mm blocks")
	}
}
