package ledger

import "time"

// see remembers keys in a store and, unless owed is empty, puts it into the
// journal: all of it in one write, or nothing if any of the keys is there. Most
// often a key that is there is found by reading alone, which waits for nothing.
func (l *Ledger) see(s Store, keys []string, owed string, now time.Time) (again bool, err error) {
	look := func(x turn) error {
		again, err = l.anySeen(x, keys)
		return err
	}
	if err := viewAt(s, now, look); err != nil || again {
		return again, err
	}
	err = updateAt(s, now, func(x turn) error {
		if err := look(x); err != nil || again {
			return err
		}
		return l.note(x, keys, owed)
	})
	return again, err
}

// anySeen reports whether any of keys is remembered.
func (l *Ledger) anySeen(x turn, keys []string) (bool, error) {
	for _, key := range keys {
		if e, err := l.seen.get(x, key); err != nil || e.value != nil {
			return err == nil, err
		}
	}
	return false, nil
}

func (l *Ledger) note(x turn, keys []string, owed string) error {
	for _, key := range keys {
		if err := l.seen.put(x, key, nil); err != nil {
			return err
		}
	}
	if owed == "" {
		return nil
	}
	return l.journal.put(x, owed, nil)
}

// hiddenKeys is how the keys of a delivery stand in the ledger. The empty key is
// nobody's and never seen.
func (l *Ledger) hiddenKeys(keys []string) []string {
	var hidden []string
	for _, key := range keys {
		if key != "" {
			hidden = append(hidden, l.hidden("delivery", key))
		}
	}
	return hidden
}
