package ledger

import "errors"

// ErrClosed is what every use of a closed ledger returns.
var ErrClosed = errors.New("the ledger is closed")

// errReadOnly is what a write inside View returns.
var errReadOnly = errors.New("the ledger cannot be written while it is only read")

// errNoKey refuses the empty key, which not every store can hold.
var errNoKey = errors.New("a row needs a key")

// A Store keeps rows, each a key with a value, for a Ledger. Keys are ordered
// byte by byte. It may be used by any number of goroutines.
type Store interface {
	// View runs read on one consistent state of the rows. A write inside it fails.
	View(read func(Tx) error) error

	// Update runs write alone and keeps all that it wrote, durably, before it
	// returns; or nothing, if write returns an error, which Update passes on.
	// A store may run write more than once until it can be kept, so write must
	// set its results afresh each time and do nothing but use the Tx.
	Update(write func(Tx) error) error

	// Close ends the use of the store. Closing twice does no harm; any other
	// use afterwards returns ErrClosed.
	Close() error
}

// A Tx reads and writes the rows of one transaction. Values it hands out may be
// used until the transaction ends and must not be changed.
type Tx interface {
	// Get returns the value under key, or nil if there is none. An empty value
	// is not nil.
	Get(key string) ([]byte, error)

	// Put keeps a copy of value under key, in place of any earlier one. The
	// empty key is refused.
	Put(key string, value []byte) error

	// Delete removes the row under key, if there is one.
	Delete(key string) error

	// Scan calls row for each key that is not below from, in ascending order,
	// until row returns false. Row must not write.
	Scan(from string, row func(key string, value []byte) bool) error
}

// copyBatch is how many rows Copy writes in one transaction.
const copyBatch = 1000

type row struct {
	key   string
	value []byte
}

// Copy writes every row of one store to another, from one consistent state: to
// back up, to make a file smaller, to move from a file to another store. Rows
// that the other store had before and does not share stay there.
func Copy(to, from Store) error {
	return from.View(func(tx Tx) error {
		for start := ""; ; {
			rows, err := readRows(tx, start)
			if err != nil || len(rows) == 0 {
				return err
			}
			if err := writeRows(to, rows); err != nil {
				return err
			}
			start = rows[len(rows)-1].key + "\x00" // the next key there can be
		}
	})
}

func readRows(tx Tx, start string) (rows []row, err error) {
	err = tx.Scan(start, func(key string, value []byte) bool {
		rows = append(rows, row{key, value})
		return len(rows) < copyBatch
	})
	return rows, err
}

func writeRows(to Store, rows []row) error {
	return to.Update(func(tx Tx) error {
		for _, r := range rows {
			if err := tx.Put(r.key, r.value); err != nil {
				return err
			}
		}
		return nil
	})
}
