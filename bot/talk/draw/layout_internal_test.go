package draw

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"mortarboard/planner/sums"
)

// leastLetters is the size in px below which words on a telephone are not read.
const leastLetters = 11

// checkLayout holds that all words stand on the page, big enough, and that no
// two overlap.
func checkLayout(t *testing.T, name string, s *sheet, err error) {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	for i, b := range s.boxes {
		if b.left < 2 || b.right > pageWidth-2 || b.top < 2 || b.bottom > s.height()-2 {
			t.Errorf("%s: %q leaves the page of %v px: %.0f to %.0f, %.0f to %.0f", name, b.words, s.height(), b.left, b.right, b.top, b.bottom)
		}
		if b.size < leastLetters {
			t.Errorf("%s: %q is %v px high, want at least %d", name, b.words, b.size, leastLetters)
		}
		for _, o := range s.boxes[:i] {
			if b.left < o.right && o.left < b.right && b.top < o.bottom-0.5 && o.top < b.bottom-0.5 {
				t.Errorf("%s: %q and %q overlap", name, o.words, b.words)
			}
		}
	}
	checkShapes(t, name, s)
}

// checkShapes holds that nothing is drawn off the page.
func checkShapes(t *testing.T, name string, s *sheet) {
	t.Helper()
	for _, sh := range s.shapes {
		for _, c := range sh.path {
			if x, y := float64(c.Pos.X), float64(c.Pos.Y); x < 0 || x > pageWidth || y < 0 || y > s.height() {
				t.Errorf("%s: a shape leaves the page of %v px at %.1f, %.1f", name, s.height(), x, y)
				return
			}
		}
	}
}

func TestPreparationLayout(t *testing.T) {
	for _, height := range []float64{0.5, 3, 4.25, 15} {
		for _, width := range []float64{2, 4.5, 11.25, 16} {
			for _, share := range []float64{0.05, 0.62, 0.9, 1} {
				top := sums.Caliper(max(0.5, width*share))
				p := Preparation{Height: sums.Caliper(height), Margin: sums.Caliper(width), Top: &top}
				toc, err := sums.TotalConvergence(p.Margin, top, p.Height)
				if err != nil || toc.High-toc.Low > 50 {
					continue // leans by more than 90°, or nobody knows how
				}
				name := fmt.Sprintf("%v high, %v and %v wide", height, width, top.MM)
				s, err := p.layout()
				checkLayout(t, name, s, err)
				form, err := sums.RetentiveForm(sums.FormLimits{MolarHeightMM: 4, OtherHeightMM: 3, LeastTOC: 10, MostTOC: 20, LeastProportion: 0.4}, &p.Height, &p.Margin, &sums.Angle{Deg: toc.Value}, sums.Molar)
				if err != nil {
					t.Fatal(err)
				}
				p.Form = &form
				s, err = p.layout()
				checkLayout(t, name+", judged", s, err)
			}
		}
	}
}

func TestUnevenLayout(t *testing.T) {
	for _, offsets := range [][2]float64{{0, 0}, {0, 8}, {8, 0}, {0.333, 1.999}, {5, 5}} {
		p := Preparation{Height: sums.Caliper(10), Margin: sums.Caliper(12.75), Offsets: &[2]sums.Length{sums.Caliper(offsets[0]), sums.Caliper(offsets[1])}}
		s, err := p.layout()
		checkLayout(t, fmt.Sprint(offsets), s, err)
	}
	s, err := Preparation{Height: sums.Caliper(4), Margin: sums.Caliper(10), Convergence: &sums.Angle{Deg: 22.75, PlusMinus: 30}}.layout()
	checkLayout(t, "loose convergence", s, err)
}

func TestLightLayout(t *testing.T) {
	for _, irradiance := range []float64{50, 1000, 10000} {
		for _, seconds := range []float64{0.5, 20, 1800} {
			for _, wall := range []float64{0.1, 0.5, 1.5, 2, 2.3, 5} {
				for _, target := range []float64{0.5, 16, 200} {
					s, err := Light{irradiance, seconds, wall, target, sums.LightLimits{Dose: 16, AloneMM: 0.3, Loss: sums.Span{Low: 0.8, High: 2}, MeasuredMM: 2}}.layout()
					checkLayout(t, fmt.Sprint(irradiance, seconds, wall, target), s, err)
				}
			}
		}
	}
}

// judgedAs gives a standing that the values do not deny.
func judgedAs(set Setting, v float64) string {
	low, high := set.right()
	switch {
	case set.Bound == Reported:
		return Unknown
	case v >= low && v <= high:
		return Within
	case set.Bound == AtLeast && v >= set.Low, set.Bound == AtMost && v <= set.High:
		return Unknown
	}
	return Outside
}

func TestCheckLayout(t *testing.T) {
	spans := [][2]float64{{0, 0}, {0, 5}, {1.5, 2.8}, {50, 50}, {-5, 4}, {2, 2.01}, {10000, 200000}, {0.0001, 0.0002}}
	for _, span := range spans {
		for bound := Reported; bound <= Between; bound++ {
			for _, asked := range []sums.Quantity{{Value: 0, Unit: sums.Bar}, {Value: 2.83, Unit: sums.Bar}, {Value: 40, Unit: sums.PSI},
				{Value: 5000, Unit: sums.Bar}, {Value: -60, Unit: sums.PSI}, {Value: 0.00015, Unit: sums.Bar}} {
				in, err := asked.In(sums.Bar)
				if err != nil {
					t.Fatal(err)
				}
				set := Setting{Of: "abrading", Low: span[0], High: span[1], Unit: sums.Bar, Bound: bound, Slack: 0.1, Basis: "published"}
				set.Standing = judgedAs(set, in.Value)
				s, err := Check{Name: "pressure", Asked: &asked, Settings: []Setting{set}}.layout()
				checkLayout(t, fmt.Sprint(span, bound, asked), s, err)
				s, err = Check{Name: "pressure", Settings: []Setting{set}}.layout()
				checkLayout(t, fmt.Sprint(span, bound, "nothing asked"), s, err)
			}
		}
	}
}

func TestBalanceLayout(t *testing.T) {
	labels := []string{"Short", strings.Repeat("a label that goes on ", 30), strings.Repeat("unbroken", 40), "日本語 \U0001F9B7 \x00 <&>\""}
	for _, n := range []int{1, 2, 7, 40} {
		for _, label := range labels {
			var reasons []Reason
			for i := range n {
				reasons = append(reasons, Reason{[]string{Bond, Cement}[i%2], []string{Decisive, Strong, Weak}[i/2%3], label})
			}
			for _, strategy := range []string{Bond, Either, Depends} {
				s, err := Balance{Strategy: strategy, Reasons: reasons}.layout()
				checkLayout(t, fmt.Sprint(strategy, n, label[:5]), s, err)
			}
			reasons = append(reasons, Reason{Stop, Decisive, label}, Reason{Stop, Decisive, label})
			s, err := Balance{Strategy: Stop, Reasons: reasons}.layout()
			checkLayout(t, fmt.Sprint("stop", n, label[:5]), s, err)
		}
	}
}

// TestBeamTips holds that the pan of the side leant to hangs lower, and further
// where it is decided.
func TestBeamTips(t *testing.T) {
	bond, lean := Balance{Strategy: Bond}.tilt(), Balance{Strategy: Depends, Leaning: Bond}.tilt()
	if cement := (Balance{Strategy: Cement}).tilt(); bond <= 0 || cement != -bond || lean <= 0 || lean >= bond {
		t.Errorf("got tilts of %v for bonding, %v for cementing, %v leaning to bonding", bond, cement, lean)
	}
	for _, b := range []Balance{{Strategy: Stop}, {Strategy: Either}, {Strategy: Depends}} {
		if got := b.tilt(); got != 0 {
			t.Errorf("%s: got a tilt of %v, want none", b.Strategy, got)
		}
	}
}

// TestCurveIsTheDose reads the drawn curves back, also where the axis ends below
// the dose at the surface.
func TestCurveIsTheDose(t *testing.T) {
	limits := sums.LightLimits{Loss: sums.Span{Low: 0.8, High: 2}, MeasuredMM: 2}
	for _, l := range []Light{{1000, 20, 1.5, 16, limits}, {2000, 120, 1.5, 16, limits}} {
		behind, err := sums.LightBehindZirconia(l.Limits, l.Irradiance, l.Seconds, 1, l.Target)
		if err != nil {
			t.Fatal(err)
		}
		c := l.chart(behind.Dose, 0)
		for attenuation, want := range map[float64]float64{l.Limits.Loss.Low: behind.Dose.High, l.Limits.Loss.High: behind.Dose.Low} {
			points := l.curve(c, attenuation, 1, 2)
			if mm, dose := c.x.value(points[0].x), c.y.value(points[0].y); math.Abs(mm-1) > 1e-9 || math.Abs(dose-want) > 1e-9 {
				t.Errorf("%v per mm: got %v J/cm² at %v mm, want %v at 1", attenuation, dose, mm, want)
			}
			for _, p := range l.curve(c, attenuation, 0, 2) {
				if mm, dose := c.x.value(p.x), c.y.value(p.y); math.Abs(dose-l.dose(attenuation, mm)) > 1e-9 {
					t.Errorf("%v per mm: got %v J/cm² at %.2f mm, want %v", attenuation, dose, mm, l.dose(attenuation, mm))
				}
			}
		}
	}
}

// TestSectionIsToScale measures the drawing itself.
func TestSectionIsToScale(t *testing.T) {
	top := sums.MM(7.8)
	p := Preparation{Height: sums.MM(3.5), Margin: sums.MM(9), Top: &top}
	walls, err := p.walls()
	if err != nil {
		t.Fatal(err)
	}
	c := p.place(walls, 100)
	for name, got := range map[string][2]float64{
		"margin": {(c.feet[1].x - c.feet[0].x) / c.perMM, 9},
		"top":    {(c.shoulders[1].x - c.shoulders[0].x) / c.perMM, 7.8},
		"height": {(c.margin - c.top) / c.perMM, 3.5},
		"middle": {c.along(0, 1.75).y, (c.top + c.margin) / 2},
		"lean":   {c.along(1, 3.5).x, c.shoulders[1].x},
	} {
		if d := got[0] - got[1]; d > 1e-9 || d < -1e-9 {
			t.Errorf("%s: got %v, want %v", name, got[0], got[1])
		}
	}
}
