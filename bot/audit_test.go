package main

import (
	"strings"
	"testing"
	"testing/fstest"

	"mortarboard/kb"
	"mortarboard/planner"
)

// TestOverstated holds which references are listed as resting on less than the
// tag beside them claims.
func TestOverstated(t *testing.T) {
	rules := planner.MustLoad()
	for _, tc := range []struct {
		text string
		want string // part of the one problem; empty if none is wanted
	}{
		{"Rinse it for {{cleaner.rinse}}. [published: yang-2008]", `{{cleaner.rinse}} rests on "from memory" and is tagged "published"; add [from memory]`},
		{"Rinse it for {{cleaner.rinse}}. [common practice]", `rests on "from memory" and is tagged "common practice"`},
		{"Scrub it for {{cleaner.time}}. [published: yang-2008]", `rests on "common practice" and is tagged "published"`},
		{"Rinse it for {{cleaner.rinse}}. [published: yang-2008] [from memory]", ""},
		{"Rinse it for {{cleaner.rinse}}. [from memory] It works. [published: yang-2008]", ""},
		{"It works. [published: yang-2008] Rinse it for {{cleaner.rinse}}. [from memory]", ""},
		{"Rinse it for {{cleaner.rinse}}. [published: yang-2008] It is recalled. [from memory]", `tagged "published"`},
		{"Aim for {{light.dose}}. [published: brazoralres-2015-dose]", ""},
		{"Seat it within {{seating.within}}. [common practice]", ""},
		{"The wall is {{wall.minimum zirconia=3Y}}. [inferred: weigl-2018]", `rests on "from memory" and is tagged "inferred"`},
	} {
		var got []string
		for _, p := range overstated(articleOf(t, tc.text), rules) {
			if p.Level != kb.Look {
				t.Errorf("%q: %s is a must", tc.text, p)
			}
			got = append(got, p.String())
		}
		text := strings.Join(got, "\n")
		if tc.want == "" && got != nil || tc.want != "" && (len(got) != 1 || !strings.Contains(text, tc.want)) {
			t.Errorf("%q: got %q, wanted %q", tc.text, text, tc.want)
		}
	}
}

// articleOf reads an article whose answer is the text.
func articleOf(t *testing.T, text string) []*kb.Article {
	t.Helper()
	page := "---\nid: a-try\ntitle: A try\ntopic: cleaning\nasks: [what is this, how is this, why is this, when is this]\nreviewed: 2026-11-24\nby: the team\n---\n" +
		"# Answer\n" + text + "\n\n# Why\nSo. [common practice]\n\n# How\nSo. [common practice]\n\n# Limits\nNone. [common practice]\n"
	base, err := kb.Load(fstest.MapFS{"a-try.md": {Data: []byte(page)}})
	if err != nil {
		t.Fatal(err)
	}
	return base.All()
}
