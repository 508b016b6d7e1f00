package planner

import (
	"slices"
	"testing"
)

// TestWhatIsDoubtedIsNotPresumed doubts each fact that everyday cases presume, in
// turn: it may then not be filled in, until it is stated.
func TestWhatIsDoubtedIsNotPresumed(t *testing.T) {
	t.Parallel()
	b := builtIn()
	doubted := 0
	for _, known := range []map[string][]string{
		{"restoration": {"crown"}, "zirconia": {"3Y"}}, {"restoration": {"bridge"}, "zirconia": {"4Y"}},
		{"restoration": {"implant crown"}, "substrate": {"titanium"}}, {"restoration": {"veneer"}, "enamel": {"ample"}},
	} {
		c := caseOf(t, b, known)
		_, assumed := b.presume(c)
		for _, f := range assumed {
			doubted++
			presumed, filled := b.presume(c.Doubting(f.Name))
			if slices.Contains(filled, f) || presumed.sets[f.index] != c.sets[f.index] {
				t.Errorf("%s: %s is doubted and was presumed to be %s", c, f.Name, presumed.Describe(f.Name))
			}
			if f.Measured() {
				continue
			}
			stated, err := c.Doubting(f.Name).With(f.Name, f.Values[0])
			if err != nil {
				t.Fatal(err)
			}
			if slices.Contains(stated.Doubted(), f.Name) {
				t.Errorf("%s: %s was stated and is doubted still", c, f.Name)
			}
		}
	}
	if doubted < 40 {
		t.Errorf("%d presumptions were doubted, which proves little", doubted)
	}
}

// TestADryFieldIsNotPresumedAgainstTheOdds: an everyday case is taken for dry, but
// not with a margin under the gum, nor in a mouth that hardly opens, as facts.yaml says.
func TestADryFieldIsNotPresumedAgainstTheOdds(t *testing.T) {
	t.Parallel()
	b := builtIn()
	for _, tc := range []struct {
		level, opening string
		dry            bool
	}{{"supragingival", "normal", true}, {"subgingival", "normal", false}, {"supragingival", "limited", false}} {
		c := caseOf(t, b, map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "margin_level": {tc.level}, "opening": {tc.opening}})
		if presumed, _ := b.presume(c); presumed.Is("isolation", "dry") != tc.dry {
			t.Errorf("a %s margin, opening %s: the field is presumed %s", tc.level, tc.opening, presumed.Describe("isolation"))
		}
	}
}
