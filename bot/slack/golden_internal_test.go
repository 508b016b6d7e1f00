package slack

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"mortarboard/bot/talk"
)

var update = flag.Bool("update", false, "write the golden layouts anew")

// TestGoldenLayouts compares whole messages with testdata, so that a change of
// look shows in the diff.
func TestGoldenLayouts(t *testing.T) {
	value := talk.Reply{Kind: talk.KindValue, Headline: "1.5 to 2.5 bar for 3Y.", Caution: "Ask the dentist.",
		Text:     "1.5 to 2.5 bar for 3Y.\nAsk the dentist.",
		Sections: []talk.Section{{Title: "Where this comes from", Lines: []string{"house rule, approved by <the lead> & dated"}}}}
	private := talk.Reply{Kind: talk.KindDeclined, Headline: "That may name a patient.", Caution: "Ask the dentist.", Private: true,
		Text: "That may name a patient.\nAsk the dentist.", Notices: []string{"Nothing was kept."}}
	for name, messages := range map[string][]outgoing{
		"plan":    lay(plan()).messages,
		"value":   lay(value).messages,
		"private": laySplit(private, "t1.1").messages,
		"failed":  lay(failed()).messages,
	} {
		check(t, messages)
		var got bytes.Buffer
		for _, m := range messages {
			got.WriteString("text: " + string(m.text) + "\n")
			if err := json.Indent(&got, mustJSON(t, m.blocks), "", "  "); err != nil {
				t.Fatal(err)
			}
			got.WriteString("\n")
		}
		compare(t, filepath.Join("testdata", name+".golden"), got.Bytes())
	}
}

func compare(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs (go test -run Golden -update writes it anew):\n%s", file, firstDifference(string(got), string(want)))
	}
}
