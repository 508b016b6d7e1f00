package ledger_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/ledger"
)

// sample is the bytes of a file of rows with inner pages, long values and free
// pages, and its rows. The last write changed the row "last" only.
func sample(t testing.TB) (file []byte, rows []string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rows")
	s := fileStore(t, path)
	write := func(do func(tx ledger.Tx, i int) error, n int) {
		must(t, s.Update(func(tx ledger.Tx) error {
			for i := range n {
				if err := do(tx, i); err != nil {
					return err
				}
			}
			return nil
		}))
	}
	key := func(i int) string { return fmt.Sprintf("row %03d", i) }
	write(func(tx ledger.Tx, i int) error { return tx.Put(key(i), bytes.Repeat([]byte{'a' + byte(i%26)}, 150)) }, 300)
	write(func(tx ledger.Tx, i int) error { return tx.Put("long", bytes.Repeat([]byte("long"), 2500)) }, 1)
	write(func(tx ledger.Tx, i int) error { return tx.Delete(key(2 * i)) }, 100)
	write(func(tx ledger.Tx, i int) error { return tx.Put("last", []byte("1")) }, 1)
	write(func(tx ledger.Tx, i int) error { return tx.Put("last", []byte("2")) }, 1)
	rows = rowsOf(t, s)
	must(t, s.Close())
	file, err := os.ReadFile(path)
	must(t, err)
	return file, rows
}

func rowsOf(t testing.TB, s ledger.Store) (rows []string) {
	t.Helper()
	must(t, s.View(func(tx ledger.Tx) error {
		return tx.Scan("", func(key string, value []byte) bool {
			rows = append(rows, key+"="+string(value))
			return true
		})
	}))
	return rows
}

// checkDamaged opens a spoilt file. It must be refused and left alone, or else
// hold what the sound one does, but that the last write may be undone.
func checkDamaged(t testing.TB, path string, spoilt []byte, rows []string) {
	t.Helper()
	must(t, os.WriteFile(path, spoilt, 0o600))
	s, err := ledger.OpenStore(path, time.Second)
	if err != nil {
		after, reading := os.ReadFile(path)
		if reading != nil || !bytes.Equal(after, spoilt) {
			t.Errorf("the file was changed, or cannot be read (%v)", reading)
		}
		if !strings.Contains(err.Error(), "is damaged") && !strings.Contains(err.Error(), "is no ledger") {
			t.Errorf("error %v", err)
		}
		return
	}
	defer s.Close()
	undone := slices.Clone(rows)
	undone[slices.Index(undone, "last=2")] = "last=1"
	if got := rowsOf(t, s); !slices.Equal(got, rows) && !slices.Equal(got, undone) {
		t.Errorf("%d rows that are not what was kept", len(got))
	}
	must(t, s.Update(func(tx ledger.Tx) error { return tx.Put("new", []byte("row")) }))
}

func TestBytesSpoilt(t *testing.T) {
	file, rows := sample(t)
	step := 499 // prime, so that it meets all parts of a page
	if testing.Short() {
		step = 2003
	}
	spoilBytes(t, file, rows, step)
}

// TestFewBytesSpoilt spoils a file so small that the rows stand beside its root.
func TestFewBytesSpoilt(t *testing.T) {
	path := filepath.Join(t.TempDir(), "few")
	s := fileStore(t, path)
	for _, value := range []string{"1", "2"} {
		must(t, s.Update(func(tx ledger.Tx) error { return tx.Put("last", []byte(value)) }))
	}
	must(t, s.Close())
	file, err := os.ReadFile(path)
	must(t, err)
	rows := []string{"last=2"}
	spoilBytes(t, file, rows, 211)
	for page := 0; page < len(file); page += os.Getpagesize() {
		for at := page; at < page+140; at++ { // what a small file has stands at the beginning of its pages
			spoilByte(t, file, rows, at)
		}
	}
}

// spoilBytes spoils one byte in so many.
func spoilBytes(t *testing.T, file []byte, rows []string, step int) {
	t.Helper()
	checkDamaged(t, filepath.Join(t.TempDir(), "sound"), file, rows)
	for at := 0; at < len(file); at += step {
		spoilByte(t, file, rows, at)
	}
}

func spoilByte(t *testing.T, file []byte, rows []string, at int) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "spoilt")
	for _, flip := range []byte{0x01, 0x20, 0xFF} {
		spoilt := bytes.Clone(file)
		spoilt[at] ^= flip
		if checkDamaged(t, path, spoilt, rows); t.Failed() {
			t.Fatalf("byte %d (page %d, %d) flipped by %x", at, at/os.Getpagesize(), at%os.Getpagesize(), flip)
		}
	}
}

func TestCutOff(t *testing.T) {
	file, rows := sample(t)
	path := filepath.Join(t.TempDir(), "cut")
	for size := 1; size < len(file) && !t.Failed(); size += 1999 {
		if checkDamaged(t, path, file[:size], rows); t.Failed() {
			t.Fatalf("cut off at %d of %d", size, len(file))
		}
	}
}

// TestPagesSpoilt puts pages in the place of others, as a disk might.
func TestPagesSpoilt(t *testing.T) {
	file, rows := sample(t)
	size := os.Getpagesize()
	path := filepath.Join(t.TempDir(), "spoilt")
	for to := range len(file) / size {
		for from := to % 5; from < len(file)/size; from += 5 {
			spoilt := bytes.Clone(file)
			copy(spoilt[to*size:(to+1)*size], file[from*size:])
			if checkDamaged(t, path, spoilt, rows); t.Failed() {
				t.Fatalf("page %d in the place of %d", from, to)
			}
		}
		spoilt := bytes.Clone(file)
		clear(spoilt[to*size : (to+1)*size])
		if checkDamaged(t, path, spoilt, rows); t.Failed() {
			t.Fatalf("page %d wiped", to)
		}
	}
}

// TestTornWrite wants a write whose last part did not reach the disk to be
// undone, whole, and nothing else to be lost.
func TestTornWrite(t *testing.T) {
	file, rows := sample(t)
	size := os.Getpagesize()
	newest := 0 // the page that begins with the file's newest state
	if txid := func(page int) uint64 { return binary.NativeEndian.Uint64(file[page*size+64:]) }; txid(1) > txid(0) {
		newest = 1
	}
	clear(file[newest*size : newest*size+100])
	path := filepath.Join(t.TempDir(), "torn")
	must(t, os.WriteFile(path, file, 0o600))
	rows[slices.Index(rows, "last=2")] = "last=1"
	if got := rowsOf(t, fileStore(t, path)); !slices.Equal(got, rows) {
		t.Errorf("%d rows that are not those of the write before", len(got))
	}
}

// FuzzDamage looks for a spoilt file that is taken for sound, or brings the
// program down.
func FuzzDamage(f *testing.F) {
	file, rows := sample(f)
	f.Add(uint32(5000), uint32(3), []byte{1})
	f.Add(uint32(len(file)), uint32(0), []byte{})
	path := filepath.Join(f.TempDir(), "fuzzed")
	f.Fuzz(func(t *testing.T, size, at uint32, with []byte) {
		spoilt := bytes.Clone(file)
		copy(spoilt[int(at)%len(spoilt):], with)
		checkDamaged(t, fmt.Sprint(path, os.Getpid()), spoilt[:1+int(size)%len(spoilt)], rows)
	})
}
