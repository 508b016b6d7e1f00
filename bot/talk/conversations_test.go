package talk

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"mortarboard/kb"
	"mortarboard/planner"
)

var update = flag.Bool("update", false, "rewrite the golden files from what the program answers")

// TestConversations replays whole conversations. A line "> …" is said; the lines
// "< …" below it are what was answered: kind, strategy and headline, then the
// case as understood, then each notice. Comments say what a good answer has to
// take into account; they were written before the answers, by somebody who did
// not know the program. "> @thread: …" speaks in another thread.
func TestConversations(t *testing.T) {
	oneByOne(t)
	files, err := filepath.Glob("../../testdata/conversations/*.txt")
	if err != nil || len(files) < 60 {
		t.Fatalf("found %d conversations, wanted at least 60 (%v)", len(files), err)
	}
	conversation := testTalk(t)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := replay(t, conversation, file, string(data))
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if got != string(data) {
				t.Errorf("%s differs from what is answered now; run with -update and read the diff:\n%s", file, firstDifference(string(data), got))
			}
		})
	}
}

// allAtOnce is when everything in a conversation is said: a run tells how long a step took.
var allAtOnce = time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC)

// replay answers every said line anew and leaves comments where they stand.
func replay(t *testing.T, conversation *Talk, file, text string) string {
	var out []string
	for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		if strings.HasPrefix(line, "< ") {
			continue
		}
		out = append(out, line)
		said, ok := strings.CutPrefix(line, "> ")
		if !ok {
			continue
		}
		thread := file
		if rest, other := strings.CutPrefix(said, "@"); other {
			name, message, _ := strings.Cut(rest, ": ")
			thread, said = file+name, message
		}
		r, err := conversation.Handle(context.Background(), Message{Thread: thread, Text: said, At: allAtOnce})
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, answered(r)...)
	}
	return strings.Join(out, "\n") + "\n"
}

// answered is the part of an answer that a conversation file shows.
func answered(r Reply) []string {
	verdict := ""
	if r.Strategy != "" {
		verdict = " " + r.Strategy
	}
	if r.Verdict != "" {
		verdict = " " + r.Verdict
	}
	if len(r.Entries) > 0 && r.Kind == KindArticle {
		verdict = " " + r.Entries[0]
	}
	lines := []string{fmt.Sprintf("< %s%s: %s", r.Kind, verdict, r.Headline)}
	var facts []string
	for _, f := range slices.Sorted(maps.Keys(r.Case)) {
		facts = append(facts, fmt.Sprintf("%s=%v", f, r.Case[f]))
	}
	if facts != nil {
		lines = append(lines, "< case: "+strings.Join(facts, " "))
	}
	for _, n := range r.Notices {
		lines = append(lines, "< notice: "+n)
	}
	return lines
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return fmt.Sprintf("line %d\n\tin the file:  %s\n\tanswered now: %s", i+1, w[i], g[i])
		}
	}
	return fmt.Sprintf("the file has %d lines, %d are answered now", len(w), len(g))
}

// oneByOne skips a long test of one goroutine where tests are to be short, as CI asks of
// the race detector: there it finds nothing, and takes ten times as long.
func oneByOne(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one message after the other in one goroutine: run without -short")
	}
}

// testTalk is a conversation over the built-in rules and articles, with a memory of its
// own. Rules, words and articles are read once for all tests, which is most of the work.
func testTalk(t testing.TB) *Talk {
	t.Helper()
	return ownMemory(t, shared)
}

// ownMemory is a conversation that was made for all tests, with a memory of its own.
func ownMemory(t testing.TB, made func() (*Talk, error)) *Talk {
	t.Helper()
	s, err := made()
	if err != nil {
		t.Fatal(err)
	}
	return &Talk{book: s.book, articles: s.articles, memory: &Scratchpad{}, learning: &Notebook{}, now: s.now, log: s.log,
		declined: s.declined, runs: s.runs, words: s.words, wording: s.wording}
}

var shared = sync.OnceValues(func() (*Talk, error) {
	library, err := kb.NewLibrary(kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now})
	if err != nil {
		return nil, err
	}
	return New(Options{Rules: planner.MustLoad(), Articles: library})
})

// TestOwnWords sends back to the bot every message that its own buttons and its
// form stand for: each must be read as exactly the fact it names.
func TestOwnWords(t *testing.T) {
	oneByOne(t)
	conversation := testTalk(t)
	for _, f := range conversation.book.Facts {
		for _, v := range f.Values {
			if f.Measured() {
				v = strconv.FormatFloat((f.Low+f.High)/2, 'f', 0, 64)
			}
			says := conversation.say("choose", map[string]any{"Title": f.Title, "Value": v})
			r, err := conversation.Handle(context.Background(), Message{Thread: says, Text: says})
			if err != nil {
				t.Fatal(err)
			}
			if got := fmt.Sprint(r.Case[f.Name]); got != "["+v+"]" {
				t.Errorf("%q is read as %s", says, got)
			}
		}
	}
}
