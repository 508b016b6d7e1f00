package talk

import (
	"fmt"
	"go/ast"
	"go/parser"
	gotoken "go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"text/template"
	"text/template/parse"
)

// TestWordingGetsWhatItNames reads every place that says a sentence with a map of
// data, and wants each name that the sentence uses among the keys: a name that is
// missing would end the answer.
func TestWordingGetsWhatItNames(t *testing.T) {
	sentences := template.Must(template.New("").Funcs(wordingFuncs).Parse(wordingText + calcWordingText + shelfWordingText + wordingRunText))
	files := gotoken.NewFileSet()
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(files, path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			for _, s := range sayingsIn(f) {
				looked++
				for _, name := range namesIn(sentences.Lookup(s.sentence)) {
					if !slices.Contains(s.keys, name) {
						t.Errorf("%s: %q names .%s, and the data have only %v", files.Position(s.at), s.sentence, name, s.keys)
					}
				}
			}
		}
	}
	if looked < 50 {
		t.Errorf("looked at %d sentences: the test no longer finds them", looked)
	}
}

// A saying is a sentence that is said with a map of data.
type saying struct {
	sentence string
	keys     []string
	at       gotoken.Pos
}

// sayingsIn finds what a function says with a map, written in the call or kept in a
// variable of the function.
func sayingsIn(f *ast.FuncDecl) (out []saying) {
	kept := map[string][]string{} // variable → keys
	ast.Inspect(f.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			keep(kept, n)
		case *ast.CallExpr:
			call, ok := n.Fun.(*ast.SelectorExpr)
			if !ok || call.Sel.Name != "say" || len(n.Args) != 2 {
				break
			}
			name, keys := literal(n.Args[0]), keysOf(n.Args[1])
			if v, ok := n.Args[1].(*ast.Ident); ok {
				keys = kept[v.Name]
			}
			if name != "" && keys != nil {
				out = append(out, saying{name, keys, n.Pos()})
			}
		}
		return true
	})
	return out
}

// keep notes the keys of a map that is put into a variable. A key that is added
// later may be added in some cases only, and so does not count.
func keep(kept map[string][]string, n *ast.AssignStmt) {
	for i, left := range n.Lhs {
		v, ok := left.(*ast.Ident)
		if ok && len(n.Rhs) == len(n.Lhs) && keysOf(n.Rhs[i]) != nil {
			kept[v.Name] = keysOf(n.Rhs[i])
		}
	}
}

// keysOf are the keys of a map that is written out; nil of anything else.
func keysOf(e ast.Expr) []string {
	m, ok := e.(*ast.CompositeLit)
	if !ok {
		return nil
	}
	if _, ok := m.Type.(*ast.MapType); !ok {
		return nil
	}
	keys := []string{}
	for _, pair := range m.Elts {
		if kv, ok := pair.(*ast.KeyValueExpr); ok {
			keys = append(keys, literal(kv.Key))
		}
	}
	return keys
}

func literal(e ast.Expr) string {
	if l, ok := e.(*ast.BasicLit); ok && l.Kind == gotoken.STRING {
		s, _ := strconv.Unquote(l.Value)
		return s
	}
	return ""
}

// namesIn are the names that a sentence takes from its data, without those within
// "with" and "range", where the dot is another.
func namesIn(sentence *template.Template) (out []string) {
	if sentence == nil || sentence.Tree == nil {
		return nil
	}
	var walk func(n parse.Node)
	lists := func(b parse.BranchNode, inner bool) {
		walk(b.Pipe)
		if inner && b.List != nil {
			walk(b.List)
		}
		if b.ElseList != nil {
			walk(b.ElseList)
		}
	}
	walk = func(n parse.Node) {
		switch n := n.(type) {
		case *parse.ListNode:
			for _, child := range n.Nodes {
				walk(child)
			}
		case *parse.ActionNode:
			walk(n.Pipe)
		case *parse.TemplateNode:
			if n.Pipe != nil {
				walk(n.Pipe)
			}
		case *parse.PipeNode:
			for _, c := range n.Cmds {
				for _, arg := range c.Args {
					walk(arg)
				}
			}
		case *parse.IfNode:
			lists(n.BranchNode, true)
		case *parse.WithNode:
			lists(n.BranchNode, false)
		case *parse.RangeNode:
			lists(n.BranchNode, false)
		case *parse.FieldNode:
			out = append(out, n.Ident[0])
		}
	}
	walk(sentence.Root)
	return out
}

// TestWordingRefusesWhatIsMissing: a name without a value is a fault, not "<no value>".
func TestWordingRefusesWhatIsMissing(t *testing.T) {
	said := ""
	defer func() {
		if r := recover(); r == nil || !strings.Contains(fmt.Sprint(r), "By") {
			t.Errorf("said %q, recovered %v: wanted the missing name", said, r)
		}
	}()
	said = testTalk(t).say("departure", map[string]any{"What": "a wider envelope"})
}
