package slack_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"mortarboard/bot/ledger"
	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
)

// A mortal store stops whoever writes once it has kept so many writes, before the
// next write or just after the last: to what is kept that is a killed process.
type mortal struct {
	ledger.Store
	mu     sync.Mutex
	left   int           // writes that are still kept
	after  bool          // stops when the last is kept, before its writer hears of it
	died   chan struct{} // closed when it has stopped somebody
	buried chan struct{} // closed at the end of the test, to let the dead go
	once   sync.Once
}

var errDead = errors.New("the process was killed")

func (m *mortal) Update(write func(ledger.Tx) error) error {
	m.mu.Lock()
	m.left--
	before, after := m.left < 0, m.left == 0 && m.after
	m.mu.Unlock()
	if before {
		return m.die()
	}
	err := m.Store.Update(write)
	if after {
		return m.die()
	}
	return err
}

func (m *mortal) die() error {
	m.once.Do(func() { close(m.died) })
	<-m.buried
	return errDead
}

// kept is the surface's journal in a ledger.
func kept(l *ledger.Ledger) func(*slack.Options) {
	return func(o *slack.Options) {
		o.Journal, o.Known, o.Live = ledger.JournalOf[slack.Place](l, "slack"), l.Known, l
		o.DrainLimit = 50 * time.Millisecond
	}
}

// TestNoCrashLosesAQuestion kills the surface at each write that a question makes,
// before and after it, and starts another on the same ledger. The question, which
// the service sends again until it is acknowledged, must have its answer, once, or
// its thread must be told to ask again.
func TestNoCrashLosesAQuestion(t *testing.T) {
	for writes := range 3 {
		for _, after := range []bool{false, true} {
			t.Run(fmt.Sprintf("%d writes, after %t", writes, after), func(t *testing.T) { crashAt(t, writes, after) })
		}
	}
}

func crashAt(t *testing.T, writes int, after bool) {
	r := newRig(t, standin.Options{RedeliverAfter: 300 * time.Millisecond})
	place := ledger.NewMemory()
	store := &mortal{Store: place.Store(), left: 1000, died: make(chan struct{}), buried: make(chan struct{})}
	first, err := ledger.New(store, ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	store.left, store.after = writes, after
	bury := sync.OnceFunc(func() { close(store.buried) })
	t.Cleanup(bury)
	kill, done := r.run(kept(first))
	if err := r.Ready(r.ctx); err != nil {
		t.Fatal(err)
	}
	ts := r.Mention("C1", "U1", "crown")
	select {
	case <-store.died:
	case <-time.After(500 * time.Millisecond): // it needs no more writes than that
	}
	kill()
	r.await(func() bool { return r.Connections() == 0 })

	second, err := place.Open(ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	stop, ended := r.run(kept(second))
	if err := r.Ready(r.ctx); err != nil {
		t.Fatal(err)
	}
	r.answer("C1", ts)
	r.await(func() bool { return r.Unacknowledged() == 0 })
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	r.nothingHarmful()
	if n := len(r.heard()); n > 1 {
		t.Errorf("answered %d times", n)
	}
	if left := ledger.JournalOf[slack.Place](second, "slack").Unfinished(); len(left) > 0 {
		t.Errorf("still owed: %v", left)
	}
	bury()
	<-done
	r.nothingLeft()
}

// run starts a surface beside others on the rig's workspace.
func (r *rig) run(adjust func(*slack.Options)) (stop func(), ended chan error) {
	ctx, cancel := context.WithCancel(r.ctx)
	ended = make(chan error, 1)
	go func() { ended <- slack.Run(ctx, r.options(adjust)) }()
	return cancel, ended
}
