package talk

import (
	"context"
	"fmt"
	"testing"
)

// TestSumsResumed says short things behind every kind of sum: each is answered, whatever
// the sum could make of it.
func TestSumsResumed(t *testing.T) {
	oneByOne(t)
	conversation := testTalk(t)
	for i, p := range allPhrases() {
		for j, then := range []string{"ok", "5", "and 0.6 mm?", "what about 5Y?"} {
			thread := fmt.Sprint(i, "/", j)
			for _, says := range []string{p.says, then} {
				if r, err := conversation.Handle(context.Background(), Message{Thread: thread, Text: says}); err != nil || r.Headline == "" {
					t.Errorf("%q behind %q: headline %q, %v", says, p.says, r.Headline, err)
				}
			}
		}
	}
}

// TestThreadOutlivesItsRules goes on with a thread that remembers names which the rules
// no longer have.
func TestThreadOutlivesItsRules(t *testing.T) {
	conversation := testTalk(t)
	old := Remembered{Facts: map[string][]string{"zirconia": {"3Y"}, "gone": {"x"}}, Asked: []string{"gone", "wall_mm"}, Doubted: []string{"gone"},
		Keys: []string{"gone.key"}, Last: KindCalculation, Worked: Worked{Sum: "gone"}, Planned: true}
	if err := conversation.memory.Save(context.Background(), "old", old); err != nil {
		t.Fatal(err)
	}
	r, err := conversation.Handle(context.Background(), Message{Thread: "old", Text: "1.5 mm"})
	if err != nil || fmt.Sprint(r.Case["wall_mm"]) != "[1.5]" || fmt.Sprint(r.Case["zirconia"]) != "[3Y]" {
		t.Errorf("read %v, %v", r.Case, err)
	}
}
