package ledger_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"mortarboard/bot/ledger"
)

// The kinds of pages.
const (
	innerPage = 1
	leafPage  = 2
	freePage  = 16
)

// A bytesOf is a file's bytes, to be spoilt where chance would seldom hit.
type bytesOf []byte

func (b bytesOf) number(at int) uint64        { return binary.NativeEndian.Uint64(b[at:]) }
func (b bytesOf) setNumber(at int, to uint64) { binary.NativeEndian.PutUint64(b[at:], to) }
func (b bytesOf) half(at int) uint32          { return binary.NativeEndian.Uint32(b[at:]) }
func (b bytesOf) setHalf(at int, to uint32)   { binary.NativeEndian.PutUint32(b[at:], to) }

// find returns where a page of this kind begins whose loss makes the file
// unsound.
func (b bytesOf) find(t *testing.T, kind uint16) int {
	t.Helper()
	size := os.Getpagesize()
	for at := 2 * size; at < len(b); at += size {
		if binary.NativeEndian.Uint16(b[at+8:]) == kind && b.number(at) == uint64(at/size) {
			wiped := bytes.Clone(b)
			clear(wiped[at : at+size])
			if opening(t, wiped) != nil {
				return at
			}
		}
	}
	t.Fatalf("the sample has no page of kind %d", kind)
	return 0
}

// opening returns what stands in the way of opening a file.
func opening(t *testing.T, file []byte) error {
	t.Helper()
	path := filepath.Join(t.TempDir(), "crafted")
	must(t, os.WriteFile(path, file, 0o600))
	s, err := ledger.OpenStore(path, time.Second)
	if err == nil {
		must(t, s.Close())
	}
	return err
}

func TestCrafted(t *testing.T) {
	file, _ := sample(t)
	size := os.Getpagesize()
	const first, child, second = 16, 16 + 8, 16 + 16 // in a page: its elements, and which page one leads to
	for name, c := range map[string]struct {
		kind  uint16
		spoil func(b bytesOf, at int)
		want  string
	}{
		"a page below itself":    {innerPage, func(b bytesOf, at int) { b.setNumber(at+child, uint64(at/size)) }, "is used twice"},
		"two ways to a page":     {innerPage, func(b bytesOf, at int) { b.setNumber(at+child, b.number(at+32+child)) }, "out of order"},
		"a page beyond the last": {innerPage, func(b bytesOf, at int) { b.setNumber(at+child, 1<<40) }, "is not between"},
		"the head as a page":     {innerPage, func(b bytesOf, at int) { b.setNumber(at+child, 1) }, "is not between"},
		"a page longer than all": {leafPage, func(b bytesOf, at int) { b.setHalf(at+12, 0xFFFF) }, "is not what it should be"},
		"too many elements":      {leafPage, func(b bytesOf, at int) { b[at+10], b[at+11] = 0xFF, 0xFF }, "has lost its count"},
		"a row twice": {leafPage, func(b bytesOf, at int) {
			copy(b[at+second:at+second+16], b[at+first:])
			b.setHalf(at+second+4, b.half(at+first+4)-16) // counted from the element itself
		}, "out of order"},
		"a row of another kind": {leafPage, func(b bytesOf, at int) { b.setHalf(at+first, 2) }, "a row is of no known kind"},
		"a page free and in use": {freePage, func(b bytesOf, at int) {
			inner := b.find(t, innerPage)
			b[at+10], b[at+11] = 1, 0 // one free page, on machines with the low byte first
			b.setNumber(at+first, uint64(inner/size))
		}, "cannot be free"},
		"a free page beyond the last": {freePage, func(b bytesOf, at int) {
			b[at+10], b[at+11] = 1, 0
			b.setNumber(at+first, 1<<40)
		}, "cannot be free"},
		"more free than there is room": {freePage, func(b bytesOf, at int) {
			b[at+10], b[at+11] = 0xFF, 0xFF
			b.setNumber(at+first, 1<<61)
		}, "the list of free pages"},
		"a free page forgotten": {freePage, func(b bytesOf, at int) { b[at+10]-- }, "1 pages are neither in use nor free"},
	} {
		t.Run(name, func(t *testing.T) {
			b := bytesOf(bytes.Clone(file))
			c.spoil(b, b.find(t, c.kind))
			if err := opening(t, b); !strings.Contains(fmt.Sprint(err), c.want) {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
		})
	}
	t.Run("its last page missing", func(t *testing.T) {
		const pages = 56 // in a head of the file: the first page number not in use
		whole := int(max(bytesOf(file).number(pages), bytesOf(file).number(size+pages))) * size
		err := opening(t, file[:whole-size])
		if want := fmt.Sprintf("%d of its %d bytes are missing", size, whole); !strings.Contains(fmt.Sprint(err), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	})
}

// TestRowInAnothersPlace moves a sound row to a key that is not its own.
func TestRowInAnothersPlace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	must(t, openFile(t, path).Close())
	db, err := bbolt.Open(path, 0o600, nil)
	must(t, err)
	must(t, db.Update(func(tx *bbolt.Tx) error {
		rows := tx.Bucket([]byte("ledger"))
		return rows.Put([]byte("another"), bytes.Clone(rows.Get([]byte("meta/salt"))))
	}))
	must(t, db.Close())
	refused(t, path, "ledger FILE is damaged: it was left as it is; put a backup in its place, "+
		"or move it away to begin an empty one: a row does not match its checksum")
}
