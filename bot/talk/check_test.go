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
		"2 bar with 110 micron ok on 5Y?":     "No, too much: 110 µm. The setting is 25 to 50 µm (abrading translucent zirconia gently with alumina); at most 50 µm (blasting translucent zirconia with glass beads).",
		"110 micron with 2 bar ok on 5Y?":     "No, too much: 110 µm. The setting is 25 to 50 µm (abrading translucent zirconia gently with alumina); at most 50 µm (blasting translucent zirconia with glass beads).",
		"4 bar and 110 micron on 3Y ok?":      "No: 4 bar and 110 µm. The setting is 1.5 to 2.8 bar (abrading 3Y with alumina); 50 µm (abrading 3Y with alumina).",
		"nozzle at 10 mm and 2 bar ok on 3Y?": "Within the setting: 10 mm and 2 bar. The setting is 10 to 20 mm (the nozzle when abrading 3Y with alumina); 1.5 to 2.8 bar (abrading 3Y with alumina).",
		"is 2 bar ok on 5Y, nozzle at 15 mm?": "That cannot be said flatly for 2 bar: too high for abrading translucent zirconia gently with alumina; within the setting for blasting translucent zirconia with glass beads.",
		"is 30 psi too little for 3Y":         "Within the setting: 30 psi (2.07 bar). The setting is 1.5 to 2.8 bar.",
		"etch 60 s ok":                        "No, too long: 60 s. The setting is 15 to 30 s.",
		"cure 5 s enough?":                    "No, too short: 5 s. The setting is at least 20, better 40 s.",
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
