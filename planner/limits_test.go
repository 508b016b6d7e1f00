package planner

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"mortarboard/planner/sums"
)

// TestLimitsOfTheSums holds that the sums get their limits from the parameters:
// as built in, and as a house narrows them, with what each rests on.
func TestLimitsOfTheSums(t *testing.T) {
	t.Parallel()
	b := builtIn()
	light, form := b.LightLimits(), b.FormLimits()
	if light.Dose != 16 || light.AloneMM != 0.3 || light.LampLeast != 80 || light.LampMost != 120 {
		t.Errorf("the limits of light are %+v", light)
	}
	for _, source := range []string{light.DoseSource, light.LampSource, form.HeightSource, form.TOCSource, form.ProportionSource} {
		if source == "" || strings.Contains(source, "house rule") {
			t.Errorf("a built-in limit rests on %q", source)
		}
	}
	p := practiceOf(t, "", "envelopes:\n"+envelope("light-dose", "20", "20")+envelope("light-zirconia-limit", "0.2", "0.5")+
		envelope("lamp-tolerance", "90", "110")+envelope("preparation-convergence", "10", "15")+envelope("colour-acceptable", "1.5", "1.5"))
	house, err := b.With(p)
	if err != nil {
		t.Fatal(err)
	}
	light, form = house.LightLimits(), house.FormLimits()
	if light.Dose != 20 || light.AloneMM != 0.2 || light.LampLeast != 90 || light.LampMost != 110 || form.MostTOC != 15 {
		t.Errorf("with the house's rules the limits are %+v and %+v", light, form)
	}
	for _, source := range []string{light.DoseSource, light.LampSource, form.TOCSource} {
		if !strings.HasPrefix(source, "house rule, approved by") {
			t.Errorf("a limit of the house rests on %q", source)
		}
	}
	if seen, _, err := sums.JudgeDifference(house.ColourThresholds(), 1.6, sums.DeltaE00); err != nil || seen != sums.NotAccept {
		t.Errorf("1.6 under a limit of 1.5 is %q, %v", seen, err)
	}
}

// TestLoadWantsTheLimitsOfTheSums takes every setting that a sum takes away, and
// gives it another unit: a sum without its limit would find everything adequate.
func TestLoadWantsTheLimitsOfTheSums(t *testing.T) {
	t.Parallel()
	for _, l := range limitsOfSums() {
		for want, spoil := range map[string]func(p *Parameter){
			fmt.Sprintf("no row with the key %q", l.key): func(p *Parameter) { p.Key += ".renamed" },
			fmt.Sprintf("reckon in %s", l.unit):          func(p *Parameter) { p.Unit = "K" },
		} {
			b := *builtIn()
			b.Parameters = nil
			for _, p := range builtIn().Parameters {
				if p.Key == l.key {
					spoilt := *p
					spoil(&spoilt)
					p = &spoilt
				}
				b.Parameters = append(b.Parameters, p)
			}
			if err := b.checkLimits(); err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%s: got %v, wanted %q", l.key, err, want)
			}
		}
	}
}

// TestLoadChecksTheLimits holds that rules without a limit are not loaded.
func TestLoadChecksTheLimits(t *testing.T) {
	t.Parallel()
	files := copied(t, Rules())
	text := strings.ReplaceAll(string(files["parameters.yaml"].Data), "key: preparation.height\n", "key: preparation.tallness\n")
	files["parameters.yaml"] = &fstest.MapFile{Data: []byte(text)}
	cards, _, _ := strings.Cut(string(files["learning.yaml"].Data), "\ncards:") // a card asks for it, too
	files["learning.yaml"] = &fstest.MapFile{Data: []byte(cards)}
	if _, err := Load(files); err == nil || !strings.Contains(err.Error(), `the key "preparation.height"`) {
		t.Errorf("got %v, wanted the lost key named", err)
	}
}

// TestColourThresholds holds the four pairs against the parameters they are of.
func TestColourThresholds(t *testing.T) {
	t.Parallel()
	pairs := builtIn().ColourThresholds()
	if len(pairs) != 4 {
		t.Fatalf("%d pairs, wanted one for each unit", len(pairs))
	}
	for _, p := range pairs {
		if !(0 < p.Perceptible && p.Perceptible < p.Acceptable) || p.Source == "" || p.Basis != "published" {
			t.Errorf("%+v", p)
		}
		for _, row := range builtIn().Parameters {
			if row.Unit == string(p.Unit) && row.Low != p.Perceptible && row.Low != p.Acceptable {
				t.Errorf("%s of %v %s is in no pair", row.ID, row.Low, row.Unit)
			}
		}
	}
}

// TestForceLimits holds the forces against one another: nothing that was measured
// on people as a group lies above what is designed for, and what rests on memory
// says so.
func TestForceLimits(t *testing.T) {
	t.Parallel()
	f := builtIn().ForceLimits()
	if len(f.Measured) != 3 || len(f.Bite) != 3 {
		t.Fatalf("%d measured, %d to design for", len(f.Measured), len(f.Bite))
	}
	for _, m := range f.Measured {
		if m.High > f.Bite[sums.Molar].High || m.Source == "" || m.Basis != "published" {
			t.Errorf("%+v: wanted a published force below %v N", m, f.Bite[sums.Molar].High)
		}
	}
	for at, span := range f.Bite {
		if !(0 < span.Low && span.Low < span.High) || span.Source == "" || span.Basis != "inferred" {
			t.Errorf("%s: %+v", at, span)
		}
	}
	if r := f.Retention; r.Basis != "from memory" || !strings.Contains(r.Source, "(from memory)") || r.High < 6.1 {
		t.Errorf("%+v: the recalled 6.1 MPa has to lie within bounds that say they are recalled", r)
	}
	if loss := builtIn().LightLimits().Loss; math.Exp(-loss.High*0.5) > 1-0.672 {
		t.Errorf("%+v lets through more than the greatest loss that was seen, 67.2 %% in 0.5 mm", loss)
	}
}

// TestSumsCiteNoNumbers: sums that reckon with settings take them, and their
// sources, from the parameters; a year in a string is a citation.
func TestSumsCiteNoNumbers(t *testing.T) {
	year := regexp.MustCompile(`"[^"]*\b(19|20)\d\d\b[^"]*"`)
	for _, name := range []string{"force.go", "light.go"} {
		text, err := os.ReadFile("sums/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if found := year.Find(text); found != nil {
			t.Errorf("sums/%s cites %s: sources stand in sources.yaml", name, found)
		}
	}
}
