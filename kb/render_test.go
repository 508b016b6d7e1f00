package kb

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// testRefs knows one setting and three sources, the last one only recalled.
func testRefs() References {
	cites := map[string]string{"kern-2015": "Kern 2015", "yang-2008": "Yang et al. 2008", "wille-2015": "Wille 2015"}
	return References{
		Value: func(key string, conditions map[string]string) (string, error) {
			if key != "abrasion.pressure" {
				return "", fmt.Errorf("no parameter %q", key)
			}
			var keys []string
			for _, k := range slices.Sorted(maps.Keys(conditions)) {
				keys = append(keys, k+"="+conditions[k])
			}
			return "1.5 to 2.8 bar (" + strings.Join(keys, ",") + ")", nil
		},
		Source: func(id string) (string, bool, bool) {
			cite, ok := cites[id]
			return cite, id == "wille-2015", ok
		},
		Units: []string{"bar", "s"},
	}
}

func parsed(t *testing.T, file *fstest.MapFile) *Article {
	t.Helper()
	a, err := ParseArticle("kb/x.md", file.Data)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestRender(t *testing.T) {
	text := `Blast **firmly** at {{abrasion.pressure zirconia=3Y abrasive=alumina}}, see [the other](other)
and *stop*. [published: kern-2015, yang-2008] [common practice]
Then more. [from memory: wille-2015] [inferred: kern-2015].

- A sum. [computed: energy balance] [from memory]
2. House. [house rule: the lead, 2026-01-05]`
	got, err := parsed(t, article("x", "X", text)).Render(testRefs())
	if err != nil {
		t.Fatal(err)
	}
	want := `Blast firmly at 1.5 to 2.8 bar (abrasive=alumina,zirconia=3Y), see the other (see other) and stop. [1, 2; common practice] Then more. [from memory 3; inferred 1].
• A sum. [computed 4; from memory]
2. House. [house rule: the lead, 2026-01-05]`
	if got.Answer != want {
		t.Errorf("answer is\n%s\nwant\n%s", got.Answer, want)
	}
	sources := "1. Kern 2015|2. Yang et al. 2008|3. Wille 2015 (recalled, not seen)|4. energy balance"
	if s := strings.Join(got.Sources, "|"); s != sources {
		t.Errorf("sources are %s, want %s", s, sources)
	}
	if len(got.Sections) != 3 || got.Sections[1].Title != "How" || got.Sections[1].Lines[0] != "1. Do it. [common practice]" {
		t.Errorf("sections are %+v", got.Sections)
	}
}

func TestRenderErrors(t *testing.T) {
	a := parsed(t, article("x", "X", "At {{abrasion.angle}}. [published: nobody-1999]"))
	_, err := a.Render(testRefs())
	want := `kb/x.md:14: {{abrasion.angle}} does not resolve: no parameter "abrasion.angle"` + "\n" + `kb/x.md:14: source "nobody-1999" is not known`
	if err == nil || err.Error() != want {
		t.Errorf("error is\n%v\nwant\n%s", err, want)
	}
	_, err = a.Render(References{})
	want = "kb/x.md:14: {{abrasion.angle}} cannot be filled: no values are supplied\n" + `kb/x.md:14: source "nobody-1999" is not known`
	if err == nil || err.Error() != want {
		t.Errorf("error is\n%v\nwant\n%s", err, want)
	}
}

func TestRenderKeepsTheCauseOfAnError(t *testing.T) {
	cause := errors.New("ambiguous")
	refs := testRefs()
	refs.Value = func(string, map[string]string) (string, error) { return "", cause }
	_, err := parsed(t, article("x", "X", "At {{abrasion.pressure}}. [common practice]")).Render(refs)
	if !errors.Is(err, cause) {
		t.Errorf("error %v does not wrap its cause", err)
	}
}

// TestRenderEmbedded renders every article that comes with the program with
// made-up values: no brace, bracketed tag or emphasis mark may be left over.
func TestRenderEmbedded(t *testing.T) {
	b, err := Load(Articles())
	if err != nil {
		t.Fatal(err)
	}
	refs := References{
		Value:  func(string, map[string]string) (string, error) { return "VALUE", nil },
		Source: func(id string) (string, bool, bool) { return "Cite " + id, false, true },
	}
	for _, a := range b.All() {
		got, err := a.Render(refs)
		if err != nil {
			t.Fatal(err)
		}
		text := got.Answer
		for _, s := range got.Sections {
			text += "\n" + strings.Join(s.Lines, "\n")
		}
		for _, mark := range []string{"{{", "}}", "[published", "[inferred:", "**", "``"} {
			if strings.Contains(text, mark) {
				t.Errorf("%s: rendered text holds %q", a.File, mark)
			}
		}
		if strings.Count(text, "[") != strings.Count(text, "]") || got.Answer == "" {
			t.Errorf("%s: brackets do not pair, or the answer is empty", a.File)
		}
	}
}
