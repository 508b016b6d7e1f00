package page

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"mortarboard/bot/talk"
)

// hostile are texts that try to leave the place they are put in.
func hostile() []string {
	return []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' autofocus onfocus='alert(1)`, `</textarea><script>`, `</title><script>`, `--><svg/onload=alert(1)>`,
		`javascript:alert(1)`, `{{.Token}}{{template "page" .}}`, `&lt;b&gt;&#60;script&#62;`, `]]><script>`, "\x00<\x00script>", "\u202ehidden\u2066", "\xff\xfe<b>", "a\u2028b\u2029c",
		`<style>*{display:none}</style>`, `<base href=//evil.example>`, `<meta http-equiv=refresh content=0>`, `%22%3e%3cscript%3e`, "\r\nSet-Cookie: a=b", "`${alert(1)}`", `?q=<b>&case=x#y`,
		"\u200f\u200e\u007f\u0085", strings.Repeat("<", 50), `<!--`, `<a href="https://evil.example">`,
	}
}

// spoil puts a text into every field of a reply, keeping its form.
func spoil(r talk.Reply, text func(old string) string) talk.Reply {
	each := func(list []string) []string {
		var out []string
		for _, s := range list {
			out = append(out, text(s))
		}
		return out
	}
	values := func(list []talk.Value) []talk.Value {
		var out []talk.Value
		for _, v := range list {
			out = append(out, talk.Value{Name: text(v.Name), Of: text(v.Of), Low: v.Low, High: v.High, Unit: text(v.Unit), Basis: text(v.Basis), Source: text(v.Source)})
		}
		return out
	}
	s := talk.Reply{
		Question: text(r.Question), Kind: r.Kind, Strategy: text(r.Strategy), Leaning: r.Leaning, Verdict: text(r.Verdict), Text: text(r.Text), Headline: text(r.Headline),
		Caution: text(r.Caution), Notices: each(r.Notices), Entries: each(r.Entries), Values: values(r.Values), Case: map[string][]any{},
	}
	for i, key := range []string{"b", "a"} {
		s.Case[fmt.Sprint(i)+text(key)] = []any{text("x"), 3.5}
	}
	for _, g := range r.Reasons {
		s.Reasons = append(s.Reasons, talk.Reason{For: g.For, Weight: text(g.Weight), Because: text(g.Because), Basis: text(g.Basis), Source: text(g.Source)})
	}
	for _, g := range r.Steps {
		s.Steps = append(s.Steps, talk.Step{ID: text(g.ID), Surface: text(g.Surface), Do: text(g.Do), Values: values(g.Values), Caution: text(g.Caution)})
	}
	for _, g := range r.Sections {
		s.Sections = append(s.Sections, talk.Section{Title: text(g.Title), Lines: each(g.Lines), Fold: g.Fold})
	}
	for _, g := range r.Choices {
		c := talk.Choice{Fact: text(g.Fact), Ask: text(g.Ask)}
		for _, o := range g.Options {
			c.Options = append(c.Options, talk.Option{Label: text(o.Label), Says: text(o.Says)})
		}
		s.Choices = append(s.Choices, c)
	}
	for _, g := range r.Pictures {
		s.Pictures = append(s.Pictures, talk.Picture{Name: text(g.Name), Alt: text(g.Alt), SVG: g.SVG, PNG: g.PNG})
	}
	return s
}

// allowedTags are the tags that our templates write, with the attributes they
// give them. Nothing else may ever stand in a page.
func allowedTags(t *testing.T) map[string]bool {
	t.Helper()
	tags := map[string]bool{"!doctype html": true}
	entries, err := files.ReadDir("templates")
	if err != nil {
		t.Fatal(err)
	}
	action := regexp.MustCompile(`{{[^}]*}}`)
	for _, e := range entries {
		source, err := files.ReadFile("templates/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range regexp.MustCompile(`</?([a-zA-Z0-9!]+)`).FindAllStringSubmatch(string(source), -1) {
			tags[strings.ToLower(name[1])] = true
		}
		for _, attribute := range regexp.MustCompile(`\s([a-z-]+)=`).FindAllStringSubmatch(action.ReplaceAllString(string(source), " "), -1) {
			tags[" "+attribute[1]] = true
		}
	}
	for _, bare := range []string{"required", "hidden", "autofocus", "defer", "data-ask", "data-left", "data-steps", "data-count", "data-clear", "data-print"} {
		tags[" "+bare] = true
	}
	return tags
}

var (
	// opened is a tag as a browser reads it: quoted values may hold anything.
	opened = regexp.MustCompile(`<(/?)([a-zA-Z!][^\s>/]*)((?:\s+[^\s=>"']+(?:="[^"]*")?)*)\s*>`)
	named  = regexp.MustCompile(`\s([^\s=>"']+)(?:="([^"]*)")?`)
)

// harm says what a page holds that no template has: a tag, an attribute, a < that
// opens none, an address elsewhere, or something unseen.
func harm(allowed map[string]bool, body string) error {
	if !utf8.ValidString(body) || strings.ContainsAny(body, "\x00\u202e\u2066\u200f\u200e\u0085\u007f\r") {
		return errors.New("broken UTF-8, control characters or marks that turn the reading direction")
	}
	found := opened.FindAllStringSubmatch(body, -1)
	if n := strings.Count(body, "<"); n != len(found) {
		return fmt.Errorf("%d < but %d tags", n, len(found))
	}
	for _, m := range found {
		if !allowed[strings.ToLower(m[2])] && m[2] != "!DOCTYPE" {
			return fmt.Errorf("tag %q", m[0])
		}
		for _, a := range named.FindAllStringSubmatch(m[3], -1) {
			if m[2] != "!DOCTYPE" && !allowed[" "+a[1]] {
				return fmt.Errorf("attribute %q in %q", a[1], m[0])
			}
			leads := a[1] == "href" || a[1] == "src" || a[1] == "action"
			if leads && (!strings.HasPrefix(a[2], "/") && !strings.HasPrefix(a[2], "#") || strings.HasPrefix(a[2], "//")) {
				return fmt.Errorf("%q leads elsewhere", m[0])
			}
		}
	}
	return nil
}

// pagesOf renders a reply in every way there is.
func pagesOf(t *testing.T, r talk.Reply) map[string]string {
	t.Helper()
	s, f := fixed(t, r, r)
	s.o.Practice = r.Headline
	s.o.Intro = func() Intro { return Intro{Sections: r.Sections, Choices: r.Choices} }
	return map[string]string{
		"page":    string(rendered(t, s, "page", s.casePage(f))),
		"sheet":   string(rendered(t, s, "sheet", s.sheetPage(f, s.store.cards(f)[0]))),
		"empty":   string(rendered(t, s, "page", s.emptyPage())),
		"trouble": string(rendered(t, s, "trouble", s.troublePage(staleForm().keeping(draft{Case: r.Question, Text: r.Question})))),
	}
}

func TestHostileTextStaysText(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	texts, allowed := hostile(), allowedTags(t)
	for name, r := range replies() {
		for range 12 {
			spoiled := spoil(r, func(old string) string {
				bad := texts[rng.IntN(len(texts))]
				return []string{bad, old + bad, bad + old}[rng.IntN(3)]
			})
			for kind, body := range pagesOf(t, spoiled) {
				if err := harm(allowed, body); err != nil {
					t.Fatalf("%s, %s: %v in\n%s", name, kind, err, body)
				}
			}
		}
	}
}

// TestHarmIsSeen proves that the check above sees what it looks for.
func TestHarmIsSeen(t *testing.T) {
	allowed := allowedTags(t)
	for _, body := range []string{`<script src="/static/page.js" onload="x"></script>`, `<iframe></iframe>`, `a < b`, `<a href="javascript:x"></a>`, `<img src="//evil.example">`, `<b style="x"></b>`, "\u202e", "\xff"} {
		if harm(allowed, body) == nil {
			t.Errorf("%q passes", body)
		}
	}
}

// FuzzPage puts any text anywhere.
func FuzzPage(f *testing.F) {
	for _, text := range hostile() {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		allowed := allowedTags(t)
		for _, r := range []talk.Reply{planReply(), checkReply()} {
			for _, body := range pagesOf(t, spoil(r, func(string) string { return text })) {
				if err := harm(allowed, body); err != nil {
					t.Fatalf("%v in\n%s", err, body)
				}
			}
		}
	})
}
