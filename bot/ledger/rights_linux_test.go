package ledger_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"mortarboard/bot/ledger"
)

// TestNotOursToWrite opens as a user who may not write the file. For root the
// thread gives up its rights over files meanwhile; they are a thread's own on
// Linux.
func TestNotOursToWrite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	must(t, openFile(t, path).Close())
	must(t, os.Chmod(path, 0o400))
	must(t, os.Chmod(filepath.Dir(filepath.Dir(path)), 0o755))
	if os.Geteuid() == 0 {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		const nobody = 65534
		must(t, syscall.Setfsuid(nobody))
		defer func() { must(t, syscall.Setfsuid(0)) }()
	}
	refused(t, path, "ledger FILE cannot be written: let this user read and write it, or name another file with -ledger: "+
		"open FILE: permission denied")
}

// TestDiskFull lets a child run into a limit on the size of its files, and out
// of it again.
func TestDiskFull(t *testing.T) {
	path := filepath.Join(t.TempDir(), "ledger")
	c := startChild(t, "full", path)
	if said := c.line(); said != "well" {
		t.Errorf("the child said %s", said)
	}
	c.kill()
	l := openFile(t, path)
	for _, name := range []string{"before", "after"} {
		if !l.Known(name) {
			t.Errorf("what was kept %s is lost", name)
		}
	}
}

// fillUp is the child's part of TestDiskFull.
func fillUp(l *ledger.Ledger, path string) error {
	if err := l.Save("before", []byte(`1`)); err != nil {
		return err
	}
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if err := limitFiles(uint64(info.Size()) + 200_000); err != nil {
		return err
	}
	big := []byte(`"` + strings.Repeat("x", 30_000) + `"`)
	err = nil
	for i := 0; i < 100 && err == nil; i++ {
		err = l.Save(fmt.Sprint("big", i), big)
	}
	if err == nil || !strings.Contains(err.Error(), "file too large") {
		return fmt.Errorf("a full disk gave %v", err)
	}
	if !l.Known("before") || !l.Known("big0") {
		return fmt.Errorf("what was kept cannot be read any more")
	}
	if err := limitFiles(^uint64(0)); err != nil {
		return err
	}
	return l.Save("after", []byte(`1`))
}

func limitFiles(size uint64) error {
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	limit.Cur = min(size, limit.Max)
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit)
}
