package ledger_test

import (
	"path/filepath"
	"testing"
	"time"

	"mortarboard/bot/ledger"
	"mortarboard/bot/ledger/ledgertest"
)

func TestFile(t *testing.T) {
	ledgertest.Run(t, func(t *testing.T) ledgertest.Place {
		return ledgertest.File(filepath.Join(t.TempDir(), "ledger"))
	})
}

func TestMemory(t *testing.T) {
	ledgertest.Run(t, func(*testing.T) ledgertest.Place { return ledger.NewMemory() })
}

func TestMemoryStore(t *testing.T) {
	ledgertest.RunStore(t, func(*testing.T) ledger.Store { return ledger.NewMemory().Store() })
}

func TestInMemory(t *testing.T) {
	one, err := ledger.InMemory(ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	two, err := ledger.InMemory(ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if seen(one, "Ev1") || seen(two, "Ev1") || !seen(one, "Ev1") {
		t.Error("each is to be a ledger of its own")
	}
}

func TestFileStore(t *testing.T) {
	ledgertest.RunStore(t, func(t *testing.T) ledger.Store { return fileStore(t, filepath.Join(t.TempDir(), "rows")) })
}

func fileStore(t testing.TB, path string) ledger.Store {
	t.Helper()
	s, err := ledger.OpenStore(path, time.Second)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func openFile(t testing.TB, path string) *ledger.Ledger {
	t.Helper()
	l, err := ledger.Open(path, ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	return l
}

// seen is the recording of a delivery that is owed no answer.
func seen(l *ledger.Ledger, keys ...string) bool {
	return ledger.JournalOf[spot](l, "slack").Begin(keys, spot{})
}

// must stops a test that cannot go on.
func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// TestMove takes a ledger from a file to another store and on.
func TestMove(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	l := openFile(t, path)
	must(t, l.Save("T", []byte(`1`)))
	seen(l, "Ev1")
	must(t, l.Close())
	m := ledger.NewMemory()
	must(t, ledger.Copy(m.Store(), fileStore(t, path)))
	moved, err := m.Open(ledger.Options{})
	must(t, err)
	if !moved.Known("T") || !seen(moved, "Ev1") || seen(moved, "Ev2") {
		t.Error("not what was kept in the file")
	}
}
