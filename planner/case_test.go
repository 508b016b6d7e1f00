package planner

import (
	"strings"
	"testing"
)

// TestCaseRefusesNonsense holds that what cannot be understood is refused with
// a reason, and never read as something else.
func TestCaseRefusesNonsense(t *testing.T) {
	for _, tc := range []struct {
		name, fact string
		values     []string
		want       string // part of the error
	}{
		{"unknown fact", "colour", []string{"A2"}, `no fact is called "colour"`},
		{"unknown value", "zirconia", []string{"6Y"}, `zirconia has no value "6Y": allowed are 3Y, 4Y, 5Y, multilayer`},
		{"no value", "zirconia", nil, "zirconia"},
		{"two numbers", "wall_mm", []string{"0.5", "0.6"}, "wall_mm wants one number in mm, got 2 values"},
		{"no number", "wall_mm", []string{"thin"}, `wall_mm wants a number in mm, got "thin"`},
		{"decimal comma", "wall_mm", []string{"1,2"}, `"1,2"`},
		{"another unit", "wall_mm", []string{"0.4 in"}, `"0.4 in"`},
		{"not a number", "wall_mm", []string{"NaN"}, "wall_mm"},
		{"too large", "wall_mm", []string{"50"}, "thinnest ceramic wall of 50 mm is not plausible: expected 0.1 to 5 mm"},
		{"too small", "height_mm", []string{"0"}, "height of the preparation of 0 mm is not plausible: expected 0.5 to 15 mm"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := builtIn().NewCase().With(tc.fact, tc.values...)
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("%s of %q gives the error %v, wanted one with %q", tc.fact, tc.values, err, tc.want)
			}
		})
	}
}

// TestRangesLeaveSomething holds that a range which is accepted leaves the fact
// at least one region: otherwise nothing would follow from the case.
func TestRangesLeaveSomething(t *testing.T) {
	f := factNamed(builtIn().Facts, "wall_mm")
	for _, r := range []Range{{f.Low, 0.5}, {0, 0.5}, {0, f.Low}, {0.5, 0.5}, {0.7, 0.9}, {1.2, f.High}, {f.High, f.High}, {f.High, 9}, {0, 9}} {
		c, err := builtIn().NewCase().WithRange(f.Name, r)
		if err == nil && len(c.Values(f.Name)) == 0 {
			t.Errorf("a wall of %v to %v mm is accepted and leaves no region", r.From, r.To)
		}
	}
}

// TestRegions holds that a number on a cut lies above it, so that "< 0.5" does
// not hold of 0.5 mm.
func TestRegions(t *testing.T) {
	for value, want := range map[string]string{
		"0.1": "under 0.5 mm", "0.49": "under 0.5 mm", "0.5": "0.5 to under 0.8 mm", "0.79": "0.5 to under 0.8 mm",
		"1": "1 to under 1.2 mm", "1.2": "1.2 mm or more", "5": "1.2 mm or more",
	} {
		c := caseOf(t, builtIn(), map[string][]string{"wall_mm": {value}})
		if got := strings.Join(c.Values("wall_mm"), " or "); got != want {
			t.Errorf("a wall of %s mm is %q, wanted %q", value, got, want)
		}
	}
}

// TestCaseIsImmutable holds that a change makes a new case and leaves the old one.
func TestCaseIsImmutable(t *testing.T) {
	first := caseOf(t, builtIn(), map[string][]string{"zirconia": {"4Y", "5Y"}, "wall_mm": {"0.7"}})
	second, err := first.With("zirconia", "3Y")
	if err != nil {
		t.Fatal(err)
	}
	third, err := second.With("wall_mm", "1.5")
	if err != nil {
		t.Fatal(err)
	}
	fourth := third.Without("zirconia").Without("wall_mm")
	for _, c := range []struct {
		Case
		want string
	}{
		{first, "zirconia grade: 4Y or 5Y; thinnest ceramic wall: 0.7 mm"},
		{second, "zirconia grade: 3Y; thinnest ceramic wall: 0.7 mm"},
		{third, "zirconia grade: 3Y; thinnest ceramic wall: 1.5 mm"},
		{fourth, "nothing known"},
	} {
		if got := c.String(); got != c.want {
			t.Errorf("got %q, wanted %q", got, c.want)
		}
	}
}

// TestSaid holds that a range is told by the number it was said with.
func TestSaid(t *testing.T) {
	b := builtIn()
	wall, ok := b.Fact("wall_mm")
	if !ok {
		t.Fatal("no fact is called wall_mm")
	}
	for _, tc := range []struct {
		r    Range
		want float64
		upTo bool
		text string
	}{
		{Range{0, 1}, 1, true, "under 1 mm"},
		{Range{wall.Low, wall.Low}, wall.Low, false, ""},
		{Range{0.6, 0.6}, 0.6, false, "0.6 mm"},
		{Range{1, 99}, 1, false, "at least 1 mm"},
		{Range{0.5, 1}, 0.5, false, "0.5 to 1 mm"},
	} {
		c, err := b.NewCase().WithRange("wall_mm", tc.r)
		if err != nil {
			t.Fatal(err)
		}
		if got, upTo := c.Said("wall_mm"); got != tc.want || upTo != tc.upTo {
			t.Errorf("%v: said %v, up to it: %v; wanted %v, %v", tc.r, got, upTo, tc.want, tc.upTo)
		}
		if got := c.Describe("wall_mm"); tc.text != "" && got != tc.text {
			t.Errorf("%v: described as %q, wanted %q", tc.r, got, tc.text)
		}
	}
}
