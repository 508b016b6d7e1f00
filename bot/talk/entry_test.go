package talk

import (
	"context"
	"maps"
	"slices"
	"strings"
	"testing"
)

// TestEntryByItsChoice presses every button that an answer and a declined question offer:
// each shows its own entry, and the case of the thread stays as it was.
func TestEntryByItsChoice(t *testing.T) {
	conversation := testTalk(t)
	ask := func(text string) Reply {
		r, err := conversation.Handle(context.Background(), Message{Thread: "entries", Text: text})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	pressed := 0
	for _, question := range []string{"5Y crown UL1, dry, plenty of enamel", "why do we clean the inside after try in", "what is MDP", "what is silane for", "how long does a primed crown keep", "what does a crown cost"} {
		before := ask(question)
		for _, c := range before.Choices {
			for _, o := range c.Options {
				if c.Fact != "entry" {
					continue
				}
				r := ask(o.Says)
				id := strings.TrimPrefix(o.Says, "entry: ")
				if r.Kind != KindArticle || !slices.Equal(r.Entries, []string{id}) || !maps.EqualFunc(r.Case, before.Case, slices.Equal) {
					t.Errorf("%q shows %s %v, case %v", o.Says, r.Kind, r.Entries, r.Case)
				}
				pressed++
			}
		}
	}
	if pressed < 6 {
		t.Errorf("%d entries were offered, wanted at least 6", pressed)
	}
	if r := ask("entry: no-such-entry"); r.Kind == KindArticle && slices.Contains(r.Entries, "no-such-entry") {
		t.Error("an entry that is not there was shown")
	}
}

func TestFirstSentence(t *testing.T) {
	for text, want := range map[string]string{
		"Rinse, 1.5 bar at most. Then prime. [common practice]": "Rinse, 1.5 bar at most.",
		"Ask the dentist [from memory]":                         "Ask the dentist",
		"":                                                      "",
	} {
		if got := firstSentence(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
