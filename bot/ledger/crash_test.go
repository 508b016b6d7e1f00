package ledger_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"mortarboard/bot/ledger"
)

// TestKilled kills a process while it writes, again and again on the same file,
// and wants to find every write that had returned.
func TestKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	for round := range 6 {
		c := startChild(t, "write", path)
		done := map[string][]int{}
		for range 40 + 97*round {
			var what string
			var n int
			line := c.line()
			if _, err := fmt.Sscan(line, &what, &n); err != nil || what == "failed" {
				t.Fatalf("the child said %q", line)
			}
			done[what] = append(done[what], n)
		}
		c.kill()
		l := openFile(t, path)
		checkKept(t, l, done)
		must(t, l.Close())
	}
}

func checkKept(t *testing.T, l *ledger.Ledger, done map[string][]int) {
	t.Helper()
	for _, n := range done["seen"] {
		if !l.Seen(fmt.Sprint("n", n)) {
			t.Errorf("delivery %d was seen, and is forgotten", n)
		}
	}
	for _, n := range done["saved"] {
		value, _, err := l.Load(fmt.Sprint("n", n))
		if err != nil || string(value) != fmt.Sprint(n) {
			t.Errorf("thread %d was saved, and holds %q (%v)", n, value, err)
		}
	}
	places := ledger.JournalOf[spot](l, "slack").Unfinished()
	for _, n := range done["begun"] {
		if !slices.Contains(places, spot{fmt.Sprint("n", n)}) {
			t.Errorf("place %d was begun, and is not known", n)
		}
	}
}
