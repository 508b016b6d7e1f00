package ledger

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"time"
)

const (
	threadMost = 32 << 10  // bytes of a thread's value
	useMargin  = time.Hour // how far the noted time of use may lag behind
)

// Load returns what Save kept for a thread, and when the thread was last used;
// nil if there is nothing or it was not used for Options.ThreadDays. Load counts
// as use, which is noted to the hour.
func (l *Ledger) Load(thread string) (value []byte, used time.Time, err error) {
	key := l.hidden("thread", thread)
	err = l.view(func(x turn) error {
		e, err := l.threads.get(x, key)
		value, used = bytes.Clone(e.value), e.used
		return err
	})
	if err == nil && value != nil && l.o.Now().Sub(used) >= useMargin {
		err = l.touch(key)
	}
	return value, used, doing("load a thread", err)
}

// touch notes that a thread was used now.
func (l *Ledger) touch(key string) error {
	return l.update(func(x turn) error {
		e, err := l.threads.get(x, key)
		if err != nil || e.value == nil {
			return err
		}
		return l.threads.put(x, key, bytes.Clone(e.value))
	})
}

// Save keeps value, which must be JSON of at most 32 KiB, for a thread, in place
// of what was kept before. It is for facts, never for what somebody wrote.
func (l *Ledger) Save(thread string, value []byte) error {
	return doing("save a thread", l.saveThread(thread, value))
}

func (l *Ledger) saveThread(thread string, value []byte) error {
	if err := cmp.Or(checkName("a thread", thread), checkValue(value)); err != nil {
		return err
	}
	key := l.hidden("thread", thread)
	if same, err := l.isKept(key, value); err != nil || same {
		return err
	}
	return l.update(func(x turn) error { return l.threads.put(x, key, value) })
}

func checkValue(value []byte) error {
	switch {
	case len(value) > threadMost:
		return fmt.Errorf("a value of %d bytes: at most %d are allowed", len(value), threadMost)
	case !json.Valid(value):
		return fmt.Errorf("a value of %d bytes that is not JSON", len(value))
	}
	return nil
}

// isKept reports whether saving would change nothing, not even the noted use.
func (l *Ledger) isKept(key string, value []byte) (same bool, err error) {
	err = l.view(func(x turn) error {
		e, err := l.threads.get(x, key)
		same = e.value != nil && bytes.Equal(e.value, value) && x.now.Sub(e.used) < useMargin
		return err
	})
	return same, err
}

// Delete forgets a thread.
func (l *Ledger) Delete(thread string) error {
	key := l.hidden("thread", thread)
	return doing("delete a thread", l.update(func(x turn) error { return l.threads.remove(x, key) }))
}

// Known reports whether something is kept for a thread. It does not count as
// use. If the ledger cannot be read it tells the log and says no.
func (l *Ledger) Known(thread string) bool {
	known := false
	err := l.view(func(x turn) error {
		e, err := l.threads.get(x, l.hidden("thread", thread))
		known = e.value != nil
		return err
	})
	l.failed("a thread was taken for unknown", err)
	return known
}
