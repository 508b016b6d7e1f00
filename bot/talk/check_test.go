package talk

import (
	"context"
	"strings"
	"testing"
)

// TestWorstVerdictLeads asks about several quantities at once: what is outside leads,
// wherever it stands.
func TestWorstVerdictLeads(t *testing.T) {
	conversation := testTalk(t)
	for text, want := range map[string]string{
		"2 bar with 110 micron ok on 5Y?":     "Outside the setting: 110 µm.",
		"110 micron with 2 bar ok on 5Y?":     "Outside the setting: 110 µm.",
		"4 bar and 110 micron on 3Y ok?":      "Outside the setting: 4 bar and 110 µm.",
		"nozzle at 10 mm and 2 bar ok on 3Y?": "Within the setting: 10 mm and 2 bar.",
		"is 2 bar ok on 5Y, nozzle at 15 mm?": "That cannot be said flatly for 2 bar.",
	} {
		r, err := conversation.Handle(context.Background(), Message{Thread: text, Text: text})
		if err != nil || r.Headline != want {
			t.Errorf("%q: %q, wanted %q (%v)", text, r.Headline, want, err)
		}
	}
	r, err := conversation.Handle(context.Background(), Message{Thread: "width", Text: "prep 9 mm wide ok"})
	if err != nil || r.Verdict == "within" || strings.Contains(r.Text, "height: at least") {
		t.Errorf("the width of a stump was held against its height: %s", r.Text)
	}
}
