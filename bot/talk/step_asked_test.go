package talk

import (
	"context"
	"strings"
	"testing"
)

// TestStepAsked asks about one step in the thread of a plan: the plan answers, and what
// is no question about a step is left to others.
func TestStepAsked(t *testing.T) {
	const bonded, cemented, open = "5Y veneer, enamel, dry, wall 0.6 mm, no allergy", "3Y crown, good prep, dry, wall 1 mm", "5Y crown, margin in dentin"
	for _, c := range []struct{ plan, asks, headline string }{
		{bonded, "do I need primer", "Yes, in this plan: Apply an MDP-bearing primer"},
		{bonded, "primer?", "Yes, in this plan: Apply an MDP-bearing primer"},
		{bonded, "etch?", "Yes, in this plan: Etch the enamel only"},
		{cemented, "do i prime", "Not in this plan: no step of it does that. The plan stands: cement it conventionally."},
		{cemented, "is etching still necessary?", "Not in this plan"},
		{open, "do I need primer", "If it is bonded, yes: Apply an MDP-bearing primer"},
		{bonded, "how long does the primer stay on", "20 to 60 s"},
		{"", "do I need primer", ""},
		{bonded, "can I skip the primer", "No, it is a step of this plan"},
		{bonded, "without etch ok?", "No, it is a step of this plan"},
		{cemented, "can I skip the primer", ""},
		{"4Y onlay, dry, plenty of enamel, no allergy, saliva got in after priming", "do I need primer", ""},
		{bonded, "what is MDP", ""},
		{bonded, "do I light cure the primer", ""},
	} {
		conversation, thread := testTalk(t), c.plan+c.asks
		for _, text := range []string{c.plan, c.asks} {
			r, err := conversation.Handle(context.Background(), Message{Thread: thread, Text: text})
			if err != nil {
				t.Fatal(err)
			}
			inPlan := strings.Contains(r.Headline, "in this plan") || strings.Contains(r.Headline, "hangs on the plan")
			if text == c.asks && (!strings.HasPrefix(r.Headline, c.headline) || c.headline == "" && inPlan) {
				t.Errorf("%q behind %q: %q, wanted %q", c.asks, c.plan, r.Headline, c.headline)
			}
		}
	}
}

// TestNoNumberForYesOrNo asks with yes or no and names no dimension: a number of
// something else is no answer.
func TestNoNumberForYesOrNo(t *testing.T) {
	for text, want := range map[string]Kind{
		"do I light cure the primer":               KindArticle,
		"do I cure the adhesive before seating?":   KindArticle,
		"should I etch the dentin":                 KindArticle,
		"how long do I cure the adhesive":          KindValue,
		"do I leave the primer on for how long":    KindValue,
		"can you tell me the pressure for 5Y":      KindValue,
		"is there a maximum pressure for 5Y beads": KindValue,
	} {
		if r := ask(t, testTalk(t), text); r.Kind != want {
			t.Errorf("%q: %s (%s), wanted %s", text, r.Kind, r.Headline, want)
		}
	}
}

// TestNoSettingHolds asks for light on a cement that the setting is not for: the answer
// says so and gives no seconds.
func TestNoSettingHolds(t *testing.T) {
	for _, text := range []string{"how long cure GI", "light cure time for zinc phosphate"} {
		if r := ask(t, testTalk(t), text); len(r.Values) > 0 || !strings.Contains(r.Headline, "is set for self-adhesive resin and adhesive resin") {
			t.Errorf("%q: %s %v", text, r.Headline, r.Values)
		}
	}
	if r := ask(t, testTalk(t), "patient waited 10 min with adhesive on, ok?"); r.Verdict == "within" {
		t.Errorf("ten minutes of waiting were taken for rubbing: %s", r.Headline)
	}
}
