package talk

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"mortarboard/kb"
	"mortarboard/planner"
)

func testTalk(t testing.TB) *Talk {
	library, err := kb.NewLibrary(kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	talk, err := New(Options{Rules: planner.MustLoad(), Articles: library})
	if err != nil {
		t.Fatal(err)
	}
	return talk
}

func TestIntentProbe(t *testing.T) {
	if os.Getenv("PROBE") == "" {
		t.Skip("set PROBE=1 to print the misrouted messages of the tuning half")
	}
	talk := testTalk(t)
	var right, all, sright, sall [2]int
	for i, l := range readLabelled(t) {
		half := 0
		if l.heldOut() {
			half = 1
		}
		r, err := talk.Handle(context.Background(), Message{Thread: fmt.Sprint(i), Text: l.message})
		if err != nil {
			t.Fatal(err)
		}
		all[half]++
		ok := slices.Contains(l.intents, string(r.Kind))
		if ok {
			right[half]++
		}
		sok := true
		if l.strategy != "-" {
			sall[half]++
			sok = r.Strategy == l.strategy
			if sok {
				sright[half]++
			}
		}
		if half == 0 && (!ok || !sok) {
			fmt.Printf("%d: %s\n\twant %s %s got %s %s %s | %s\n", l.line, l.message, strings.Join(l.intents, "+"), l.strategy, r.Kind, r.Strategy, r.Leaning, strings.Split(r.Text, "\n")[0])
		}
	}
	fmt.Println("intent", right, all, "strategy", sright, sall)
}
