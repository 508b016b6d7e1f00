package planner

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func asText(v any) string { return fmt.Sprint(v) }

// Cases that the shelf is put to.
var (
	cementedCrown = map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "retention": {"adequate"}}
	bondedCrown   = map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "retention": {"adequate"}, "wall_mm": {"1.0"}}
	bondedOnlay   = map[string][]string{"restoration": {"onlay"}, "zirconia": {"5Y"}}
	allergicCrown = map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "resin_allergy": {"yes"}}
)

// What resins on the shelf hold.
const (
	withMDP    = "contains: [MDP, methacrylate]"
	plainResin = "contains: [methacrylate]"
)

func TestEquip(t *testing.T) {
	primer := product("Fennick Prime", "zirconia primer", withMDP)
	dual := product("Brackenmoor Dual", "adhesive resin", plainResin, "cure: dual")
	rich := product("Brackenmoor Rich", "adhesive resin", withMDP, "cure: dual")
	acidic := product("Eddering One", "universal adhesive", "contains: [MDP, HEMA, methacrylate]", "acidic: true")
	activated := product("Eddering All", "universal adhesive", "contains: [MDP, HEMA, methacrylate]", "acidic: true", "activator: true")
	glass := product("Marrowby GI", "conventional glass ionomer")
	modified := product("Harsley RM", "resin-modified glass ionomer", "contains: [HEMA, methacrylate]")
	for _, tc := range []struct {
		name    string
		shelf   []string
		house   string
		known   map[string][]string
		step    string // the step looked at
		product string // what serves it; empty if the shelf has nothing
		spared  string // the product that makes it unnecessary
		warn    string // a warning that must stand
		silent  string // part of a warning that must not stand
	}{
		{name: "first class wins", shelf: []string{modified, glass}, known: cementedCrown,
			step: "conventional-cement", product: "Marrowby GI"},
		{name: "second class serves", shelf: []string{modified}, known: cementedCrown,
			step: "conventional-cement", product: "Harsley RM"},
		{name: "expired", shelf: []string{glass + "\n    expires: 2026-11-23", modified}, known: cementedCrown,
			step: "conventional-cement", product: "Harsley RM", warn: "Marrowby GI cannot be used: expired on 2026-11-23."},
		{name: "open too long", shelf: []string{primer + "\n    opened: 2026-08-01\n    keeps_days: 90", activated, dual}, known: bondedOnlay,
			step: "prime-partial-coverage", product: "Eddering All", warn: "Fennick Prime cannot be used: opened on 2026-08-01, keeps 90 days."},
		{name: "missing", shelf: []string{glass}, known: bondedOnlay,
			step: "resin-cement", warn: `The shelf has nothing usable for "resin-cement": wanted is adhesive resin.`},
		{name: "primer without MDP", shelf: []string{product("Plain Prime", "zirconia primer", "contains: [silane]"), dual}, known: bondedOnlay,
			step: "prime-partial-coverage", warn: `The shelf has nothing usable for "prime-partial-coverage": wanted is zirconia primer or universal adhesive that holds MDP.`},
		{name: "cement with MDP spares the primer", shelf: []string{primer, rich, activated}, known: bondedCrown,
			step: "prime-retentive", product: "Fennick Prime", spared: "Brackenmoor Rich"},
		{name: "cement without MDP does not", shelf: []string{primer, dual, activated}, known: bondedCrown,
			step: "prime-retentive", product: "Fennick Prime"},
		{name: "nothing is spared where the bond must hold alone", shelf: []string{primer, rich, activated}, known: bondedOnlay,
			step: "prime-partial-coverage", product: "Fennick Prime"},
		{name: "a spared primer is not missed", shelf: []string{rich}, known: bondedCrown,
			step: "prime-retentive", spared: "Brackenmoor Rich", silent: `"prime-retentive"`},
		{name: "acidic adhesive without activator", shelf: []string{primer, dual, acidic}, known: bondedOnlay,
			step: "adhesive", warn: "Eddering One is acidic and has no activator here: not under Brackenmoor Dual, which cures by itself with an amine."},
		{name: "acidic adhesive with activator", shelf: []string{primer, dual, activated}, known: bondedOnlay,
			step: "adhesive", product: "Eddering All", silent: "acidic"},
		{name: "acidic adhesive under an amine-free cement", shelf: []string{primer, dual + "\n    aminefree: true", acidic}, known: bondedOnlay,
			step: "adhesive", product: "Eddering One", silent: "acidic"},
		{name: "light-cure cement alone will not do", shelf: []string{product("Brackenmoor Light", "adhesive resin", plainResin, "cure: light")}, known: bondedOnlay,
			step: "resin-cement", warn: `The shelf has nothing usable for "resin-cement": wanted is adhesive resin.`},
		{name: "no HEMA with an allergy", shelf: []string{product("Odd GI", "conventional glass ionomer", "contains: [HEMA]"), product("Oldacre Phosphate", "zinc phosphate")},
			known: allergicCrown, step: "resin-free-cement", product: "Oldacre Phosphate"},
		{name: "no methacrylate with an allergy", shelf: []string{product("Odd GI", "conventional glass ionomer", "contains: [methacrylate]"), modified},
			known: allergicCrown, step: "resin-free-cement", warn: `The shelf has nothing usable for "resin-free-cement": wanted is conventional glass ionomer or zinc phosphate.`},
		{name: "eugenol on the shelf", shelf: []string{product("Clove Temp", "provisional cement", "contains: [eugenol]")}, known: bondedOnlay,
			step: "resin-cement", warn: "Clove Temp holds eugenol: if it was the provisional cement, clean the dentin mechanically before any resin."},
		{name: "preferred within its class", shelf: []string{glass, product("Tarrow GI", "conventional glass ionomer")}, known: cementedCrown,
			house: "prefer:\n  - product: Tarrow GI\n" + approval, step: "conventional-cement", product: "Tarrow GI"},
		{name: "preferred but expired", shelf: []string{glass, product("Tarrow GI", "conventional glass ionomer", "expires: 2026-01-31")}, known: cementedCrown,
			house: "prefer:\n  - product: Tarrow GI\n" + approval, step: "conventional-cement", product: "Marrowby GI", warn: "Tarrow GI cannot be used: expired on 2026-01-31."},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			p := practiceOf(t, shelf(tc.shelf...), tc.house)
			plan := builtIn().Plan(caseOf(t, builtIn(), tc.known))
			warnings := p.Equip(plan, today())
			s := plan.step(tc.step)
			if s == nil {
				t.Fatalf("the plan to %s has no step %s", plan.Path, tc.step)
			}
			if got := nameOf(s.Product); got != tc.product {
				t.Errorf("%q serves %s, wanted %q", got, tc.step, tc.product)
			}
			if got := nameOf(s.SparedBy); got != tc.spared {
				t.Errorf("%s is spared by %q, wanted %q", tc.step, got, tc.spared)
			}
			if want := tc.product == "" && tc.spared == ""; s.Missing != want {
				t.Errorf("missing is %v for %s, wanted %v", s.Missing, tc.step, want)
			}
			if tc.warn != "" && !slices.Contains(warnings, tc.warn) {
				t.Errorf("warnings are %q, wanted %q among them", warnings, tc.warn)
			}
			if tc.silent != "" && strings.Contains(strings.Join(warnings, " "), tc.silent) {
				t.Errorf("warnings are %q, wanted none about %q", warnings, tc.silent)
			}
		})
	}
}

func nameOf(p *Product) string {
	if p == nil {
		return ""
	}
	return p.Name
}

// TestEquipDemo puts the demo practice's shelf to a plan on each path: everything
// is there, and nothing past its date is used.
func TestEquipDemo(t *testing.T) {
	p := demoPractice(t)
	for _, known := range []map[string][]string{cementedCrown, bondedCrown, bondedOnlay, allergicCrown} {
		plan := builtIn().Plan(caseOf(t, builtIn(), known))
		for _, w := range p.Equip(plan, today()) {
			if w != "Harsley RM cannot be used: expired on 2026-09-30." { // the one product that is past its date is named, and not used
				t.Errorf("%v: %s", known, w)
			}
		}
		for _, s := range plan.Steps {
			if s.Product != nil && s.Product.Past(today()) != "" {
				t.Errorf("%v: %s uses %s, which is past its date", known, s.ID, s.Product.Name)
			}
		}
	}
}
