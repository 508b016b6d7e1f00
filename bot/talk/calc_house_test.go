package talk

import (
	"strings"
	"testing"
	"testing/fstest"

	"mortarboard/planner"
)

// TestHouseRulesReachTheSums holds that a limit which the house narrows stands in
// the sentences of the calculations, with who approved it.
func TestHouseRulesReachTheSums(t *testing.T) {
	oneByOne(t)
	var house strings.Builder
	house.WriteString("envelopes:\n")
	for _, e := range [][3]string{{"light-dose", "20", "20"}, {"light-zirconia-limit", "0.2", "0.5"}, {"lamp-tolerance", "90", "110"},
		{"preparation-convergence", "10", "15"}, {"colour-acceptable", "1.5", "1.5"}} {
		house.WriteString("  - parameter: " + e[0] + "\n    low: " + e[1] + "\n    high: " + e[2] +
			"\n    because: We tried it.\n    approved: {by: Dr Ottoline Varga, on: 2026-05-04}\n")
	}
	practice, err := planner.LoadPractice(fstest.MapFS{
		"practice.yaml": {Data: []byte("name: Wrenfold\nlead: Dr Ottoline Varga\n")}, "house.yaml": {Data: []byte(house.String())},
	})
	if err != nil {
		t.Fatal(err)
	}
	talk := testTalk(t)
	if talk.book, err = talk.book.With(practice); err != nil {
		t.Fatal(err)
	}
	const approved = "house rule, approved by Dr Ottoline Varga on 2026-05-04"
	for _, tc := range []struct {
		says string
		want []string
	}{
		{"dose of 1000 mW/cm2 for 18 s", []string{"falls short of the usual target of 20 J/cm² (" + approved + ")"}},
		{"how long with 1000 mW/cm2", []string{"20 J/cm² is aimed for (" + approved + ")", "20 s under the tip"}},
		{"1000 mW/cm2 for 120 s behind 0.3 mm zirconia", []string{"Behind more than 0.2 mm do not rely on light", "20 J/cm² wanted"}},
		{"lamp box says 1000, radiometer shows 1150", []string{"not within the allowed 90 to 110 %", approved}},
		{"how much retention do I lose at 20 degrees taper", []string{"Advised are 10 to 15° total convergence (" + approved + ")"}},
		{"delta E00 of 1.6, ok?", []string{"1.6 ΔE00 is not acceptable to half of the observers"}},
	} {
		text := ask(t, talk, tc.says).Text
		for _, want := range tc.want {
			if !strings.Contains(text, want) {
				t.Errorf("%q lacks %q:\n%s", tc.says, want, text)
			}
		}
	}
}
