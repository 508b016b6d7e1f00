package ledger

import (
	"encoding/binary"
	"errors"
	"strings"
	"time"
)

// Rows stand in the store like this, so that a table is read in the order of its
// keys or of their last use:
//
//	NAME:KEY       → time of last use, value
//	NAME<TIME KEY  → nothing
//	rows/NAME      → how many rows NAME has
//	meta/WHAT      → of the ledger itself, see schema.go

// stampSize is the length in bytes of a time in a row or key.
const stampSize = 8

// A turn is one transaction at one time.
type turn struct {
	Tx
	now time.Time
}

// A table is rows of one kind. Each remembers when it was last used.
type table struct {
	name string
	keep time.Duration // how long a row is kept after its last use; 0: for ever
	most int           // most rows
}

func (t table) rowKey(key string) string        { return t.name + ":" + key }
func (t table) ageKey(stamp, key string) string { return t.name + "<" + stamp + key }
func (t table) countKey() string                { return "rows/" + t.name }

// expired reports whether the time of a row is over.
func (t table) expired(e entry, x turn) bool { return t.keep > 0 && x.now.Sub(e.used) >= t.keep }

// An entry is a row of a table.
type entry struct {
	key   string
	value []byte // nil: there is no such row
	used  time.Time
	stamp string // used, as it stands in the row
}

// entryOf takes a row apart.
func (t table) entryOf(key string, raw []byte) (entry, error) {
	if len(raw) < stampSize {
		return entry{}, damaged("table %s has a row without a time", t.name)
	}
	stamp := string(raw[:stampSize])
	return entry{key, raw[stampSize:], timeOf(stamp), stamp}, nil
}

// raw returns the row under key, expired or not.
func (t table) raw(x turn, key string) (entry, error) {
	raw, err := x.Get(t.rowKey(key))
	if err != nil || raw == nil {
		return entry{}, err
	}
	return t.entryOf(key, raw)
}

// get returns the row under key, unless its time is over.
func (t table) get(x turn, key string) (entry, error) {
	e, err := t.raw(x, key)
	if err != nil || t.expired(e, x) {
		return entry{}, err
	}
	return e, nil
}

// put keeps value under key, used now.
func (t table) put(x turn, key string, value []byte) error {
	old, err := t.raw(x, key)
	if err != nil {
		return err
	}
	if old.value != nil {
		err = x.Delete(t.ageKey(old.stamp, key))
	} else {
		err = t.makeRoom(x)
	}
	if err != nil {
		return err
	}
	stamp := stampOf(x.now)
	if err := x.Put(t.ageKey(stamp, key), nil); err != nil {
		return err
	}
	return x.Put(t.rowKey(key), append([]byte(stamp), value...))
}

// makeRoom counts one more row, after the longest unused have gone if it would
// be one too many.
func (t table) makeRoom(x turn) error {
	count, err := t.count(x)
	if err != nil {
		return err
	}
	if over := count + 1 - t.most; over > 0 {
		old, err := t.oldest(x, over)
		if err != nil {
			return err
		}
		if err := t.drop(x, old); err != nil {
			return err
		}
		count -= len(old)
	}
	return t.setCount(x, count+1)
}

// remove removes the row under key, if there is one.
func (t table) remove(x turn, key string) error {
	e, err := t.raw(x, key)
	if err != nil || e.value == nil {
		return err
	}
	return t.removeAll(x, []entry{e})
}

// removeAll removes rows that are there.
func (t table) removeAll(x turn, rows []entry) error {
	count, err := t.count(x)
	if err != nil || len(rows) == 0 {
		return err
	}
	if err := t.drop(x, rows); err != nil {
		return err
	}
	return t.setCount(x, count-len(rows))
}

// drop removes rows and leaves the count to the caller.
func (t table) drop(x turn, rows []entry) error {
	for _, e := range rows {
		if err := x.Delete(t.ageKey(e.stamp, e.key)); err != nil {
			return err
		}
		if err := x.Delete(t.rowKey(e.key)); err != nil {
			return err
		}
	}
	return nil
}

// oldest returns up to n rows, the longest unused first, without their values.
func (t table) oldest(x turn, n int) (old []entry, err error) {
	prefix := t.ageKey("", "")
	err = x.Scan(prefix, func(key string, _ []byte) bool {
		if len(old) == n || !strings.HasPrefix(key, prefix) || len(key) < len(prefix)+stampSize {
			return false
		}
		stamp, rest := key[len(prefix):len(prefix)+stampSize], key[len(prefix)+stampSize:]
		old = append(old, entry{key: rest, used: timeOf(stamp), stamp: stamp})
		return true
	})
	return old, err
}

// list returns the rows whose key is not below from and begins with prefix, in
// order of key, expired or not.
func (t table) list(x turn, from, prefix string) (rows []entry, bad error) {
	limit := t.rowKey(prefix)
	err := x.Scan(max(t.rowKey(from), limit), func(key string, raw []byte) bool {
		if !strings.HasPrefix(key, limit) {
			return false
		}
		var e entry
		e, bad = t.entryOf(strings.TrimPrefix(key, t.rowKey("")), raw)
		rows = append(rows, e)
		return bad == nil
	})
	return rows, errors.Join(err, bad)
}

// live returns what list does without the rows whose time is over.
func (t table) live(x turn, from, prefix string) (rows []entry, err error) {
	all, err := t.list(x, from, prefix)
	for _, e := range all {
		if !t.expired(e, x) {
			rows = append(rows, e)
		}
	}
	return rows, err
}

// count returns how many rows there are, expired ones too.
func (t table) count(x turn) (int, error) {
	raw, err := x.Get(t.countKey())
	switch {
	case err != nil || raw == nil:
		return 0, err
	case len(raw) != stampSize:
		return 0, damaged("table %s has a count of %d bytes", t.name, len(raw))
	}
	return int(binary.BigEndian.Uint64(raw)), nil
}

func (t table) setCount(x turn, n int) error {
	return x.Put(t.countKey(), binary.BigEndian.AppendUint64(nil, uint64(n)))
}

// stampOf writes a time, to the microsecond, so that stamps order as times do.
func stampOf(at time.Time) string {
	return string(binary.BigEndian.AppendUint64(nil, uint64(at.UnixMicro())^1<<63))
}

func timeOf(stamp string) time.Time {
	return time.UnixMicro(int64(binary.BigEndian.Uint64([]byte(stamp)) ^ 1<<63))
}
