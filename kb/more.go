package kb

import (
	"fmt"
	"io/fs"
	"path"
	"slices"

	"gopkg.in/yaml.v3"
)

// moreFile is the file of a folder that lists further ways of asking for its
// own articles and for those of the folders below: "id: [ask, ask]". It makes
// an article findable without replacing it, e.g. by questions that were declined.
const moreFile = "more-asks.yaml"

// moreAsks are the further asks of one article.
type moreAsks struct {
	id   string
	file string
	line int
	asks []moreAsk
}

type moreAsk struct {
	text string
	line int
}

// readMore reads the folder's file of further asks, if there is one.
func readMore(fsys fs.FS, layerName string) ([]moreAsks, []Problem) {
	if _, err := fs.Stat(fsys, moreFile); err != nil {
		return nil, nil
	}
	data, problems := readBytes(fsys, layerName, moreFile)
	if len(problems) > 0 {
		return nil, problems
	}
	return parseMore(path.Join(layerName, moreFile), data)
}

func parseMore(file string, data []byte) ([]moreAsks, []Problem) {
	p := &page{file: file}
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		line, what := yamlError(err)
		p.add(line, "mend the YAML", "file does not parse: %s", what)
		return nil, p.problems
	}
	if doc.Kind == 0 {
		return nil, nil // empty, or comments only
	}
	if !p.plainYAML(doc.Content[0], 0) {
		return nil, p.problems
	}
	if doc.Content[0].Kind != yaml.MappingNode {
		p.add(1, "write the id of an article, a colon, and its asks each after `- `", "file holds no ids")
		return nil, p.problems
	}
	var all []moreAsks
	pairs := doc.Content[0].Content
	for i := 0; i+1 < len(pairs); i += 2 {
		all = append(all, p.readMoreAsks(pairs[i], pairs[i+1]))
	}
	return all, p.problems
}

func (p *page) readMoreAsks(key, value *yaml.Node) moreAsks {
	m := moreAsks{id: key.Value, file: p.file, line: key.Line}
	if value.Kind != yaml.SequenceNode || len(value.Content) == 0 {
		p.add(value.Line, "write asks, one a line, each after `- `", "%q has no list of asks", key.Value)
		return m
	}
	for _, n := range value.Content {
		text := p.scalar(key, n, 0)
		if size := len([]rune(text)); size == 0 || size > maxAsk {
			p.add(n.Line, fmt.Sprintf("write 1 to %d characters", maxAsk), "an ask of %q has %d characters", key.Value, size)
		}
		m.asks = append(m.asks, moreAsk{text, n.Line})
	}
	return m
}

// extend adds further asks to the articles they name. One that names no
// article is reported, but does no harm: the article may have been renamed.
func extend(articles map[string]*Article, more []moreAsks) []Problem {
	var problems []Problem
	for _, m := range more {
		old, ok := articles[m.id]
		if !ok {
			problems = append(problems, Problem{File: m.file, Line: m.line,
				What: fmt.Sprintf("further asks of %q, which does not exist", m.id), Mend: "name an existing article, or take them out"})
			continue
		}
		a := *old
		a.more = append(slices.Clip(a.more), m)
		articles[m.id] = &a
	}
	return problems
}

// allAsks goes through an article's own and further asks with their places.
func (a *Article) allAsks() []place {
	var all []place
	for i, ask := range a.Asks {
		all = append(all, place{a, a.File, a.line(fmt.Sprintf("asks/%d", i)), ask})
	}
	for _, m := range a.more {
		for _, ask := range m.asks {
			all = append(all, place{a, m.file, ask.line, ask.text})
		}
	}
	return all
}

// A place is where a text of an article stands.
type place struct {
	article *Article
	file    string
	line    int
	text    string
}
