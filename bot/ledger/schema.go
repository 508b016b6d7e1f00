package ledger

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
)

const (
	schemaKey = "meta/schema" // the version of the layout, as a decimal number from 1 on
	saltKey   = "meta/salt"   // the random key of all hashes
	saltSize  = 32            // bytes
)

// A migration brings the rows from one version of the layout to the next, in one
// transaction. Like all writes it may be run more than once until it is kept.
type migration func(Tx) error

// migrations returns the steps from version 1 on; the program's own version is
// one more than there are steps. To change the layout, add a step at the end and
// never alter one that was released.
func migrations() []migration { return nil }

// prepare brings a store to the newest version, making what a new one needs, and
// returns its salt.
func prepare(s Store, steps []migration) (salt []byte, err error) {
	err = s.View(func(tx Tx) error {
		salt, err = current(tx, len(steps)+1)
		return err
	})
	if err != nil || salt != nil {
		return salt, err
	}
	err = s.Update(func(tx Tx) error {
		salt, err = bring(tx, steps)
		return err
	})
	return salt, err
}

// current returns the salt if the rows are at this version, nil if they are to
// be brought there.
func current(tx Tx, newest int) ([]byte, error) {
	version, err := versionOf(tx)
	switch {
	case err != nil:
		return nil, err
	case version > newest:
		return nil, fmt.Errorf("its layout is version %d, and this program knows 1 to %d: "+
			"use the newer program, or put the backup from before its first start in place", version, newest)
	case version < newest:
		return nil, nil
	}
	return saltOf(tx)
}

func bring(tx Tx, steps []migration) ([]byte, error) {
	version, err := versionOf(tx)
	if err != nil {
		return nil, err
	}
	if version == 0 {
		if err := begin(tx); err != nil {
			return nil, err
		}
		version = len(steps) + 1
	}
	for ; version <= len(steps); version++ {
		if err := steps[version-1](tx); err != nil {
			return nil, fmt.Errorf("bringing its layout from version %d to %d: %w", version, version+1, err)
		}
	}
	if err := tx.Put(schemaKey, []byte(strconv.Itoa(version))); err != nil {
		return nil, err
	}
	return saltOf(tx)
}

// begin makes what a new ledger needs.
func begin(tx Tx) error {
	salt := make([]byte, saltSize)
	rand.Read(salt) // never fails, see its documentation
	return tx.Put(saltKey, salt)
}

// versionOf returns the version of the rows, 0 if there are none yet.
func versionOf(tx Tx) (int, error) {
	raw, err := tx.Get(schemaKey)
	if err != nil || raw == nil {
		return 0, err
	}
	version, err := strconv.Atoi(string(raw))
	if err != nil || version < 1 {
		return 0, damaged("its version is %q, not a number from 1 on", raw)
	}
	return version, nil
}

func saltOf(tx Tx) ([]byte, error) {
	salt, err := tx.Get(saltKey)
	if err == nil && len(salt) != saltSize {
		err = damaged("its random key has %d bytes, not %d", len(salt), saltSize)
	}
	return append([]byte(nil), salt...), err
}

// saveBefore copies the store of the file at path to a file beside it if it is
// about to be brought to another version.
func saveBefore(s Store, path string, steps []migration) error {
	version := 0
	err := s.View(func(tx Tx) (err error) {
		version, err = versionOf(tx)
		return err
	})
	if err != nil || version == 0 || version > len(steps) {
		return err
	}
	kept := fmt.Sprintf("%s.version-%d", path, version)
	if err := saveAs(s, kept); err != nil {
		return fmt.Errorf("ledger %s: keeping it as %s before it is brought up to date: %w", path, kept, err)
	}
	return nil
}

// saveAs writes the rows of s to a new file at path, whole or not at all. A file
// that is there already stays: it is from before an attempt that failed.
func saveAs(s Store, path string) error {
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".ledger-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	whole := filepath.Join(dir, "copy")
	if err := copyToFile(s, whole); err != nil {
		return err
	}
	return os.Rename(whole, path)
}
