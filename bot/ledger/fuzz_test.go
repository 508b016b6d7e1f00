package ledger_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"mortarboard/bot/ledger"
)

// FuzzStores does the same to a file and to memory, and wants the same rows. Of
// each byte the low bits choose what to do and the high bits to which key.
func FuzzStores(f *testing.F) {
	f.Add([]byte{0x00, 0x11, 0x02, 0x13, 0x04, 0x20, 0x05})
	f.Add([]byte("rows are put, taken away and put again"))
	f.Fuzz(func(t *testing.T, steps []byte) {
		file := fileStore(t, filepath.Join(t.TempDir(), "rows"))
		memory := ledger.NewMemory().Store()
		for batch := range slices.Chunk(steps[:min(len(steps), 200)], 9) {
			one, other := apply(file, batch), apply(memory, batch)
			if (one == nil) != (other == nil) {
				t.Fatalf("%v: %v in a file, %v in memory", batch, one, other)
			}
		}
		if a, b := rowsOf(t, file), rowsOf(t, memory); !slices.Equal(a, b) {
			t.Errorf("in a file %q\nin memory %q", a, b)
		}
	})
}

func apply(s ledger.Store, batch []byte) error {
	return s.Update(func(tx ledger.Tx) error {
		var err error
		for i, step := range batch {
			key := fmt.Sprintf("%x", step>>3)
			switch step & 7 {
			case 0, 1, 2:
				err = tx.Put(key, []byte{step, byte(i)})
			case 3:
				err = tx.Put(key, nil)
			case 4, 5:
				err = tx.Delete(key)
			case 6:
				value, getting := tx.Get(key)
				err = errors.Join(getting, tx.Put(key+"again", append([]byte("was "), value...)))
			case 7:
				if step == 0xFF {
					err = errors.New("this write is not to be kept")
				}
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
}
