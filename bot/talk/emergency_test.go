package talk

import (
	"os"
	"strings"
	"testing"
)

// TestEmergencies holds what is answered before anything else against messages
// that mean an emergency and look-alikes that do not.
func TestEmergencies(t *testing.T) {
	data, err := os.ReadFile("../../testdata/questions/emergencies.tsv")
	if err != nil {
		t.Fatal(err)
	}
	bot := testTalk(t)
	urgent, others := 0, 0
	for n, line := range strings.Split(string(data), "\n") {
		message, holds, ok := strings.Cut(line, "\t")
		if !ok || holds == "holds" {
			continue
		}
		reply, found := bot.emergency(&turn{reading: bot.words.read(message, bot.book)})
		switch {
		case holds == "-":
			others++
			if found {
				t.Errorf("emergencies.tsv:%d: %q was taken for an emergency: %s", n+1, message, reply.Headline)
			}
		default:
			urgent++
			if !strings.Contains(reply.Headline, holds) {
				t.Errorf("emergencies.tsv:%d: %q: got %q, wanted %q in it", n+1, message, reply.Headline, holds)
			}
		}
	}
	if urgent < 20 || others < 10 {
		t.Errorf("%d emergencies and %d others were read; the file holds more", urgent, others)
	}
}
