package talk

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"mortarboard/planner/sums"
)

// ask says the messages in one thread and returns the last answer.
func ask(t testing.TB, talk *Talk, says ...string) Reply {
	t.Helper()
	var r Reply
	for _, text := range says {
		var err error
		if r, err = talk.Handle(context.Background(), Message{Thread: t.Name() + says[0], Text: text}); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

func allPhrases() []calcPhrase {
	return slices.Concat(formPhrases, lightPhrases, strengthPhrases, unitPhrases, badPhrases, refusedPhrases)
}

func TestHeadlinesOfCalculations(t *testing.T) {
	oneByOne(t)
	talk := testTalk(t)
	for _, p := range slices.Concat(formPhrases, lightPhrases, strengthPhrases, unitPhrases, badPhrases) {
		if r := ask(t, talk, p.says); r.Kind != KindCalculation || r.Headline != p.headline {
			t.Errorf("%s\n got %s: %s\nwant %s", p.says, r.Kind, r.Headline, p.headline)
		}
	}
}

func TestWhatIsNotComputedIsRefusedWithItsReason(t *testing.T) {
	talk := testTalk(t)
	said := map[string]bool{}
	for _, p := range refusedPhrases {
		r := ask(t, talk, p.says)
		if r.Kind != KindCalculation || !strings.HasPrefix(r.Headline, p.headline+" ") || len(r.Values) > 0 {
			t.Errorf("%s\n got %s: %s %v\nwant %s …", p.says, r.Kind, r.Headline, r.Values, p.headline)
		}
		if !slices.ContainsFunc(r.Sections, func(s Section) bool { return s.Title == "Instead" }) {
			t.Errorf("%s: nothing is said of what to do instead", p.says)
		}
		said[p.headline] = true
	}
	for _, refusal := range sums.Refusals() {
		if !said["Not worked out: "+string(refusal.Topic)+"."] {
			t.Errorf("no phrase asks for the %s", refusal.Topic)
		}
	}
}

// TestEverySumIsAskedFor finds sums that no phrase of the tables reaches.
func TestEverySumIsAskedFor(t *testing.T) {
	talk := testTalk(t)
	known := sumsKnown()
	reached := make([]bool, len(known))
	for _, p := range allPhrases() {
		q := talk.question(talk.begin(p.says, Remembered{}))
		if i := slices.IndexFunc(known, func(s sum) bool { return s.wants(q) }); i >= 0 {
			reached[i] = true
		}
	}
	for i, s := range known {
		if !reached[i] {
			t.Errorf("sum %d, %s, is reached by no phrase", i, s.name)
		}
	}
}

// TestCalculationsAreWhole looks at every answer of the tables: what is computed
// has finite ends in order, a basis, a source, a formula and its limits.
func TestCalculationsAreWhole(t *testing.T) {
	talk := testTalk(t)
	for _, p := range slices.Concat(formPhrases, lightPhrases, strengthPhrases, unitPhrases) {
		r := ask(t, talk, p.says)
		if len(r.Values) == 0 {
			t.Errorf("%s: no values", p.says)
		}
		for _, problem := range flaws(r) {
			t.Errorf("%s: %s", p.says, problem)
		}
		var titles []string
		for _, s := range r.Sections {
			titles = append(titles, s.Title)
		}
		want := []string{"What it cannot say"}
		if strings.Contains(r.Headline, " is ") && len(r.Values) > 0 && r.Values[0].Name == "conversion" {
			want = []string{"Formula"}
		}
		for _, title := range want {
			if !slices.Contains(titles, title) {
				t.Errorf("%s: no section %q among %q", p.says, title, titles)
			}
		}
	}
}

// flaws lists what no answer with values may have.
func flaws(r Reply) []string {
	var out []string
	for _, v := range r.Values {
		finite := !math.IsNaN(v.Low) && !math.IsInf(v.Low, 0) && !math.IsNaN(v.High) && !math.IsInf(v.High, 0)
		if !finite || v.Low > v.High {
			out = append(out, fmt.Sprintf("%s from %v to %v", v.Name, v.Low, v.High))
		}
		if v.Name == "" || v.Of == "" || v.Basis == "" || (v.Basis == "computed" || v.Basis == "published") && v.Source == "" {
			out = append(out, fmt.Sprintf("incomplete value %+v", v))
		}
	}
	if _, err := json.Marshal(r); err != nil {
		out = append(out, err.Error())
	}
	return out
}

// TestBoundedResultsAreNeverOneNumber holds the results that are known only
// within bounds to showing both.
func TestBoundedResultsAreNeverOneNumber(t *testing.T) {
	talk := testTalk(t)
	for _, says := range []string{
		"20 s at 1000 mW behind 1.5 mm 4Y?", "1 mm zirconia, 1000 mW, how many seconds for 16 J/cm2", "how much light gets through 1.5 mm of zirconia",
		"how thick may zirconia be for 60 s at 1000 mW", "how many newtons to pull a crown off with 90 mm2 of wall, retention force", "what bite force do I design for",
	} {
		r := ask(t, talk, says)
		if len(r.Values) == 0 || !strings.Contains(r.Headline, " to ") {
			t.Errorf("%s: no bounds in %q", says, r.Headline)
		}
		for _, v := range r.Values {
			if v.Low >= v.High {
				t.Errorf("%s: %s is one number, %v", says, v.Name, v.Low)
			}
		}
	}
}

// TestMeasuresOfOtherThingsStayOutOfTheCase: a connector is no preparation, a
// colour coordinate no tooth, a temperature no tooth either.
func TestMeasuresOfOtherThingsStayOutOfTheCase(t *testing.T) {
	talk := testTalk(t)
	for says, want := range map[string]string{
		"is a 3 wide 4 high connector better than 4 wide 3 high": `{}`,
		"deltaE00 70/2/19 vs 71/2/20":                            `{}`,
		"colour difference L 72 a 1.5 b 18 and L 70 a 2 b 21":    `{}`,
		"three point bend, 300 N, span 14, 4 wide 1.2 thick":     `{}`,
		"37 C in F": `{}`,
		"20 s at 1000 mW through 1.5 mm thick 4Y":                                 `{"zirconia":["4Y"]}`,
		"one wall leans in 0.5 mm, the other leans in 0.9, 4 mm high, what angle": `{"height_mm":[4]}`,
		"10 / 4 / 8.6 (base, height, top), what taper":                            `{"height_mm":[4],"width_mm":[10]}`,
	} {
		r := ask(t, talk, says)
		if got, _ := json.Marshal(r.Case); string(got) != want {
			t.Errorf("%s: case %s, want %s", says, got, want)
		}
		for _, n := range r.Notices {
			if strings.Contains(n, "not plausible") || strings.Contains(n, "two answers") {
				t.Errorf("%s: notice of a fact that was not meant: %s", says, n)
			}
		}
	}
}

// TestWhatWasKnownBeforeIsPutBack: a connector in the thread of a case does not
// change the preparation.
func TestWhatWasKnownBeforeIsPutBack(t *testing.T) {
	r := ask(t, testTalk(t), "LR6 3Y crown, prep 4.5 mm high, 9.5 mm wide", "is a 3 wide 4 high connector better than 4 wide 3 high")
	if got, _ := json.Marshal(r.Case["height_mm"]); string(got) != "[4.5]" {
		t.Errorf("height %s, want [4.5]", got)
	}
	if got, _ := json.Marshal(r.Case["width_mm"]); string(got) != "[9.5]" {
		t.Errorf("width %s, want [9.5]", got)
	}
}

func TestTheThreadsMeasuresAreUsed(t *testing.T) {
	r := ask(t, testTalk(t), "prep 4 mm high, 10 mm wide at the margin, molar, 3Y crown", "8.6 on top, what convergence")
	if want := "Total convergence 19.9° (16.7 to 23.2°)."; r.Headline != want {
		t.Errorf("got %q, want %q", r.Headline, want)
	}
}

func TestCalculationNotices(t *testing.T) {
	talk := testTalk(t)
	for says, want := range map[string]string{
		"20 s at 1000 mW behind 1.5 mm 4Y?":                             "16 J/cm² is aimed for",
		"4 mm high 10 mm wide 22 degrees, does it hold?":                "22° was read as the angle between both opposing walls",
		"5000 bar in psi":                                               "As a blasting pressure 5000 bar would be far off",
		"2 MPa in bar":                                                  "was 0.2 MPa meant?",
		"10 wide, 8.6 on top, 4 high with a groove, enough?":            "A groove or a box is not counted",
		"what angle is 7 / 6 / 5":                                       "7 / 6 / 5 was read as width at the margin, width on top, height",
		"dose of 1000 mW for 20 s held at 2 mm":                         "Left out of the sum: 2 mm",
		"disc test: 1000 N, 1.2 mm thick, support 5, piston 0.7":        "No unit stood behind 5, 0.7; read in mm",
		"0.7 mm 3Y against 1 mm 5Y, which is stronger":                  "The grades differ in strength",
		"is a delta e of 1.2 visible?":                                  "It was not said by which formula",
		"bonding area for 9 mm wide, 4 mm high, 12 degrees convergence": "The width on top was worked out",
	} {
		if r := ask(t, talk, says); !strings.Contains(strings.Join(r.Notices, "\n"), want) {
			t.Errorf("%s: no notice %q among %q", says, want, r.Notices)
		}
	}
}

// TestOrdinaryQuestionsAreNoCalculations holds near misses apart.
func TestOrdinaryQuestionsAreNoCalculations(t *testing.T) {
	talk := testTalk(t)
	for _, says := range []string{
		"is 60 psi ok on 3Y?", "prep 4.2 high, 9.5 wide at the margin, TOC 16, 3Y crown 46", "toc of 28 deg acceptable?", "prep height 3 mm on a lower 6, tall enough?",
		"how tall must a molar prep be", "what is delta E", "how long to cure through zirconia", "light-cure only cement under a 1.5 mm 3Y crown, would that work",
		"polishing at 40000 rpm ok?", "minimum lamp output mW", "does the bite force of a grinder change the decision", "how thick must 3Y be", "should I add a groove",
		"connector mm2 for a 5Y three unit", "which cement colour shows through a translucent crown", "psi for blasting 3Y?", "3Y crown prep 3 high 9 wide, enough enamel, dry",
		"is 0.4 mm wall enough for 5Y", "how do we protect our eyes from the blue light", "what grit for adjusting",
	} {
		if r := ask(t, talk, says); r.Kind == KindCalculation {
			t.Errorf("%s was taken for a calculation: %s", says, r.Headline)
		}
	}
}

// TestASumStandsBesideAPlan: a message that asks for both gets both.
func TestASumStandsBesideAPlan(t *testing.T) {
	r := ask(t, testTalk(t), "zr crown on LR6 3.2 high 10 wide 8 on top, enough grip? bond or cement?")
	if r.Kind != KindPlan || !strings.Contains(r.Text, "Total convergence 34.7°") {
		t.Errorf("got %s without the convergence:\n%s", r.Kind, r.Text)
	}
}

// TestLabelledCalculations scores the messages of messages.tsv, whose writer did
// not know the words of this package.
func TestLabelledCalculations(t *testing.T) {
	oneByOne(t)
	talk := testTalk(t)
	var hit, all, wrong [2]int
	for i, l := range readLabelled(t, "messages.tsv") {
		half := 0
		if l.heldOut() {
			half = 1
		}
		r := ask(t, talk, fmt.Sprint(i), l.message)
		sum := r.Kind == KindCalculation || r.Kind == KindPlan && slices.ContainsFunc(r.Sections, func(s Section) bool { return s.Title == "Also asked" })
		switch wanted := slices.Contains(l.intents, string(KindCalculation)); {
		case wanted:
			all[half]++
			if sum {
				hit[half]++
			}
		case r.Kind == KindCalculation:
			wrong[half]++
		}
	}
	t.Logf("recognised %d of %d while tuning, %d of %d held out; others taken for one %d and %d", hit[0], all[0], hit[1], all[1], wrong[0], wrong[1])
	if all[0]+all[1] < 40 || hit[0] < all[0] || hit[1] < all[1]-1 || wrong[0] > 0 || wrong[1] > 1 {
		t.Error("fewer calculations are recognised than were, or more is taken for one")
	}
}

// TestCalculationWording finds sentences that nothing says, and names that no
// sentence has.
func TestCalculationWording(t *testing.T) {
	defined := names(t, `define "(calc [^"]+)"`, "wording_calc.tmpl")
	said := names(t, `"(calc [a-z -]+)"`, calcSources(t)...)
	for name := range said {
		if !defined[name] {
			t.Errorf("no sentence is called %q", name)
		}
	}
	for name := range defined {
		if !said[name] {
			t.Errorf("nothing says %q", name)
		}
	}
}

// calcSources are the program files of the calculations.
func calcSources(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("calc*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("no program files", err)
	}
	return slices.DeleteFunc(files, func(f string) bool { return strings.HasSuffix(f, "_test.go") })
}

// names collects what a pattern captures in files.
func names(t *testing.T, pattern string, files ...string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(string(data), -1) {
			out[m[1]] = true
		}
	}
	return out
}

// TestCalculationCues finds cue lists that no sum asks for, and asked ones that
// are not there.
func TestCalculationCues(t *testing.T) {
	listed := testTalk(t).words.words.Cues
	asked := map[string]bool{}
	for _, file := range calcSources(t) {
		for call := range names(t, `(?:says|all)\(([^()]*)\)`, file) {
			for _, m := range regexp.MustCompile(`"(?:cue:calc-)?([a-z0-9-]+)"`).FindAllStringSubmatch(call, -1) {
				asked[m[1]] = true
			}
		}
		for role := range names(t, `"(role-[a-z]+)"`, file) {
			asked[role] = true
		}
	}
	for name := range asked {
		if name != "measures" && listed["calc-"+name] == nil {
			t.Errorf("the vocabulary has no cue calc-%s", name)
		}
	}
	for cue := range listed {
		if name, calc := strings.CutPrefix(cue, "calc-"); calc && !asked[name] {
			t.Errorf("no sum asks for the cue %s", cue)
		}
	}
}
