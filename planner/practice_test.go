package planner

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

const approval = "    because: We tried it.\n    approved: {by: Dr Ottoline Varga, on: 2026-05-04}\n"

// today is the day on which the tests look at the shelf.
func today() time.Time { return date(2026, 11, 24, 9) }

// demoPractice is the invented practice of ../testdata/practice.
func demoPractice(t testing.TB) *Practice {
	t.Helper()
	p, err := LoadPractice(os.DirFS("../testdata/practice"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// practiceOf is a practice with the shelf and the house rules as written; empty
// text leaves the file out.
func practiceOf(t testing.TB, shelf, house string) *Practice {
	t.Helper()
	files := fstest.MapFS{"practice.yaml": {Data: []byte("name: Wrenfold\nlead: Dr Ottoline Varga\n")}}
	for name, text := range map[string]string{"shelf.yaml": shelf, "house.yaml": house} {
		if text != "" {
			files[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	p, err := LoadPractice(files)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// shelf puts products, each given as its lines after the dash, on a shelf file.
func shelf(products ...string) string {
	return "products:\n  - " + strings.Join(products, "\n  - ") + "\n"
}

func product(name, class string, more ...string) string {
	return strings.Join(append([]string{"name: " + name, "class: " + class}, more...), "\n    ")
}

func TestLoadPractice(t *testing.T) {
	p := demoPractice(t)
	if p.Name == "" || p.Lead == "" || len(p.Shelf) < 10 {
		t.Errorf("the demo practice is %q led by %q with %d products", p.Name, p.Lead, len(p.Shelf))
	}
	k := slices.IndexFunc(p.Shelf, func(x *Product) bool { return x.Class == "zirconia primer" })
	if primer := p.Shelf[k]; !primer.Holds("MDP") || primer.Holds("silane") || primer.KeepsDays != 90 ||
		!primer.Opened.Equal(date(2026, 11, 2, 0)) || !strings.HasPrefix(primer.Where, "shelf.yaml:") {
		t.Errorf("the primer was read as %+v", primer)
	}
}

// TestEmptyHouse holds that a practice may keep house.yaml or shelf.yaml with
// nothing in it but remarks.
func TestEmptyHouse(t *testing.T) {
	for _, name := range []string{"house.yaml", "shelf.yaml"} {
		_, err := LoadPractice(fstest.MapFS{
			"practice.yaml": {Data: []byte("name: Wrenfold\nlead: Dr Ottoline Varga\n")},
			name:            {Data: []byte("# nothing yet\n")},
		})
		if err != nil {
			t.Errorf("a %s of remarks alone is refused: %v", name, err)
		}
	}
}

// TestBadPractices loads every folder of ../testdata/practice-bad and compares
// the whole error text.
func TestBadPractices(t *testing.T) {
	paths, err := filepath.Glob("../testdata/practice-bad/*.txt")
	if err != nil || len(paths) < 15 {
		t.Fatalf("found %d bad practices (%v), wanted at least 15", len(paths), err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txt"), func(t *testing.T) {
			t.Parallel()
			texts := archive(t, path)
			files := fstest.MapFS{}
			for name, text := range texts {
				if strings.HasSuffix(name, ".yaml") {
					files[name] = &fstest.MapFile{Data: []byte(text)}
				}
			}
			if got := practiceError(files) + "\n"; got != texts["want"] {
				t.Errorf("%sgot:\n%swanted:\n%s", texts[""], got, texts["want"])
			}
		})
	}
}

// practiceError is the text of the first error on the way from a folder to a
// rulebook with its house rules; a panic is reported as one.
func practiceError(files fstest.MapFS) (text string) {
	defer func() {
		if r := recover(); r != nil {
			text = "panic: " + strings.TrimSpace(strings.Split(asText(r), "\n")[0])
		}
	}()
	p, err := LoadPractice(files)
	if err == nil {
		_, err = builtIn().With(p)
	}
	if err != nil {
		return err.Error()
	}
	return "no error"
}

// TestPast holds that a product serves to the end of its last day, whatever the
// hour at which the shelf is looked at, and no longer.
func TestPast(t *testing.T) {
	expiring := Product{Expires: Date{date(2026, 9, 30, 0)}}
	opened := Product{Opened: Date{date(2026, 11, 2, 0)}, KeepsDays: 90}
	for _, tc := range []struct {
		name string
		Product
		day  time.Time
		want string
	}{
		{"last day, morning", expiring, date(2026, 9, 30, 0), ""},
		{"last day, evening", expiring, date(2026, 9, 30, 23), ""},
		{"day after, midnight", expiring, date(2026, 10, 1, 0), "expired on 2026-09-30"},
		{"day after, noon", expiring, date(2026, 10, 1, 12), "expired on 2026-09-30"},
		{"90 days open", opened, date(2027, 1, 31, 12), ""},
		{"91 days open", opened, date(2027, 2, 1, 0), "opened on 2026-11-02, keeps 90 days"},
		{"no dates", Product{}, date(2099, 1, 1, 0), ""},
	} {
		if got := tc.Past(tc.day); got != tc.want {
			t.Errorf("%s: got %q, wanted %q", tc.name, got, tc.want)
		}
	}
}

// FuzzLoadPractice puts one file of a practice to the test: whatever stands in
// it, LoadPractice gives a practice or an error, and does not panic.
func FuzzLoadPractice(f *testing.F) {
	names := []string{"practice.yaml", "shelf.yaml", "house.yaml"}
	for k, name := range names {
		data, err := os.ReadFile(filepath.Join("../testdata/practice", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(uint8(k), data)
	}
	f.Add(uint8(1), []byte("products:\n  - name: x\n    colour: red\n"))
	f.Add(uint8(2), []byte("<<: {prefer: [{product: x}]}\n"))
	f.Fuzz(func(t *testing.T, kind uint8, data []byte) {
		files := fstest.MapFS{"practice.yaml": {Data: []byte("name: a\nlead: b\n")}}
		files[names[int(kind)%3]] = &fstest.MapFile{Data: data}
		defer func() {
			if r := recover(); r != nil {
				t.Errorf("%s: panic: %v", names[int(kind)%3], r)
			}
		}()
		if p, err := LoadPractice(files); p == nil && err == nil {
			t.Error("got neither a practice nor an error")
		}
	})
}
