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
	dampCrown     = map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "isolation": {"impossible"}}
	bondedCrown   = map[string][]string{"restoration": {"crown"}, "zirconia": {"5Y"}, "retention": {"adequate"}, "wall_mm": {"1.0"}}
	bondedOnlay   = map[string][]string{"restoration": {"onlay"}, "zirconia": {"5Y"}}
	allergicCrown = map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "resin_allergy": {"yes"}}
)

// What resins on the shelf hold.
const (
	withMDP    = "contains: [MDP, methacrylate]"
	plainResin = "contains: [methacrylate]"
)

// A shelfCase is one shelf put to one case, and what must become of one step.
type shelfCase struct {
	name    string
	shelf   []string
	house   string
	known   map[string][]string
	step    string // the step looked at
	product string // what serves it; empty if the shelf has nothing
	spared  string // the product that makes it unnecessary
	warn    string // a warning that must stand
	silent  string // part of a warning that must not stand
}

func shelfCases() []shelfCase {
	primer := product("primer A", "zirconia primer", withMDP)
	dual := product("dual A", "adhesive resin", plainResin, "cure: dual")
	rich := product("dual B", "adhesive resin", withMDP, "cure: dual")
	acidic := product("adhesive A", "universal adhesive", "contains: [MDP, HEMA, methacrylate]", "acidic: true")
	activated := product("adhesive B", "universal adhesive", "contains: [MDP, HEMA, methacrylate]", "acidic: true", "activator: true")
	glass := product("glass A", "conventional glass ionomer")
	modified := product("glass R", "resin-modified glass ionomer", "contains: [HEMA, methacrylate]")
	return []shelfCase{
		{name: "first class wins", shelf: []string{modified, glass}, known: cementedCrown,
			step: "conventional-cement", product: "glass A"},
		{name: "second class serves", shelf: []string{modified}, known: cementedCrown,
			step: "conventional-cement", product: "glass R"},
		{name: "self-adhesive resin with MDP serves last", shelf: []string{product("self A", "self-adhesive resin", withMDP, "cure: dual")}, known: cementedCrown,
			step: "conventional-cement", product: "self A"},
		{name: "self-adhesive resin without MDP does not", shelf: []string{product("self B", "self-adhesive resin", plainResin, "cure: dual")}, known: cementedCrown,
			step: "conventional-cement", warn: `The shelf has nothing usable for “line it with conventional cement”: wanted is conventional glass ionomer or resin-modified glass ionomer or self-adhesive resin that holds MDP.`},
		{name: "no resin cement where the field may not stay dry", shelf: []string{product("self A", "self-adhesive resin", withMDP, "cure: dual")}, known: dampCrown,
			step: "conventional-cement-damp", warn: `The shelf has nothing usable for “line it with cement for a damp field”: wanted is resin-modified glass ionomer or conventional glass ionomer.`},
		{name: "expired", shelf: []string{glass + "\n    expires: 2026-11-23", modified}, known: cementedCrown,
			step: "conventional-cement", product: "glass R", warn: "glass A cannot be used: expired on 2026-11-23."},
		{name: "open too long", shelf: []string{primer + "\n    opened: 2026-08-01\n    keeps_days: 90", activated, dual}, known: bondedOnlay,
			step: "prime-partial-coverage", product: "adhesive B", warn: "primer A cannot be used: opened on 2026-08-01, keeps 90 days."},
		{name: "missing", shelf: []string{glass}, known: bondedOnlay,
			step: "resin-cement", warn: `The shelf has nothing usable for “line it with resin cement”: wanted is adhesive resin.`},
		{name: "primer without MDP", shelf: []string{product("primer B", "zirconia primer", "contains: [silane]"), dual}, known: bondedOnlay,
			step: "prime-partial-coverage", warn: `The shelf has nothing usable for “prime the inside where the bond holds alone”: wanted is zirconia primer or universal adhesive that holds MDP.`},
		{name: "cement with MDP spares the primer", shelf: []string{primer, rich, activated}, known: bondedCrown,
			step: "prime-retentive", product: "primer A", spared: "dual B"},
		{name: "cement without MDP does not", shelf: []string{primer, dual, activated}, known: bondedCrown,
			step: "prime-retentive", product: "primer A"},
		{name: "nothing is spared where the bond must hold alone", shelf: []string{primer, rich, activated}, known: bondedOnlay,
			step: "prime-partial-coverage", product: "primer A"},
		{name: "a spared primer is not missed", shelf: []string{rich}, known: bondedCrown,
			step: "prime-retentive", spared: "dual B", silent: `“prime the inside”`},
		{name: "acidic adhesive without activator", shelf: []string{primer, dual, acidic}, known: bondedOnlay,
			step: "adhesive", warn: "adhesive A is acidic and has no activator here: not under dual A, which cures by itself with an amine."},
		{name: "acidic adhesive with activator", shelf: []string{primer, dual, activated}, known: bondedOnlay,
			step: "adhesive", product: "adhesive B", silent: "acidic"},
		{name: "acidic adhesive under an amine-free cement", shelf: []string{primer, dual + "\n    aminefree: true", acidic}, known: bondedOnlay,
			step: "adhesive", product: "adhesive A", silent: "acidic"},
		{name: "light-cure cement alone will not do", shelf: []string{product("light A", "adhesive resin", plainResin, "cure: light")}, known: bondedOnlay,
			step: "resin-cement", warn: `The shelf has nothing usable for “line it with resin cement”: wanted is adhesive resin.`},
		{name: "no HEMA with an allergy", shelf: []string{product("glass C", "conventional glass ionomer", "contains: [HEMA]"), product("phosphate A", "zinc phosphate")},
			known: allergicCrown, step: "resin-free-cement", product: "phosphate A"},
		{name: "no methacrylate with an allergy", shelf: []string{product("glass C", "conventional glass ionomer", "contains: [methacrylate]"), modified},
			known: allergicCrown, step: "resin-free-cement", warn: `The shelf has nothing usable for “line it with cement free of resin”: wanted is conventional glass ionomer or zinc phosphate.`},
		{name: "eugenol on the shelf", shelf: []string{product("provisional A", "provisional cement", "contains: [eugenol]")}, known: bondedOnlay,
			step: "resin-cement", warn: "provisional A holds eugenol: if it was the provisional cement, clean the dentin mechanically before any resin."},
		{name: "preferred within its class", shelf: []string{glass, product("glass B", "conventional glass ionomer")}, known: cementedCrown,
			house: "prefer:\n  - product: glass B\n" + approval, step: "conventional-cement", product: "glass B"},
		{name: "preferred but expired", shelf: []string{glass, product("glass B", "conventional glass ionomer", "expires: 2026-01-31")}, known: cementedCrown,
			house: "prefer:\n  - product: glass B\n" + approval, step: "conventional-cement", product: "glass A", warn: "glass B cannot be used: expired on 2026-01-31."},
	}
}

func TestEquip(t *testing.T) {
	for _, sc := range shelfCases() {
		t.Run(sc.name, func(t *testing.T) {
			t.Parallel()
			sc.check(t)
		})
	}
}

func (sc shelfCase) check(t *testing.T) {
	t.Helper()
	p := practiceOf(t, shelf(sc.shelf...), sc.house)
	b, err := builtIn().With(p)
	if err != nil {
		t.Fatal(err)
	}
	plan := b.Plan(caseOf(t, b, sc.known))
	warnings := b.Equip(plan, today())
	s := plan.step(sc.step)
	if s == nil {
		t.Fatalf("the plan to %s has no step %s", plan.Path, sc.step)
	}
	if got := nameOf(s.Product); got != sc.product {
		t.Errorf("%q serves %s, wanted %q", got, sc.step, sc.product)
	}
	if got := nameOf(s.SparedBy); got != sc.spared {
		t.Errorf("%s is spared by %q, wanted %q", sc.step, got, sc.spared)
	}
	if want := sc.product == "" && sc.spared == ""; s.Missing != want {
		t.Errorf("missing is %v for %s, wanted %v", s.Missing, sc.step, want)
	}
	if sc.warn != "" && !slices.Contains(warnings, sc.warn) {
		t.Errorf("warnings are %q, wanted %q among them", warnings, sc.warn)
	}
	if sc.silent != "" && strings.Contains(strings.Join(warnings, " "), sc.silent) {
		t.Errorf("warnings are %q, wanted none about %q", warnings, sc.silent)
	}
}

func nameOf(p *Product) string {
	if p == nil {
		return ""
	}
	return p.Name
}

// TestEquipDemo puts the demo practice's shelf to a plan on each path: everything
// is there, and what is past its date is named and not used.
func TestEquipDemo(t *testing.T) {
	p := demoPractice(t)
	b, err := builtIn().With(&Practice{Name: p.Name, Lead: p.Lead, Shelf: p.Shelf, House: House{Prefer: p.House.Prefer}})
	if err != nil {
		t.Fatal(err)
	}
	for _, known := range []map[string][]string{cementedCrown, bondedCrown, bondedOnlay, allergicCrown} {
		plan := b.Plan(caseOf(t, b, known))
		for _, w := range b.Equip(plan, today()) {
			if !slices.ContainsFunc(p.Shelf, func(x *Product) bool {
				return x.Past(today()) != "" && strings.HasPrefix(w, x.Name+" cannot be used: ")
			}) {
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

// barredByHand says in Go which row of pairings.yaml must bar a product; nothing if none.
func barredByHand(p, cement *Product, allergic bool) string {
	resin := p.Holds("HEMA") || p.Holds("methacrylate")
	selfCured := cement != nil && (cement.Class == "adhesive resin" || cement.Class == "self-adhesive resin") && cement.Cure != "light" && !cement.AmineFree
	switch {
	case allergic && resin:
		return "resin-with-an-allergy"
	case allergic && slices.Contains([]string{"resin-modified glass ionomer", "self-adhesive resin", "adhesive resin", "universal adhesive", "zirconia primer"}, p.Class):
		return "class-of-resin-with-an-allergy"
	case p.Class == "adhesive resin" && p.Cure == "light":
		return "adhesive-resin-cured-by-light-alone"
	case p.Class == "universal adhesive" && p.Acidic && !p.Activator && selfCured:
		return "acidic-adhesive-without-activator"
	}
	return ""
}

// TestPairingsByHand puts every sort of product beside every sort of cement, with
// and without an allergy, and wants the rows to bar what the rule by hand bars.
func TestPairingsByHand(t *testing.T) {
	t.Parallel()
	b := builtIn()
	plans := map[bool]*Plan{
		false: b.Plan(caseOf(t, b, bondedOnlay)),
		true:  b.Plan(caseOf(t, b, allergicCrown)),
	}
	compared := 0
	for _, p := range everyProduct() {
		for _, cement := range append(cementsOf(), nil) {
			for allergic, plan := range plans {
				compared++
				got := ""
				if i := slices.IndexFunc(b.Pairings, func(x *Pairing) bool { return x.bars(plan, p, cement) }); i >= 0 {
					got = b.Pairings[i].ID
				}
				if want := barredByHand(p, cement, allergic); got != want {
					t.Fatalf("%+v beside %+v, allergy %v: barred by %q, wanted %q", p, cement, allergic, got, want)
				}
			}
		}
	}
	if compared < 100000 {
		t.Errorf("only %d pairs were compared", compared)
	}
}

// everyProduct is every class with every mixture of what the rows look at.
func everyProduct() []*Product {
	var out []*Product
	for _, class := range productClasses() {
		for _, contains := range [][]string{nil, {"HEMA"}, {"methacrylate"}, {"eugenol"}, {"MDP", "methacrylate"}, {"silane", "fluoride"}} {
			for _, cure := range append(productCures(), "") {
				for bits := range 8 {
					out = append(out, &Product{Name: "it", Class: class, Contains: contains, Cure: cure,
						Acidic: bits&1 > 0, Activator: bits&2 > 0, AmineFree: bits&4 > 0})
				}
			}
		}
	}
	return out
}

func cementsOf() []*Product {
	var out []*Product
	for _, p := range everyProduct() {
		if p.Contains == nil && !p.Acidic && !p.Activator && (strings.Contains(p.Class, "resin") || p.Class == "zinc phosphate") {
			out = append(out, p)
		}
	}
	return out
}

// TestPairingsWarnOfEugenol: wherever a plan bonds and the provisional cement is not
// known to be without it, even if nobody has spoken of one.
func TestPairingsWarnOfEugenol(t *testing.T) {
	t.Parallel()
	b := builtIn()
	eugenol := &Product{Name: "it", Class: "provisional cement", Contains: []string{"eugenol"}}
	for _, tc := range []struct {
		provisional []string
		path        Strategy
		product     *Product
		want        bool
	}{
		{nil, Bond, eugenol, true}, {[]string{"eugenol"}, Bond, eugenol, true}, {[]string{"none"}, Bond, eugenol, false},
		{[]string{"none", "eugenol-free"}, Bond, eugenol, false}, {[]string{"eugenol-free", "eugenol"}, Bond, eugenol, true},
		{nil, Cement, eugenol, false}, {nil, Bond, &Product{Name: "it", Class: "provisional cement"}, false},
		{nil, Bond, &Product{Name: "it", Class: "try-in paste", Contains: []string{"eugenol"}}, false},
	} {
		c := b.NewCase()
		if tc.provisional != nil {
			var err error
			if c, err = c.With("provisional_cement", tc.provisional...); err != nil {
				t.Fatal(err)
			}
		}
		plan := &Plan{Presumed: c, Path: tc.path}
		if got := slices.ContainsFunc(b.Pairings, func(x *Pairing) bool { return x.warns(plan, tc.product) }); got != tc.want {
			t.Errorf("%v on the path %s: warned is %v, wanted %v", tc.provisional, tc.path, got, tc.want)
		}
	}
}

// TestFitting holds which settings of a step are for what is used: those of the product
// that the shelf has, else of the only class that serves, and the rest beside them.
func TestFitting(t *testing.T) {
	glass := product("glass A", "conventional glass ionomer")
	dry := map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "retention": {"adequate"}, "isolation": {"dry"}, "resin_allergy": {"no"}}
	for _, c := range []struct {
		known      map[string][]string
		shelf      []string
		step       string
		of, beside string // parts of what settings that fit, and that do not, are of
	}{
		{bondedOnlay, nil, "abrade-translucent", "with alumina", "with glass beads"},
		{dry, []string{glass}, "let-it-set", "conventional glass ionomer", ""}, // Equip leaves out those of other cements
		{dry, nil, "let-it-set", "resin-modified glass ionomer", ""},
	} {
		b := builtIn()
		if c.shelf != nil {
			var err error
			if b, err = b.With(practiceOf(t, shelf(c.shelf...), "")); err != nil {
				t.Fatal(err)
			}
		}
		p := b.Plan(caseOf(t, b, c.known))
		b.Equip(p, today())
		fit, rest := p.Fitting(*p.step(c.step))
		if !areOf(fit, c.of) || c.beside != "" && (areOf(fit, c.beside) || !areOf(rest, c.beside)) || c.beside == "" && rest != nil {
			t.Errorf("%s with %v: %v fit, %v do not", c.step, c.shelf, fit, rest)
		}
	}
}

func areOf(settings []*Parameter, part string) bool {
	return slices.ContainsFunc(settings, func(s *Parameter) bool { return strings.Contains(s.Of, part) })
}
