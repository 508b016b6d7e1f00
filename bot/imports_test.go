package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows is who may import whom, of our own packages. A package that is not
// listed here fails the test: decide where it belongs and add it.
var arrows = map[string][]string{
	"planner":               {"planner/sums"},
	"planner/sums":          {},
	"kb":                    {},
	"bot/talk":              {"planner", "planner/sums", "kb", "bot/talk/draw"},
	"bot/talk/draw":         {"planner/sums"},
	"bot/slack":             {"bot/talk"},
	"bot/slack/standin":     {},
	"bot/page":              {"bot/talk"},
	"bot/ledger":            {},
	"bot/ledger/ledgertest": {"bot/ledger"},
	"bot":                   {"planner", "planner/sums", "kb", "bot/talk", "bot/slack", "bot/page", "bot/ledger"},
}

// onlyIn is which packages alone may import a library.
var onlyIn = map[string][]string{
	"github.com/blevesearch/bleve": {"kb"},
	"github.com/slack-go/slack":    {"bot/slack", "bot/slack/standin"},
	"gonum.org/v1/plot":            {"bot/talk/draw"},
	"go.etcd.io/bbolt":             {"bot/ledger"},
	"net/http":                     {"bot/slack", "bot/slack/standin", "bot/page", "bot"},
	"os":                           {"bot", "bot/ledger", "bot/ledger/ledgertest", "bot/slack/standin"},
}

// TestArrows holds the architecture: planner and kb import nothing of ours,
// surfaces import talk only, and each outside library has one home.
func TestArrows(t *testing.T) {
	err := filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		checkImports(t, file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func checkImports(t *testing.T, file string) {
	pkg := path.Clean(strings.TrimPrefix(filepath.ToSlash(filepath.Dir(file)), "../"))
	allowed, listed := arrows[pkg]
	if !listed {
		t.Errorf("%s: package %s stands in no arrow: add it to the table, with what it may import", file, pkg)
		return
	}
	parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Error(err)
		return
	}
	for _, spec := range parsed.Imports {
		name, _ := strconv.Unquote(spec.Path.Value)
		if own, ours := strings.CutPrefix(name, "mortarboard/"); ours && !slices.Contains(allowed, own) {
			t.Errorf("%s: %s may not import %s; allowed are %v", file, pkg, own, allowed)
		}
		for library, homes := range onlyIn {
			if (name == library || strings.HasPrefix(name, library+"/")) && !slices.Contains(homes, pkg) {
				t.Errorf("%s: only %v may import %s", file, homes, library)
			}
		}
	}
}
