package talk

import (
	"testing"

	"mortarboard/planner"
)

func TestUnitsSpanned(t *testing.T) {
	oneByOne(t)
	x, err := newLexicon(planner.Rules(), planner.MustLoad())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		message string
		units   float64
	}{
		{"bridge 14-16", 3},
		{"bridge from 37 to 35", 3},
		{"bridge 13-23", 6},
		{"bridge 42 to 32", 4},
		{"UR3 to UL3 bridge", 6},
		{"bridge LL7-LL4", 4},
		{"bridge 14-16, ooze at the 16", 3},
		{"bridge LR5-7", 3},
		{"bridge 14 or 16", 0},        // one of them
		{"bridge 14 and 24", 0},       // two of them
		{"bridge 14-16, crown 27", 0}, // which of the teeth are its ends?
		{"bridge 16 to 46", 0},        // no bridge joins two jaws
		{"bridge, wall 14-16 mm", 0},
	} {
		if got := x.unitsSpanned(x.read(c.message, planner.MustLoad()).tokens); got != c.units {
			t.Errorf("%s: %g units, wanted %g", c.message, got, c.units)
		}
	}
}
