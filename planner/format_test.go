package planner

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestFormatNamesEveryKey holds that FORMAT.md documents every key that a rule
// file or a practice file may have, and every name that such a key may take.
func TestFormatNamesEveryKey(t *testing.T) {
	page, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	tag := regexp.MustCompile("`yaml:\"([a-z_]+)")
	wanted := map[string]string{}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range tag.FindAllStringSubmatch(string(source), -1) {
			wanted[m[1]] = path
		}
	}
	if len(wanted) < 50 {
		t.Fatalf("found only %d keys in the source: %v", len(wanted), sortedKeys(wanted))
	}
	for _, list := range [][]string{stages, productClasses(), productContents()} {
		for _, name := range list {
			wanted[name] = "a list of allowed names"
		}
	}
	for name := range soundFiles(t) {
		if !strings.Contains(string(page), "## "+name) {
			t.Errorf("FORMAT.md has no section on %s", name)
		}
	}
	named := regexp.MustCompile("`([^`]+)`")
	words := map[string]bool{}
	for _, m := range named.FindAllStringSubmatch(string(page), -1) {
		words[strings.TrimSuffix(m[1], ":")] = true
	}
	for _, key := range sortedKeys(wanted) {
		if !words[key] {
			t.Errorf("FORMAT.md does not name %q (%s)", key, wanted[key])
		}
	}
}
