package talk

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
)

// FuzzHandle puts any two texts of one thread through the whole path: it must
// be answered with the caution, as valid JSON of bounded length, and a plan in
// a field that cannot be kept dry must never be to bond in the mouth.
func FuzzHandle(f *testing.F) {
	for _, seed := range []string{
		"bond or cement, translucent, margin in dentin", "is 60 psi ok on 5Y", "moisture control: dry", "thinnest ceramic wall: NaN",
		"UR6 zr crown, subging, cant get it dry", "what if it's 3Y?", "10 / 8.6 / 4 with a 50 micron gap", "", "\x00\xff", "<!channel> `*_~ 5Y",
		"no allergy apart from HEMA", "3Y crown, good prep. :)", "UR6 / : 3Y", strings.Repeat("wall 0.3 mm ", 200),
	} {
		f.Add(seed, seed)
	}
	conversation := testTalk(f)
	f.Fuzz(func(t *testing.T, first, second string) {
		for _, text := range []string{first, second} {
			r, err := conversation.Handle(context.Background(), Message{Thread: "fuzz" + first + "/" + second, Text: text})
			if err != nil {
				t.Fatal(err)
			}
			if r.Caution == "" || len(r.Text) > 60_000 {
				t.Errorf("caution %q, %d bytes of text", r.Caution, len(r.Text))
			}
			if _, err := json.Marshal(r); err != nil {
				t.Error(err)
			}
			wet := len(r.Case["isolation"]) == 1 && r.Case["isolation"][0] == "impossible"
			if wet && r.Strategy == "bond" && len(r.Case["seating_site"]) == 0 && len(r.Case["substrate"]) == 0 {
				t.Errorf("bonds in the wet: %q", text)
			}
		}
	})
}
