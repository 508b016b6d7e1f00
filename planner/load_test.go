package planner

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// archive reads a text that holds several files, each after a line "-- name --".
// What stands before the first is a comment.
func archive(t testing.TB, path string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	files, name := map[string]string{}, ""
	for line := range strings.Lines(string(data)) {
		if inner, ok := strings.CutPrefix(strings.TrimRight(line, "\n"), "-- "); ok && strings.HasSuffix(inner, " --") {
			name = strings.TrimSuffix(inner, " --")
			files[name] = ""
			continue
		}
		files[name] += line
	}
	return files
}

// soundFiles is the small rulebook that the bad files spoil.
func soundFiles(t testing.TB) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range archive(t, "testdata/bad/sound.txt") {
		if name != "" {
			files[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return files
}

// TestLoadSound holds that the small rulebook has no fault of its own.
func TestLoadSound(t *testing.T) {
	b, err := load(soundFiles(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range b.Audit().Findings {
		t.Error(f)
	}
}

// TestLoadBad loads every file of testdata/bad over the small rulebook and
// compares the whole error text: file:line, what is wrong, and the mend.
func TestLoadBad(t *testing.T) {
	paths, err := filepath.Glob("testdata/bad/*.txt")
	if err != nil || len(paths) < 40 {
		t.Fatalf("found %d bad files (%v), wanted at least 40", len(paths), err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".txt")
		if name == "sound" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			overlay := archive(t, path)
			files := soundFiles(t)
			for name, text := range overlay {
				if strings.HasSuffix(name, ".yaml") {
					files[name] = &fstest.MapFile{Data: []byte(text)}
				}
			}
			got, want := loadError(files)+"\n", overlay["want"]
			if got != want {
				t.Errorf("%sgot:\n%swanted:\n%s", overlay[""], got, want)
			}
		})
	}
}

// loadError is the text of the error that Load gives.
func loadError(files fs.FS) string {
	if _, err := loaded(files); err != nil {
		return err.Error()
	}
	return "no error"
}

// loaded is Load with a panic turned into an error, so that a test can report
// it: nothing in a file may make Load panic.
func loaded(files fs.FS) (b *Rulebook, err error) {
	defer func() {
		if r := recover(); r != nil {
			b, err = nil, fmt.Errorf("panic: %v", r)
		}
	}()
	return load(files)
}

// TestLoadLongFile holds that a file over the limit is refused before it is parsed.
func TestLoadLongFile(t *testing.T) {
	files := soundFiles(t)
	long := strings.Repeat("# nothing\n", maxRuleFile/10) + "notices: []\n"
	files["notices.yaml"] = &fstest.MapFile{Data: []byte(long)}
	want := fmt.Sprintf("notices.yaml: is %d bytes long: split it, the limit is %d", len(long), maxRuleFile)
	if got := loadError(files); got != want {
		t.Errorf("got %q, wanted %q", got, want)
	}
}

// TestLoadMissingFile holds that each of the rule files is asked for by name.
func TestLoadMissingFile(t *testing.T) {
	for name := range soundFiles(t) {
		files := soundFiles(t)
		delete(files, name)
		want := name + ": cannot be read: open " + name + ": file does not exist"
		if got := loadError(files); !slices.Contains(strings.Split(got, "\n"), want) {
			t.Errorf("without %s: got %q, wanted a line %q", name, got, want)
		}
	}
}

// FuzzLoad puts one rule file of the small rulebook to the test: whatever stands
// in it, Load gives a rulebook or an error, and does not panic.
func FuzzLoad(f *testing.F) {
	base := soundFiles(f)
	kinds := sortedKeys(base)
	paths, err := filepath.Glob("testdata/bad/*.txt")
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range paths {
		for name, text := range archive(f, path) {
			if k := slices.Index(kinds, name); k >= 0 {
				f.Add(uint8(k), []byte(text))
			}
		}
	}
	f.Fuzz(func(t *testing.T, kind uint8, data []byte) {
		files := maps.Clone(base)
		files[kinds[int(kind)%len(kinds)]] = &fstest.MapFile{Data: data}
		b, err := loaded(files)
		if (b == nil) == (err == nil) {
			t.Errorf("got the rulebook %v with the error %v", b, err)
		}
		if err != nil && strings.HasPrefix(err.Error(), "panic") {
			t.Errorf("%s: %v", kinds[int(kind)%len(kinds)], err)
		}
	})
}
