package planner

import (
	"fmt"
	"io/fs"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"
)

// builtIn is the built-in rulebook, loaded once for all tests that only read it.
var builtIn = sync.OnceValue(MustLoad)

// copied is a copy of rule files in memory that a test may spoil.
func copied(t testing.TB, from fs.FS) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(from, "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(from, name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: data}
	}
	return files
}

// An edit replaces one stretch of a rule file. The stretch is found by the id of
// the row that holds it, so that an edit cannot hit another row by chance.
type edit struct{ file, row, old, new string }

// spoil applies edits, each of which must fit exactly one place of its row.
func spoil(t testing.TB, files fstest.MapFS, edits ...edit) {
	t.Helper()
	for _, e := range edits {
		text := string(files[e.file].Data)
		from, to := rowSpan(t, text, e)
		row := text[from:to]
		if n := strings.Count(row, e.old); n != 1 {
			t.Fatalf("%s: row %s holds %q %d times, wanted once", e.file, e.row, e.old, n)
		}
		row = strings.Replace(row, e.old, e.new, 1)
		files[e.file] = &fstest.MapFile{Data: []byte(text[:from] + row + text[to:])}
	}
}

// rowSpan finds where a row begins and ends; an empty row is the whole file.
func rowSpan(t testing.TB, text string, e edit) (from, to int) {
	t.Helper()
	if e.row == "" {
		return 0, len(text)
	}
	from = strings.Index(text, "\n  - id: "+e.row+"\n")
	if from < 0 {
		t.Fatalf("%s has no row %q", e.file, e.row)
	}
	from++
	to = len(text)
	if next := strings.Index(text[from:], "\n  - id: "); next >= 0 {
		to = from + next + 1
	}
	return from, to
}

// lineOf tells on which line of a file a row stands, as findings write it.
func lineOf(t testing.TB, files fs.FS, file, row string) string {
	t.Helper()
	data, err := fs.ReadFile(files, file)
	if err != nil {
		t.Fatal(err)
	}
	from, _ := rowSpan(t, string(data), edit{file: file, row: row})
	return at(file, 1+strings.Count(string(data[:from]), "\n"))
}

// caseOf builds a case that the test knows to be well formed.
func caseOf(t testing.TB, b *Rulebook, known map[string][]string) Case {
	t.Helper()
	c, err := b.Case(known)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// step finds a step of a plan by its id.
func (p *Plan) step(id string) *PlannedStep {
	for i := range p.Steps {
		if p.Steps[i].ID == id {
			return &p.Steps[i]
		}
	}
	return nil
}

// date is a day at the hour given, in UTC.
func date(year int, month time.Month, day, hour int) time.Time {
	return time.Date(year, month, day, hour, 0, 0, 0, time.UTC)
}

func at(file string, line int) string { return fmt.Sprintf("%s:%d", file, line) }
