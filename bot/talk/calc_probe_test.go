package talk

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"

	"mortarboard/planner"
)

func TestCalcBindProbe(t *testing.T) {
	if os.Getenv("PROBE") == "" {
		t.Skip()
	}
	book := planner.MustLoad()
	x, _ := newLexicon(planner.Rules(), book)
	for _, l := range readLabelled(t) {
		if !slices.Contains(l.intents, "calculation") || l.heldOut() {
			continue
		}
		r := x.read(l.message, book)
		fmt.Printf("%d %s\n", l.line, l.message)
		for _, m := range r.measures {
			fmt.Printf("   %v %q %v assumed=%v\n", m.quantity, m.fact, m.within, m.assumed)
		}
	}
}

func TestCalcProbe(t *testing.T) {
	if os.Getenv("PROBE") == "" {
		t.Skip()
	}
	talk := testTalk(t)
	var hit, all, false_ [2]int
	for i, l := range readLabelled(t) {
		half := 0
		if l.heldOut() {
			half = 1
		}
		r, err := talk.Handle(context.Background(), Message{Thread: fmt.Sprint("c", i), Text: l.message})
		if err != nil {
			t.Fatal(err)
		}
		wanted := slices.Contains(l.intents, "calculation")
		got := r.Kind == KindCalculation || wanted && r.Kind == KindPlan && slices.ContainsFunc(r.Sections, func(s Section) bool { return s.Title == "Also asked" })
		switch {
		case wanted && got:
			all[half]++
			hit[half]++
		case wanted:
			all[half]++
		case got:
			false_[half]++
		}
		if half == 0 && (wanted || got) || os.Getenv("PROBE") == "all" && wanted != got {
			fmt.Printf("%d %v %v: %s\n    %s\n", l.line, wanted, got, l.message, r.Headline)
		}
	}
	fmt.Println("hit", hit, "of", all, "false", false_)
}
