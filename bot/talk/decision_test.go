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

// TestNoDecision tells what sounds like a decision and is none for this case, and takes
// one back.
func TestNoDecision(t *testing.T) {
	for _, says := range []string{
		"boss said bond it on Friday for the other patient", "if Dr Varga says bond", "should we cement it", "why would we cement it",
		"the assistant says cement it", "the rep says bond it always", "the lab says bond", "sure, let's bond it in a puddle",
	} {
		c := newChair(t)
		c.says(time.Minute, "4Y crown, dry, retentive, wall 1.2")
		if r := c.says(time.Minute, says); r.Case["decision"] != nil {
			t.Errorf("%q was taken for a decision: %s", says, r.Headline)
		}
	}
	for _, back := range []string{"Dr Varga changed her mind", "we decided not to bond"} {
		c := newChair(t)
		c.says(time.Minute, "4Y crown, dry, retentive, wall 1.2")
		c.says(time.Minute, "Dr Varga says bond")
		if r := c.says(time.Minute, back); r.Case["decision"] != nil || r.Kind != KindPlan {
			t.Errorf("%q did not take the decision back: %s, %v", back, r.Headline, r.Case["decision"])
		}
	}
}

// TestTheFieldComesFirst wants it said at the head of every plan that is not to be stopped,
// settled or open, where the field is not dry.
func TestTheFieldComesFirst(t *testing.T) {
	for text, first := range map[string]bool{
		"3Y crown, good prep, gum is bleeding":                              true,
		"5Y crown, good prep, a bit damp, lots of enamel, margin in enamel": true,
		"3Y crown, good prep, dry":                                          false,
	} {
		if r := ask(t, testTalk(t), text); strings.Contains(r.Headline, "nothing is luted today") != first {
			t.Errorf("%q: %s", text, r.Headline)
		}
	}
}
