package kb

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"
)

// Limits of the front matter. Four asks are what the search needs to know an
// article by staff's own words; beyond ten they start to shadow other articles.
const (
	minAsks  = 4
	maxAsks  = 10
	maxTitle = 100 // runes
	maxAsk   = 160 // runes
)

const dateLayout = "2006-01-02"

var (
	idShape  = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	yamlLine = regexp.MustCompile(`line (\d+): (.*)`)
)

func frontKeys() []string {
	return []string{"id", "title", "topic", "asks", "roles", "related", "rules-out", "reviewed", "by", "hide"}
}

// readFront fills a from the front matter text, whose first line stands at
// line offset+1 of the file.
func (p *page) readFront(a *Article, text string, offset int) {
	root, ok := p.frontNode(text, offset)
	if !ok {
		return
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		key, value := root.Content[i], root.Content[i+1]
		a.lines[key.Value] = key.Line + offset
		p.readKey(a, key, value, offset)
	}
	if a.Hide {
		p.checkHidden(a)
		return
	}
	p.checkFront(a)
}

// frontNode parses the front matter into a mapping without anchors or tags.
func (p *page) frontNode(text string, offset int) (*yaml.Node, bool) {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		line, what := yamlError(err)
		p.add(line+offset, "mend the YAML between the --- lines", "front matter does not parse: %s", what)
		return nil, false
	}
	if doc.Kind != yaml.DocumentNode || doc.Content[0].Kind != yaml.MappingNode {
		p.add(offset+1, "write lines of the form `key: value`", "front matter holds no keys")
		return nil, false
	}
	return doc.Content[0], p.plainYAML(doc.Content[0], offset)
}

// plainYAML refuses what articles never need and a reader would not see
// through: anchors, aliases, merge keys and explicit tags.
func (p *page) plainYAML(n *yaml.Node, offset int) bool {
	if n.Anchor != "" || n.Kind == yaml.AliasNode || n.Style&yaml.TaggedStyle != 0 || n.Tag == "!!merge" {
		p.add(n.Line+offset, "write the value out", "the YAML uses an anchor, alias or tag")
		return false
	}
	for _, c := range n.Content {
		if !p.plainYAML(c, offset) {
			return false
		}
	}
	return true
}

func yamlError(err error) (int, string) {
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		n, _ := strconv.Atoi(m[1])
		return n, m[2]
	}
	return 1, strings.TrimPrefix(err.Error(), "yaml: ")
}

func (p *page) readKey(a *Article, key, value *yaml.Node, offset int) {
	switch key.Value {
	case "id":
		a.ID = p.scalar(key, value, offset)
	case "title":
		a.Title = p.scalar(key, value, offset)
	case "topic":
		a.Topic = p.scalar(key, value, offset)
	case "by":
		a.By = p.scalar(key, value, offset)
	case "reviewed":
		a.Reviewed = p.date(p.scalar(key, value, offset), value.Line+offset)
	case "hide":
		a.Hide = p.flag(p.scalar(key, value, offset), value.Line+offset)
	case "asks":
		a.Asks = p.list(a, key, value, offset)
	case "roles":
		a.Roles = p.list(a, key, value, offset)
	case "related":
		a.Related = p.list(a, key, value, offset)
	case "rules-out":
		a.RulesOut = p.list(a, key, value, offset)
	default:
		p.add(key.Line+offset, "use one of "+strings.Join(frontKeys(), ", "), "unknown key %q", key.Value)
	}
}

func (p *page) scalar(key, value *yaml.Node, offset int) string {
	if value.Kind != yaml.ScalarNode {
		p.add(value.Line+offset, "write one line of text after `"+key.Value+":`", "key %q holds a list or keys", key.Value)
		return ""
	}
	return strings.TrimSpace(value.Value)
}

func (p *page) list(a *Article, key, value *yaml.Node, offset int) []string {
	if value.Kind != yaml.SequenceNode {
		p.add(value.Line+offset, "write a list, one item a line, each after `- `", "key %q holds no list", key.Value)
		return nil
	}
	items := make([]string, len(value.Content))
	for i, n := range value.Content {
		items[i] = p.scalar(key, n, offset)
		a.lines[fmt.Sprintf("%s/%d", key.Value, i)] = n.Line + offset
		if slices.Contains(items[:i], items[i]) {
			p.add(n.Line+offset, "take one of the two out", "key %q lists %q twice", key.Value, items[i])
		}
	}
	return items
}

func (p *page) date(text string, line int) time.Time {
	t, err := time.Parse(dateLayout, text)
	if err != nil {
		p.add(line, "write the day as 2026-11-24", "reviewed is %q, not a date", text)
	}
	return t
}

func (p *page) flag(text string, line int) bool {
	if text != "true" && text != "false" {
		p.add(line, "write `hide: true`, or leave the key out", "hide is %q", text)
	}
	return text == "true"
}

// checkHidden holds a file with `hide: true` to what it may say: the id it
// hides, and who decided that and when.
func (p *page) checkHidden(a *Article) {
	p.checkID(a)
	for _, key := range []string{"title", "topic", "asks", "roles", "related", "rules-out"} {
		if _, ok := a.lines[key]; ok {
			p.add(a.line(key), "keep only id, hide, reviewed and by", "a file that hides an article also sets %q", key)
		}
	}
}

func (p *page) checkFront(a *Article) {
	p.checkID(a)
	p.checkText(a, "title", a.Title, maxTitle)
	p.checkText(a, "by", a.By, maxTitle)
	p.oneOf(a, "topic", a.Topic, Topics())
	if _, ok := a.lines["reviewed"]; !ok {
		p.add(1, "add `reviewed: 2026-11-24` with the day it was last read through", "front matter lacks reviewed")
	}
	p.checkAsks(a)
	for i, role := range a.Roles {
		p.oneOf(a, fmt.Sprintf("roles/%d", i), role, Roles())
	}
}

func (p *page) checkID(a *Article) {
	want := strings.TrimSuffix(a.File[strings.LastIndex(a.File, "/")+1:], ".md")
	switch {
	case !idShape.MatchString(want):
		p.add(1, "rename it to lower case letters, digits and single hyphens", "file name %q cannot be an id", want)
	case a.ID != want:
		p.add(a.line("id"), "write `id: "+want+"`, or rename the file", "id is %q but the file is named %q", a.ID, want)
	}
}

func (p *page) checkText(a *Article, key, value string, most int) {
	n := len([]rune(value))
	if n == 0 || n > most {
		p.add(a.line(key), fmt.Sprintf("write 1 to %d characters", most), "%s has %d characters", strings.TrimRight(key, "/0123456789"), n)
	}
}

func (p *page) oneOf(a *Article, key, value string, allowed []string) {
	if !slices.Contains(allowed, value) {
		p.add(a.line(key), "use one of "+strings.Join(allowed, ", "), "%s is %q", strings.TrimRight(key, "/0123456789"), value)
	}
}

func (p *page) checkAsks(a *Article) {
	if n := len(a.Asks); n < minAsks || n > maxAsks {
		p.add(a.line("asks"), fmt.Sprintf("give %d to %d ways in which staff ask it", minAsks, maxAsks), "asks lists %d", n)
	}
	for i, ask := range a.Asks {
		p.checkText(a, fmt.Sprintf("asks/%d", i), ask, maxAsk)
	}
}
