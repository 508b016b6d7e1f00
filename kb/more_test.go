package kb

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

func TestMoreAsksFindAnArticleOfALayerBelow(t *testing.T) {
	below := Named("below", fstest.MapFS{
		"one.md": article("one", "One", "Clean it. [common practice]"), "two.md": article("two", "Two", "Clean it. [common practice]"),
		moreFile: {Data: []byte("# what staff said\none: [wobbly gizmo]\n")},
	})
	above := Named("above", fstest.MapFS{moreFile: {Data: []byte("two:\n  - sticky lid\n  - \"lid: stuck\"\n")}})
	b, err := Load(below, above)
	if err != nil {
		t.Fatal(err)
	}
	for q, want := range map[string]string{"wobbly gizmo": "one", "sticky lid": "two", "lid: stuck": "two"} {
		if got, r := first(t, b, q); got != want || !r.Close {
			t.Errorf("%q finds %q, close %v", q, got, r.Close)
		}
	}
	if one, _ := b.Article("one"); len(one.Asks) != 4 {
		t.Errorf("the article shows %d asks, want its own 4", len(one.Asks))
	}
}

// TestMoreAsksGoWithTheVersionTheyWereWrittenFor: who replaces an article
// replaces its further asks too.
func TestMoreAsksGoWithTheVersionTheyWereWrittenFor(t *testing.T) {
	below := fstest.MapFS{"one.md": article("one", "One", "Clean it. [common practice]"), moreFile: {Data: []byte("one: [wobbly gizmo]\n")}}
	above := fstest.MapFS{"one.md": article("one", "One of ours", "Leave it. [common practice]")}
	b, err := Load(below, above)
	if err != nil {
		t.Fatal(err)
	}
	if _, r := first(t, b, "wobbly gizmo"); r.Close {
		t.Error("a replaced article is still found by the old further asks")
	}
}

func TestMoreAsksOfNoArticleAreReportedOnly(t *testing.T) {
	b, err := Load(Named("kb", fstest.MapFS{"one.md": article("one", "One", "Clean it. [common practice]"), moreFile: {Data: []byte("\ngone: [a, b]\n")}}))
	if err != nil {
		t.Fatal(err)
	}
	problems := b.Check(day("2026-11-24"), testRefs())
	want := `kb/more-asks.yaml:2: further asks of "gone", which does not exist; name an existing article, or take them out`
	if len(problems) != 1 || problems[0].String() != want {
		t.Errorf("problems are %v, want %s", problems, want)
	}
}

func TestMoreAsksBad(t *testing.T) {
	for data, want := range map[string]string{
		"a: [b":                "kb/more-asks.yaml:1: file does not parse: did not find expected ',' or ']'; mend the YAML",
		"- a":                  "kb/more-asks.yaml:1: file holds no ids; write the id of an article, a colon, and its asks each after `- `",
		"one: x":               `kb/more-asks.yaml:1: "one" has no list of asks; write asks, one a line, each after ` + "`- `",
		"one: []":              `kb/more-asks.yaml:1: "one" has no list of asks; write asks, one a line, each after ` + "`- `",
		"one:\n  - ''":         `kb/more-asks.yaml:2: an ask of "one" has 0 characters; write 1 to 160 characters`,
		"one: &a [x]\ntwo: *a": "kb/more-asks.yaml:1: the YAML uses an anchor, alias or tag; write the value out",
	} {
		_, err := Load(Named("kb", fstest.MapFS{moreFile: {Data: []byte(data)}}))
		if err == nil || err.Error() != want {
			t.Errorf("%q: error is\n%v\nwant\n%s", data, err, want)
		}
	}
	if _, err := Load(fstest.MapFS{moreFile: {Data: []byte("# nothing yet\n")}}); err != nil {
		t.Errorf("a file of comments: %v", err)
	}
}

func TestLibraryFollowsMoreAsks(t *testing.T) {
	l := newLibraryTest(t)
	l.write(moreFile, &fstest.MapFile{Data: []byte("one: [wobbly gizmo]\n")})
	l.want(time.Hour, "Embedded one")
	if got, r := first(t, l.lib.Base(), "wobbly gizmo"); got != "one" || !r.Close {
		t.Errorf("finds %q, close %v", got, r.Close)
	}
	l.write(moreFile, &fstest.MapFile{Data: []byte("one: wobbly")})
	l.want(time.Hour, "Embedded one; practice/more-asks.yaml:1: \"one\" has no list of asks; write asks, one a line, each after `- `")
	if _, r := first(t, l.lib.Base(), "wobbly gizmo"); !r.Close {
		t.Error("a broken file of further asks took the good ones away")
	}
}

func TestEmbeddedDataIsSound(t *testing.T) {
	b, err := Load(Articles())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range b.Check(day("2026-12-01"), References{}) {
		if p.Level == Must {
			t.Errorf("%s", p)
		}
	}
	entries, err := fs.ReadDir(Articles(), ".")
	if err != nil || len(entries) != len(b.All())+1 {
		t.Errorf("%d files for %d articles and %s: %v", len(entries), len(b.All()), moreFile, err)
	}
}

func TestLexiconRefusesBadData(t *testing.T) {
	good := "groups: [{name: a, says: b, words: [xylophone]}]"
	for _, c := range []struct{ synonyms, outside, want string }{
		{"sme: []", good, "kb/synonyms.yaml:1: field sme not found in type kb.synonymData"},
		{"same: [{to: '', from: [a]}]", good, "kb/synonyms.yaml: an entry of same has no `to`; name the canonical word"},
		{"same: [{to: lamp, from: [torch]}, {to: fire, from: [torches]}]", good, `kb/synonyms.yaml: "torches" under "fire" is empty or stands in another entry; keep it in one`},
		{"near: [{words: [a, b], weight: 2}]", good, "kb/synonyms.yaml: near group [a b] needs two words and a weight between 0 and 1"},
		{"stop: a", "groups: [{name: a, words: [x]}]", `kb/outofscope.yaml: group "a" lacks name, says or words`},
		{"stop: a", "groups: [{name: a, says: a, words: [rain]}, {name: b, says: b, words: [raining]}]", `kb/outofscope.yaml: "raining" in group "b" is empty or stands in another group too`},
	} {
		_, err := newLexicon([]byte(c.synonyms), []byte(c.outside), "")
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s / %s: error is %v, want %s", c.synonyms, c.outside, err, c.want)
		}
	}
}

// TestBaseForm: inflections meet, different words do not.
func TestBaseForm(t *testing.T) {
	for _, same := range [][]string{{"price", "prices", "priced", "pricing"}, {"denture", "dentures"}, {"fee", "fees"}, {"drug", "drugs"}, {"inject", "injected", "injecting"}} {
		for _, w := range same[1:] {
			if baseForm(w) != baseForm(same[0]) {
				t.Errorf("%s → %s, but %s → %s", same[0], baseForm(same[0]), w, baseForm(w))
			}
		}
	}
	for _, p := range [][2]string{{"universal", "university"}, {"gas", "ga"}, {"ear", "earring"}, {"brace", "bracket"}, {"pus", "pu"}} {
		if baseForm(p[0]) == baseForm(p[1]) {
			t.Errorf("%s and %s both → %s", p[0], p[1], baseForm(p[0]))
		}
	}
}

func TestLeaning(t *testing.T) {
	l := weighLeaning(map[string]float64{"crown": 99, "rare": 1, "both": 9}, map[string]float64{"pizza": 9, "both": 9}, 199, 99)
	of := func(words ...string) float64 {
		var terms []term
		for _, w := range words {
			terms = append(terms, term{text: w})
		}
		return l.of(terms)
	}
	if of("crown") <= of("rare") || of("rare") <= 0 || of("both") >= 0 || of("pizza") >= of("both") || of("never-met") >= 0 || of("42") != 0 {
		t.Errorf("leanings: crown %v rare %v both %v pizza %v strange %v number %v", of("crown"), of("rare"), of("both"), of("pizza"), of("never-met"), of("42"))
	}
	if of("pizza", "pizza", "pizza", "pizza", "pizza", "pizza") != -1 {
		t.Errorf("leaning is not held to -1: %v", of("pizza", "pizza", "pizza", "pizza", "pizza", "pizza"))
	}
}
