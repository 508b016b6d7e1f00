package kb

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// readArchive cuts a .txtar file into its comment and its files.
func readArchive(t *testing.T, file string) (comment string, files fstest.MapFS) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	files = fstest.MapFS{}
	var name string
	for line := range strings.Lines(string(data)) {
		if marked, ok := strings.CutPrefix(line, "-- "); ok && strings.HasSuffix(marked, " --\n") {
			name = strings.TrimSuffix(marked, " --\n")
			files[name] = &fstest.MapFile{}
			continue
		}
		if name == "" {
			comment += line
		} else {
			files[name].Data = append(files[name].Data, line...)
		}
	}
	return comment, files
}

// TestBad loads each archive of testdata/bad and compares the whole message
// with the archive's comment.
func TestBad(t *testing.T) {
	archives, _ := filepath.Glob("testdata/bad/*.txtar")
	if len(archives) < 30 {
		t.Fatalf("only %d archives in testdata/bad", len(archives))
	}
	for _, file := range archives {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			want, files := readArchive(t, file)
			_, err := Load(files)
			if err == nil {
				t.Fatalf("loads, want: %s", want)
			}
			if got := err.Error() + "\n"; got != want {
				t.Errorf("message is\n%swant\n%s", got, want)
			}
		})
	}
}

// article makes a file that loads, with the given text as its answer.
func article(id, title, answer string, asks ...string) *fstest.MapFile {
	for len(asks) < minAsks {
		asks = append(asks, "filler ask "+string(rune('a'+len(asks)))+" of "+id)
	}
	return &fstest.MapFile{Data: []byte("---\nid: " + id + "\ntitle: " + title + "\ntopic: cleaning\nasks:\n  - " + strings.Join(asks, "\n  - ") +
		"\nreviewed: 2026-11-24\nby: founding team\n---\n# Answer\n" + answer +
		"\n\n# Why\nSo it is. [common practice]\n\n# How\n1. Do it. [common practice]\n\n# Limits\nNone known. [common practice]\n")}
}

func mustLoad(t testing.TB, files fstest.MapFS) *Base {
	t.Helper()
	b, err := Load(Named("kb", files))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestParseKeepsEverything(t *testing.T) {
	text := strings.ReplaceAll(`---
id: pressure
title: Pressure
topic: abrasion
asks: [a one, b two, c three, d four]
roles: [assistant]
related: [other]
reviewed: 2026-11-24
by: founding team
---
# Answer
Blast at {{abrasion.pressure zirconia=3Y abrasive="glass beads"}},
not more. [published: a-2001, b-2002] [common practice]

# Why
- One. [computed: energy sum]
- Two, see [the other](other). [from memory]

# How
1. Set it. [house rule: Dr Example, 2026-01-01]
2) Blast. [inferred: a-2001]

# Limits
None. [from memory: b-2002]
`, "\n", "\r\n") // line ends of another system are accepted
	a, err := ParseArticle("x/pressure.md", []byte("\ufeff"+text))
	if err != nil {
		t.Fatal(err)
	}
	answer, _ := a.Section("Answer")
	ref := answer.Blocks[0].Parts[1].Ref
	if ref == nil || ref.Key != "abrasion.pressure" || ref.Conditions["zirconia"] != "3Y" || ref.Conditions["abrasive"] != "glass beads" {
		t.Errorf("reference is %+v", ref)
	}
	tag := answer.Blocks[0].Parts[4].Tag
	if tag == nil || tag.String() != "[published: a-2001, b-2002]" || answer.Blocks[0].Parts[4].Line != 13 {
		t.Errorf("tag is %+v", answer.Blocks[0].Parts[4])
	}
	how, _ := a.Section("How")
	if len(how.Blocks) != 2 || how.Blocks[1].Kind != Step || how.Blocks[1].Number != 2 {
		t.Errorf("steps are %+v", how.Blocks)
	}
	if got := how.Blocks[0].Parts[1].Tag.String(); got != "[house rule: Dr Example, 2026-01-01]" {
		t.Errorf("house rule is %s", got)
	}
	why, _ := a.Section("Why")
	if l := why.Blocks[1].Parts[1].Link; l == nil || l.ID != "other" || l.Text != "the other" {
		t.Errorf("link is %+v", why.Blocks[1].Parts)
	}
	if _, ok := a.Section("Disagreements"); ok {
		t.Error("has a section that it has not")
	}
}

func TestLayers(t *testing.T) {
	below := Named("below", fstest.MapFS{
		"one.md": article("one", "One", "Old. [common practice]"), "two.md": article("two", "Two", "Two. [common practice]"),
		"README.md": {Data: []byte("not an article")}, "notes.txt": {Data: []byte("nor this")}, ".tmp.md": {Data: []byte("nor this")},
	})
	above := Named("above", fstest.MapFS{
		"one.md": article("one", "One of ours", "New. [common practice]"), "three.md": article("three", "Three", "Three. [common practice]"),
		"two.md": {Data: []byte("---\nid: two\nhide: true\nby: the lead\n---\n")},
	})
	b, err := Load(below, above)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, a := range b.All() {
		got = append(got, a.File+" "+a.Title)
	}
	if want := "above/one.md One of ours; above/three.md Three"; strings.Join(got, "; ") != want {
		t.Errorf("articles are %s, want %s", strings.Join(got, "; "), want)
	}
	if _, ok := b.Article("two"); ok {
		t.Error("a hidden article is still there")
	}
}

func TestLoadJoinsAllProblems(t *testing.T) {
	bad := fstest.MapFS{"a.md": {Data: []byte("no")}, "b.md": {Data: []byte{0xff}}, "c.md": {Data: make([]byte, maxFile+1)}}
	_, err := Load(Named("kb", bad))
	want := "kb/a.md:1: front matter is missing or not closed; begin the file with ---, the keys, and another ---\n" +
		"kb/b.md:1: file is not UTF-8 text; save it as UTF-8\n" +
		"kb/c.md:1: file has 524289 bytes, more than 524288; cut it into several articles"
	if err == nil || err.Error() != want {
		t.Errorf("error is\n%v\nwant\n%s", err, want)
	}
}

func TestLoadUnreadableFolder(t *testing.T) {
	_, err := Load(Named("gone", os.DirFS(filepath.Join(t.TempDir(), "no-such"))))
	if err == nil || !strings.HasPrefix(err.Error(), "gone:1: cannot be listed: ") {
		t.Errorf("error is %v", err)
	}
}

func FuzzParse(f *testing.F) {
	archives, _ := filepath.Glob("testdata/bad/*.txtar")
	for _, file := range archives {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add(article("seed", "Seed", "At {{a.b c=d}}, [see](x). [published: a-1] [common practice]").Data)
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := ParseArticle("seed.md", data)
		if err != nil {
			return
		}
		if !a.Hide && (a.ID != "seed" || len(a.Sections) < 4) {
			t.Errorf("accepted %q with %d sections", a.ID, len(a.Sections))
		}
		for p := range a.parts() {
			if set := btoi(p.Text != "") + btoi(p.Tag != nil) + btoi(p.Ref != nil) + btoi(p.Link != nil); set != 1 {
				t.Errorf("part %+v holds %d things", p, set)
			}
		}
	})
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
