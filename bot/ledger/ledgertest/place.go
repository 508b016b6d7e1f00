package ledgertest

import (
	"bytes"
	"fmt"
	"log/slog"
	"sync"
	"testing"
	"time"

	"mortarboard/bot/ledger"
)

// A Place keeps one ledger, which can be closed and opened again.
// [*ledger.Memory] is one.
type Place interface {
	Open(o ledger.Options) (*ledger.Ledger, error)
}

// A File is a place: the path of a file.
type File string

// Open opens the ledger in the file.
func (f File) Open(o ledger.Options) (*ledger.Ledger, error) { return ledger.Open(string(f), o) }

// A Clock stands still until it is moved.
type Clock struct {
	mu sync.Mutex
	at time.Time
}

// NewClock returns a clock that shows noon of a day in spring.
func NewClock() *Clock { return &Clock{at: time.Date(2031, 4, 2, 12, 0, 0, 0, time.UTC)} }

// Now returns what the clock shows.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

// Move moves the clock.
func (c *Clock) Move(by time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(by)
}

// A desk is an open ledger under test.
type desk struct {
	*ledger.Ledger
	t     *testing.T
	place Place
	clock *Clock
	said  *notes
	o     ledger.Options
}

// notes is a log that a test reads.
type notes struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (n *notes) Write(p []byte) (int, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.buf.Write(p)
}

func (n *notes) String() string {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.buf.String()
}

func open(t *testing.T, place Place) *desk {
	t.Helper()
	d := &desk{t: t, place: place, clock: NewClock(), said: new(notes)}
	d.o = ledger.Options{Now: d.clock.Now, ThreadDays: 10, Log: slog.New(slog.NewTextHandler(d.said, nil))}
	d.reopen()
	t.Cleanup(func() { d.Ledger.Close() })
	return d
}

// reopen is a restart of the program.
func (d *desk) reopen() {
	d.t.Helper()
	if d.Ledger != nil {
		d.must(d.Close())
	}
	l, err := d.place.Open(d.o)
	d.must(err)
	d.Ledger = l
}

func (d *desk) must(err error) {
	d.t.Helper()
	if err != nil {
		d.t.Fatal(err)
	}
}

// refused wants an error with this text.
func (d *desk) refused(err error, want string) {
	d.t.Helper()
	if got := fmt.Sprint(err); got != want {
		d.t.Errorf("error\n got %s\nwant %s", got, want)
	}
}

// thread wants a thread to hold this value; empty: nothing.
func (d *desk) thread(name, want string) {
	d.t.Helper()
	value, _, err := d.Load(name)
	d.must(err)
	if string(value) != want || (value == nil) != (want == "") {
		d.t.Errorf("thread %s holds %q, want %q", name, value, want)
	}
	if d.Known(name) != (want != "") {
		d.t.Errorf("thread %s: known is %v", name, d.Known(name))
	}
}
