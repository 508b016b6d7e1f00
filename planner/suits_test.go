package planner

import (
	"strings"
	"testing"
)

// TestFits holds products of the demo shelf, and bare classes, against plans: on each
// side that is open whether they serve, and what speaks against them.
func TestFits(t *testing.T) {
	t.Parallel()
	b := demoBook(t)
	retentive := map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}, "retention": {"adequate"}, "isolation": {"dry"}}
	with := func(known map[string][]string, fact, value string) map[string][]string {
		out := map[string][]string{fact: {value}}
		for f, v := range known {
			if f != fact {
				out[f] = v
			}
		}
		return out
	}
	veneer := map[string][]string{"restoration": {"veneer"}, "zirconia": {"5Y"}, "margin": {"enamel"}, "isolation": {"dry"}}
	for _, tc := range []struct {
		known   map[string][]string
		product string // a name, or a class
		want    string // side: serves, hangs, past, barred, lacks, other; one after the other
	}{
		{retentive, "Marrowby GI", "cement: serves"},
		{retentive, "Harsley RM", "cement: past hangs"},
		{retentive, "Brackenmoor Fell", "cement: serves hangs"},
		{with(retentive, "isolation", "doubtful"), "Brackenmoor Fell", "cement: other hangs"},
		{retentive, "Brackenmoor Tarn", "cement: other hangs"},
		{retentive, "self-adhesive resin", "cement: lacks hangs"},
		{retentive, "zinc phosphate", "cement: other maybe hangs"},
		{with(retentive, "resin_allergy", "yes"), "Marrowby GI", "cement: serves"},
		{with(retentive, "resin_allergy", "yes"), "Harsley RM", "cement: past barred other"},
		{with(retentive, "resin_allergy", "yes"), "Fennick Prime", "cement: barred other"},
		{with(retentive, "resin_allergy", "yes"), "resin-modified glass ionomer", "cement: barred other"},
		{with(retentive, "resin_allergy", "yes"), "universal adhesive", "cement: barred other"},
		{veneer, "Brackenmoor Tarn", "bond: serves hangs"},
		{veneer, "Marrowby GI", "bond: other"},
		{veneer, "Ullesmoor Drift", "bond: other beside"},
		{retentive, "Ullesmoor Fifty", "cement: serves"},
		{veneer, "Fennick Prime", "bond: serves hangs"},
		{with(veneer, "isolation", "impossible"), "Fennick Prime", ""},
		{with(retentive, "zirconia", "5Y"), "Brackenmoor Tarn", "bond: serves hangs; cement: other hangs"},
	} {
		plan := b.Plan(caseOf(t, b, tc.known))
		var got []string
		for _, f := range b.Fits(plan, shelved(b, tc.product), today()) {
			got = append(got, string(f.Path)+":"+fitWords(f))
		}
		if all := strings.Join(got, "; "); all != tc.want {
			t.Errorf("%v, %s: %q, wanted %q", tc.known, tc.product, all, tc.want)
		}
	}
}

// shelved is the product of that name, or one without a name that stands for the class.
func shelved(b *Rulebook, name string) *Product {
	for _, p := range b.Practice.Shelf {
		if p.Name == name {
			return p
		}
	}
	return &Product{Class: name}
}

func fitWords(f Fit) string {
	words := ""
	for _, w := range []struct {
		is   bool
		word string
	}{
		{f.Serves(), "serves"}, {f.Past != "", "past"}, {f.Barred != nil, "barred"}, {f.Lacks != "", "lacks"}, {f.Unfit != nil, "unfit"},
		{f.Step == nil, "other"}, {f.Maybe, "maybe"}, {f.Beside, "beside"}, {len(f.Hangs) > 0, "hangs"},
	} {
		if w.is {
			words += " " + w.word
		}
	}
	return words
}

// TestSettingsOfTheChosenCement: the plan of the demo practice shows no setting of another
// cement than its glass ionomer.
func TestSettingsOfTheChosenCement(t *testing.T) {
	t.Parallel()
	b := demoBook(t)
	plan := b.Plan(caseOf(t, b, cementedCrown))
	before, after := 0, 0
	count := func() (n int) {
		for _, s := range plan.Steps {
			for _, p := range s.Settings {
				if p.isForAnother("conventional glass ionomer") {
					n++
				}
			}
		}
		return n
	}
	before = count()
	b.Equip(plan, today())
	if after = count(); before == 0 || after != 0 {
		t.Errorf("%d settings of other cements before, %d after", before, after)
	}
}

// TestLastDay: the earlier of the printed expiry and of how long it keeps once opened.
func TestLastDay(t *testing.T) {
	t.Parallel()
	b := demoBook(t)
	for name, want := range map[string]string{"Fennick Prime": "2027-01-31", "Eddering All": "2027-06-30", "Ullesmoor Fifty": "0001-01-01"} {
		if got := shelved(b, name).LastDay().String(); got != want {
			t.Errorf("%s: %s, wanted %s", name, got, want)
		}
	}
	if p := (&Product{Contains: []string{"MDP"}}); !p.Holds("methacrylate") || p.Holds("HEMA") {
		t.Error("what names MDP holds a methacrylate, and no HEMA")
	}
}

func demoBook(t *testing.T) *Rulebook {
	t.Helper()
	practice := demoPractice(t)
	b, err := builtIn().under(practice, practice.House)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
