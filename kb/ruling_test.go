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
		article("outside", "Blasting the outside", "Only the inside. [common practice]", "blast the outside of a crown"),
		`allows: [cover outside blasting, blast inside, blast outside bench]
rules-out: [blast outside, blast bench outside, fit checker after blasting, cement without blasting]`)})
	for question, want := range map[string]Ruling{
		"can I blast the outside":                  RuledOut,
		"may I sandblast it on the outside":        RuledOut, // synonyms and more words
		"can I cover the outside before blasting":  Allowed,  // the deed with more words
		"should I not blast the outside":           Silent,   // a word that turns it round
		"can I blast the inside":                   Allowed,
		"can I blast the inside of a primed crown": Silent, // adds to what is allowed
		"blast the outside at the bench?":          RuledOut,
		"fit checker after blasting ok":            RuledOut,
		"blasting after the fit checker ok":        Silent, // the other order
		"can I cement without blasting":            RuledOut,
		"can I cement after blasting":              Silent,
	} {
		found, err := b.Search(context.Background(), question, 1)
		if err != nil || len(found.Hits) == 0 {
			t.Fatal(question, found, err)
		}
		if got := found.Hits[0].Ruled.Ruling; got != want {
			t.Errorf("%s: ruling %d, want %d", question, got, want)
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
		{fstest.MapFS{"x.md": good("x", "rules-out: [blast outside]"), "y.md": good("y", "allows: [sandblast the outside]")},
			"must kb/y.md:10: the same deed is allowed and ruled out; let them agree, or add the word in which they differ"},
		{fstest.MapFS{"x.md": good("x", "rules-out: [blast outside]"), "y.md": good("y", "allows: [sandblast outside without water]")}, ""},
	} {
		if got := strings.Join(problemsOf(t, c.files, "2026-11-25"), "\n"); got != c.want {
			t.Errorf("problems are %q, want %q", got, c.want)
		}
	}
}
