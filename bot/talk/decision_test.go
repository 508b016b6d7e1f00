package talk

import (
	"strings"
	"testing"
	"time"
)

// TestDecision tells in the thread of a plan what the dentist has decided: the steps
// follow it, unless a decisive reason stands against it, and a question decides nothing.
func TestDecision(t *testing.T) {
	const open = "5Y crown, good prep, margin in dentin, dry, wall 1.3 mm, no allergy"
	for _, c := range []struct{ plan, says, headline, notice string }{
		{open, "Dr Varga says bond", "Bond it adhesively, as the dentist has decided.", "By the rules alone: it depends"},
		{open, "we cement it", "Cement it conventionally, as the dentist has decided.", "By the rules alone: it depends"},
		{open, "who says bond?", "", ""},
		{open, "should we bond it?", "", ""},
		{open, "she doesnt want to bond", "", ""},
		{"3Y crown, good prep, dry, wall 1 mm", "decided to bond", "Bond it adhesively, as the dentist has decided.", "By the rules alone: cement it conventionally"},
		{"5Y crown, good prep, cant keep it dry", "boss wants to bond it", "Cement it conventionally, since bonding is ruled out.", "that does not stand with the rules: A field that cannot be kept dry"},
		{"5Y onlay, cant keep it dry", "we bond it", "Stop: it needs bonding and it cannot be bonded.", "that does not stand with the rules"},
	} {
		thread := newChair(t)
		thread.says(time.Minute, c.plan)
		r := thread.says(time.Minute, c.says)
		if c.headline == "" && strings.Contains(r.Headline+strings.Join(r.Notices, ""), "decided.") {
			t.Errorf("%q behind %q was taken for a decision: %s", c.says, c.plan, r.Headline)
		}
		if !strings.HasPrefix(r.Headline, c.headline) || !strings.Contains(strings.Join(r.Notices, "\n"), c.notice) {
			t.Errorf("%q behind %q: %s %v, wanted %q and the notice %q", c.says, c.plan, r.Headline, r.Notices, c.headline, c.notice)
		}
	}
	if r := ask(t, testTalk(t), "5Y crown, dry, plenty of enamel, boss says bond, who's right"); r.Case["decision"] != nil {
		t.Errorf("what the boss says was taken for a decision outside a thread: %v", r.Case)
	}
}
