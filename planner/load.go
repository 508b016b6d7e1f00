package planner

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"reflect"
	"regexp"
	"strings"

	"gopkg.in/yaml.v3"
)

// A Rulebook holds every rule, checked whole and never changed after.
type Rulebook struct {
	Facts        []*Fact
	Sources      []*Source
	Arguments    []*Argument
	Exclusions   []*Exclusion
	Presumptions []*Presumption
	Notices      []*Notice
	Parameters   []*Parameter
	Steps        []*Step
	Statements   []*Statement
	Roles        []*Role
	Cards        []*Card
	Pairings     []*Pairing
	Usuals       []*Usual

	Practice *Practice // nil without a practice

	decide  *grid // arguments and exclusions, compiled for walking
	apart   *grid // exclusions alone
	sources map[string]*Source
}

// maxRuleFile bounds a rule file, in bytes: parsing costs many times its size.
const maxRuleFile = 512 << 10

// Load reads the rule files facts.yaml, sources.yaml, arguments.yaml,
// exclusions.yaml, notices.yaml, parameters.yaml, steps.yaml, safety.yaml,
// pairings.yaml and learning.yaml. The error joins every problem found, each with
// file:line. Rules that lack a setting which the sums take are refused, too.
func Load(fsys fs.FS) (*Rulebook, error) {
	b, err := load(fsys)
	if err != nil {
		return nil, err
	}
	return b, b.checkLimits()
}

// load reads the rule files, whatever settings they hold.
func load(fsys fs.FS) (*Rulebook, error) {
	b := &Rulebook{sources: map[string]*Source{}}
	r := &reader{fsys: fsys, book: b}
	r.facts()
	r.citations()
	if len(r.problems) == 0 {
		r.arguments()
		r.exclusions()
		r.parameters()
		r.notices()
		r.steps()
		r.statements()
		r.cards()
		r.pairings()
	}
	if err := errors.Join(r.problems...); err != nil {
		return nil, err
	}
	b.apart = newExclusions(b)
	var err error
	b.decide, err = b.newGrid(nil)
	return b, err
}

// MustLoad is Load of the built-in rules, which the tests prove to be sound.
func MustLoad() *Rulebook {
	b, err := Load(Rules())
	if err != nil {
		panic(err)
	}
	return b
}

// A reader reads rule files and collects all problems instead of stopping.
type reader struct {
	fsys     fs.FS
	book     *Rulebook
	problems []error
}

// problem notes what is wrong and where.
func (r *reader) problem(where, format string, args ...any) {
	r.problems = append(r.problems, fmt.Errorf(where+": "+format, args...))
}

// read decodes one file strictly and returns, for each list at its top level,
// where every item stands. A file with a problem is left unread whole.
func (r *reader) read(name string, into any) (places map[string][]string) {
	data, err := fs.ReadFile(r.fsys, name)
	switch {
	case err != nil:
		r.problem(name, "cannot be read: %w", err)
		return nil
	case len(data) > maxRuleFile:
		r.problem(name, "is %d bytes long: split it, the limit is %d", len(data), maxRuleFile)
		return nil
	}
	places, err = strictly(name, data, into)
	if errors.Is(err, io.EOF) && r.book == nil {
		return nil // a practice's file may hold remarks alone
	}
	if err != nil {
		r.problems = append(r.problems, located(name, err)...)
		reflect.ValueOf(into).Elem().SetZero()
		return nil
	}
	return places
}

// strictly decodes one YAML document and says where the items of its lists
// stand. Unknown keys, further documents, empty items, anchors and merge keys
// are errors.
func strictly(name string, data []byte, into any) (map[string][]string, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, err
	}
	if len(doc.Content) == 0 {
		return nil, io.EOF
	}
	if err := plainYAML(&doc); err != nil {
		return nil, err
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(into); err != nil {
		return nil, err
	}
	if err := dec.Decode(&yaml.Node{}); !errors.Is(err, io.EOF) {
		return nil, errors.New("line 1: holds more than one document: keep one per file")
	}
	return itemPlaces(name, doc.Content[0])
}

// plainYAML refuses what hides where a thing stands: anchors, aliases, merge keys.
func plainYAML(node *yaml.Node) error {
	if node.Kind == yaml.AliasNode || node.Anchor != "" || node.Tag == "!!merge" {
		what := "an anchor"
		if node.Tag == "!!merge" {
			what = fmt.Sprintf("%q", node.Value)
		}
		return fmt.Errorf("line %d: %s is not read here: write the rows out", node.Line, what)
	}
	for _, child := range node.Content {
		if err := plainYAML(child); err != nil {
			return err
		}
	}
	return nil
}

var (
	yamlLine    = regexp.MustCompile(`line (\d+): (.*)`)
	unknownKey  = regexp.MustCompile(`field (\S+) not found in type .*`)
	wrongShape  = regexp.MustCompile("cannot unmarshal !!(\\w+)( `.*`)? into .*")
	shapeAdvice = "$1$2 stands where another kind of value is wanted: see FORMAT.md"
)

// located turns the YAML package's message into one error a line, as
// file:line: what is wrong.
func located(name string, err error) []error {
	if errors.Is(err, io.EOF) {
		list := strings.TrimSuffix(name, ".yaml")
		return []error{fmt.Errorf("%s:1: holds nothing: write \"%s: []\" if there is nothing to say", name, list)}
	}
	var out []error
	for _, m := range yamlLine.FindAllStringSubmatch(err.Error(), -1) {
		what := unknownKey.ReplaceAllString(m[2], `unknown key "$1": see FORMAT.md for the keys`)
		what = wrongShape.ReplaceAllString(what, shapeAdvice)
		if strings.Contains(what, "cannot start any token") {
			what += ": indent with spaces, not with tabs"
		}
		out = append(out, fmt.Errorf("%s:%s: %s", name, m[1], what))
	}
	if out == nil {
		out = []error{fmt.Errorf("%s: %w", name, err)}
	}
	return out
}

// itemPlaces finds the line of every item of every top-level list.
func itemPlaces(name string, root *yaml.Node) (map[string][]string, error) {
	places := map[string][]string{}
	for i := 0; i+1 < len(root.Content); i += 2 {
		key := root.Content[i].Value
		for _, item := range root.Content[i+1].Content {
			if item.Tag == "!!null" {
				return nil, fmt.Errorf("line %d: the row is empty: fill it or take its dash away", item.Line)
			}
			places[key] = append(places[key], fmt.Sprintf("%s:%d", name, item.Line))
		}
	}
	return places, nil
}

// row compiles what all rows share, and notes what is wrong with it.
func (r *reader) row(id, where string, when, unless conditions) Row {
	if id == "" {
		r.problem(where, "the row needs an id")
	}
	sets, err := compile(r.book.Facts, when, unless)
	if err != nil {
		r.problem(where, "%s: %w", id, err)
	}
	return Row{ID: id, Where: where, when: sets}
}

// rests resolves what a row rests on, and notes a basis that claims too much.
func (r *reader) rests(where string, basis Basis, ids []string) Provenance {
	p := Provenance{Basis: basis}
	for _, id := range ids {
		s := r.book.sources[id]
		if s == nil {
			r.problem(where, "source %q is not in sources.yaml", id)
			continue
		}
		p.Sources = append(p.Sources, s)
	}
	if err := p.check(); err != nil {
		r.problem(where, "%w", err)
	}
	return p
}

// unique notes an id that stands twice.
func (r *reader) unique(seen map[string]string, id, where string) {
	if first, twice := seen[id]; twice {
		r.problem(where, "id %q stands already at %s", id, first)
		return
	}
	seen[id] = where
}

// wanted notes empty texts that a row must have.
func (r *reader) wanted(where string, texts map[string]string) {
	for _, key := range sortedKeys(texts) {
		if texts[key] == "" {
			r.problem(where, "%s is missing", key)
		}
	}
}
