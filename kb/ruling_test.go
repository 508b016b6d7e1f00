package kb

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"
)

// ruling puts keys into the front matter of an article that loads.
func ruling(f *fstest.MapFile, keys string) *fstest.MapFile {
	return &fstest.MapFile{Data: []byte(strings.Replace(string(f.Data), "reviewed:", keys+"\nreviewed:", 1))}
}

func TestRuling(t *testing.T) {
	b := mustLoad(t, fstest.MapFS{"outside.md": ruling(
		article("outside", "Blasting the shiny side", "Only the inside. [common practice]", "blast the outside of a crown"),
		`rules-out: [blast outside, fit checker after blasting, cement without blasting]`)})
	for question, want := range map[string]bool{
		"can I blast the outside":                      true,
		"may I sandblast it on the outside":            true, // synonyms
		"is it ok to blast the outside of the crown":   true, // what adds nothing
		"ok to blast the outside, the shiny side, too": true, // words of the title
		"can I cover the outside before blasting":      false,
		"can I blast the outside before glass ionomer": false, // another deed
		"should I not blast the outside":               false, // a word that turns it round
		"can I blast the inside":                       false,
		"fit checker after blasting ok":                true,
		"blasting after the fit checker ok":            false, // the other order
		"can I cement without blasting":                true,
		"can I cement after blasting":                  false,
	} {
		found, err := b.Search(context.Background(), question, 1)
		if err != nil || len(found.Hits) == 0 {
			t.Fatal(question, found, err)
		}
		if got := found.Hits[0].RulesOut; got != want {
			t.Errorf("%s: ruled out %v, want %v", question, got, want)
		}
	}
}

// TestCheckRulings names what the checker says of deeds.
func TestCheckRulings(t *testing.T) {
	good := func(id, keys string) *fstest.MapFile {
		return ruling(article(id, "An "+id, "Fine. [common practice]"), keys)
	}
	for _, c := range []struct {
		files fstest.MapFS
		want  string
	}{
		{fstest.MapFS{"x.md": good("x", "rules-out:\n  - blast outside")}, ""},
		{fstest.MapFS{"x.md": good("x", "rules-out:\n  - blast outside\n  - blasting it")},
			"must kb/x.md:12: a deed of 1 words that count would answer other questions, too; add the word that tells it from other deeds"},
	} {
		if got := strings.Join(problemsOf(t, c.files, "2026-11-25"), "\n"); got != c.want {
			t.Errorf("problems are %q, want %q", got, c.want)
		}
	}
}
