package ledger

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"time"
)

// Backup writes the ledger to w, as one consistent state, in the form of a file
// that Open takes; the ledger may be used meanwhile. It holds live rows only, so
// it is often smaller than the file. While it is made a copy stands in a folder
// of the system for temporary files, readable to this user only.
//
// To go back to a backup, stop the program and put the backup in the file's
// place.
func (l *Ledger) Backup(w io.Writer) error { return doing("backup", backup(l.store, w)) }

func backup(s Store, w io.Writer) error {
	dir, err := os.MkdirTemp("", "ledger-backup-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "copy")
	if err := copyToFile(s, path); err != nil {
		return err
	}
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = io.Copy(w, file)
	return err
}

// copyToFile writes the rows of s to a new file.
func copyToFile(s Store, path string) error {
	file, err := openBolt(path, time.Second)
	if err != nil {
		return err
	}
	return errors.Join(Copy(file, s), file.Close())
}

// sweepBatch is how many rows a sweep removes in one transaction, so that others
// need not wait long.
const sweepBatch = 500

// unswept is what the log is told when a sweep fails.
const unswept = "rows whose time is over were not removed"

// Sweep removes the rows whose time is over and returns how many there were.
func (l *Ledger) Sweep() (int, error) {
	total := 0
	for _, t := range l.tables.all() {
		for removed := sweepBatch; removed == sweepBatch; total += removed {
			var err error
			if removed, err = l.sweep(t); err != nil {
				return total, doing("sweep", err)
			}
		}
	}
	return total, nil
}

// sweep removes the expired rows of a table, up to a batch of them.
func (l *Ledger) sweep(t table) (removed int, err error) {
	var old []entry
	find := func(x turn) error {
		old, err = t.outlived(x, sweepBatch)
		return err
	}
	if err := l.view(find); err != nil || len(old) == 0 {
		return 0, err // nothing to write, and so nothing to wait for
	}
	err = l.update(func(x turn) error {
		if err := find(x); err != nil {
			return err
		}
		return t.removeAll(x, old)
	})
	return len(old), err
}

// outlived returns up to n rows whose time is over.
func (t table) outlived(x turn, n int) ([]entry, error) {
	if t.keep == 0 {
		return nil, nil
	}
	old, err := t.oldest(x, n)
	for i, e := range old {
		if !t.expired(e, x) {
			return old[:i], err
		}
	}
	return old, err
}

// SweepEvery sweeps again and again until ctx ends, and tells the log if that
// fails. Every hour is often enough.
func (l *Ledger) SweepEvery(ctx context.Context, pause time.Duration) {
	ticker := time.NewTicker(pause)
	defer ticker.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-ticker.C:
			_, err := l.Sweep()
			l.failed(unswept, err)
		}
	}
}

// Rows returns how many rows each table holds, those not yet swept included.
func (l *Ledger) Rows() (map[string]int, error) {
	rows := make(map[string]int)
	err := l.view(func(x turn) error {
		for _, t := range l.tables.all() {
			n, err := t.count(x)
			if err != nil {
				return err
			}
			rows[t.name] = n
		}
		return nil
	})
	return rows, doing("count rows", err)
}
