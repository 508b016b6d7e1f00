package planner

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"regexp"

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

	Practice *Practice // nil without a practice

	decide  *grid // arguments and exclusions, compiled for walking
	sources map[string]*Source
}

// maxRuleFile bounds a rule file, in bytes: parsing costs many times its size.
const maxRuleFile = 512 << 10

// Load reads the rule files facts.yaml, sources.yaml, arguments.yaml,
// exclusions.yaml, notices.yaml, parameters.yaml, steps.yaml and safety.yaml.
// The error joins every problem found, each with file:line.
func Load(fsys fs.FS) (*Rulebook, error) {
	b := &Rulebook{sources: map[string]*Source{}}
	r := &reader{fsys: fsys, book: b}
	r.facts()
	r.citations()
	if len(r.problems) == 0 {
		r.arguments()
		r.exclusions()
		r.notices()
		r.parameters()
		r.steps()
		r.statements()
	}
	if err := errors.Join(r.problems...); err != nil {
		return nil, err
	}
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
// where every item stands.
func (r *reader) read(name string, into any) (places map[string][]string) {
	data, err := fs.ReadFile(r.fsys, name)
	if err != nil {
		r.problem(name, "cannot be read: %w", err)
		return nil
	}
	if len(data) > maxRuleFile {
		r.problem(name, "is %d bytes long: split it, the limit is %d", len(data), maxRuleFile)
		return nil
	}
	if err := strictly(data, into); err != nil {
		r.problems = append(r.problems, located(name, err)...)
		return nil
	}
	return itemPlaces(name, data)
}

// strictly decodes one YAML document; unknown keys and further documents are errors.
func strictly(data []byte, into any) error {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(into); err != nil {
		return err
	}
	if err := dec.Decode(&yaml.Node{}); !errors.Is(err, io.EOF) {
		return errors.New("line 1: holds more than one document: keep one per file")
	}
	return nil
}

var (
	yamlLine    = regexp.MustCompile(`line (\d+): (.*)`)
	unknownKey  = regexp.MustCompile(`field (\S+) not found in type \S+`)
	wrongShape  = regexp.MustCompile("cannot unmarshal !!(\\w+)( `.*`)? into .*")
	shapeAdvice = "$1$2 stands where another kind of value is wanted: see FORMAT.md"
)

// located turns the YAML package's message into one error a line, as
// file:line: what is wrong.
func located(name string, err error) []error {
	var out []error
	for _, m := range yamlLine.FindAllStringSubmatch(err.Error(), -1) {
		what := unknownKey.ReplaceAllString(m[2], `unknown key "$1": see FORMAT.md for the keys`)
		what = wrongShape.ReplaceAllString(what, shapeAdvice)
		out = append(out, fmt.Errorf("%s:%s: %s", name, m[1], what))
	}
	if out == nil {
		out = []error{fmt.Errorf("%s: %w", name, err)}
	}
	return out
}

// itemPlaces finds the line of every item of every top-level list.
func itemPlaces(name string, data []byte) map[string][]string {
	var doc yaml.Node
	if yaml.Unmarshal(data, &doc) != nil || len(doc.Content) == 0 {
		return nil
	}
	places := map[string][]string{}
	root := doc.Content[0]
	for i := 0; i+1 < len(root.Content); i += 2 {
		key := root.Content[i].Value
		for _, item := range root.Content[i+1].Content {
			places[key] = append(places[key], fmt.Sprintf("%s:%d", name, item.Line))
		}
	}
	return places
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
