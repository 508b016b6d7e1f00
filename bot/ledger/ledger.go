package ledger

import (
	"fmt"
	"log/slog"
	"time"
)

// day is the length of a day in the tables' times.
const day = 24 * time.Hour

// Options is what a ledger may be told; the zero value will do.
type Options struct {
	Now        func() time.Time // nil: time.Now
	Timeout    time.Duration    // how long Open waits for another process to let go of the file; 0: 1 s
	ThreadDays int              // days after its last use that a thread is forgotten; 0: 30
	Log        *slog.Logger     // told of failures that a method cannot return, never of what is kept; nil: none
}

func (o Options) withDefaults() (Options, error) {
	if o.ThreadDays < 0 || o.Timeout < 0 {
		return o, fmt.Errorf("threads kept for %d days and a wait of %v: neither may be below 0", o.ThreadDays, o.Timeout)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Timeout == 0 {
		o.Timeout = time.Second
	}
	if o.ThreadDays == 0 {
		o.ThreadDays = 30
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return o, nil
}

// A Ledger is what the program remembers from one process to the next.
type Ledger struct {
	store Store
	spare Store // deliveries seen while the store fails
	o     Options
	salt  []byte
	tables
}

// The tables of a ledger.
type tables struct {
	threads, live, seen, journal, declined, feedback, votes, learning, runs table
}

func newTables(threadDays int) tables {
	return tables{
		threads:  table{"thread", time.Duration(threadDays) * day, 20_000},
		live:     table{"live", time.Duration(threadDays) * day, 20_000},
		seen:     table{"seen", day, 200_000},
		journal:  table{"journal", 7 * day, 10_000},
		declined: table{"declined", 400 * day, 5_000},
		feedback: table{"feedback", 0, 5_000},
		votes:    table{"vote", 30 * day, 20_000},
		learning: table{"learning", 400 * day, 100_000},
		runs:     table{"run", 2 * day, 2_000},
	}
}

func (t tables) all() []table {
	return []table{t.threads, t.live, t.seen, t.journal, t.declined, t.feedback, t.votes, t.learning, t.runs}
}

// Open opens the ledger in the file at path, for this process alone, and makes
// the file, readable to its owner only, if it is not there. A file that another
// process has, that is damaged, that a later version wrote or that cannot be
// written is refused and left as it is. One of an earlier version is copied to a
// file beside it and then brought up to date.
func Open(path string, o Options) (*Ledger, error) { return openFile(path, o, migrations()) }

func openFile(path string, o Options, steps []migration) (*Ledger, error) {
	o, err := o.withDefaults()
	if err != nil {
		return nil, err
	}
	store, err := openBolt(path, o.Timeout)
	if err != nil {
		return nil, err
	}
	if err := saveBefore(store, path, steps); err != nil {
		return nil, closing(store, err)
	}
	l, err := newLedger(store, o, steps)
	if err != nil {
		return nil, closing(store, fmt.Errorf("ledger %s: %w", path, err))
	}
	return l, nil
}

// closing closes what cannot be used because of err.
func closing(s Store, err error) error {
	if also := s.Close(); also != nil {
		return fmt.Errorf("%w; closing it: %v", err, also)
	}
	return err
}

// New opens the ledger that store keeps, brings it up to date if an earlier
// version wrote it, and sweeps it. The ledger closes the store.
func New(store Store, o Options) (*Ledger, error) { return newLedger(store, o, migrations()) }

func newLedger(store Store, o Options, steps []migration) (*Ledger, error) {
	o, err := o.withDefaults()
	if err != nil {
		return nil, err
	}
	salt, err := prepare(store, steps)
	if err != nil {
		return nil, err
	}
	l := &Ledger{store: store, spare: NewMemory().Store(), o: o, salt: salt, tables: newTables(o.ThreadDays)}
	_, err = l.Sweep()
	l.failed(unswept, err)
	return l, nil
}

// Close ends the use of the ledger. Closing twice does no harm; any other use
// afterwards fails with ErrClosed.
func (l *Ledger) Close() error { return l.store.Close() }

// view reads, at the time it is now.
func (l *Ledger) view(read func(turn) error) error { return viewAt(l.store, l.o.Now(), read) }

// update writes, at the time it is now. It may run write more than once.
func (l *Ledger) update(write func(turn) error) error { return updateAt(l.store, l.o.Now(), write) }

func viewAt(s Store, now time.Time, read func(turn) error) error {
	return s.View(func(tx Tx) error { return read(turn{tx, now}) })
}

func updateAt(s Store, now time.Time, write func(turn) error) error {
	return s.Update(func(tx Tx) error { return write(turn{tx, now}) })
}

// failed notes a failure that a method cannot return.
func (l *Ledger) failed(what string, err error) {
	if err != nil {
		l.o.Log.Error("ledger: "+what, "error", err)
	}
}

// doing says in an error what was being done.
func doing(what string, err error) error {
	if err != nil {
		return fmt.Errorf("ledger: %s: %w", what, err)
	}
	return nil
}
