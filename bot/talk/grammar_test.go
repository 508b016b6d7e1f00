package talk

import (
	"fmt"
	"go/ast"
	"go/parser"
	gotoken "go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"mortarboard/planner"
)

// asksGrammar are the functions that take a name of the grammar, and which of
// their arguments it is.
var asksGrammar = map[string]int{"is": 0, "holds": 0, "hasWord": 0, "nextTo": 0, "between": 3}

// TestGrammarNames finds names of the grammar that the program uses and the vocabulary
// lacks, and names there that nothing uses. A name has to be written out where it
// is used, so that it can be found.
func TestGrammarNames(t *testing.T) {
	listed := testTalk(t).words.words.Grammar
	used := map[string]bool{}
	for _, file := range productFiles(t) {
		for _, declared := range file.Decls {
			f, ok := declared.(*ast.FuncDecl)
			if !ok {
				continue
			}
			for _, name := range grammarNames(t, f) {
				used[name] = true
			}
		}
	}
	if len(used) < 50 {
		t.Errorf("only %d names were found in the program", len(used))
	}
	for name := range used {
		if listed[name] == nil {
			t.Errorf("words/grammar.yaml: grammar has no %q, which the program uses", name)
		}
	}
	for name := range listed {
		if !used[name] {
			t.Errorf("words/grammar.yaml: nothing uses %q of the grammar", name)
		}
	}
}

// productFiles parses the files of the package that are no tests.
func productFiles(t *testing.T) []*ast.File {
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var out []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(gotoken.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, file)
	}
	return out
}

// grammarNames lists the names that a function asks for. Only the asking functions
// themselves may pass one on.
func grammarNames(t *testing.T, f *ast.FuncDecl) []string {
	var out []string
	_, passesOn := asksGrammar[f.Name.Name]
	ast.Inspect(f, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		method, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		at, asks := asksGrammar[method.Sel.Name]
		if !asks {
			return true
		}
		if name, ok := call.Args[at].(*ast.BasicLit); ok {
			text, _ := strconv.Unquote(name.Value)
			out = append(out, text)
		} else if !passesOn {
			t.Errorf("%s: %s is called with a name that is not written out", f.Name.Name, method.Sel.Name)
		}
		return true
	})
	return out
}

// TestUnknownGrammarName holds that a misspelt name cannot pass for one without words.
func TestUnknownGrammarName(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a name that is not there was taken")
		}
	}()
	grammar{"denies": {"not": true}}.is("denys", "not")
}

// TestSubjectsOfOthers finds a subject under others that the knowledge base does not have.
func TestSubjectsOfOthers(t *testing.T) {
	data, err := os.ReadFile("../../kb/outofscope.yaml")
	if err != nil {
		t.Fatal(err)
	}
	words := testTalk(t).words.words
	others := slices.Concat(words.Others, words.Materials)
	if len(others) == 0 {
		t.Error("no subject is listed")
	}
	for _, name := range others {
		if !slices.Contains(strings.Split(string(data), "\n"), "  - name: "+name) {
			t.Errorf("outofscope.yaml has no subject %q", name)
		}
	}
}

// TestFaultsOfWords breaks the vocabulary in one place at a time and wants to be told
// where, and what is wrong.
func TestFaultsOfWords(t *testing.T) {
	oneByOne(t)
	book := planner.MustLoad()
	for _, c := range []struct{ from, to, says string }{
		{"    opening: {good: [normal],", "    opening: {good: [fine],", `opening: good: opening has no value "fine"`},
		{"    opening: {good: [normal],", "    openings: {good: [normal],", `no fact is called "openings"`},
		{"    opening: {good: [normal], ", "    opening: {", `the grade "good" gives it no value`},
		{"  turned: {good: poor,", "  turned: {good: bad,", `"bad" is no grade`},
		{"  grades: [good, ", "  grades: [fair, ", "there is no cue grade-fair"},
		{"  work: [enamel]", "  work: [enamels]", `no fact is called "enamels"`},
		{"margin: {whole: mixed,", "margin: {whole: both,", `"both"`},
		{"    intaglio: saliva", "    intaglio: spit", `"spit"`},
		{"  cleared: {found: none}", "  cleared: {found: nothing}", `"nothing"`},
		{"  drink: [coffee,", "  drink: [Coffee,", `"Coffee": write one word in lower case`},
		{"calm: [<material>-", "calm: [<materials>-", `kin has no family "materials"`},
		{"  apart: [zirconia]", "  apart: [zircon]", `"zircon"`},
		{"    span_units: {rest", "    spans: {rest", `"spans" is neither a measured fact nor`},
		{"    isolation: {impossible: doubtful}", "    isolation: {impossible: damp}", `"damp"`},
		{"    enamel: {gone: none,", "    enamel: {gone: zero,", `"zero"`},
		{"  mishap: [restoration]", "  mishap: [crown]", `no fact is called "crown"`},
		{"taper_deg: deg, wall", "taper_deg: degree, wall", `"degree" is not the symbol of a unit`},
		{"  row: [width_mm, top_mm, ", "  row: [width_mm, ", "names 2 measures"},
		{"  stray: {mm: wall_mm,", "  stray: {mm: wall,", `no fact is called "wall"`},
		{"changing: [zirconia,", "changing: [zircon,", `no fact is called "zircon"`},
		{"cut: [isolation, ", "cut: [field, ", `no fact is called "field"`},
		{"  restoration: [crown, bridge]", "  restoration: [crown, bridges]", `"bridges"`},
		{"  inside: etch.intaglio", "  inside: etch.inside", `no parameter has the key "etch.inside"`},
		{"  task: etch\n", "  task: etches\n", `settings has no task "etches"`},
		{"  cannot: [cant, ", "  cannot: [Cant, ", `"Cant": write one word in lower case`},
		{"  cannot: [cant, ", "  cannot: [wont, ", `"wont" stands twice`},
		{"  square-in-plan: [square]", "  square-in-plan: []", "has no words"},
		{"  takes-back: {intaglio: [cleaned]}", "  takes-back: {intaglio: [clean]}", `intaglio has no value "clean"`},
		{"  tells: [found,", "  tells: [finding,", `no fact is called "finding"`},
		{"  never: [nearly-<fallen>,", "  never: [nearly-<felled>,", `kin has no family "felled"`},
		{"short: {can: cant, ", "short: {c.n: cant, ", "write a verb and its short form"},
	} {
		files := wordFiles(t)
		name := breakOne(files, c.from, c.to)
		if name == "" {
			t.Errorf("the vocabulary no longer holds %q", c.from)
			continue
		}
		before, _, _ := strings.Cut(string(files[name].Data), c.to)
		line := fmt.Sprintf("%s:%d: ", name, strings.Count(before, "\n")+1)
		if _, err := newLexicon(files, book); err == nil || !strings.Contains(err.Error(), line) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q in place of %q: told %v, wanted %s … %s", c.to, c.from, err, line, c.says)
		}
	}
}

// wordFiles is a copy of the vocabulary.
func wordFiles(t *testing.T) fstest.MapFS {
	t.Helper()
	names, err := fs.Glob(planner.Rules(), "words/*.yaml")
	if err != nil || len(names) < 2 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	files := fstest.MapFS{}
	for _, name := range names {
		data, err := fs.ReadFile(planner.Rules(), name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: data}
	}
	return files
}

// breakOne puts one text in the place of another where it stands first, and names the file.
func breakOne(files fstest.MapFS, from, to string) string {
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if text := string(files[name].Data); strings.Contains(text, from) {
			files[name].Data = []byte(strings.Replace(text, from, to, 1))
			return name
		}
	}
	return ""
}

// TestWordsStandOnce wants to be told when two files hold the same key, and when there
// is no file.
func TestWordsStandOnce(t *testing.T) {
	for text, says := range map[string]string{
		"facts:\n  isolation:\n    dry: [arid]\n": "words/zz.yaml:2: facts: isolation stands in words/field.yaml:",
		"hedges: [perhaps]\n":                     "words/zz.yaml:1: hedges: hedges stands in words/reading.yaml:",
		"fact: {}\n":                              "words/zz.yaml: ",
	} {
		files := wordFiles(t)
		files["words/zz.yaml"] = &fstest.MapFile{Data: []byte(text)}
		if _, err := newLexicon(files, planner.MustLoad()); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q beside the others: told %v, wanted %s", text, err, says)
		}
	}
	if _, err := newLexicon(fstest.MapFS{}, planner.MustLoad()); err == nil || !strings.Contains(err.Error(), "put the vocabulary there") {
		t.Errorf("without a file: told %v", err)
	}
}
