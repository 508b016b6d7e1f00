package talk

import (
	"strings"
	"testing"

	"mortarboard/planner"
)

// TestCheckTellsWhatNoSettingHoldsFor: a "yes" for one number must not be taken for
// an answer to another that the rules have no setting for.
func TestCheckTellsWhatNoSettingHoldsFor(t *testing.T) {
	r := ask(t, testTalk(t), "2 bar and connector 12 mm2 ok on a 2 unit resin bonded bridge in 3Y?")
	if r.Verdict != string(planner.Unknown) || !strings.Contains(strings.Join(r.Notices, " "), "No setting holds for 12 mm²") {
		t.Errorf("verdict %q, notices %q: wanted the connector named as not judged", r.Verdict, r.Notices)
	}
}

// TestCheckHeadline: the first number that is not within gives the headline, and
// only if there is none are all of them within.
func TestCheckHeadline(t *testing.T) {
	bot := testTalk(t)
	for says, want := range map[string]string{
		"60 psi of alumina at 10 mm ok on 3Y":           "Outside the setting: 60 psi.",
		"2 bar of alumina at 10 mm ok on 3Y":            "Within the setting: 2 bar and 10 mm.",
		"2 bar of 250 micron alumina and 2 mm ok on 3Y": "Outside the setting: 250 µm.",
	} {
		if got := ask(t, bot, says).Headline; got != want {
			t.Errorf("%q is answered %q, wanted %q", says, got, want)
		}
	}
}

// TestBandsClaimNoMoreThanTheirBounds: a result between bounds that were recalled is
// not "computed", as if the formula alone carried it.
func TestBandsClaimNoMoreThanTheirBounds(t *testing.T) {
	bot := testTalk(t)
	for says, want := range map[string]planner.Basis{
		"how many newtons to pull a crown off with 90 mm2 of wall, retention force": planner.FromMemory,
		"what bite force do I design for":                                           planner.Inferred,
		"how much light gets through 1.5 mm of zirconia":                            planner.Inferred,
		"how thick may zirconia be for 60 s at 1000 mW":                             planner.Inferred,
	} {
		r := ask(t, bot, says)
		if len(r.Values) == 0 || r.Values[0].Basis != string(want) || r.Values[0].Source == "" {
			t.Errorf("%q: %+v, wanted the basis %q", says, r.Values, want)
		}
	}
}
