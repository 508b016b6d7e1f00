package kb

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"
)

// Limits that keep a stray file from costing memory. The largest article so
// far has some 6 KB; 20,000 articles are what the benchmarks go up to.
const (
	maxFile     = 512 << 10
	maxArticles = 25_000
)

// A Base is a checked set of articles with its search. It never changes, and
// may be used by several goroutines at once.
type Base struct {
	articles []*Article // by id
	byID     map[string]*Article
	words    *lexicon
	index    *index
	loose    []Problem // of loading, that do not keep it from serving
}

// Load reads the articles of all layers, in order. A later layer adds
// articles, replaces those of the same id, or hides them with `hide: true`.
// The error joins every problem of every file.
func Load(layers ...fs.FS) (*Base, error) {
	articles, loose, err := readStack(layers)
	if err != nil {
		return nil, err
	}
	return newBase(articles, loose)
}

// readStack reads all layers and stacks them. The error joins every problem of
// every file; what is loose is no error.
func readStack(layers []fs.FS) (articles []*Article, loose []Problem, err error) {
	var all []layer
	var problems []Problem
	for _, fsys := range layers {
		l, ps := readLayer(fsys)
		all, problems = append(all, l), append(problems, ps...)
	}
	articles, loose, ps := stack(all)
	if problems = append(problems, ps...); len(problems) > 0 {
		sortProblems(problems)
		return nil, nil, joinProblems(problems)
	}
	return articles, loose, nil
}

func newBase(articles []*Article, loose []Problem) (*Base, error) {
	words, err := embeddedLexicon()
	if err != nil {
		return nil, err
	}
	b := &Base{articles: articles, byID: map[string]*Article{}, words: words, loose: loose}
	for _, a := range articles {
		b.byID[a.ID] = a
	}
	b.index, err = newIndex(articles, words)
	if err != nil {
		return nil, fmt.Errorf("kb: build the search index: %w", err)
	}
	b.closeWhenUnused()
	return b, nil
}

// Article returns the article of that id.
func (b *Base) Article(id string) (*Article, bool) {
	a, ok := b.byID[id]
	return a, ok
}

// All returns all articles, by id.
func (b *Base) All() []*Article { return slices.Clone(b.articles) }

// A layer is what one folder holds.
type layer struct {
	articles map[string]*Article // and hides, by id
	more     []moreAsks
}

// stack lays the layers over each other. A problem of further asks is loose: it
// is reported and does not keep the articles from serving.
func stack(layers []layer) (articles []*Article, loose, problems []Problem) {
	merged := map[string]*Article{}
	for _, l := range layers {
		problems = append(problems, l.over(merged)...)
		loose = append(loose, extend(merged, l.more)...)
	}
	for _, a := range merged {
		articles = append(articles, a)
	}
	slices.SortFunc(articles, func(a, b *Article) int { return strings.Compare(a.ID, b.ID) })
	if len(articles) > maxArticles {
		problems = append(problems, Problem{File: articles[0].File, Line: 1,
			What: fmt.Sprintf("there are %d articles, more than %d", len(articles), maxArticles), Mend: "split the base"})
	}
	return articles, loose, problems
}

// over lays the layer's articles and hides over those of the layers below.
func (l layer) over(merged map[string]*Article) []Problem {
	var problems []Problem
	for id, a := range l.articles {
		if !a.Hide {
			merged[id] = a
			continue
		}
		if _, ok := merged[id]; !ok {
			problems = append(problems, hidesNothing(a))
		}
		delete(merged, id)
	}
	return problems
}

func hidesNothing(a *Article) Problem {
	return Problem{File: a.File, Line: a.line("hide"),
		What: fmt.Sprintf("hides %q, which no layer below holds", a.ID), Mend: "name an existing article, or remove the file"}
}

// readLayer reads every article of one folder.
func readLayer(fsys fs.FS) (layer, []Problem) {
	name := layerName(fsys)
	files, err := articleFiles(fsys)
	if err != nil {
		return layer{}, []Problem{{File: path.Join(name, "."), Line: 1, What: "cannot be listed: " + err.Error(), Mend: "make the folder readable"}}
	}
	more, problems := readMore(fsys, name)
	l := layer{articles: map[string]*Article{}, more: more}
	for _, file := range files {
		a, ps := readFile(fsys, name, file)
		problems = append(problems, ps...)
		if len(ps) == 0 {
			l.articles[a.ID] = a
		}
	}
	return l, problems
}

// articleFiles lists the Markdown files at the top of a folder. README.md is
// the folder's own, and names that begin with a dot or ~ are editors' leavings.
func articleFiles(fsys fs.FS) ([]string, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, err
	}
	var files []string
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || path.Ext(name) != ".md" || name == "README.md" || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~") {
			continue
		}
		files = append(files, name)
	}
	return files, nil
}

func readFile(fsys fs.FS, layerName, file string) (*Article, []Problem) {
	data, problems := readBytes(fsys, layerName, file)
	if len(problems) > 0 {
		return nil, problems
	}
	p := &page{file: path.Join(layerName, file)}
	a := p.parse(data)
	return a, p.problems
}

// readBytes reads one file of a folder, unless it is too large.
func readBytes(fsys fs.FS, layerName, file string) ([]byte, []Problem) {
	p := &page{file: path.Join(layerName, file)}
	info, err := fs.Stat(fsys, file)
	if err == nil && info.Size() > maxFile {
		p.add(1, "cut it into several articles", "file has %d bytes, more than %d", info.Size(), maxFile)
		return nil, p.problems
	}
	data, err := fs.ReadFile(fsys, file)
	if err != nil {
		p.add(1, "make the file readable", "cannot be read: %v", err)
	}
	return data, p.problems
}

// ParseArticle reads one article; file names it in messages and gives its id.
func ParseArticle(file string, data []byte) (*Article, error) {
	p := &page{file: file}
	a := p.parse(data)
	if len(p.problems) > 0 {
		return nil, joinProblems(p.problems)
	}
	return a, nil
}

func (p *page) parse(data []byte) *Article {
	a := &Article{File: p.file, lines: map[string]int{}}
	if len(data) > maxFile {
		p.add(1, "cut it into several articles", "file has %d bytes, more than %d", len(data), maxFile)
		return a
	}
	if !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		p.add(1, "save it as UTF-8", "file is not UTF-8 text")
		return a
	}
	text := strings.ReplaceAll(strings.TrimPrefix(string(data), "\ufeff"), "\r\n", "\n")
	lines := strings.Split(text, "\n")
	end := slices.Index(lines[min(1, len(lines)):], "---")
	if lines[0] != "---" || end < 0 {
		p.add(1, "begin the file with ---, the keys, and another ---", "front matter is missing or not closed")
		return a
	}
	p.readFront(a, strings.Join(lines[1:end+1], "\n"), 1)
	if body := lines[end+2:]; !a.Hide {
		a.Sections = p.readBody(body, end+2)
	} else if strings.TrimSpace(strings.Join(body, "")) != "" {
		p.add(end+3, "take the text out", "a file that hides an article has text")
	}
	return a
}
