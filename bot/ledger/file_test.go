package ledger_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"mortarboard/bot/ledger"
)

// refused wants Open to fail in these words, in which FILE stands for the path.
func refused(t *testing.T, path, want string) {
	t.Helper()
	l, err := ledger.Open(path, ledger.Options{Timeout: 60 * time.Millisecond})
	if err == nil {
		l.Close()
	}
	if got := strings.ReplaceAll(fmt.Sprint(err), path, "FILE"); got != want {
		t.Errorf("error\n got %s\nwant %s", got, want)
	}
}

func TestFileIsTheOwnersOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	must(t, openFile(t, path).Close())
	mode := func() os.FileMode {
		info, err := os.Stat(path)
		must(t, err)
		return info.Mode()
	}
	if mode() != 0o600 {
		t.Errorf("made with %v", mode())
	}
	must(t, os.Chmod(path, 0o644))
	must(t, openFile(t, path).Close())
	if mode() != 0o600 {
		t.Errorf("left with %v", mode())
	}
}

func TestFileHoldsNoNames(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	l := openFile(t, path)
	must(t, l.Save("C0THREAD", []byte(`"4Y"`)))
	seen(l, "Ev0DELIVERY")
	must(t, l.SaveCard("U0PERSON", ledger.Card{Item: "item-known", Due: time.Now()}))
	must(t, l.CountVote(ledger.Vote{Answer: "A0ANSWER", Person: "U0PERSON"}))
	must(t, l.Close())
	raw, err := os.ReadFile(path)
	must(t, err)
	for name, want := range map[string]bool{"C0THREAD": false, "Ev0DELIVERY": false, "U0PERSON": false, "A0ANSWER": false, "item-known": true} {
		if strings.Contains(string(raw), name) != want {
			t.Errorf("%s is in the file: %v", name, !want)
		}
	}
}

// TestSaltIsOfOneLedger wants the same name to look different in two ledgers.
func TestSaltIsOfOneLedger(t *testing.T) {
	met := map[string]bool{}
	for range 2 {
		m := ledger.NewMemory()
		l, err := m.Open(ledger.Options{})
		must(t, err)
		must(t, l.Save("T", []byte(`1`)))
		must(t, m.Store().View(func(tx ledger.Tx) error {
			return tx.Scan("thread:", func(key string, _ []byte) bool {
				met[key] = strings.HasPrefix(key, "thread:")
				return false
			})
		}))
	}
	if len(met) != 2 {
		t.Errorf("keys %v, want two", met)
	}
}

func TestOneProcessOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	c := startChild(t, "hold", path)
	c.line()
	refused(t, path, "another process has FILE: stop it, or give this one its own -ledger")
	c.kill()
	openFile(t, path)
	refused(t, path, "another process has FILE: stop it, or give this one its own -ledger")
}

func TestWaitsForTheOtherToStop(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	first := openFile(t, path)
	must(t, first.Save("T", []byte(`1`)))
	opened := make(chan error)
	go func() {
		l, err := ledger.Open(path, ledger.Options{Timeout: time.Minute})
		if err == nil && !l.Known("T") {
			err = fmt.Errorf("what the first kept is not there")
		}
		opened <- err
	}()
	must(t, first.Close())
	must(t, <-opened)
}

func TestWhatIsNoLedger(t *testing.T) {
	dir := t.TempDir()
	file := func(name, content string) string {
		path := filepath.Join(dir, name)
		must(t, os.WriteFile(path, []byte(content), 0o600))
		return path
	}
	t.Run("a folder", func(t *testing.T) {
		refused(t, dir, "ledger FILE is not a file: name one with -ledger")
	})
	t.Run("in no folder", func(t *testing.T) {
		path := filepath.Join(dir, "none", "ledger")
		refused(t, path, "ledger FILE has no folder: make "+filepath.Dir(path)+", or name another file with -ledger: "+
			"open FILE: no such file or directory")
	})
	t.Run("below a file", func(t *testing.T) {
		refused(t, filepath.Join(file("plain", "x"), "ledger"),
			"ledger FILE cannot be opened: mend that, or name another file with -ledger: stat FILE: not a directory")
	})
	t.Run("another database", func(t *testing.T) {
		path := filepath.Join(dir, "other")
		db, err := bbolt.Open(path, 0o600, nil)
		must(t, err)
		must(t, db.Update(func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte("store")); return err }))
		must(t, db.Close())
		refused(t, path, "FILE is no ledger: it holds something else; name another file with -ledger")
	})
	const damaged = "ledger FILE is damaged: it was left as it is; put a backup in its place, or move it away to begin an empty one: "
	t.Run("text", func(t *testing.T) {
		refused(t, file("text", strings.Repeat("some words\n", 2000)), damaged+"invalid database")
	})
	t.Run("too short", func(t *testing.T) {
		refused(t, file("short", "x"), damaged+"invalid database")
	})
	t.Run("empty", func(t *testing.T) { openFile(t, file("empty", "")) })
}

func TestVersions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	kept := path + ".version-1"
	l := openFile(t, path)
	must(t, l.Save("T", []byte(`1`)))
	must(t, l.Close())
	no := fmt.Errorf("no")
	steps := []ledger.Migration{
		func(tx ledger.Tx) error { return tx.Put("two", []byte("2")) },
		func(tx ledger.Tx) error { return no },
	}
	if _, err := ledger.OpenAt(path, ledger.Options{}, steps); fmt.Sprint(err) != "ledger "+path+
		": bringing its layout from version 2 to 3: no" {
		t.Errorf("error %v", err)
	}
	must(t, openFile(t, path).Close()) // a step that fails changes nothing
	no = nil
	for range 2 { // once brought there, and once there
		l, err := ledger.OpenAt(path, ledger.Options{}, steps)
		must(t, err)
		if !l.Known("T") {
			t.Error("what was kept is lost")
		}
		must(t, l.Close())
	}
	refused(t, path, "ledger FILE: its layout is version 3, and this program knows 1 to 1: "+
		"use the newer program, or put the backup from before its first start in place")
	if !openFile(t, kept).Known("T") {
		t.Error("the copy from before is not whole")
	}
	left, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	must(t, err)
	if len(left) != 2 {
		t.Errorf("left behind: %v", left)
	}
}

// TestNewLedgerNeedsNoSteps wants a ledger made by a later version to be of it.
func TestNewLedgerNeedsNoSteps(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	steps := []ledger.Migration{func(ledger.Tx) error { return fmt.Errorf("not to be run") }}
	for range 2 {
		l, err := ledger.OpenAt(path, ledger.Options{}, steps)
		must(t, err)
		must(t, l.Close())
	}
	if _, err := os.Stat(path + ".version-1"); err == nil {
		t.Error("a copy was made of nothing")
	}
}
