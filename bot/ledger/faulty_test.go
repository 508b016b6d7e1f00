package ledger_test

import (
	"errors"
	"fmt"
	"io"
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/ledger"
)

// errFault is what a faulty store gives.
var errFault = errors.New("a fault")

// A faulty store fails at one of the calls to its transactions.
type faulty struct {
	ledger.Store
	left int // calls that still go well
}

func (f *faulty) View(read func(ledger.Tx) error) error {
	return f.Store.View(func(tx ledger.Tx) error { return read(faultyTx{tx, f}) })
}

func (f *faulty) Update(write func(ledger.Tx) error) error {
	return f.Store.Update(func(tx ledger.Tx) error { return write(faultyTx{tx, f}) })
}

type faultyTx struct {
	ledger.Tx
	f *faulty
}

func (tx faultyTx) fails() bool {
	tx.f.left--
	return tx.f.left < 0
}

func (tx faultyTx) Get(key string) ([]byte, error) {
	if tx.fails() {
		return nil, errFault
	}
	return tx.Tx.Get(key)
}

func (tx faultyTx) Put(key string, value []byte) error {
	if tx.fails() {
		return errFault
	}
	return tx.Tx.Put(key, value)
}

func (tx faultyTx) Delete(key string) error {
	if tx.fails() {
		return errFault
	}
	return tx.Tx.Delete(key)
}

func (tx faultyTx) Scan(from string, row func(string, []byte) bool) error {
	if tx.fails() {
		return errFault
	}
	return tx.Tx.Scan(from, row)
}

// TestFaults lets each method fail at each call to the store in turn. It must
// say so, to the caller or the log, and leave the rows as they were.
func TestFaults(t *testing.T) {
	soon := time.Now()
	spoken := func(do func(*ledger.Ledger)) func(*ledger.Ledger) error {
		return func(l *ledger.Ledger) error { do(l); return nil }
	}
	for name, do := range map[string]func(*ledger.Ledger) error{
		"open":        func(*ledger.Ledger) error { return nil },
		"save":        func(l *ledger.Ledger) error { return l.Save("T", []byte(`2`)) },
		"save anew":   func(l *ledger.Ledger) error { return l.Save("new", []byte(`2`)) },
		"load":        func(l *ledger.Ledger) error { _, _, err := l.Load("T"); return err },
		"delete":      func(l *ledger.Ledger) error { return l.Delete("T") },
		"known":       spoken(func(l *ledger.Ledger) { l.Known("T") }),
		"seen":        spoken(func(l *ledger.Ledger) { seen(l, "new") }),
		"begin":       spoken(func(l *ledger.Ledger) { ledger.JournalOf[spot](l, "slack").Begin([]string{"one", "two"}, spot{"new"}) }),
		"end":         spoken(func(l *ledger.Ledger) { ledger.JournalOf[spot](l, "slack").End(spot{"C1"}) }),
		"unfinished":  spoken(func(l *ledger.Ledger) { ledger.JournalOf[spot](l, "slack").Unfinished() }),
		"live":        spoken(func(l *ledger.Ledger) { l.Live("T") }),
		"set live":    spoken(func(l *ledger.Ledger) { l.SetLive("T", "1.3") }),
		"decline":     func(l *ledger.Ledger) error { return l.CountDeclined("other", "bond") },
		"review list": func(l *ledger.Ledger) error { _, err := l.Declined(time.Time{}); return err },
		"vote": func(l *ledger.Ledger) error {
			return l.CountVote(ledger.Vote{Answer: "A", Person: "U", Articles: []string{"cement"}})
		},
		"feedback":     func(l *ledger.Ledger) error { _, err := l.Feedback(); return err },
		"save card":    func(l *ledger.Ledger) error { return l.SaveCard("U", ledger.Card{Item: "new", Due: soon}) },
		"cards":        func(l *ledger.Ledger) error { _, err := l.Cards("U"); return err },
		"missed":       func(l *ledger.Ledger) error { _, err := l.Missed(); return err },
		"save run":     func(l *ledger.Ledger) error { return l.SaveRun(ledger.Run{Place: "new", Begun: soon}) },
		"end run":      func(l *ledger.Ledger) error { return l.EndRun("R") },
		"runs":         func(l *ledger.Ledger) error { _, err := l.Runs(); return err },
		"forget":       func(l *ledger.Ledger) error { return l.Forget("U") },
		"forget cards": func(l *ledger.Ledger) error { return l.ForgetCards("U") },
		"rows":         func(l *ledger.Ledger) error { _, err := l.Rows(); return err },
		"backup":       func(l *ledger.Ledger) error { return l.Backup(io.Discard) },
	} {
		t.Run(name, func(t *testing.T) {
			for left := 0; !faultAt(t, left, do); left++ {
				if left > 60 {
					t.Fatal("it never goes well")
				}
			}
		})
	}
}

// faultAt runs do on a ledger whose store fails after so many calls, and reports
// whether it did not get so far.
func faultAt(t *testing.T, left int, do func(*ledger.Ledger) error) (well bool) {
	t.Helper()
	m := ledger.NewMemory()
	first, err := m.Open(ledger.Options{})
	must(t, err)
	must(t, first.Save("T", []byte(`1`)))
	must(t, first.SaveCard("U", ledger.Card{Item: "i", Due: time.Now()}))
	must(t, first.SaveRun(ledger.Run{Place: "R", Begun: time.Now()}))
	must(t, first.CountVote(ledger.Vote{Answer: "A", Person: "U", Articles: []string{"bond"}, Helpful: true}))
	must(t, first.CountDeclined("other"))
	ledger.JournalOf[spot](first, "slack").Begin(nil, spot{"C1"})
	before := rowsOf(t, m.Store())
	f := &faulty{Store: m.Store(), left: left}
	var said strings.Builder
	later := func() time.Time { return time.Now().Add(2 * time.Hour) }
	l, err := ledger.New(f, ledger.Options{Now: later, Log: slog.New(slog.NewTextHandler(&said, nil))})
	if err == nil {
		err = do(l)
	}
	if f.left >= 0 {
		must(t, err)
		return true
	}
	if !errors.Is(err, errFault) && !strings.Contains(said.String(), errFault.Error()) {
		t.Errorf("a fault after %d calls: error %v, log %s", left, err, &said)
	}
	if after := rowsOf(t, m.Store()); !slices.Equal(after, before) {
		t.Errorf("a fault after %d calls left %s", left, fmt.Sprint(after))
	}
	return false
}
