package planner

import (
	"fmt"
	"strings"
	"testing"
)

// thinWall is the notice of a wall below its minimum, as a plan shows it; empty
// if the plan shows none.
func thinWall(p *Plan) string {
	for _, n := range p.Notices {
		if strings.HasPrefix(n.ID, "wall-below-minimum") {
			return n.Say
		}
	}
	return ""
}

// TestThinWalls holds that every wall below its minimum is named in the plan,
// and none that reaches it, for every grade and place and down to the thinnest
// that is not stopped.
func TestThinWalls(t *testing.T) {
	t.Parallel()
	b := builtIn()
	below := 0
	for _, grade := range []string{"3Y", "4Y", "5Y", "multilayer"} {
		for _, position := range []string{"anterior", "premolar", "molar"} {
			for _, restoration := range []string{"crown", "onlay"} {
				for tenths := 5; tenths <= 13; tenths += 2 {
					wall := float64(tenths) / 10
					known := caseOf(t, b, map[string][]string{"restoration": {restoration}, "zirconia": {grade}, "position": {position}, "wall_mm": {fmt.Sprint(wall)}})
					least := 0.0
					for _, p := range b.Settings(known, "wall.minimum") {
						least = max(least, p.High)
					}
					say := thinWall(b.Plan(known))
					if want := wall < least; want != (say != "") {
						t.Errorf("%s %s %s of %v mm, at least %v: notice %q", grade, position, restoration, wall, least, say)
					}
					if wall < least {
						below++
					}
				}
			}
		}
	}
	if below < 20 {
		t.Errorf("%d thin walls were tried, which proves little", below)
	}
}

// TestThinWallSays holds what the notice names, and where it is silent.
func TestThinWallSays(t *testing.T) {
	t.Parallel()
	b := builtIn()
	for _, tc := range []struct {
		name  string
		known map[string][]string
		want  string // part of the notice; empty if there is to be none
		plan  Strategy
	}{
		{"a thin molar of 5Y", map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "position": {"molar"}, "wall_mm": {"0.6"}},
			"5Y on a back tooth (at least 1, better 1.2 mm). The first choice is to have it thickened or remade, or 3Y.", Bond},
		{"between the figures of a bound", map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "position": {"molar"}, "wall_mm": {"1.1"}},
			"for the dentist to decide", Bond},
		{"where the place is not known only what is missed", map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "wall_mm": {"0.9"}},
			"taught for 5Y on a back tooth (at least 1, better 1.2 mm). The", Bond},
		{"a wall that is to be stopped", map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "wall_mm": {"0.4"}}, "", Stop},
		{"a wall that nobody measured", map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "enamel": {"ample"}}, "", Bond},
		{"a veneer", map[string][]string{"restoration": {"veneer"}, "wall_mm": {"0.5"}}, "", Bond},
	} {
		p := b.Plan(caseOf(t, b, tc.known))
		got := thinWall(p)
		if got == "" && tc.want != "" || got != "" && tc.want == "" || !strings.Contains(got, tc.want) {
			t.Errorf("%s: notice %q, wanted %q in it", tc.name, got, tc.want)
		}
		if p.Strategy != tc.plan {
			t.Errorf("%s: planned as %s, wanted %s", tc.name, p.Strategy, tc.plan)
		}
	}
}

// TestThinWallOfTheHouse holds that a house rule for the minimum reaches the notice.
func TestThinWallOfTheHouse(t *testing.T) {
	t.Parallel()
	p := practiceOf(t, "", "envelopes:\n"+envelope("wall-3y", "0.7", "0.7"))
	b, err := builtIn().With(p)
	if err != nil {
		t.Fatal(err)
	}
	known := map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "wall_mm": {"0.6"}}
	if say := thinWall(b.Plan(caseOf(t, b, known))); !strings.Contains(say, "3Y (at least 0.7 mm)") {
		t.Errorf("the notice is %q, wanted the limit of the house in it", say)
	}
	if say := thinWall(builtIn().Plan(caseOf(t, builtIn(), known))); say != "" {
		t.Errorf("without the house rule the notice is %q, wanted none", say)
	}
}

// TestNoticesNameWhatExists breaks a notice that hangs on a setting.
func TestNoticesNameWhatExists(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ was, is, want string }{
		{"below: {wall_mm: wall.minimum}", "below: {wall_mm: wall.least}", `parameter "wall.least" is not in parameters.yaml`},
		{"below: {wall_mm: wall.minimum}", "below: {zirconia: wall.minimum}", `below names "zirconia", which is no measured fact`},
	} {
		files := copied(t, Rules())
		spoil(t, files, edit{"notices.yaml", "wall-below-minimum", tc.was, tc.is})
		if _, err := Load(files); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%q: got %v, wanted %q", tc.is, err, tc.want)
		}
	}
}
