package ledgertest

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"mortarboard/bot/ledger"
)

// RunStore tests that a store keeps its word. Each call of fresh returns an
// empty one, which the suite closes.
func RunStore(t *testing.T, fresh func(t *testing.T) ledger.Store) {
	for name, test := range map[string]func(*testing.T, ledger.Store){
		"keeps rows in order":            storeOrder,
		"an empty value is not none":     storeEmpty,
		"takes a copy":                   storeCopy,
		"reads what it just wrote":       storeReadsOwn,
		"keeps all of a write or none":   storeAllOrNone,
		"refuses what it cannot keep":    storeRefuses,
		"writes of many at once":         storeAtOnce,
		"reads one state":                storeOneState,
		"holds much":                     storeMuch,
		"is closed when closed":          storeClosed,
		"is copied whole to another":     func(t *testing.T, s ledger.Store) { storeCopied(t, s, fresh(t)) },
		"keeps keys of any bytes apart":  storeAnyBytes,
		"a write that panics keeps none": storePanic,
	} {
		t.Run(name, func(t *testing.T) {
			s := fresh(t)
			t.Cleanup(func() { s.Close() })
			test(t, s)
		})
	}
}

// put writes rows, key and value in turn.
func put(t *testing.T, s ledger.Store, pairs ...string) {
	t.Helper()
	err := s.Update(func(tx ledger.Tx) error {
		for pair := range slices.Chunk(pairs, 2) {
			if err := tx.Put(pair[0], []byte(pair[1])); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// rows lists a store from a key on, as key=value.
func rows(t *testing.T, s ledger.Store, from string) (list []string) {
	t.Helper()
	err := s.View(func(tx ledger.Tx) error {
		return tx.Scan(from, func(key string, value []byte) bool {
			list = append(list, key+"="+string(value))
			return true
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func wantRows(t *testing.T, s ledger.Store, from, want string) {
	t.Helper()
	if got := strings.Join(rows(t, s, from), " "); got != want {
		t.Errorf("rows from %q\n got %s\nwant %s", from, got, want)
	}
}

func storeOrder(t *testing.T, s ledger.Store) {
	wantRows(t, s, "", "")
	put(t, s, "b", "2", "a", "1", "c", "3", "ab", "4", "B", "5")
	put(t, s, "b", "6")
	wantRows(t, s, "", "B=5 a=1 ab=4 b=6 c=3")
	wantRows(t, s, "ab", "ab=4 b=6 c=3")
	wantRows(t, s, "aba", "b=6 c=3")
	wantRows(t, s, "d", "")
	var met []string
	err := s.View(func(tx ledger.Tx) error {
		return tx.Scan("a", func(key string, _ []byte) bool { met = append(met, key); return len(met) < 2 })
	})
	if err != nil || strings.Join(met, " ") != "a ab" {
		t.Errorf("a scan that stops met %v (%v)", met, err)
	}
}

func storeEmpty(t *testing.T, s ledger.Store) {
	put(t, s, "there", "")
	for key, want := range map[string]bool{"there": true, "elsewhere": false} {
		err := s.View(func(tx ledger.Tx) error {
			value, err := tx.Get(key)
			if (value != nil) != want || len(value) != 0 {
				t.Errorf("%s is %#v", key, value)
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
}

func storeCopy(t *testing.T, s ledger.Store) {
	value := []byte("before")
	if err := s.Update(func(tx ledger.Tx) error { return tx.Put("key", value) }); err != nil {
		t.Fatal(err)
	}
	copy(value, "BEHIND")
	wantRows(t, s, "", "key=before")
}

func storeReadsOwn(t *testing.T, s ledger.Store) {
	put(t, s, "gone", "1", "new", "1")
	err := s.Update(func(tx ledger.Tx) error {
		err := errors.Join(tx.Delete("gone"), tx.Delete("never there"), tx.Put("new", []byte("2")), tx.Put("newer", []byte("3")))
		var met []string
		scanned := tx.Scan("", func(key string, value []byte) bool { met = append(met, key+"="+string(value)); return true })
		if got := strings.Join(met, " "); got != "new=2 newer=3" {
			t.Errorf("inside the write: %s", got)
		}
		if value, _ := tx.Get("gone"); value != nil {
			t.Errorf("deleted, and still %q", value)
		}
		return errors.Join(err, scanned)
	})
	if err != nil {
		t.Error(err)
	}
	wantRows(t, s, "", "new=2 newer=3")
}

func storeAllOrNone(t *testing.T, s ledger.Store) {
	put(t, s, "kept", "1", "changed", "1")
	no := errors.New("no")
	err := s.Update(func(tx ledger.Tx) error {
		return errors.Join(tx.Put("changed", []byte("2")), tx.Put("changed", []byte("3")),
			tx.Delete("kept"), tx.Put("new", nil), tx.Delete("new"), tx.Put("new", nil), no)
	})
	if !errors.Is(err, no) {
		t.Errorf("error %v, want the one that the write gave", err)
	}
	wantRows(t, s, "", "changed=1 kept=1")
}

func storePanic(t *testing.T, s ledger.Store) {
	put(t, s, "kept", "1")
	func() {
		defer func() { _ = recover() }() // whether it comes through is the store's affair
		_ = s.Update(func(tx ledger.Tx) error { _ = tx.Put("kept", []byte("2")); panic("a fault") })
	}()
	put(t, s, "later", "3")
	wantRows(t, s, "", "kept=1 later=3")
}

func storeRefuses(t *testing.T, s ledger.Store) {
	put(t, s, "kept", "1")
	if err := s.Update(func(tx ledger.Tx) error { return tx.Put("", []byte("x")) }); err == nil {
		t.Error("the empty key was taken")
	}
	for what, write := range map[string]func(ledger.Tx) error{
		"put":    func(tx ledger.Tx) error { return tx.Put("kept", []byte("2")) },
		"delete": func(tx ledger.Tx) error { return tx.Delete("kept") },
	} {
		if err := s.View(write); err == nil {
			t.Errorf("%s while reading was taken", what)
		}
	}
	wantRows(t, s, "", "kept=1")
}

// storeAtOnce lets many write at the same time, every third of which fails after
// it has written.
func storeAtOnce(t *testing.T, s ledger.Store) {
	no := errors.New("no")
	var all sync.WaitGroup
	for i := range 300 {
		all.Go(func() {
			err := s.Update(func(tx ledger.Tx) error {
				raw, err := tx.Get("sum")
				sum, _ := strconv.Atoi(string(raw))
				if i%3 == 0 {
					return errors.Join(tx.Put("sum", []byte("1000000")), tx.Put(fmt.Sprint("bad", i), nil), no)
				}
				return errors.Join(err, tx.Put("sum", []byte(strconv.Itoa(sum+1))))
			})
			if errors.Is(err, no) != (i%3 == 0) || err != nil && i%3 != 0 {
				t.Errorf("write %d: %v", i, err)
			}
		})
	}
	all.Wait()
	wantRows(t, s, "", "sum=200")
}

// storeOneState reads two rows that are always written together.
func storeOneState(t *testing.T, s ledger.Store) {
	put(t, s, "a", "0", "z", "0")
	var writer sync.WaitGroup
	writer.Go(func() {
		for i := range 200 {
			put(t, s, "a", strconv.Itoa(i), "z", strconv.Itoa(i))
		}
	})
	for range 200 {
		got := rows(t, s, "")
		if len(got) != 2 || got[0][1:] != got[1][1:] {
			t.Errorf("one state, and yet %v", got)
		}
	}
	writer.Wait()
}

// storeMuch writes far more than one page of anything, and takes most of it away.
func storeMuch(t *testing.T, s ledger.Store) {
	const n = 5000
	fill := strings.Repeat("x", 200)
	var pairs []string
	for i := range n {
		pairs = append(pairs, fmt.Sprintf("%06d", i*7919%n), fill)
	}
	pairs = append(pairs, "big", strings.Repeat("y", 100_000))
	put(t, s, pairs...)
	if got := rows(t, s, ""); len(got) != n+1 || !slices.IsSorted(got) {
		t.Errorf("%d rows, in order: %v", len(got), slices.IsSorted(got))
	}
	err := s.Update(func(tx ledger.Tx) (err error) {
		for i := range n - 1 {
			err = errors.Join(err, tx.Delete(fmt.Sprintf("%06d", i)))
		}
		return errors.Join(err, tx.Delete("big"))
	})
	if err != nil {
		t.Error(err)
	}
	wantRows(t, s, "", "004999="+fill)
}

func storeAnyBytes(t *testing.T, s ledger.Store) {
	keys := []string{"\x00", "\x00\x00", " ", "a", "a\x00", "a\x00b", "é", "\xff", "\xff\xff"}
	for _, key := range keys {
		put(t, s, key, key)
	}
	var want []string
	for _, key := range keys {
		want = append(want, key+"="+key)
	}
	wantRows(t, s, "", strings.Join(want, " "))
}

func storeClosed(t *testing.T, s ledger.Store) {
	put(t, s, "key", "1")
	for range 2 {
		if err := s.Close(); err != nil {
			t.Errorf("closing: %v", err)
		}
	}
	nothing := func(ledger.Tx) error { return nil }
	if err := s.View(nothing); !errors.Is(err, ledger.ErrClosed) {
		t.Errorf("reading: %v", err)
	}
	if err := s.Update(nothing); !errors.Is(err, ledger.ErrClosed) {
		t.Errorf("writing: %v", err)
	}
}

func storeCopied(t *testing.T, s, to ledger.Store) {
	t.Cleanup(func() { to.Close() })
	pairs := []string{"!", ""}
	for i := range 1500 { // more than is copied at a time, with keys next to each other on both sides of a cut
		key := fmt.Sprintf("%05d", i)
		pairs = append(pairs, key, "", key+"\x00", "")
	}
	put(t, s, pairs...)
	put(t, to, "before", "1")
	if err := ledger.Copy(to, s); err != nil {
		t.Fatal(err)
	}
	if want := append(rows(t, s, ""), "before=1"); !slices.Equal(rows(t, to, ""), want) {
		t.Errorf("%d rows were copied as %d", len(want)-1, len(rows(t, to, "")))
	}
}
