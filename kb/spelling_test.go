package kb

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"testing/quick"
)

// TestOSA checks the distance by hand-counted pairs (the optimal string
// alignment distance: each substring is edited once, so "ca" to "abc" is 3).
func TestOSA(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"primer", "primer", 0}, {"primer", "primr", 1}, {"zircnoia", "zirconia", 1}, {"zirkonia", "zirconia", 1},
		{"cemetn", "cement", 1}, {"premier", "primer", 2}, {"ca", "abc", 3}, {"kitten", "sitting", 3}, {"abcd", "badc", 2},
	} {
		if got := Slips(c.a, c.b, 9); got != c.want {
			t.Errorf("distance of %q and %q is %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// TestOSABound checks against the unbounded distance on arbitrary words.
func TestOSABound(t *testing.T) {
	word := func(raw []byte) string {
		out := make([]byte, min(len(raw), 10))
		for i := range out {
			out[i] = 'a' + raw[i]%3
		}
		return string(out)
	}
	same := func(x, y []byte) bool {
		a, b := word(x), word(y)
		full := Slips(a, b, maxWord)
		for most := range 4 {
			if got := Slips(a, b, most); got <= most && got != full || got > most && full <= most {
				t.Logf("%q %q: bounded by %d gives %d, unbounded %d", a, b, most, got, full)
				return false
			}
		}
		return full == Slips(b, a, maxWord)
	}
	if err := quick.Check(same, &quick.Config{MaxCount: 3000}); err != nil {
		t.Error(err)
	}
}

func spellingBase(t *testing.T) *Base {
	return mustLoad(t, fstest.MapFS{
		"a.md": article("a", "Zirconia primer", "Primer on dentin and enamel with hypochlorite, polishing, translucent. [common practice]"),
	})
}

func TestCorrect(t *testing.T) {
	s := spellingBase(t).index.speller
	for said, want := range map[string]string{
		"zirconai": "zirconia", "zirkonia": "zirconia", "pirmer": "primer", "hipochlorit": "hypochlorite", "translusent": "translucent",
		"polsihing": "polishing", "sandblasing": "sandblasting",
		// left alone: short, with digits, known, common, real words, too far, not ours
		"bnod": "bnod", "5yy": "5yy", "primer": "primer", "premier": "premier", "denture": "denture", "yesterday": "yesterday",
		"lithium": "lithium", "xqzwvk": "xqzwvk", "polishes": "polishes", "ibuprofen": "ibuprofen", "größe": "größe",
		"zirrcconnia": "zirrcconnia",
	} {
		if got, fixed := s.correct(said); got != want || fixed != (said != want) {
			t.Errorf("%q is read as %q (%v), want %q", said, got, fixed, want)
		}
	}
}

func TestCorrectNever(t *testing.T) {
	x := testLexicon(t)
	s := newSpeller(x, map[string]int{"dentin": 5})
	delete(s.known, "denture")
	delete(s.stems, x.stem("denture"))
	if got, _ := s.correct("denture"); got == "dentin" {
		t.Error("denture is read as dentin")
	}
	if !s.never[pair("mmp", "mdp")] {
		t.Error("the data do not forbid mdp for mmp")
	}
}

func TestSearchSaysWhatItCorrected(t *testing.T) {
	b := spellingBase(t)
	r, err := b.Search(t.Context(), "zirkonia pirmer", 1)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range r.Corrected {
		got = append(got, c.Said+"→"+c.Read)
	}
	if strings.Join(got, " ") != "zirkonia→zirconia pirmer→primer" || len(r.Hits) != 1 {
		t.Errorf("corrected %v, hits %v", got, r.Hits)
	}
}

func TestIsEnglish(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(englishWords), "\n")
	if !slices.IsSorted(lines) || len(lines) < 30_000 {
		t.Fatalf("english.txt: sorted %v, %d lines", slices.IsSorted(lines), len(lines))
	}
	for _, w := range append(lines[:50:50], lines[len(lines)-50:]...) {
		if !English(w) {
			t.Errorf("%q stands in the list but is not found", w)
		}
	}
	for _, w := range []string{"", "zzzzzz", "aaaaa", "pirmer", lines[7] + "\n" + lines[8], lines[9][:len(lines[9])-1] + "#"} {
		if English(w) {
			t.Errorf("%q is found", w)
		}
	}
}
