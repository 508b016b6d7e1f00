package kb

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

func day(text string) time.Time {
	d, err := time.Parse(dateLayout, text)
	if err != nil {
		panic(err)
	}
	return d
}

// problemsOf loads files and returns what the checker says of them, level first.
func problemsOf(t *testing.T, files fstest.MapFS, today string) []string {
	t.Helper()
	var out []string
	for _, p := range mustLoad(t, files).Check(day(today), testRefs()) {
		out = append(out, p.Level.String()+" "+p.String())
	}
	return out
}

func TestCheckFindsNothingInAGoodArticle(t *testing.T) {
	files := fstest.MapFS{"good.md": article("good", "A good one", "At {{abrasion.pressure zirconia=3Y}}. [published: kern-2015]")}
	if got := problemsOf(t, files, "2026-11-25"); len(got) > 0 {
		t.Errorf("problems: %s", strings.Join(got, "\n"))
	}
}

// TestCheckOneFault changes one thing in a good article and compares the
// whole report.
func TestCheckOneFault(t *testing.T) {
	for _, c := range []struct{ name, old, new, today, want string }{
		{"no tag", "Fine. [common practice]", "Fine.", "", "must kb/x.md:14: a paragraph has no basis tag at its end; end it with what it rests on, e.g. [common practice]"},
		{"text after tag", "Fine. [common practice]", "Fine. [common practice] And more.", "", "must kb/x.md:14: a paragraph has no basis tag at its end; end it with what it rests on, e.g. [common practice]"},
		{"unknown source", "[common practice]", "[published: nobody-1999]", "", `must kb/x.md:14: source "nobody-1999" is not known; use an id of the list of sources`},
		{"recalled source", "[common practice]", "[published: wille-2015]", "", `must kb/x.md:14: source "wille-2015" was never seen but is tagged published; write [from memory: wille-2015]`},
		{"recalled conclusion", "[common practice]", "[inferred: wille-2015]", "", `look kb/x.md:14: source "wille-2015" was never seen but a conclusion rests on it; write [from memory: wille-2015] unless other sources carry it`},
		{"recalled, said so", "[common practice]", "[from memory: wille-2015]", "", ""},
		{"reference", "Fine.", "At {{light.dose}}.", "", `must kb/x.md:14: {{light.dose}} does not resolve: no parameter "light.dose"; use a key and conditions of the planner's parameters`},
		{"number of an owned unit", "Fine.", "At 2.8 bar.", "", `look kb/x.md:14: "2.8 bar" is written out; write {{task.name}}, or tag what it rests on`},
		{"number spelt out", "Fine.", "For 20 seconds, then stop.", "", `look kb/x.md:14: "20 seconds" is written out; write {{task.name}}, or tag what it rests on`},
		{"number with a finding", "Fine. [common practice]", "At 2.8 bar. [published: kern-2015]", "", ""},
		{"number with a finding and custom", "Fine. [common practice]", "At 2.8 bar. [common practice] [from memory]", "", ""},
		{"number of another unit", "Fine.", "Under 24 rpm.", "", ""},
		{"product name", "Fine.", "Use the Shinyglue today.", "", `look kb/x.md:14: "Shinyglue" has a capital within a sentence: a product name?; describe the product in general words, or add the term to kb/capitals.txt`},
		{"product name in the title", "title: An x", "title: An Xylo", "", `look kb/x.md:3: "Xylo" has a capital within a sentence: a product name?; describe the product in general words, or add the term to kb/capitals.txt`},
		{"capitals of the trade", "Fine.", "MDP binds 3Y; RMGICs do not. (Nor does SARC.) Stop: Ask. The ISO-type test", "", ""},
		{"overdue", "Fine.", "Fine.", "2028-11-25", "must kb/x.md:10: review was due on 2028-11-24; read it through against its sources and set the date"},
		{"not overdue", "Fine.", "Fine.", "2028-11-24", ""},
		{"reviewed tomorrow", "Fine.", "Fine.", "2026-11-23", "must kb/x.md:10: reviewed on 2026-11-24, which is still to come; write the day it was read through"},
		{"step number", "1. Do it. [common practice]", "1. Do it. [common practice]\n3. More. [common practice]", "", "must kb/x.md:21: step is numbered 3; number it 2"},
		{"dead link", "by: founding", "related: [nowhere]\nby: founding", "", `must kb/x.md:11: link to "nowhere", which does not exist; name an existing article, or take the link out`},
		{"dead link in the text", "Fine.", "See [that](nowhere).", "", `must kb/x.md:14: link to "nowhere", which does not exist; name an existing article, or take the link out`},
		{"link to itself", "by: founding", "related: [x]\nby: founding", "", "must kb/x.md:11: article links to itself; take it out"},
		{"long answer", "Fine.", strings.Repeat("Fine so far. ", 40), "", "look kb/x.md:13: answer has 523 characters; say it in two or three short sentences and move the rest down"},
		{"foreign ask", "filler ask a of x", "filler price a of x", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := article("x", "An x", "Fine. [common practice]")
			text := string(file.Data)
			if !strings.Contains(text, c.old) {
				t.Fatalf("article holds no %q", c.old)
			}
			file.Data = []byte(strings.Replace(text, c.old, c.new, 1))
			today := c.today
			if today == "" {
				today = "2026-11-24"
			}
			if got := strings.Join(problemsOf(t, fstest.MapFS{"x.md": file}, today), "\n"); got != c.want {
				t.Errorf("report is\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestCheckDoubles(t *testing.T) {
	got := problemsOf(t, fstest.MapFS{
		"a.md": article("a", "Saliva in the crown", "Fine. [common practice]", "crown came off", "spit in the crown", "only here"),
		"b.md": article("b", "Saliva in the crown", "Fine. [common practice]", "Crown came off", "saliva in crown", "only there"),
	}, "2026-11-24")
	want := []string{
		`must kb/b.md:3: title "Saliva in the crown" stands in kb/a.md:3 too; keep it in the article that answers it and word the other one differently`,
		`must kb/b.md:6: ask "Crown came off" stands in kb/a.md:6 too; keep it in the article that answers it and word the other one differently`,
		`look kb/a.md:6: ask "crown came off" finds b first; word it so that it tells the two apart, or move it`,
		`look kb/b.md:7: ask "saliva in crown" reads like "spit in the crown" in kb/a.md:7; keep it in the article that answers it and word the other one differently`,
	}
	for _, w := range want {
		if !strings.Contains(strings.Join(got, "\n"), w) {
			t.Errorf("report lacks %s\nit is\n%s", w, strings.Join(got, "\n"))
		}
	}
}
