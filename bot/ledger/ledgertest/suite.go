package ledgertest

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"mortarboard/bot/ledger"
)

// Day is 24 hours.
const Day = 24 * time.Hour

// Run tests that the ledgers kept in a place do all that a ledger promises. Each
// call of fresh returns an empty place.
func Run(t *testing.T, fresh func(t *testing.T) Place) {
	for name, test := range map[string]func(*desk){
		"threads":                        threads,
		"threads expire":                 threadsExpire,
		"threads refuse":                 threadsRefuse,
		"a loaded value is the caller's": threadsCopy,
		"deliveries":                     seen,
		"deliveries at once":             seenAtOnce,
		"journal":                        journal,
		"journal and deliveries at once": journalWithKeys,
		"live messages":                  live,
		"journal refuses text":           journalRefuses,
		"review list":                    declined,
		"review list is bounded":         declinedBounded,
		"review list refuses text":       declinedRefuses,
		"feedback":                       feedback,
		"feedback refuses":               feedbackRefuses,
		"learning":                       learning,
		"learning refuses":               learningRefuses,
		"runs":                           runs,
		"missed cards":                   missed,
		"forgetting a person":            forget,
		"a full table loses its oldest":  full,
		"sweep":                          sweep,
		"sweep of itself":                sweepEvery,
		"backup":                         backup,
		"backup while it is written":     backupBusy,
		"a backup holds no names":        backupNames,
		"closed":                         closed,
		"as a plain model does":          asModel,
		"used by many at once":           manyAtOnce,
		"options":                        options,
	} {
		t.Run(name, func(t *testing.T) { test(open(t, fresh(t))) })
	}
}

func threads(d *desk) {
	d.thread("T1", "")
	d.must(d.Save("T1", []byte(`{"zirconia":["4Y"]}`)))
	d.must(d.Save("T2", []byte(`{}`)))
	d.thread("T1", `{"zirconia":["4Y"]}`)
	d.must(d.Save("T1", []byte(`{"zirconia":["5Y"]}`)))
	d.reopen()
	d.thread("T1", `{"zirconia":["5Y"]}`)
	d.thread("T2", `{}`)
	d.must(d.Delete("T1"))
	d.must(d.Delete("never there"))
	d.thread("T1", "")
	d.thread("T2", `{}`)
	d.reopen()
	d.thread("T1", "")
	d.thread("T1/", "")
}

func threadsExpire(d *desk) {
	d.must(d.Save("asked again", []byte(`1`)))
	d.must(d.Save("saved again", []byte(`1`)))
	d.must(d.Save("left", []byte(`1`)))
	d.clock.Move(9 * Day)
	_, used, err := d.Load("asked again")
	d.must(err)
	if want := d.clock.Now().Add(-9 * Day); !used.Equal(want) {
		d.t.Errorf("used %v, want %v", used, want)
	}
	d.must(d.Save("saved again", []byte(`1`)))
	d.clock.Move(Day - time.Microsecond)
	if !d.Known("left") {
		d.t.Error("forgotten too early")
	}
	d.clock.Move(time.Microsecond)
	d.thread("left", "")
	d.clock.Move(8 * Day)
	if !d.Known("asked again") || !d.Known("saved again") {
		d.t.Error("use did not count")
	}
	d.reopen()
	d.thread("asked again", "1")
	d.clock.Move(10 * Day)
	d.thread("asked again", "")
	d.must(d.Save("left", []byte(`2`)))
	d.thread("left", "2")
}

func threadsRefuse(d *desk) {
	d.must(d.Save("T", []byte(`"kept"`)))
	d.refused(d.Save("T", []byte(`{"half":`)), "ledger: save a thread: a value of 8 bytes that is not JSON")
	d.refused(d.Save("T", nil), "ledger: save a thread: a value of 0 bytes that is not JSON")
	d.refused(d.Save("", []byte(`1`)), "ledger: save a thread: the name of a thread is empty")
	most := `"` + strings.Repeat("x", 32<<10-2) + `"`
	d.refused(d.Save("T", []byte(most+" ")), "ledger: save a thread: a value of 32769 bytes: at most 32768 are allowed")
	d.thread("T", `"kept"`)
	d.must(d.Save("T", []byte(most)))
	d.thread("T", most)
}

func threadsCopy(d *desk) {
	given := []byte(`"first"`)
	d.must(d.Save("T", given))
	copy(given, `"spoil"`)
	got, _, err := d.Load("T")
	d.must(err)
	copy(got, `"other"`)
	d.thread("T", `"first"`)
}

// Seen is the recording of a delivery that is owed no answer.
func (d *desk) Seen(keys ...string) bool {
	return ledger.JournalOf[at](d.Ledger, "slack").Begin(keys, at{})
}

func (d *desk) seen(key string, want bool) {
	d.t.Helper()
	if got := d.Seen(key); got != want {
		d.t.Errorf("delivery %q at %v: seen is %v", key, d.clock.Now(), got)
	}
}

func seen(d *desk) {
	d.seen("Ev1", false)
	d.seen("Ev1", true)
	d.seen("Ev2", false)
	d.seen("", false)
	d.seen("", false)
	d.reopen()
	d.seen("Ev1", true)
	d.clock.Move(Day - time.Microsecond)
	d.seen("Ev1", true) // and that does not make it last longer
	d.clock.Move(time.Microsecond)
	d.seen("Ev1", false)
	d.seen("Ev1", true)
	if s := d.said.String(); s != "" {
		d.t.Errorf("the log was told %s", s)
	}
}

func seenAtOnce(d *desk) {
	var first atomic.Int32
	var all sync.WaitGroup
	for i := range 400 {
		all.Go(func() {
			if !d.Seen(fmt.Sprint("Ev", i%40)) {
				first.Add(1)
			}
		})
	}
	all.Wait()
	if n := first.Load(); n != 40 {
		d.t.Errorf("of 40 deliveries %d were new", n)
	}
}

// at is a place as a surface has it.
type at struct{ Channel, Thread string }

func (d *desk) unfinished(j ledger.Journal[at], want string) {
	d.t.Helper()
	if got := fmt.Sprint(j.Unfinished()); got != want {
		d.t.Errorf("unfinished\n got %s\nwant %s", got, want)
	}
}

func journal(d *desk) {
	slack := ledger.JournalOf[at](d.Ledger, "slack")
	page := ledger.JournalOf[at](d.Ledger, "page")
	other := ledger.JournalOf[struct{ Room string }](d.Ledger, "slack")
	for _, channel := range []string{"C3", "C1", "C2"} {
		slack.Begin(nil, at{channel, "1.2"})
		d.clock.Move(time.Second)
	}
	page.Begin(nil, at{"C9", ""})
	other.Begin(nil, struct{ Room string }{"7"})
	d.unfinished(slack, "[{C3 1.2} {C1 1.2} {C2 1.2}]")
	slack.End(at{"C1", "1.2"})
	slack.End(at{"C1", "never begun"})
	d.unfinished(page, "[{C9 }]")
	d.reopen()
	slack, page = ledger.JournalOf[at](d.Ledger, "slack"), ledger.JournalOf[at](d.Ledger, "page")
	d.unfinished(slack, "[{C3 1.2} {C2 1.2}]")
	d.clock.Move(7*Day - 2*time.Second)
	d.unfinished(slack, "[{C2 1.2}]")
	d.clock.Move(time.Second)
	d.unfinished(slack, "[]")
	slack.Begin(nil, at{"C3", "1.2"})
	d.unfinished(slack, "[{C3 1.2}]")
}

func journalRefuses(d *desk) {
	j := ledger.JournalOf[at](d.Ledger, "slack")
	for _, text := range []string{"bond or cement?", "two\nlines", "non\u00a0breaking", strings.Repeat("x", 512), `"said"`} {
		j.Begin(nil, at{"C1", text})
	}
	ledger.JournalOf[at](d.Ledger, "No Name").Begin(nil, at{"C1", "1.2"})
	d.unfinished(j, "[]")
	rows, err := d.Rows()
	d.must(err)
	if rows["journal"] != 0 {
		d.t.Errorf("%d rows", rows["journal"])
	}
	said := d.said.String()
	if n := strings.Count(said, "a question under way was not noted"); n != 6 {
		d.t.Errorf("the log was told %d times: %s", n, said)
	}
	if strings.Contains(said, "cement") {
		d.t.Errorf("the log holds the text: %s", said)
	}
}

// journalWithKeys wants a delivery's place noted exactly if the delivery was new.
func journalWithKeys(d *desk) {
	j := ledger.JournalOf[at](d.Ledger, "slack")
	begin := func(want bool, p at, keys ...string) {
		d.t.Helper()
		if got := j.Begin(keys, p); got != want {
			d.t.Errorf("deliveries %v: known is %v", keys, got)
		}
	}
	begin(false, at{"C1", "1.1"}, "Ev1", "at 1")
	begin(true, at{"C1", "1.2"}, "Ev2", "at 1") // the same words by another way
	begin(true, at{"C1", "1.2"}, "Ev1", "")
	d.unfinished(j, "[{C1 1.1}]")
	j.End(at{"C1", "1.1"})
	begin(true, at{"C1", "1.1"}, "Ev1", "at 1") // a retry after the answer opens nothing anew
	begin(false, at{"C1", "1.3"}, "Ev2")
	begin(false, at{"C1", "said in words"}, "Ev4")
	begin(true, at{"C1", "1.4"}, "Ev4") // a place that is refused does not make the delivery new for ever
	d.unfinished(j, "[{C1 1.3}]")
	d.reopen()
	j = ledger.JournalOf[at](d.Ledger, "slack")
	begin(true, at{}, "at 1")
	d.unfinished(j, "[{C1 1.3}]")
}

func live(d *desk) {
	want := func(thread, want string) {
		d.t.Helper()
		if got := d.Live(thread); got != want {
			d.t.Errorf("thread %s: live message %q, want %q", thread, got, want)
		}
	}
	want("T1", "")
	d.SetLive("T1", "1.000002")
	d.SetLive("T1", "1.000003")
	d.SetLive("T1", "Bond it?")
	d.reopen()
	want("T1", "1.000003")
	want("T2", "")
	d.clock.Move(10 * Day)
	want("T1", "")
	if s := d.said.String(); strings.Contains(s, "Bond") || !strings.Contains(s, "was not noted") {
		d.t.Errorf("the log was told %s", s)
	}
}

func closed(d *desk) {
	d.must(d.Save("T", []byte(`1`)))
	d.must(d.Close())
	d.must(d.Close())
	_, _, loading := d.Load("T")
	_, reading := d.Declined(time.Time{})
	_, listing := d.Feedback()
	_, finding := d.Cards("U")
	_, missing := d.Missed()
	_, following := d.Runs()
	_, sweeping := d.Sweep()
	_, counting := d.Rows()
	for what, err := range map[string]error{
		"load": loading, "declined": reading, "feedback": listing, "cards": finding, "missed": missing, "runs": following, "sweep": sweeping, "rows": counting,
		"save": d.Save("T", []byte(`2`)), "delete": d.Delete("T"), "count": d.CountDeclined("other"), "forget": d.Forget("U"), "forget cards": d.ForgetCards("U"),
		"vote": d.CountVote(ledger.Vote{Answer: "A", Person: "U"}), "backup": d.Backup(new(strings.Builder)),
		"card": d.SaveCard("U", ledger.Card{Item: "i", Due: d.clock.Now()}),
		"run":  d.SaveRun(ledger.Run{Place: "T", Begun: d.clock.Now()}), "end": d.EndRun("T"),
	} {
		if !errors.Is(err, ledger.ErrClosed) {
			d.t.Errorf("%s: %v", what, err)
		}
	}
	d.seen("Ev1", false) // without a ledger, in memory
	d.seen("Ev1", true)
	if d.Known("T") || !strings.Contains(d.said.String(), "remembered in memory only") {
		d.t.Errorf("known, or the log was told %s", d.said)
	}
	d.reopen()
	d.thread("T", "1")
}

func options(d *desk) {
	d.must(d.Close())
	_, err := d.place.Open(ledger.Options{ThreadDays: -1})
	d.refused(err, "threads kept for -1 days and a wait of 0s: neither may be below 0")
	l, err := d.place.Open(ledger.Options{})
	d.must(err)
	defer l.Close()
	d.must(l.Save("T", []byte(`1`)))
	j := ledger.JournalOf[at](l, "slack")
	if j.Begin([]string{"Ev"}, at{}) || !j.Begin([]string{"Ev"}, at{}) || !l.Known("T") {
		d.t.Error("without options it does not work")
	}
}
