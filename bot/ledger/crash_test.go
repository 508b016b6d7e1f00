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
		checkBegun(t, l, c.cmd.Process.Pid, done["begun"])
		must(t, l.Close())
	}
}

func checkKept(t *testing.T, l *ledger.Ledger, done map[string][]int) {
	t.Helper()
	for _, n := range done["saved"] {
		value, _, err := l.Load(fmt.Sprint("n", n))
		if err != nil || string(value) != fmt.Sprint(n) {
			t.Errorf("thread %d was saved, and holds %q (%v)", n, value, err)
		}
	}
}

// checkBegun wants every delivery that was begun known, with its place noted; and
// of those that the kill may have cut through, both or neither.
func checkBegun(t *testing.T, l *ledger.Ledger, pid int, begun []int) {
	t.Helper()
	j := ledger.JournalOf[spot](l, "slack")
	places := j.Unfinished()
	for n := range slices.Max(begun) + 12 {
		name := deliveryOf(pid, n)
		noted := slices.Contains(places, spot{name})
		if known := j.Begin([]string{"at " + name}, spot{}); known != noted {
			t.Errorf("delivery %d: known is %v, its place is noted: %v", n, known, noted)
		}
		if !noted && slices.Contains(begun, n) {
			t.Errorf("delivery %d was begun, and is forgotten", n)
		}
	}
}
