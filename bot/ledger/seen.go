package ledger

import "time"

// Seen reports whether key was given within the last 24 hours, and remembers it,
// in one step: of any number that ask at once about a new key, one is told no.
// The empty key is nobody's and never seen.
//
// If the ledger cannot be written it tells the log and remembers the key in
// memory instead: better a question answered twice after a restart than one not
// answered at all.
func (l *Ledger) Seen(key string) bool {
	if key == "" {
		return false
	}
	hidden, now := l.hidden("delivery", key), l.o.Now()
	again, err := l.see(l.store, hidden, now)
	if err != nil {
		l.failed("a delivery is remembered in memory only", err)
		again, _ = l.see(l.spare, hidden, now)
	}
	return again
}

// see remembers key in a store. Most often a key that is there is found by
// reading alone, which waits for nothing.
func (l *Ledger) see(s Store, key string, now time.Time) (again bool, err error) {
	look := func(x turn) error {
		e, err := l.seen.get(x, key)
		again = e.value != nil
		return err
	}
	if err := viewAt(s, now, look); err != nil || again {
		return again, err
	}
	err = updateAt(s, now, func(x turn) error {
		if err := look(x); err != nil || again {
			return err
		}
		return l.seen.put(x, key, nil)
	})
	return again, err
}
