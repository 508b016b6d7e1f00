package kb

import (
	"fmt"
	"io/fs"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"
)

// A clock that a test sets forward.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

// A folder that can be made unreadable.
type flakyFolder struct {
	fstest.MapFS
	broken bool
}

func (f *flakyFolder) Open(name string) (fs.File, error) {
	if f.broken {
		return nil, fmt.Errorf("the share is not mounted")
	}
	return f.MapFS.Open(name)
}

type libraryTest struct {
	t      *testing.T
	clock  *clock
	folder *flakyFolder
	lib    *Library
}

func newLibraryTest(t *testing.T) *libraryTest {
	c := &clock{day("2026-11-24")}
	folder := &flakyFolder{MapFS: fstest.MapFS{}}
	lib, err := NewLibrary(LibraryOptions{
		Fixed:    []fs.FS{fstest.MapFS{"one.md": article("one", "Embedded one", "Old. [common practice]")}},
		Practice: Named("practice", folder), Now: c.now, Every: time.Minute,
	})
	if err != nil {
		t.Fatal(err)
	}
	return &libraryTest{t, c, folder, lib}
}

// write puts a file into the practice's folder, as of the clock.
func (l *libraryTest) write(name string, file *fstest.MapFile) {
	file.ModTime = l.clock.at
	l.folder.MapFS[name] = file
}

// after lets time pass and says what the library then serves and reports.
func (l *libraryTest) after(d time.Duration) string {
	l.clock.at = l.clock.at.Add(d)
	var out []string
	for _, a := range l.lib.Base().All() {
		out = append(out, a.Title)
	}
	for _, p := range l.lib.Problems() {
		out = append(out, p.String())
	}
	return strings.Join(out, "; ")
}

func (l *libraryTest) want(d time.Duration, want string) {
	l.t.Helper()
	if got := l.after(d); got != want {
		l.t.Errorf("after %v the library has\n%s\nwant\n%s", d, got, want)
	}
}

func TestLibraryFollowsTheFolder(t *testing.T) {
	l := newLibraryTest(t)
	l.want(0, "Embedded one")
	l.write("two.md", article("two", "Two", "New. [common practice]"))
	l.want(time.Second, "Embedded one") // not due yet
	l.want(time.Minute, "Embedded one; Two")
	l.write("one.md", article("one", "Our one", "Ours. [common practice]"))
	l.want(time.Hour, "Our one; Two")
	l.write("one.md", &fstest.MapFile{Data: []byte("---\nid: one\nhide: true\n---\n")})
	l.want(time.Hour, "Two")
	delete(l.folder.MapFS, "one.md")
	delete(l.folder.MapFS, "two.md")
	l.want(time.Hour, "Embedded one")
}

func TestLibraryKeepsTheLastGoodVersion(t *testing.T) {
	l := newLibraryTest(t)
	l.write("two.md", article("two", "Two", "New. [common practice]"))
	l.want(time.Hour, "Embedded one; Two")
	problem := "practice/two.md:1: front matter is missing or not closed; begin the file with ---, the keys, and another ---"
	l.write("two.md", &fstest.MapFile{Data: []byte("half saved")})
	l.want(time.Hour, "Embedded one; Two; "+problem)
	l.want(time.Hour, "Embedded one; Two; "+problem) // still reported
	l.write("three.md", article("three", "Three", "New. [common practice]"))
	l.want(time.Hour, "Embedded one; Three; Two; "+problem) // the others go on
	l.write("two.md", article("two", "Two again", "New. [common practice]"))
	l.want(time.Hour, "Embedded one; Three; Two again")
}

func TestLibraryReportsAFileThatWasNeverGood(t *testing.T) {
	l := newLibraryTest(t)
	l.write("one.md", &fstest.MapFile{Data: []byte("---\nid: uno\nhide: true\n---\n")})
	l.want(time.Hour, "Embedded one; practice/one.md:2: id is \"uno\" but the file is named \"one\"; write `id: one`, or rename the file")
}

func TestLibrarySurvivesAMissingFolder(t *testing.T) {
	l := newLibraryTest(t)
	l.write("two.md", article("two", "Two", "New. [common practice]"))
	l.want(time.Hour, "Embedded one; Two")
	l.folder.broken = true
	l.want(time.Hour, "Embedded one; Two; practice:1: cannot be listed: the share is not mounted; make the folder readable")
	l.folder.broken = false
	l.want(time.Hour, "Embedded one; Two")
}

// TestLibraryTellsOfWhatItFinds: each change of what is wrong once, and that it
// is mended.
func TestLibraryTellsOfWhatItFinds(t *testing.T) {
	l := newLibraryTest(t)
	var heard []string
	l.lib.tell = func(problems []Problem, err error) { heard = append(heard, fmt.Sprint(len(problems), " ", err)) }
	l.after(time.Hour)
	l.write("two.md", &fstest.MapFile{Data: []byte("half saved")})
	l.after(time.Hour)
	l.after(time.Hour) // the same problem is not told again
	l.write("three.md", &fstest.MapFile{Data: []byte("half saved, too")})
	l.after(time.Hour)
	l.write("two.md", article("two", "Two", "New. [common practice]"))
	delete(l.folder.MapFS, "three.md")
	l.after(time.Hour)
	if got, want := strings.Join(heard, "; "), "1 <nil>; 2 <nil>; 0 <nil>"; got != want {
		t.Errorf("heard %q, wanted %q", got, want)
	}
}

// TestLibrarySeesASecondSaveWithinOneTick: same size, same time stamp.
func TestLibrarySeesASecondSaveWithinOneTick(t *testing.T) {
	l := newLibraryTest(t)
	l.clock.at = l.clock.at.Add(time.Hour)
	l.write("two.md", article("two", "Two A", "New. [common practice]"))
	stamp := l.clock.at
	l.want(0, "Embedded one; Two A")
	file := article("two", "Two B", "New. [common practice]")
	file.ModTime = stamp
	l.folder.MapFS["two.md"] = file
	l.want(time.Hour, "Embedded one; Two B")
}

func TestLibraryDoesNotRebuildWithoutAChange(t *testing.T) {
	l := newLibraryTest(t)
	l.write("two.md", article("two", "Two", "New. [common practice]"))
	l.after(time.Hour)
	before := l.lib.Base()
	l.after(time.Hour)
	if l.lib.Base() != before {
		t.Error("a look without a change built a new base")
	}
}

func TestLibraryWantsGoodFixedLayersAndAClock(t *testing.T) {
	if _, err := NewLibrary(LibraryOptions{}); err == nil || err.Error() != "kb: library needs a clock: set Now, e.g. to time.Now" {
		t.Errorf("error is %v", err)
	}
	bad := []fs.FS{Named("kb", fstest.MapFS{"x.md": {Data: []byte("no")}})}
	if _, err := NewLibrary(LibraryOptions{Fixed: bad, Now: time.Now}); err == nil || !strings.HasPrefix(err.Error(), "kb/x.md:1: ") {
		t.Errorf("error is %v", err)
	}
}

// TestLibraryConcurrently is for the race detector: readers search while the
// folder changes.
func TestLibraryConcurrently(t *testing.T) {
	l := newLibraryTest(t)
	l.lib.every = 0
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 50 {
				if _, err := l.lib.Base().Search(t.Context(), "filler ask", 3); err != nil {
					t.Error(err)
				}
			}
		})
	}
	for i := range 10 {
		if err := l.lib.Refresh(); err != nil {
			t.Error(i, err)
		}
	}
	wg.Wait()
}
