package ledger

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

const (
	bucketName = "ledger" // the one bucket, which holds all rows
	fileMode   = 0o600    // what is in a ledger is nobody else's business
	sumSize    = 4        // bytes of checksum before each value
)

// errNoFile means a path at which there is something other than a file.
var errNoFile = errors.New("not a file")

// A boltStore keeps rows in one file. Every value has a checksum of its key and
// itself before it.
type boltStore struct {
	db      *bbolt.DB
	commits *commits
}

// OpenStore opens the rows in the file at path as Open does, without looking at
// what they mean: to copy them to another store. It waits for timeout if another
// process has the file, and for ever if that is 0.
func OpenStore(path string, timeout time.Duration) (Store, error) {
	s, err := openBolt(path, timeout)
	if err != nil {
		return nil, err
	}
	return s, nil
}

// openBolt opens the file at path, which is made if it is not there, after all
// of it was read and found sound.
func openBolt(path string, timeout time.Duration) (*boltStore, error) {
	err := inspect(path, timeout)
	if err != nil {
		return nil, openError(path, err)
	}
	db, err := bbolt.Open(path, fileMode, &bbolt.Options{Timeout: timeout, FreelistType: bbolt.FreelistMapType})
	if err != nil {
		return nil, openError(path, err)
	}
	if err := os.Chmod(path, fileMode); err != nil { // it may have been made by another hand
		return nil, errors.Join(openError(path, err), db.Close())
	}
	s := &boltStore{db: db}
	s.commits = &commits{run: s.run}
	return s, nil
}

// inspect reads the file, if there is one with something in it, and looks for
// damage. It opens the file to read only: the library then does nothing by
// itself that a damaged file could turn into a panic with the file still locked.
func inspect(path string, timeout time.Duration) (err error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) || err == nil && info.Size() == 0 && info.Mode().IsRegular():
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return errNoFile
	}
	var file *os.File
	db, err := bbolt.Open(path, fileMode, &bbolt.Options{
		ReadOnly: true,
		Timeout:  timeout,
		OpenFile: func(name string, flag int, mode os.FileMode) (*os.File, error) {
			f, err := os.OpenFile(name, flag, mode)
			file = f
			return f, err
		},
	})
	if err != nil {
		return err
	}
	return errors.Join(db.View(func(tx *bbolt.Tx) error { return verify(tx, file) }), db.Close())
}

// openError says what stands in the way of opening path, and the mend.
func openError(path string, err error) error {
	switch {
	case errors.Is(err, errNoFile):
		return fmt.Errorf("ledger %s is not a file: name one with -ledger", path)
	case errors.Is(err, berrors.ErrTimeout):
		return fmt.Errorf("another process has %s: stop it, or give this one its own -ledger", path)
	case errors.Is(err, errForeign):
		return fmt.Errorf("%s is no ledger: it holds something else; name another file with -ledger", path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("ledger %s cannot be written: let this user read and write it, or name another file with -ledger: %w", path, err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("ledger %s has no folder: make %s, or name another file with -ledger: %w", path, filepath.Dir(path), err)
	case isOfSystem(err):
		return fmt.Errorf("ledger %s cannot be opened: mend that, or name another file with -ledger: %w", path, err)
	}
	return fmt.Errorf("ledger %s is damaged: it was left as it is; put a backup in its place, "+
		"or move it away to begin an empty one: %w", path, err)
}

// isOfSystem reports whether the operating system refused, rather than the
// content of the file.
func isOfSystem(err error) bool {
	var path *fs.PathError
	var number syscall.Errno
	return errors.As(err, &path) || errors.As(err, &number)
}

// A damageError says what is wrong with a file.
type damageError string

func (e damageError) Error() string { return string(e) }

func damaged(format string, args ...any) error { return damageError(fmt.Sprintf(format, args...)) }

// catch turns a panic over a damaged file into an error: the library panics on
// pages it cannot read, and a page that the disk does not give up is a fault.
// It is to be deferred.
func catch(err *error) {
	if trouble := recover(); trouble != nil {
		*err = damaged("%v", trouble)
	}
}

func (s *boltStore) Close() error { return s.db.Close() }

func (s *boltStore) View(read func(Tx) error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer catch(&err)
	return closedError(s.db.View(func(tx *bbolt.Tx) error { return read(boltTx{tx.Bucket([]byte(bucketName))}) }))
}

func (s *boltStore) Update(write func(Tx) error) error { return s.commits.add(write) }

// run is one transaction.
func (s *boltStore) run(write func(Tx) error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer catch(&err)
	return closedError(s.db.Update(func(tx *bbolt.Tx) error {
		bucket, err := tx.CreateBucketIfNotExists([]byte(bucketName))
		if err != nil {
			return err
		}
		return write(boltTx{bucket})
	}))
}

func closedError(err error) error {
	if errors.Is(err, berrors.ErrDatabaseNotOpen) {
		return ErrClosed
	}
	return err
}

// A boltTx has no bucket while nothing was ever written.
type boltTx struct{ bucket *bbolt.Bucket }

func (tx boltTx) Get(key string) ([]byte, error) {
	if tx.bucket == nil {
		return nil, nil
	}
	sealed := tx.bucket.Get([]byte(key))
	if sealed == nil {
		return nil, nil
	}
	return unseal([]byte(key), sealed)
}

func (tx boltTx) Put(key string, value []byte) error {
	if tx.bucket == nil || !tx.bucket.Writable() {
		return errReadOnly
	}
	return tx.bucket.Put([]byte(key), seal([]byte(key), value))
}

func (tx boltTx) Delete(key string) error {
	if tx.bucket == nil || !tx.bucket.Writable() {
		return errReadOnly
	}
	return tx.bucket.Delete([]byte(key))
}

func (tx boltTx) Scan(from string, each func(key string, value []byte) bool) error {
	if tx.bucket == nil {
		return nil
	}
	c := tx.bucket.Cursor()
	for key, sealed := c.Seek([]byte(from)); key != nil; key, sealed = c.Next() {
		value, err := unseal(key, sealed)
		if err != nil {
			return err
		}
		if !each(string(key), value) {
			break
		}
	}
	return nil
}

// seal returns value with its checksum before it.
func seal(key, value []byte) []byte {
	sealed := make([]byte, sumSize, sumSize+len(value))
	binary.BigEndian.PutUint32(sealed, sum(key, value))
	return append(sealed, value...)
}

// unseal returns the value of a row, if it is the one that was put there.
func unseal(key, sealed []byte) ([]byte, error) {
	if len(sealed) < sumSize || binary.BigEndian.Uint32(sealed) != sum(key, sealed[sumSize:]) {
		return nil, damaged("a row does not match its checksum")
	}
	return sealed[sumSize:], nil
}

func sum(key, value []byte) uint32 {
	castagnoli := crc32.MakeTable(crc32.Castagnoli)
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}
