package planner

import (
	"testing"

	"mortarboard/planner/sums"
)

// TestCheck holds values against settings, in the unit of the setting and in
// others, and on the very ends.
func TestCheck(t *testing.T) {
	b := builtIn()
	for _, tc := range []struct {
		name  string
		known map[string][]string
		key   string
		value float64
		unit  sums.Unit
		want  Standing
	}{
		{"60 psi on 3Y", map[string][]string{"zirconia": {"3Y"}}, "abrasion.pressure", 60, sums.PSI, Outside},
		{"30 psi on 3Y", map[string][]string{"zirconia": {"3Y"}}, "abrasion.pressure", 30, sums.PSI, Within},
		{"upper end", map[string][]string{"zirconia": {"3Y"}, "abrasive": {"alumina"}}, "abrasion.pressure", 2.8, sums.Bar, Within},
		{"upper end in MPa", map[string][]string{"zirconia": {"3Y"}, "abrasive": {"alumina"}}, "abrasion.pressure", 0.28, sums.MPa, Within},
		{"lower end in MPa", map[string][]string{"zirconia": {"3Y"}, "abrasive": {"alumina"}}, "abrasion.pressure", 0.15, sums.MPa, Within},
		{"above the upper end", map[string][]string{"zirconia": {"3Y"}, "abrasive": {"alumina"}}, "abrasion.pressure", 2.9, sums.Bar, Outside},
		{"2.8 bar on 5Y", map[string][]string{"zirconia": {"5Y"}}, "abrasion.pressure", 2.8, sums.Bar, Outside},
		{"2 bar on an unknown grade", nil, "abrasion.pressure", 2, sums.Bar, Unknown},
		{"110 µm on 5Y", map[string][]string{"zirconia": {"5Y"}}, "abrasion.particle", 110, sums.Micrometre, Outside},
		{"phosphoric acid inside", nil, "etch.intaglio", 20, sums.Second, Outside},
		{"hydrofluoric acid", nil, "etch.hydrofluoric", 60, sums.Second, Outside},
		{"preparation of 3.5 mm on a molar", map[string][]string{"position": {"molar"}}, "preparation.height", 3.5, sums.Millimetre, Outside},
		{"preparation of 6 mm on a molar", map[string][]string{"position": {"molar"}}, "preparation.height", 6, sums.Millimetre, Within},
		{"3Y wall of 0.3 mm", map[string][]string{"zirconia": {"3Y"}}, "wall.minimum", 0.3, sums.Millimetre, Outside},
		{"5Y wall of 1.1 mm at the back", map[string][]string{"zirconia": {"5Y"}, "position": {"molar"}}, "wall.minimum", 1.1, sums.Millimetre, Unknown},
	} {
		v, err := b.Check(b.Usual(caseOf(t, b, tc.known)), tc.key, sums.Quantity{Value: tc.value, Unit: tc.unit})
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
		}
		if v.Verdict != tc.want {
			t.Errorf("%s: %s, wanted %s (%v)", tc.name, v.Verdict, tc.want, v.Rows)
		}
	}
	if _, err := b.Check(b.NewCase(), "abrasion.pressure", sums.Quantity{Value: 50, Unit: sums.Micrometre}); err == nil {
		t.Error("a pressure of 50 µm is accepted")
	}
}
