package planner

import (
	"slices"
	"testing"
)

// TestImplantNoticesNeedNoAbutment: what is left at an implant is looked for whether
// or not anybody has named the abutment.
func TestImplantNoticesNeedNoAbutment(t *testing.T) {
	b := builtIn()
	c, err := b.Case(map[string][]string{"restoration": {"implant crown"}, "zirconia": {"3Y"}, "margin_depth_mm": {"2"}})
	if err != nil {
		t.Fatal(err)
	}
	p := b.Plan(c)
	for _, id := range []string{"implant-excess", "deep-implant-margin"} {
		if !slices.ContainsFunc(p.Notices, func(n *Notice) bool { return n.ID == id }) {
			t.Errorf("%s is not said where the abutment is unknown", id)
		}
	}
	if !slices.ContainsFunc(p.Steps, func(s PlannedStep) bool { return s.ID == "excess-implant" && len(s.If) == 0 }) {
		t.Error("no step looks for excess at the implant")
	}
}
