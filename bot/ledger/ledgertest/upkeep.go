package ledgertest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"mortarboard/bot/ledger"
)

// fill gives every table something.
func (d *desk) fill(n int) {
	d.t.Helper()
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() {
			id := fmt.Sprint("n", i)
			ledger.JournalOf[at](d.Ledger, "slack").Begin([]string{id}, at{id, "1.2"})
			d.SetLive(id, "1.2")
			for _, err := range []error{
				d.Save(id, []byte(`{}`)), d.CountDeclined(id, id), d.SaveCard(id, ledger.Card{Item: id, Due: d.clock.Now()}),
				d.CountVote(ledger.Vote{Answer: id, Person: id, Articles: []string{id}}), d.SaveRun(ledger.Run{Place: id, Begun: d.clock.Now()}),
			} {
				if err != nil {
					d.t.Error(err)
				}
			}
		})
	}
	all.Wait()
}

func sweep(d *desk) {
	const n = 620 // more than a sweep removes at a time
	d.fill(n)
	expect := func(days int, gone int, tables string) {
		d.t.Helper()
		d.clock.Move(time.Duration(days) * Day)
		removed, err := d.Sweep()
		d.must(err)
		if removed != gone {
			d.t.Errorf("%d rows were swept, want %d", removed, gone)
		}
		rows, err := d.Rows()
		d.must(err)
		if got := fmt.Sprint(rows); got != "map["+tables+"]" {
			d.t.Errorf("left\n got %s\nwant map[%s]", got, tables)
		}
	}
	expect(0, 0, "declined:620 feedback:620 journal:620 learning:620 live:620 run:620 seen:620 thread:620 vote:620")
	expect(1, n, "declined:620 feedback:620 journal:620 learning:620 live:620 run:620 seen:0 thread:620 vote:620")
	expect(9, 4*n, "declined:620 feedback:620 journal:0 learning:620 live:0 run:0 seen:0 thread:0 vote:620")
	expect(20, n, "declined:620 feedback:620 journal:0 learning:620 live:0 run:0 seen:0 thread:0 vote:0")
	d.clock.Move(400 * Day)
	d.reopen() // opening sweeps too
	expect(0, 0, "declined:0 feedback:620 journal:0 learning:0 live:0 run:0 seen:0 thread:0 vote:0")
	if s := d.said.String(); s != "" {
		d.t.Errorf("the log was told %s", s)
	}
}

func sweepEvery(d *desk) {
	d.fill(1)
	d.clock.Move(Day)
	synctest.Test(d.t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		var running sync.WaitGroup
		running.Go(func() { d.SweepEvery(ctx, time.Hour) })
		time.Sleep(59 * time.Minute)
		d.wantRows("seen", 1)
		time.Sleep(2 * time.Minute)
		synctest.Wait()
		d.wantRows("seen", 0)
		d.clock.Move(9 * Day)
		time.Sleep(time.Hour)
		synctest.Wait()
		d.wantRows("thread", 0)
		stop()
		running.Wait()
	})
}

// restored opens a backup, which is a file whatever the place.
func (d *desk) restored(backup []byte) *ledger.Ledger {
	d.t.Helper()
	path := filepath.Join(d.t.TempDir(), "restored")
	d.must(os.WriteFile(path, backup, 0o600))
	l, err := ledger.Open(path, d.o)
	d.must(err)
	d.t.Cleanup(func() { l.Close() })
	return l
}

func backup(d *desk) {
	d.fill(20)
	var b bytes.Buffer
	d.must(d.Backup(&b))
	before, err := d.Rows()
	d.must(err)
	d.must(d.Save("later", []byte(`1`)))
	r := d.restored(b.Bytes())
	after, err := r.Rows()
	d.must(err)
	if fmt.Sprint(after) != fmt.Sprint(before) || r.Known("later") {
		d.t.Errorf("restored %v of %v, known %v", after, before, r.Known("later"))
	}
	cards, err := r.Cards("n7")
	d.must(err)
	if !ledger.JournalOf[at](r, "slack").Begin([]string{"n7"}, at{}) || !r.Known("n7") || len(cards) != 1 {
		d.t.Errorf("what was kept is not found again: %v", cards)
	}
	d.must(d.Save("still", []byte(`1`)))
	d.refused(d.Backup(broken{}), "ledger: backup: no room")
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, fmt.Errorf("no room") }

// backupBusy backs up while pairs of rows are written, in order.
func backupBusy(d *desk) {
	var writer sync.WaitGroup
	writer.Go(func() {
		for i := range 150 {
			if err := d.SaveCard("U", ledger.Card{Item: fmt.Sprintf("%03d", i), Due: d.clock.Now()}); err != nil {
				d.t.Error(err)
			}
		}
	})
	for range 3 {
		var b bytes.Buffer
		d.must(d.Backup(&b))
		cards, err := d.restored(b.Bytes()).Cards("U")
		d.must(err)
		for i, c := range cards {
			if c.Item != fmt.Sprintf("%03d", i) {
				d.t.Fatalf("of one state, and yet card %d of %d is %s", i, len(cards), c.Item)
			}
		}
	}
	writer.Wait()
}

// backupNames looks for every name that was given, in the bytes.
func backupNames(d *desk) {
	d.must(d.Save("slack/T0/C0THREAD/1.2", []byte(`{"zirconia":["4Y"]}`)))
	d.Seen("Ev0DELIVERY")
	d.card("U0PERSON", "item-known", 1, d.clock.Now())
	d.must(d.CountVote(ledger.Vote{Answer: "A0ANSWER", Person: "U0PERSON", Articles: []string{"article-known"}}))
	var b bytes.Buffer
	d.must(d.Backup(&b))
	for name, want := range map[string]bool{
		"C0THREAD": false, "Ev0DELIVERY": false, "U0PERSON": false, "A0ANSWER": false,
		"item-known": true, "article-known": true, "4Y": true, // so the search can find
	} {
		if strings.Contains(b.String(), name) != want {
			d.t.Errorf("%s is in the backup: %v", name, !want)
		}
	}
}

func manyAtOnce(d *desk) {
	d.fill(50)
	var all sync.WaitGroup
	for n := range 8 {
		all.Go(func() {
			for i := range 25 {
				id := fmt.Sprint("n", (i*7+n)%60)
				_, _, loading := d.Load(id)
				_, listing := d.Declined(time.Time{})
				_, sweeping := d.Sweep()
				err := errors.Join(loading, listing, sweeping, d.Save(id, fmt.Appendf(nil, "%d", i)),
					d.CountDeclined("all", "bond"), d.Delete(id))
				if err != nil {
					d.t.Error(err)
				}
			}
		})
	}
	all.Wait()
	list, err := d.Declined(time.Time{})
	d.must(err)
	if all := list[0]; all.Reason != "all" || all.Count != 200 || all.Nearest[0].Count != 200 {
		d.t.Errorf("counted %v, want 200", all)
	}
	d.wantRows("thread", 0)
}

// asModel does the same to a ledger and to plain maps, and wants the same to
// come out.
func asModel(d *desk) {
	r := rand.New(rand.NewPCG(7, 11))
	m := model{threads: map[string]kept{}, seen: map[string]time.Time{}}
	for step := range 1500 {
		name := fmt.Sprint("n", r.IntN(12))
		switch r.IntN(9) {
		case 0, 1:
			value := fmt.Sprint(r.IntN(3))
			d.must(d.Save(name, []byte(value)))
			m.save(name, value, d.clock.Now())
		case 2, 3:
			d.thread(name, m.load(name, d.clock.Now()))
		case 4:
			d.must(d.Delete(name))
			delete(m.threads, name)
		case 5, 6:
			d.seen(name, m.see(name, d.clock.Now()))
		case 7:
			d.clock.Move([]time.Duration{time.Second, 5 * time.Hour, Day, 6 * Day}[r.IntN(4)])
		case 8:
			if r.IntN(2) == 0 {
				d.reopen()
			} else if _, err := d.Sweep(); err != nil {
				d.t.Fatal(err)
			}
		}
		if d.t.Failed() {
			d.t.Fatalf("at step %d", step)
		}
	}
}

type kept struct {
	value string
	used  time.Time
}

// A model is what the asModel test takes for true.
type model struct {
	threads map[string]kept
	seen    map[string]time.Time
}

func (m model) load(name string, now time.Time) string {
	k, had := m.threads[name]
	if !had || now.Sub(k.used) >= 10*Day {
		delete(m.threads, name)
		return ""
	}
	if now.Sub(k.used) >= time.Hour {
		m.threads[name] = kept{k.value, now}
	}
	return k.value
}

// save notes the time of use to the hour, like load.
func (m model) save(name, value string, now time.Time) {
	if k := m.threads[name]; k.value != value || now.Sub(k.used) >= time.Hour {
		m.threads[name] = kept{value, now}
	}
}

func (m model) see(key string, now time.Time) bool {
	at, had := m.seen[key]
	if had && now.Sub(at) < Day {
		return true
	}
	m.seen[key] = now
	return false
}
