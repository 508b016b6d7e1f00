package ledger

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"os"

	"go.etcd.io/bbolt"
)

// The library trusts the pages of a file: over a damaged one it may panic, run in
// a circle, or hand a page that is in use to the next write. So verify reads the
// pages by itself first and trusts none. The layout is that of version 2 of the
// file format, in the machine's byte order: a page begins with its number (8
// bytes), kind (2), count of elements (2) and how many more pages it spans (4);
// elements of 16 bytes follow, then keys and values.
const (
	headSize    = 16
	elementSize = 16
	branchKind  = 0x01
	leafKind    = 0x02
	freeKind    = 0x10
	bucketFlag  = 0x01 // of a leaf's element: its value is a bucket
	bucketHead  = 16   // bytes of root page and sequence before a bucket kept in its parent
	firstPage   = 2    // the first that is not a head of the file
)

// errForeign means a sound file that is not ours.
var errForeign = errors.New("another program's file")

// A survey walks the pages of a file.
type survey struct {
	file     io.ReaderAt
	pageSize uint64
	high     uint64 // the first page number that is not in use
	used     map[uint64]bool
	others   bool // a bucket or row that is not ours was met
}

// verify checks every page that tx can reach, every row, and that no page that is
// in use counts as free.
func verify(tx *bbolt.Tx, file *os.File) error {
	info, err := file.Stat()
	if err != nil {
		return err
	}
	if info.Size() < tx.Size() {
		return damaged("%d of its %d bytes are missing", tx.Size()-info.Size(), tx.Size())
	}
	pageSize := uint64(tx.DB().Info().PageSize)
	head := make([]byte, 80)
	if _, err := file.ReadAt(head, int64(uint64(tx.ID())%2*pageSize)); err != nil {
		return damaged("its head cannot be read: %v", err)
	}
	word := func(at int) uint64 { return binary.NativeEndian.Uint64(head[at:]) }
	root, free, high := word(32), word(48), word(56)
	s := &survey{file: file, pageSize: pageSize, high: high, used: make(map[uint64]bool)}
	if err := s.tree(root, span{}, s.bucket); err != nil {
		return err
	}
	if s.others {
		return errForeign
	}
	return s.free(free)
}

// A span is where the keys of a page must lie: from low on, and below high
// unless that is nil.
type span struct{ low, high []byte }

func (s span) holds(key []byte) bool {
	return bytes.Compare(key, s.low) >= 0 && (s.high == nil || bytes.Compare(key, s.high) < 0)
}

// A visit is called for each element of a leaf.
type visit func(flags uint32, key, value []byte) error

// tree walks the page with this number and all below it.
func (s *survey) tree(id uint64, within span, each visit) error {
	p, err := s.page(id)
	if err != nil {
		return err
	}
	switch p.kind() {
	case leafKind:
		return p.leaf(within, each)
	case branchKind:
		return s.branch(p, within, each)
	}
	return damaged("page %d is of no known kind", id)
}

// page reads a page and marks it used.
func (s *survey) page(id uint64) (page, error) {
	if id < firstPage || id >= s.high {
		return nil, damaged("page %d is not between %d and %d", id, firstPage, s.high)
	}
	head := make(page, headSize)
	if _, err := s.file.ReadAt(head, int64(id*s.pageSize)); err != nil {
		return nil, damaged("page %d cannot be read: %v", id, err)
	}
	more := uint64(binary.NativeEndian.Uint32(head[12:]))
	if binary.NativeEndian.Uint64(head) != id || id+more >= s.high {
		return nil, damaged("page %d is not what it should be", id)
	}
	for i := id; i <= id+more; i++ {
		if s.used[i] {
			return nil, damaged("page %d is used twice", i)
		}
		s.used[i] = true
	}
	p := make(page, (more+1)*s.pageSize)
	if _, err := s.file.ReadAt(p, int64(id*s.pageSize)); err != nil {
		return nil, damaged("page %d cannot be read: %v", id, err)
	}
	return p, nil
}

func (s *survey) branch(p page, within span, each visit) error {
	if p.count() == 0 || !p.counts(0) {
		return damaged("an inner page has lost its count")
	}
	for i := range p.count() {
		key, child, ok := p.child(i)
		below := span{key, within.high}
		if i+1 < p.count() {
			next, _, sound := p.child(i + 1)
			below.high, ok = next, ok && sound
		}
		if !ok || !within.holds(key) || below.high != nil && bytes.Compare(key, below.high) >= 0 {
			return damaged("an inner page is out of order")
		}
		if err := s.tree(child, below, each); err != nil {
			return err
		}
	}
	return nil
}

// bucket visits what the file holds at its top: our bucket, and nothing else.
func (s *survey) bucket(flags uint32, key, value []byte) error {
	if flags&bucketFlag == 0 || string(key) != bucketName {
		s.others = true
		return nil
	}
	if len(value) < bucketHead {
		return damaged("the bucket is cut off")
	}
	root := binary.NativeEndian.Uint64(value)
	if root != 0 {
		return s.tree(root, span{}, checkRow)
	}
	if inner := page(value[bucketHead:]); len(inner) >= headSize && inner.kind() == leafKind {
		return inner.leaf(span{}, checkRow)
	}
	return damaged("the bucket is of no known kind")
}

// checkRow visits a row of ours.
func checkRow(flags uint32, key, value []byte) error {
	if flags != 0 {
		return damaged("a row is of no known kind")
	}
	_, err := unseal(key, value)
	return err
}

// free checks the list of free pages.
func (s *survey) free(id uint64) error {
	p, err := s.page(id)
	if err != nil {
		return err
	}
	numbers, ok := p.numbers()
	if p.kind() != freeKind || !ok {
		return damaged("the list of free pages is of no known kind")
	}
	last := uint64(firstPage - 1)
	for _, n := range numbers {
		if n <= last || n >= s.high || s.used[n] {
			return damaged("page %d cannot be free", n)
		}
		last = n
	}
	if lost := s.high - firstPage - uint64(len(s.used)+len(numbers)); lost != 0 {
		return damaged("%d pages are neither in use nor free", lost)
	}
	return nil
}

// A page is the bytes of a page and those it spans besides.
type page []byte

func (p page) kind() uint16 { return binary.NativeEndian.Uint16(p[8:]) }
func (p page) count() int   { return int(binary.NativeEndian.Uint16(p[10:])) }

// part returns size bytes from at on, if they are within the page.
func (p page) part(at, size uint64) ([]byte, bool) {
	if at > uint64(len(p)) || size > uint64(len(p))-at {
		return nil, false
	}
	return p[at : at+size], true
}

// counts reports whether the count of elements can be true: keys and values are
// written right behind the elements, and there are none if there is no element.
// In an element, where its key stands is written at pos.
func (p page) counts(pos int) bool {
	if p.count() == 0 {
		return len(bytes.Trim(p[headSize:], "\x00")) == 0
	}
	e, at, ok := p.element(0)
	return ok && at+number(e, pos) == headSize+elementSize*uint64(p.count())
}

// element returns the fixed part of an element and where it stands.
func (p page) element(i int) (e []byte, at uint64, ok bool) {
	at = headSize + elementSize*uint64(i)
	e, ok = p.part(at, elementSize)
	return e, at, ok
}

// child returns an element of an inner page.
func (p page) child(i int) (key []byte, id uint64, ok bool) {
	e, at, ok := p.element(i)
	if !ok {
		return nil, 0, false
	}
	key, ok = p.part(at+number(e, 0), number(e, 4))
	return key, binary.NativeEndian.Uint64(e[8:]), ok
}

// leaf visits the elements of a leaf, which must be in order.
func (p page) leaf(within span, each visit) error {
	if !p.counts(4) {
		return damaged("a page has lost its count of rows")
	}
	for i := range p.count() {
		e, at, ok := p.element(i)
		if !ok {
			return damaged("a page is cut off")
		}
		key, sound := p.part(at+number(e, 4), number(e, 8))
		value, whole := p.part(at+number(e, 4)+number(e, 8), number(e, 12))
		if !sound || !whole || !within.holds(key) {
			return damaged("a page is out of order")
		}
		if err := each(uint32(number(e, 0)), key, value); err != nil {
			return err
		}
		within.low = append(bytes.Clone(key), 0) // the next key there can be
	}
	return nil
}

// numbers returns the page numbers that a list of free pages holds. One too long
// for its count has the true count before the first.
func (p page) numbers() ([]uint64, bool) {
	count, at := uint64(p.count()), uint64(headSize)
	if count == 0xFFFF {
		count, at = binary.NativeEndian.Uint64(p[headSize:]), headSize+8
	}
	raw, ok := p.part(at, min(count, uint64(len(p)))*8)
	numbers := make([]uint64, len(raw)/8)
	for i := range numbers {
		numbers[i] = binary.NativeEndian.Uint64(raw[8*i:])
	}
	return numbers, ok
}

// number reads a number of an element's fixed part.
func number(e []byte, at int) uint64 { return uint64(binary.NativeEndian.Uint32(e[at:])) }
