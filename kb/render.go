package kb

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// References is how the planner's numbers and citations come into an article,
// so that each exists once.
type References struct {
	// Value returns a setting as text with its unit, e.g. "1.5 to 2.8 bar". The
	// key is "task.name"; conditions map a fact to its value.
	Value func(key string, conditions map[string]string) (string, error)
	// Source returns the citation of a source id, and whether the source is only
	// recalled and was never seen.
	Source func(id string) (cite string, fromMemory bool, ok bool)
	// Units, which may stay empty, are the units that the planner's settings have;
	// the checker then looks for numbers written out in those units only.
	Units []string
}

// A Rendered article is plain text, with references filled and sources numbered.
type Rendered struct {
	Answer   string // the two-line answer
	Sections []RenderedSection
	Sources  []string // "1. Blatz et al. 2016, …"
}

// A RenderedSection is one section below the answer.
type RenderedSection struct {
	Title string
	Lines []string // a paragraph, bullet or step each
}

// Render writes the article as plain text. Tags become "[1, 2]" where they name
// sources, and keep their words where they do not. The error joins every
// reference and source that does not resolve.
func (a *Article) Render(refs References) (Rendered, error) {
	r := &renderer{article: a, refs: refs}
	var out Rendered
	for _, s := range a.Sections {
		lines := r.section(s)
		if s.Title == "Answer" {
			out.Answer = strings.Join(lines, "\n")
			continue
		}
		out.Sections = append(out.Sections, RenderedSection{Title: s.Title, Lines: lines})
	}
	out.Sources = r.sources
	return out, errors.Join(r.errs...)
}

// A renderer numbers the sources of one article in order of appearance.
type renderer struct {
	article *Article
	refs    References
	sources []string
	numbers map[string]int // source id or origin to its number
	errs    []error
}

func (r *renderer) section(s Section) []string {
	lines := make([]string, len(s.Blocks))
	for i, b := range s.Blocks {
		lines[i] = r.block(b)
	}
	return lines
}

var (
	emphasis   = regexp.MustCompile("(\\*\\*|__|`)")
	spaces     = regexp.MustCompile(`\s+`)
	spaceStop  = regexp.MustCompile(`\s+([.,;:])`)
	singleStar = regexp.MustCompile(`\*(\S[^*]*\S|\S)\*`)
)

func (r *renderer) block(b Block) string {
	var out strings.Builder
	for i := 0; i < len(b.Parts); i++ {
		p := b.Parts[i]
		switch {
		case p.Tag != nil:
			n := tagRun(b.Parts[i:])
			out.WriteString(r.tags(b.Parts[i : i+n]))
			i += n - 1
		case p.Ref != nil:
			out.WriteString(bare(out.String(), r.value(p)))
		case p.Link != nil:
			out.WriteString(p.Link.Text + " (see " + p.Link.ID + ")")
		default:
			out.WriteString(plainText(p.Text))
		}
		out.WriteString(joint(b.Parts, i))
	}
	text := strings.TrimSpace(spaces.ReplaceAllString(out.String(), " "))
	return marker(b) + spaceStop.ReplaceAllString(text, "$1")
}

// bounding are words before a reference that already say which way it bounds.
var bounding = regexp.MustCompile(`(?i)\b(?:at least|at most|within|under|below|above|about|less than|more than|no more than|no deeper than|up to) $`)

// bare takes the words of a bound off a value where the sentence has its own:
// "within at most 2 min" is written "within 2 min".
func bare(before, value string) string {
	if !bounding.MatchString(before) {
		return value
	}
	return strings.TrimPrefix(strings.TrimPrefix(value, "at least "), "at most ")
}

// joint is the space between two lines of the file that make one paragraph.
func joint(parts []Part, i int) string {
	if i+1 < len(parts) && parts[i+1].Line != parts[i].Line {
		return " "
	}
	return ""
}

func plainText(text string) string {
	return singleStar.ReplaceAllString(emphasis.ReplaceAllString(text, ""), "$1")
}

func marker(b Block) string {
	switch b.Kind {
	case Bullet:
		return "• "
	case Step:
		return fmt.Sprintf("%d. ", b.Number)
	}
	return ""
}

// tagRun counts the parts up to the last of the tags that stand together.
func tagRun(parts []Part) int {
	n := 0
	for i, p := range parts {
		if p.Tag != nil {
			n = i + 1
		} else if strings.TrimSpace(p.Text) != "" || p.Ref != nil || p.Link != nil {
			break
		}
	}
	return n
}

// tags writes tags that stand together as one bracket: "[1, 2; common practice]".
func (r *renderer) tags(parts []Part) string {
	var numbers, words []string
	for _, p := range parts {
		if p.Tag == nil {
			continue
		}
		switch p.Tag.Basis {
		case Published:
			numbers = append(numbers, r.cite(p)...)
		case Inferred, FromMemory, Computed:
			words = append(words, strings.Join(append([]string{string(p.Tag.Basis)}, r.cite(p)...), " "))
		case HouseRule:
			words = append(words, "house rule: "+p.Tag.Origin)
		default:
			words = append(words, string(p.Tag.Basis))
		}
	}
	if len(numbers) > 0 {
		words = slices.Insert(words, 0, strings.Join(numbers, ", "))
	}
	return "[" + strings.Join(words, "; ") + "]"
}

// cite returns the numbers of a tag's sources.
func (r *renderer) cite(p Part) []string {
	var numbers []string
	for _, id := range p.Tag.Sources {
		numbers = append(numbers, r.source(id, p.Line))
	}
	if p.Tag.Origin != "" {
		numbers = append(numbers, r.number(p.Tag.Origin, p.Tag.Origin))
	}
	return numbers
}

func (r *renderer) source(id string, line int) string {
	if r.refs.Source == nil {
		r.fail(line, "source %q is not known", id)
		return r.number(id, id)
	}
	cite, fromMemory, ok := r.refs.Source(id)
	if !ok {
		r.fail(line, "source %q is not known", id)
		return r.number(id, id)
	}
	if fromMemory {
		cite += " (recalled, not seen)"
	}
	return r.number(id, cite)
}

// number gives each source one number, however often it is cited.
func (r *renderer) number(id, cite string) string {
	if r.numbers == nil {
		r.numbers = map[string]int{}
	}
	if r.numbers[id] == 0 {
		r.numbers[id] = len(r.sources) + 1
		r.sources = append(r.sources, fmt.Sprintf("%d. %s", r.numbers[id], cite))
	}
	return fmt.Sprint(r.numbers[id])
}

func (r *renderer) value(p Part) string {
	if r.refs.Value == nil {
		r.fail(p.Line, "%s cannot be filled: no values are supplied", p.Ref.Written)
		return p.Ref.Written
	}
	text, err := r.refs.Value(p.Ref.Key, p.Ref.Conditions)
	if err != nil {
		r.fail(p.Line, "%s does not resolve: %w", p.Ref.Written, err)
		return p.Ref.Written
	}
	return text
}

func (r *renderer) fail(line int, format string, args ...any) {
	r.errs = append(r.errs, fmt.Errorf("%s:%d: "+format, append([]any{r.article.File, line}, args...)...))
}
