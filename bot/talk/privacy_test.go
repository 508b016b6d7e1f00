package talk

import (
	"bufio"
	"os"
	"strings"
	"testing"
)

// TestIdentifier holds the notice for patient identifiers against messages that
// were labelled without knowledge of the patterns: none may be missed that has a
// label or a form of its own, and look-alikes of the job must not trip it.
func TestIdentifier(t *testing.T) {
	file, err := os.Open("../../testdata/questions/privacy.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var missed, tripped, yes, no int
	in := bufio.NewScanner(file)
	for n := 1; in.Scan(); n++ {
		message, label, ok := strings.Cut(in.Text(), "\t")
		if !ok || strings.HasPrefix(message, "# ") || n == 1 {
			continue
		}
		label, _, _ = strings.Cut(label, "\t")
		got := identifier(message)
		switch label {
		case "yes":
			yes++
			if got == "" {
				missed++
				t.Logf("privacy.tsv:%d: missed: %s", n, message)
			}
		case "no":
			no++
			if got != "" {
				tripped++
				t.Logf("privacy.tsv:%d: taken for %s: %s", n, got, message)
			}
		default:
			t.Errorf("privacy.tsv:%d: label %q, wanted yes or no", n, label)
		}
	}
	t.Logf("missed %d of %d, false alarms %d of %d", missed, yes, tripped, no)
	if missed > 0 || tripped > 0 {
		t.Errorf("missed %d, false alarms %d; wanted none of either", missed, tripped)
	}
}

// TestIdentifierFarBehind hides an identifier behind what is read of a message.
func TestIdentifierFarBehind(t *testing.T) {
	text := strings.Repeat("the crown sits well and ", 60) + "her DOB 03/04/1961"
	if got := identifier(text); got != "a date of birth" {
		t.Errorf("behind %d characters: %q, want a date of birth", len(text)-18, got)
	}
	r, err := testTalk(t).Handle(t.Context(), Message{Thread: "long", Text: strings.Repeat("zirconia ", 400)})
	if err != nil {
		t.Fatal(err)
	}
	if n := len([]rune(r.Question)); n > maxRunes {
		t.Errorf("the question is repeated with %d characters, at most %d are read", n, maxRunes)
	}
}
