package page

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// goldenPages are all pages as the golden files have them.
func goldenPages(t *testing.T) map[string]string {
	t.Helper()
	names, err := filepath.Glob("testdata/golden/*.html")
	if err != nil || len(names) == 0 {
		t.Fatal("no golden pages", err)
	}
	all := map[string]string{}
	for _, name := range names {
		body, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(name)] = string(body)
	}
	return all
}

func TestTagsAreClosedInOrder(t *testing.T) {
	void := []string{"!doctype", "meta", "link", "input", "img"}
	for name, body := range goldenPages(t) {
		var open []string
		for _, m := range opened.FindAllStringSubmatch(body, -1) {
			tag := strings.ToLower(m[2])
			switch {
			case slices.Contains(void, tag):
			case m[1] == "":
				open = append(open, tag)
			case len(open) == 0 || open[len(open)-1] != tag:
				t.Fatalf("%s: </%s> closes %v", name, tag, open)
			default:
				open = open[:len(open)-1]
			}
		}
		if len(open) > 0 {
			t.Errorf("%s: %v stay open", name, open)
		}
	}
}

// TestPagesCanBeUsedByAll: language, title, labels, names, order of headings.
func TestPagesCanBeUsedByAll(t *testing.T) {
	for name, body := range goldenPages(t) {
		if !strings.Contains(body, `<html lang="en-GB">`) || !regexp.MustCompile(`<title>[^<]+ · Mortarboard</title>`).MatchString(body) {
			t.Errorf("%s: language or title", name)
		}
		ids := map[string]bool{}
		for _, m := range regexp.MustCompile(`\sid="([^"]+)"`).FindAllStringSubmatch(body, -1) {
			if ids[m[1]] {
				t.Errorf("%s: id %q twice", name, m[1])
			}
			ids[m[1]] = true
		}
		for _, m := range regexp.MustCompile(`(?:for|aria-labelledby|aria-describedby|href)="#?([^"/]+)"`).FindAllStringSubmatch(body, -1) {
			if !ids[m[1]] {
				t.Errorf("%s: %q names nothing", name, m[0])
			}
		}
		for _, m := range regexp.MustCompile(`<(?:textarea|input type="checkbox")[^>]*\sid="([^"]+)"`).FindAllStringSubmatch(body, -1) {
			if !strings.Contains(body, `for="`+m[1]+`"`) {
				t.Errorf("%s: %s has no label", name, m[1])
			}
		}
		for _, m := range regexp.MustCompile(`<img [^>]*>`).FindAllString(body, -1) {
			if !regexp.MustCompile(`alt="[^"]+"`).MatchString(m) {
				t.Errorf("%s: %s has no alternative text", name, m)
			}
		}
		level := 0
		for _, m := range regexp.MustCompile(`<h([1-6])`).FindAllStringSubmatch(body, -1) {
			if next := int(m[1][0] - '0'); next > level+1 {
				t.Errorf("%s: heading %d after %d", name, next, level)
			} else {
				level = next
			}
		}
		if strings.Count(body, "<h1") != 1 || strings.Count(body, "<main>") != 1 {
			t.Errorf("%s: not one first heading and one main part", name)
		}
	}
}

// TestCautionIsLast: on every card, sheet and trouble nothing stands below it.
func TestCautionIsLast(t *testing.T) {
	for name, body := range goldenPages(t) {
		card, _, ok := strings.Cut(body, "</article>")
		if strings.Contains(card, "A new case") {
			continue // no card yet
		}
		at := strings.LastIndex(card, `<p class="caution"`)
		if !ok || at < 0 || strings.Count(card[at:], "<p") != 1 || !strings.HasSuffix(strings.TrimSpace(card), "</p>") {
			t.Errorf("%s: the caution is not the last of its card", name)
		}
	}
}

// TestWorksWithoutScript: what needs the script is hidden until it shows it,
// all else is a link, a form or a disclosure.
func TestWorksWithoutScript(t *testing.T) {
	for name, body := range goldenPages(t) {
		for _, m := range regexp.MustCompile(`<button type="button"[^>]*>`).FindAllStringIndex(body, -1) {
			around := body[max(0, m[0]-80):m[1]]
			if !strings.Contains(around, "hidden") {
				t.Errorf("%s: a button that only a script serves is shown: %s", name, around)
			}
		}
		if strings.Contains(body, "onclick") || strings.Contains(body, "style=") || regexp.MustCompile(`<script[^>]*>[^<]`).MatchString(body) {
			t.Errorf("%s: inline script or style", name)
		}
		if m := regexp.MustCompile(`(?:src|href|action)="[^"/#]`).FindString(body); m != "" {
			t.Errorf("%s: something from elsewhere: %s", name, m)
		}
	}
	r := newRig(t, nil)
	for _, file := range []string{"page.css", "page.js", "icon.svg"} {
		got := r.get("/static/" + file)
		if got.StatusCode != http.StatusOK || got.body == "" || got.Header.Get("Content-Type") == "" {
			t.Errorf("%s: status %d, type %q", file, got.StatusCode, got.Header.Get("Content-Type"))
		}
		if strings.Contains(strings.ReplaceAll(got.body, "http://www.w3.org/2000/svg", ""), "//"+"www") || strings.Contains(got.body, "innerHTML") || strings.Contains(got.body, "eval(") {
			t.Errorf("%s reaches elsewhere or writes markup", file)
		}
	}
}
