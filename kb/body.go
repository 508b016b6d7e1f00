package kb

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

var (
	stepStart   = regexp.MustCompile(`^\s{0,3}(\d{1,2})[.)]\s+(.*)$`)
	bulletStart = regexp.MustCompile(`^\s{0,3}[-*]\s+(.*)$`)
	unsupported = regexp.MustCompile("^\\s*(```|\\||!\\[|>|---|#{2,})")
)

const referenceMend = `write {{task.name}} or {{task.name fact=value fact="two words"}}`

// A bodyReader cuts the Markdown below the front matter into sections.
type bodyReader struct {
	page     *page
	sections []Section
	open     *Block
	text     []string // lines of the open block
}

// readBody reads the lines of the body, the first of which is line offset+1.
func (p *page) readBody(lines []string, offset int) []Section {
	r := &bodyReader{page: p}
	for i, line := range lines {
		r.line(strings.TrimRight(line, " \t"), offset+i+1)
	}
	r.close()
	p.checkSections(r.sections, offset+1)
	return r.sections
}

func (r *bodyReader) line(line string, n int) {
	switch {
	case line == "":
		r.close()
	case strings.HasPrefix(line, "# "):
		r.close()
		r.sections = append(r.sections, Section{Title: strings.TrimSpace(line[2:]), Line: n})
	case unsupported.MatchString(line):
		r.page.add(n, "write plain paragraphs, - bullets or 1. steps", "%q opens something articles do not have", clip(line, 20))
	case len(r.sections) == 0:
		r.page.add(n, "put it below `# Answer`", "text stands before the first section")
	default:
		r.content(line, n)
	}
}

func (r *bodyReader) content(line string, n int) {
	if m := stepStart.FindStringSubmatch(line); m != nil {
		number, _ := strconv.Atoi(m[1])
		r.start(Block{Kind: Step, Number: number, Line: n}, m[2])
		return
	}
	if m := bulletStart.FindStringSubmatch(line); m != nil {
		r.start(Block{Kind: Bullet, Line: n}, m[1])
		return
	}
	if r.open == nil {
		r.start(Block{Kind: Paragraph, Line: n}, line)
		return
	}
	r.text = append(r.text, line)
}

func (r *bodyReader) start(b Block, text string) {
	r.close()
	r.open, r.text = &b, []string{text}
}

func (r *bodyReader) close() {
	if r.open == nil {
		return
	}
	for i, text := range r.text {
		r.open.Parts = append(r.open.Parts, r.page.parts(strings.TrimSpace(text), r.open.Line+i)...)
	}
	last := &r.sections[len(r.sections)-1]
	last.Blocks = append(last.Blocks, *r.open)
	r.open, r.text = nil, nil
}

// parts cuts one line of text into text, tags, links and references.
func (p *page) parts(text string, line int) []Part {
	var parts []Part
	for text != "" {
		i := strings.IndexAny(text, "[]{}")
		if i < 0 {
			i = len(text)
		}
		if i > 0 {
			parts = append(parts, Part{Text: text[:i], Line: line})
		}
		var part Part
		if text = text[i:]; text != "" {
			part, text = p.marked(text, line)
		}
		if part != (Part{}) {
			parts = append(parts, part)
		}
	}
	return parts
}

// marked reads the tag, link or reference that text begins with and returns
// the rest. What cannot be read is reported and skipped.
func (p *page) marked(text string, line int) (Part, string) {
	if body, rest, ok := between(text, "{{", "}}"); ok {
		return p.reference(body, line), rest
	}
	body, rest, ok := between(text, "[", "]")
	if !ok {
		return Part{}, p.stray(text, line)
	}
	if id, after, ok := between(rest, "(", ")"); ok {
		return p.link(body, id, line), after
	}
	tag, err := parseTag(body)
	if err != nil {
		p.add(line, tagMend, "%s", err)
		return Part{}, rest
	}
	return Part{Tag: tag, Line: line}, rest
}

// stray reports a bracket or a run of braces without its partner.
func (p *page) stray(text string, line int) (rest string) {
	mend := tagMend
	if text[0] == '{' || text[0] == '}' {
		mend = referenceMend
	}
	rest = strings.TrimLeft(text, text[:1])
	p.add(line, mend, "stray %q before %q", text[:len(text)-len(rest)], clip(rest, 20))
	return rest
}

func (p *page) reference(body string, line int) Part {
	ref, err := parseReference(body)
	if err != nil {
		p.add(line, referenceMend, "%s", err)
		return Part{}
	}
	return Part{Ref: ref, Line: line}
}

func (p *page) link(text, id string, line int) Part {
	if !idShape.MatchString(id) {
		p.add(line, "link to another article as [words](its-id)", "link to %q is no article id", id)
		return Part{}
	}
	return Part{Link: &Link{Text: text, ID: id}, Line: line}
}

// between cuts text that begins with open at the first close after it.
func between(text, open, shut string) (body, rest string, ok bool) {
	text, ok = strings.CutPrefix(text, open)
	if !ok {
		return "", "", false
	}
	return strings.Cut(text, shut)
}

// checkSections holds the headings to their order and to having content.
func (p *page) checkSections(sections []Section, line int) {
	titles, at := sectionTitles(), -1
	for _, s := range sections {
		i := slices.Index(titles, s.Title)
		if i < 0 || i <= at {
			p.add(s.Line, "keep the order "+strings.Join(titles, ", "), "section %q is unknown, repeated or out of order", s.Title)
		}
		if len(s.Blocks) == 0 {
			p.add(s.Line, "write it, or take the heading out", "section %q is empty", s.Title)
		}
		at = max(at, i)
	}
	for _, title := range titles[:len(titles)-1] {
		if !slices.ContainsFunc(sections, func(s Section) bool { return s.Title == title }) {
			p.add(line, "add `# "+title+"`", "section %q is missing", title)
		}
	}
}

func clip(text string, n int) string {
	runes := []rune(text)
	if len(runes) <= n {
		return text
	}
	return string(runes[:n]) + "…"
}
