package planner

import (
	"testing"

	"mortarboard/planner/sums"
)

// TestUnits holds every setting's unit against the units that quantities can be
// read in: a setting in any other could never be checked.
func TestUnits(t *testing.T) {
	for _, p := range builtIn().Parameters {
		if sums.Unit(p.Unit).Dimension() == "" {
			t.Errorf("%s: %s is set in %q, which sums does not know", p.Where, p.ID, p.Unit)
		}
	}
}
