package ledger

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
)

// TestCommitsTogether holds up a first commit until others wait, and wants them
// to share the next.
func TestCommitsTogether(t *testing.T) {
	begun, goOn := make(chan bool), make(chan bool)
	var sizes []int // of the transactions, in order
	c := &commits{}
	size := 0
	c.run = func(do func(Tx) error) error {
		size = 0
		err := do(nil)
		sizes = append(sizes, size)
		return err
	}
	answers := make(chan error)
	add := func(do func(Tx) error) {
		go func() { answers <- c.add(func(tx Tx) error { size++; return do(tx) }) }()
	}
	add(func(Tx) error { begun <- true; <-goOn; return nil })
	<-begun
	for range commitMost + 2 {
		add(func(Tx) error { return nil })
	}
	for waiting := 0; waiting < commitMost+2; {
		c.mu.Lock()
		waiting = len(c.waiting)
		c.mu.Unlock()
	}
	goOn <- true
	for range commitMost + 3 {
		if err := <-answers; err != nil {
			t.Error(err)
		}
	}
	if got := fmt.Sprint(sizes); got != fmt.Sprint([]int{1, commitMost, 2}) {
		t.Errorf("transactions of %s writes", got)
	}
}

// TestCommitsAnswerForThemselves wants a failing write among others to fail alone.
func TestCommitsAnswerForThemselves(t *testing.T) {
	no := errors.New("no")
	s := NewMemory().Store()
	c := &commits{run: s.Update}
	var batch []write
	for i := range 5 {
		batch = append(batch, write{done: make(chan error, 1), do: func(tx Tx) error {
			err := tx.Put(fmt.Sprint("row ", i), nil)
			if i == 2 {
				return no
			}
			return err
		}})
	}
	c.commit(batch)
	for i, w := range batch {
		if err := <-w.done; errors.Is(err, no) != (i == 2) || err != nil && i != 2 {
			t.Errorf("write %d: %v", i, err)
		}
	}
	if got := keys(t, s); got != "row 0, row 1, row 3, row 4" {
		t.Errorf("kept %s", got)
	}
}

func keys(t *testing.T, s Store) string {
	t.Helper()
	var met []string
	err := s.View(func(tx Tx) error {
		return tx.Scan("", func(key string, _ []byte) bool { met = append(met, key); return true })
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(met, ", ")
}

// TestTable fills a small table and wants no trace of a row that has gone, in any
// order of use.
func TestTable(t *testing.T) {
	s := NewMemory().Store()
	small := table{"small", time.Hour, 3}
	now := time.Date(1901, 2, 3, 4, 5, 6, 0, time.UTC) // before the clocks of computers begin
	do := func(what func(turn) error) {
		t.Helper()
		now = now.Add(time.Minute)
		if err := updateAt(s, now, what); err != nil {
			t.Fatal(err)
		}
	}
	put := func(key string) { t.Helper(); do(func(x turn) error { return small.put(x, key, []byte(key)) }) }
	want := func(want string) {
		t.Helper()
		var got []string
		err := viewAt(s, now, func(x turn) error {
			old, err := small.oldest(x, 10)
			count, counting := small.count(x)
			for _, e := range old {
				got = append(got, e.key)
			}
			if count != len(got) {
				t.Errorf("%d rows, counted as %d", len(got), count)
			}
			return errors.Join(err, counting)
		})
		if strings.Join(got, " ") != want || err != nil {
			t.Errorf("rows from the oldest on: %v (%v), want %s", got, err, want)
		}
	}
	put("a")
	put("b")
	put("c")
	put("a")
	want("b c a")
	put("d")
	want("c a d")
	do(func(x turn) error { return small.remove(x, "a") })
	do(func(x turn) error { return small.remove(x, "never there") })
	want("c d")
	put("")
	small.most = 1 // a later version may allow less
	put("e")
	want("e")
	do(func(x turn) error { return small.remove(x, "e") })
	want("")
	if got := keys(t, s); got != "rows/small" {
		t.Errorf("left behind: %s", got)
	}
}

func TestStampsOrderAsTimes(t *testing.T) {
	times := []time.Time{{}, time.Date(1901, 1, 1, 0, 0, 0, 0, time.UTC), time.UnixMicro(-1), time.UnixMicro(0),
		time.UnixMicro(1), time.Date(2031, 1, 1, 0, 0, 0, 1000, time.UTC), time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)}
	for i, at := range times {
		if !timeOf(stampOf(at)).Equal(at) {
			t.Errorf("%v comes back as %v", at, timeOf(stampOf(at)))
		}
		if i > 0 && stampOf(times[i-1]) >= stampOf(at) {
			t.Errorf("%v stands before %v", at, times[i-1])
		}
	}
}

// TestRowsSpoilt spoils rows in a store without checksums.
func TestRowsSpoilt(t *testing.T) {
	for key, c := range map[string]struct{ value, want string }{
		schemaKey:       {"one", `its version is "one", not a number from 1 on`},
		saltKey:         {"short", "its random key has 5 bytes, not 32"},
		"declined:2031": {"short", "ledger: read the review list: table declined has a row without a time"},
		"rows/declined": {"short", "ledger: count rows: table declined has a count of 5 bytes"},
	} {
		m := NewMemory()
		l, err := m.Open(Options{})
		if err == nil {
			err = m.Store().Update(func(tx Tx) error { return tx.Put(key, []byte(c.value)) })
		}
		if err != nil {
			t.Fatal(err)
		}
		_, opening := m.Open(Options{})
		_, reading := l.Declined(time.Time{})
		_, counting := l.Rows()
		if got := fmt.Sprint(errors.Join(opening, reading, counting)); got != c.want {
			t.Errorf("%s\n got %s\nwant %s", key, got, c.want)
		}
	}
}

// TestHiddenNames wants a name to look the same each time, and different as
// another kind of name or with another salt.
func TestHiddenNames(t *testing.T) {
	one, other := &Ledger{salt: []byte("one")}, &Ledger{salt: []byte("other")}
	met := map[string]bool{
		one.hidden("person", "U1"): true, one.hidden("answer", "U1"): true, one.hidden("person", "U2"): true,
		other.hidden("person", "U1"): true, one.hidden("pers", "onU1"): true,
	}
	if len(met) != 5 || !met[one.hidden("person", "U1")] {
		t.Errorf("%d of 5 names look different", len(met))
	}
}
