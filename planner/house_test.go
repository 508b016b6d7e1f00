package planner

import (
	"slices"
	"strings"
	"testing"
)

func envelope(parameter, low, high string) string {
	return "  - parameter: " + parameter + "\n    low: " + low + "\n    high: " + high + "\n" + approval
}

// setting finds a parameter by its id.
func setting(t testing.TB, b *Rulebook, id string) *Parameter {
	t.Helper()
	k := slices.IndexFunc(b.Parameters, func(p *Parameter) bool { return p.ID == id })
	if k < 0 {
		t.Fatalf("no parameter is called %q", id)
	}
	return b.Parameters[k]
}

// TestWithDemoPractice applies the house rules of the demo practice and looks at
// the plans that they touch and at one that they do not.
func TestWithDemoPractice(t *testing.T) {
	t.Parallel()
	base := builtIn()
	b, err := base.With(demoPractice(t))
	if err != nil {
		t.Fatal(err)
	}
	pressure := setting(t, b, "abrasion-pressure-3y")
	if pressure.Low != 1.5 || pressure.High != 2 || pressure.Basis != HouseRule || pressure.Departs() {
		t.Errorf("the narrowed pressure is %v to %v on the basis %s, departs %v", pressure.Low, pressure.High, pressure.Basis, pressure.Departs())
	}
	if want := "house rule, approved by Dr Ottoline Varga on 2026-05-04"; pressure.Cite() != want {
		t.Errorf("the pressure cites %q, wanted %q", pressure.Cite(), want)
	}
	if before := setting(t, base, "abrasion-pressure-3y"); before.High != 2.8 || before.Basis == HouseRule || base.Practice != nil {
		t.Errorf("the built-in rulebook changed with the practice's: %v on %s", before.High, before.Basis)
	}
	for _, tc := range []struct {
		name  string
		known map[string][]string
		want  []string // lines of house.yaml whose departures are shown, by what they say
	}{
		{"3Y is abraded", map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}},
			[]string{"pressure, abrading 3Y with alumina, is 1.5 to 2 bar here: We keep to the lower half on 3Y, since more pressure brought no better bond."}},
		{"a molar with little access", map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "position": {"molar"}, "opening": {"limited"}},
			[]string{"counted here: Far back with little access we have had too much trouble keeping the field dry.",
				"pressure, abrading 3Y with alumina, is 1.5 to 2 bar here: We keep to the lower half on 3Y, since more pressure brought no better bond."}},
		{"nothing of it is touched", map[string][]string{"restoration": {"veneer"}, "zirconia": {"5Y"}}, nil},
	} {
		var got []string
		for _, d := range b.Departures(b.Plan(caseOf(t, b, tc.known))) {
			got = append(got, d.What)
			if !strings.HasPrefix(d.Where, "house.yaml:") || d.By.By != "Dr Ottoline Varga" {
				t.Errorf("%s: the departure %q stands at %q, by %q", tc.name, d.What, d.Where, d.By.By)
			}
		}
		slices.Sort(got)
		slices.Sort(tc.want)
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s: departures are %q, wanted %q", tc.name, got, tc.want)
		}
	}
	if base.Departures(base.Plan(base.NewCase())) != nil {
		t.Error("a rulebook without a practice has departures")
	}
}

// ourHouse widens one envelope, narrows another, silences an argument and adds two.
const ourHouse = `
silence:
  - argument: dentin-margin
` + approval + `
arguments:
  - id: our-heavy-load
    when: {load: [heavy]}
    for: bond
    weight: strong
` + approval + `
  - id: our-molars
    when: {position: [molar]}
    for: bond
    weight: strong
` + approval

// TestHouseRules looks at what each kind of house rule does to settings, plans
// and departures.
func TestHouseRules(t *testing.T) {
	t.Parallel()
	house := ourHouse + "envelopes:\n" + envelope("cleaner-time", "20", "60") + envelope("tack-cure", "1", "2") + envelope("alcohol-bath-time", "2", "5")
	b, err := builtIn().With(practiceOf(t, "", house))
	if err != nil {
		t.Fatal(err)
	}
	if p := setting(t, b, "cleaner-time"); !p.Departs() || p.Base.High != 20 {
		t.Errorf("20 to 60 s in place of 20 s departs: got %v over a base up to %v", p.Departs(), p.Base.High)
	}
	if !setting(t, b, "alcohol-bath-time").Departs() {
		t.Error("2 to 5 min in place of 3 to 5 min is no departure")
	}
	if p := setting(t, b, "tack-cure"); p.Departs() {
		t.Error("1 to 2 s within 1 to 3 s is shown as a departure")
	}
	known := map[string][]string{"restoration": {"crown"}, "zirconia": {"4Y"}, "margin": {"dentin"}, "position": {"anterior"}, "intaglio": {"cleaned"}}
	if p := builtIn().Plan(caseOf(t, builtIn(), known)); p.Strategy != Depends {
		t.Errorf("without the house rules it is %s, wanted depends", p.Strategy)
	}
	for _, tc := range []struct {
		name  string
		known map[string][]string
		want  Strategy
		shown string // what a departure says
	}{
		{"a dentin margin that is silenced", known, Bond, "not counted here: "},
		{"an argument that counts", map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "margin": {"enamel"}, "load": {"heavy"}, "position": {"anterior"}},
			Depends, "counted here: "},
		// The argument on molars is why this plan depends, so the answer shows it.
		{"an argument that may count", map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "margin": {"enamel"}, "intaglio": {"cleaned"}},
			Depends, "counted "},
		{"a setting that departs", map[string][]string{"restoration": {"veneer"}, "intaglio": {"saliva"}}, Bond, "time, an alkaline zirconia cleaner on the inner surface, is 20 to 60 s here: "},
	} {
		p := b.Plan(caseOf(t, b, tc.known))
		if p.Strategy != tc.want {
			t.Errorf("%s: planned as %s, wanted %s", tc.name, p.Strategy, tc.want)
		}
		d := b.Departures(p)
		if !slices.ContainsFunc(d, func(d Departure) bool {
			return strings.HasPrefix(d.What, tc.shown) && strings.HasPrefix(d.Where, "house.yaml:")
		}) {
			t.Errorf("%s: departures are %v, wanted one that says %q", tc.name, d, tc.shown)
		}
	}
}

// TestHouseRefused holds that house rules which break the safety of the built-in
// ones are refused, and that the error leads to the line of the house rule.
func TestHouseRefused(t *testing.T) {
	for _, tc := range []struct {
		name, house string
		want        []string // parts of the error
	}{
		{"bonding in the wet and with an allergy",
			"silence:\n  - argument: cannot-be-kept-dry\n" + approval + "  - argument: resin-allergy\n" + approval,
			[]string{"house.yaml:2", "house.yaml:5", "No plan bonds in a field that cannot be kept dry.",
				"No plan bonds where the record shows a methacrylate allergy."}},
		{"more pressure on translucent zirconia", "envelopes:\n" + envelope("abrasion-pressure-translucent", "1", "3.5"),
			[]string{"house.yaml:2", "Translucent zirconia is never abraded at more pressure than 3Y bears."}},
		{"more pressure on both, so that one hides the other",
			"envelopes:\n" + envelope("abrasion-pressure-3y", "1.5", "9") + envelope("abrasion-pressure-translucent", "1", "9"),
			[]string{"house.yaml:", "Translucent zirconia is never abraded at more pressure than 3Y bears."}},
		{"acids on zirconia, as settings", "envelopes:\n" + envelope("etch-intaglio", "0", "30") + envelope("etch-hydrofluoric", "0", "60"),
			[]string{"house.yaml:2", "hosphoric acid", "ydrofluoric acid"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			_, err := builtIn().With(practiceOf(t, "", tc.house))
			if err == nil {
				t.Fatal("the house rules are accepted")
			}
			for _, part := range tc.want {
				if !strings.Contains(err.Error(), part) {
					t.Errorf("the error does not hold %q: %v", part, err)
				}
			}
		})
	}
}
