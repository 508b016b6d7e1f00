package talk

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// TestCalculationsGolden keeps every phrasing with its headline where a change
// of either shows. Rewrite it with -update.
func TestCalculationsGolden(t *testing.T) {
	oneByOne(t)
	const name = "../../testdata/questions/calculations.txt"
	talk := testTalk(t)
	var out strings.Builder
	out.WriteString("# Every way of asking for a calculation that is tested, and the headline of its answer.\n" +
		"# Written by: go test ./bot/talk -run TestCalculationsGolden -update\n" +
		"# What each calculation was checked against stands in testdata/published/deviations.txt.\n")
	for _, part := range []struct {
		title   string
		phrases []calcPhrase
	}{
		{"the form of a preparation, its area, the cement under the crown", formPhrases},
		{"light, the lamp, the speed of an instrument", lightPhrases},
		{"strength, connectors, forces, colour", strengthPhrases},
		{"units", unitPhrases},
		{"bad input: what is wrong and the mend", badPhrases},
		{"not computed, and why", refusedPhrases},
	} {
		out.WriteString("\n## " + part.title + "\n")
		for _, p := range part.phrases {
			out.WriteString("\n> " + p.says + "\n" + ask(t, talk, p.says).Headline + "\n")
		}
	}
	if *update {
		if err := os.WriteFile(name, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	got, old := strings.Split(out.String(), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(got), len(old)) {
		if i >= len(got) || i >= len(old) || got[i] != old[i] {
			t.Fatalf("calculations.txt:%d differs: %q; was it meant? run with -update", i+1, slices.Concat(got, []string{""})[min(i, len(got))])
		}
	}
}
