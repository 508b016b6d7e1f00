package draw_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"mortarboard/bot/talk/draw"
	"mortarboard/planner/sums"
)

// A worded picture is laid out with its words, as far as package draw lets a
// test see.
type worded = draw.Worded

func alt(t *testing.T, p worded) string {
	t.Helper()
	words, err := draw.AltOf(p)
	if err != nil {
		t.Fatalf("words of the picture: %v", err)
	}
	return words
}

func TestAlt(t *testing.T) {
	form := preparation()
	f, err := sums.RetentiveForm(sums.FormLimits{MolarHeightMM: 4, OtherHeightMM: 3, LeastTOC: 10, MostTOC: 20, LeastProportion: 0.4}, caliper(3.5), caliper(9), &sums.Angle{Deg: 19.5}, sums.Molar)
	if err != nil {
		t.Fatal(err)
	}
	form.Form = &f
	uneven := draw.Preparation{Height: *caliper(4), Margin: *caliper(9), Offsets: &[2]sums.Length{*caliper(0.3), *caliper(1.9)}}
	for _, c := range []struct {
		name    string
		picture worded
		want    string
	}{
		{"preparation", preparation(), "Cross-section of the preparation, to scale: 3.5 ± 0.1 mm high, 9 ± 0.1 mm wide at the margin and 7.8 ± 0.1 mm on top; " +
			"both walls lean 9.73° (7.91 to 11.6°). The upper 57 % of the wall resists tipping, from 1.5 mm above the margin up " +
			"(47 to 67 % within the uncertainty of the measures): the limit is that it begins no higher than half of the wall, 1.75 mm. " +
			"Half-wall rule: too close to tell."},
		{"form", form, "Retentive form: inadequate. Half-wall rule: too close to tell. Height 3.5 ± 0.1 mm: missed (wanted: at least 4 mm on a molar)."},
		{"uneven walls", uneven, "the left wall leans 4.29° (2.79 to 5.86°) and the right wall 25.4° (23.7 to 27.1°). The upper 13 % of the wall"},
		{"light", light(), "Light dose against thickness of zirconia, as a band that falls from 20 J/cm² at the surface. " +
			"1000 mW/cm² for 20 s, behind 1.5 mm of zirconia: the dose is 0.996 to 6.02 J/cm², the target is 16 J/cm². " +
			"The dose falls short even in the best case. The target would take 53.1 to 321 s there. " +
			"Behind more than 0.3 mm do not rely on light: the cement must set by itself too, cure from every side, and longer."},
		{"check", check(), "Pressure, 5 settings on one axis in bar, with the asked value of 60 psi (60 psi is 4.14 bar). " +
			"Abrading with one grit: 1.5 to 2.8 bar; asked value outside, 1.34 bar too much. " +
			"A blasting unit to be of use: at least 2.5 bar; sources or products differ from 2 to 2.5 bar; asked value within. " +
			"A fragile margin: at most 3 bar; sources or products differ from 3 to 4.5 bar; asked value not settled. " +
			"A nozzle of one size: 4 bar; asked value within. One study: 1 to 2 bar, for reference; asked value nothing to pass or fail."},
		{"balance", balance(), "A balance of the reasons. It depends, leaning to bonding. For bonding: The wall is thin for its grade (strong); " +
			"Resin seals a wide margin (weak). For cementing: The field is hard to keep dry (strong)."},
		{"stop", stopped(), "A balance of the reasons. Stop: neither will do as it stands. To stop: The wall is thinner than the grade can bear (decisive). " +
			"For bonding: The form does not hold a crown (decisive). For cementing: Excess is easily removed (weak)."},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := alt(t, c.picture); !strings.Contains(got, c.want) {
				t.Errorf("alternative text:\ngot  %s\nwant %s", got, c.want)
			}
		})
	}
}

// TestAltFitsAChannel holds the length that Slack allows for the words beside a
// picture (2000 letters, limits of Block Kit), with as much as can come in.
func TestAltFitsAChannel(t *testing.T) {
	b := stopped()
	for i := range 30 {
		side := []string{draw.Stop, draw.Bond, draw.Cement}[i%3]
		b.Reasons = append(b.Reasons, draw.Reason{For: side, Weight: draw.Decisive, Label: fmt.Sprint(i, strings.Repeat(" reason upon reason", 20))})
	}
	c := check()
	for i := range 20 {
		set := c.Settings[0]
		set.Of = fmt.Sprint("the setting with the number ", i, " of a rather long series")
		c.Settings = append(c.Settings, set)
	}
	for name, p := range map[string]worded{"balance": b, "check": c} {
		words := alt(t, p)
		if n := utf8.RuneCountInString(words); n > 2000 {
			t.Errorf("%s: got %d letters, allowed 2000", name, n)
		}
		if !strings.Contains(words, "more") {
			t.Errorf("%s: got %q, want it to say that more is in the text", name, words)
		}
	}
}

func TestTitleFollowsTheVerdict(t *testing.T) {
	for _, c := range []struct {
		picture worded
		want    string
	}{
		{draw.Light{Irradiance: 1500, Seconds: 60, WallMM: 0.5, Target: 16, Limits: light().Limits}, "The target is reached across the whole band."},
		{draw.Light{Irradiance: 1200, Seconds: 40, WallMM: 1, Target: 16, Limits: light().Limits}, "The dose may fall short."},
		{draw.Light{Irradiance: 1000, Seconds: 60, WallMM: 4, Target: 16, Limits: light().Limits}, "393 s to more than ten minutes"},
		{draw.Light{Irradiance: 50, Seconds: 0.5, WallMM: 5, Target: 200, Limits: light().Limits}, "the dose is less than 0.01 J/cm²"},
		{draw.Preparation{Height: *caliper(4), Margin: *caliper(10), Convergence: &sums.Angle{Deg: 23, PlusMinus: 3}}, "10 ± 0.1 mm wide at the margin and 8.4 ± 0.4 mm on top"},
		{draw.Preparation{Height: sums.MM(4), Margin: sums.MM(8), Top: caliper(7)}, "Half-wall rule: it resists tipping."},
		{draw.Preparation{Height: sums.MM(3), Margin: sums.MM(10), Top: caliper(7)}, "No part of the wall resists tipping"},
		{draw.Balance{Strategy: draw.Cement, Reasons: balance().Reasons[:1]}, "The reasons tip to cementing. For bonding: no reason."},
		{draw.Balance{Strategy: draw.Either, Reasons: balance().Reasons[1:2]}, "Either will do. For bonding"},
	} {
		if got := alt(t, c.picture); !strings.Contains(got, c.want) {
			t.Errorf("got %q, want it to hold %q", got, c.want)
		}
	}
}

// TestResistanceIsThatOfTheSums holds the picture to the sums package for walls
// that lean alike, and to the weaker wall otherwise. The published case is the
// die 10 mm wide and 3 mm high that resists up to a convergence of 17.4°
// (Parker 1988, as reported in Goodacre et al. 2001, J Prosthet Dent
// 85:363-376).
func TestResistanceIsThatOfTheSums(t *testing.T) {
	for _, c := range []struct {
		deg  float64
		want sums.Resists
	}{{17.4, sums.DoesResist}, {17.6, sums.DoesNotResist}} {
		toc := sums.Deg(c.deg)
		r, err := draw.Preparation{Height: sums.MM(3), Margin: sums.MM(10), Convergence: &toc}.Resistance()
		if err != nil || r.HalfWall.Verdict != c.want {
			t.Errorf("at %v°: got %q, %v, want %q", c.deg, r.HalfWall.Verdict, err, c.want)
		}
	}
	steep, flat := sums.MM(0.3), sums.MM(1.5)
	for _, offsets := range [][2]sums.Length{{steep, flat}, {flat, steep}} {
		r, err := draw.Preparation{Height: sums.MM(3), Margin: sums.MM(10), Offsets: &offsets}.Resistance()
		if err != nil || r.HalfWall.Verdict != sums.DoesNotResist {
			t.Errorf("offsets %v: got %q, %v, want the verdict of the flatter wall", offsets, r.HalfWall.Verdict, err)
		}
	}
}
