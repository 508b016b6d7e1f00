package talk

import (
	"slices"
	"strings"
	"testing"
)

// TestEntryBesidePlan: a plan that stops for what was found has the entry on it beside.
func TestEntryBesidePlan(t *testing.T) {
	talk := testTalk(t)
	for _, c := range []struct {
		message, entry string // no entry: none is put beside
	}{
		{"crown rocks on the prep, UL6 zirc", "trouble-rocking"},
		{"decay at the margin, crown LR6", "trouble-decay-at-margin"},
		{"3Y crown, good prep, dry", ""},
		{"3Y crown, good prep, no decay", ""},
	} {
		r := ask(t, talk, c.message)
		beside := slices.ContainsFunc(r.Sections, func(s Section) bool { return strings.HasPrefix(s.Title, "What to do about it") && len(s.Lines) == 1 })
		if r.Kind != KindPlan || beside != (c.entry != "") || beside && r.Entries[0] != c.entry {
			t.Errorf("%q: %s with %v, wanted a plan with %q beside it", c.message, r.Kind, r.Entries, c.entry)
		}
	}
}

// TestRepliesToTheFirstQuestion: a bare yes or no states the fact that was asked first, and
// only where the last answer put a question.
func TestRepliesToTheFirstQuestion(t *testing.T) {
	talk := testTalk(t)
	for _, c := range []struct {
		reply, fact, value string // no value: nothing is stated
	}{
		{"yes", "retention", "adequate"},
		{"yep", "retention", "adequate"},
		{"no", "retention", "inadequate"},
		{"not really", "retention", ""},
		{"nope", "retention", "inadequate"},
		{"dunno", "retention", ""},
		{"yes?", "retention", ""},
		{"yes but short", "retention", ""},
	} {
		past := Remembered{Facts: map[string][]string{"zirconia": {"5Y"}}, Planned: true, Last: KindPlan, Asked: []string{"retention"}}
		turn := talk.begin(c.reply, past)
		if got := readFacts(turn)[c.fact]; got != c.value {
			t.Errorf("%q: %s is %q, wanted %q", c.reply, c.fact, got, c.value)
		}
		past.Last = KindArticle
		if turn := talk.begin(c.reply, past); readFacts(turn)[c.fact] != "" {
			t.Errorf("%q behind an entry is read as %v", c.reply, readFacts(turn))
		}
	}
}

// TestPossibleAllergyIsInDoubt: what somebody reckons or has not tested is neither an
// allergy nor none, and that of the staff is not the patient's.
func TestPossibleAllergyIsInDoubt(t *testing.T) {
	talk := testTalk(t)
	for _, c := range []struct{ message, want string }{
		{"pt reckons she may be allergic to dental glue, not tested, 5Y onlay", "doubt"},
		{"5Y onlay, might be allergic to resin, no idea", "doubt"},
		{"5Y onlay, nurse is allergic to acrylates", ""},
		{"5Y onlay, allergic to acrylates", "yes"},
		{"resin allergy? none on record. 5Y crown", "no"},
	} {
		turn := talk.begin(c.message, Remembered{})
		got := readFacts(turn)["resin_allergy"]
		if slices.ContainsFunc(turn.doubted, func(d doubt) bool { return d.fact == "resin_allergy" }) {
			got = "doubt"
		}
		if got != c.want {
			t.Errorf("%q: %q, wanted %q", c.message, got, c.want)
		}
	}
}

// TestGeneralQuestionTellsNothing: a question about the trade leaves the case of its thread
// as it was; one about what happened does not.
func TestGeneralQuestionTellsNothing(t *testing.T) {
	talk := testTalk(t)
	for _, c := range []struct{ message, fact, value string }{
		{"how come eugenol is bad for resin bonding", "provisional_cement", ""},
		{"tell me about IDS", "dentin_sealed", ""},
		{"the temp cement was eugenol, 5Y onlay", "provisional_cement", "eugenol"},
		{"ids was done, why does it matter", "dentin_sealed", "yes"},
	} {
		turn := talk.begin(c.message, Remembered{})
		if got := readFacts(turn)[c.fact]; got != c.value || turn.now.Known(c.fact) != (c.value != "") {
			t.Errorf("%q: %s is %q, wanted %q", c.message, c.fact, got, c.value)
		}
	}
}
