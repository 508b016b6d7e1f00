package sums

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// TestADoseThatMayFallShortSaysSo takes a wall behind which the dose wanted lies
// between the ends of the band. By hand, 1000 mW/cm² for 40 s is 40 J/cm², of
// which exp(-2.0) to exp(-0.8) pass 1 mm: 5.41 to 17.97, wanted are 16.
func TestADoseThatMayFallShortSaysSo(t *testing.T) {
	b := must(LightBehindZirconia(lightLimits, 1000, 40, 1, 16))
	if math.Abs(b.Dose.Low-5.413) > 0.001 || math.Abs(b.Dose.High-17.973) > 0.001 {
		t.Fatalf("got %s, want 5.41 to 17.97", b.Dose)
	}
	if notes := b.Dose.Notes; !slices.Contains(notes, "the dose may fall short") || slices.Contains(notes, "the dose falls short even in the best case") {
		t.Errorf("got notes %q, want that the dose may fall short", notes)
	}
	if notes := b.Time.Notes; slices.Contains(notes, "the dose may fall short") {
		t.Errorf("the time for the dose has the notes %q: it is as long as the dose takes", notes)
	}
}

// TestAgreesWithinATenth stands close on both sides of the bound. By the factor
// of NIST SP 811 32 psi are 2.206 bar, 9.3 % above 2 bar, and 33 psi 2.275 bar, 12.1 %.
func TestAgreesWithinATenth(t *testing.T) {
	for psi, want := range map[float64]bool{32: true, 33: false} {
		if got, err := (Quantity{2, Bar}).Agrees(Quantity{psi, PSI}); err != nil || got != want {
			t.Errorf("2 bar and %v psi: got %v, %v, want %v", psi, got, err, want)
		}
	}
}

// TestResistanceRefusesAnImpossibleUncertainty: a caliper is never good to a
// negative length, and never as bad as centimetres.
func TestResistanceRefusesAnImpossibleUncertainty(t *testing.T) {
	sound := MM(8)
	for _, bad := range []float64{-0.1, 5, math.NaN(), math.Inf(1)} {
		for what, m := range map[string][2]Length{"height": {{4, bad}, sound}, "width": {MM(4), {8, bad}}} {
			var in *InputError
			if _, err := ResistanceForm(m[0], m[1], Deg(10)); !errors.As(err, &in) || in.What != "uncertainty" {
				t.Errorf("%s ± %v mm: want an error about the uncertainty, got %v", what, bad, err)
			}
		}
	}
}

// TestAtTheLimitTheTopEdgeDoesNotResist takes walls that the tipping crown's arc
// just touches: for the top edge nothing blocks there, as [BlocksAt] says, and for
// the half-wall rule half the wall is enough.
func TestAtTheLimitTheTopEdgeDoesNotResist(t *testing.T) {
	edges, halves := 0, 0
	for height := 1.0; height <= 4; height += 0.125 {
		for toc := 20.0; toc <= 60; toc++ {
			sin := math.Sin(rad(toc))
			if base := 2 * height / sin; resisting(height, base, toc) == 0 && baseBounds.check(base) == nil {
				edges++
				if r := must(ResistanceForm(MM(height), MM(base), Deg(toc))); r.TopEdge.Verdict != DoesNotResist {
					t.Errorf("top edge, %v mm high, %v mm wide, %v°: got %q", height, base, toc, r.TopEdge.Verdict)
				}
			}
			if base := height / sin; resisting(height, base, toc) == 0.5 && baseBounds.check(base) == nil {
				halves++
				if r := must(ResistanceForm(MM(height), MM(base), Deg(toc))); r.HalfWall.Verdict != DoesResist {
					t.Errorf("half wall, %v mm high, %v mm wide, %v°: got %q", height, base, toc, r.HalfWall.Verdict)
				}
			}
		}
	}
	if edges == 0 || halves == 0 {
		t.Fatalf("%d and %d walls lie on the limit, want some of each", edges, halves)
	}
}
