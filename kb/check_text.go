package kb

import (
	_ "embed"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// capitalsFile lists the words that may stand with a capital within a sentence.
//
//go:embed capitals.txt
var capitalsFile string

var (
	writtenNumber = regexp.MustCompile(`(?i)\d+(?:[.,]\d+)?(?:\s*(?:–|-|to|or|and)\s*\d+(?:[.,]\d+)?)?\s*(µm|μm|mW/cm²|J/cm²|mm²|mm|bar|psi|MPa|kPa|seconds?|secs?|minutes?|mins?|min|hours?|rpm|°C|%|h|s|N|°)(?:[^\p{L}\d]|$)`)
	capitalWord   = regexp.MustCompile(`[\p{L}\d][\p{L}\d'’/+-]*`)
)

// texts goes through what people read, for numbers that the planner owns and
// for capitals that may be product names.
func (c *checker) texts(a *Article) {
	allowed := capitals()
	c.capitals(a.Title, a.line("title"), allowed)
	for _, s := range a.Sections {
		for _, b := range s.Blocks {
			c.numbers(b)
			c.blockCapitals(b, allowed)
		}
	}
}

// numbers reports quantities that are written out although the planner has
// settings in that unit. A finding of a study is written out and says so: text
// whose tags name a source, a sum or a recollection is left alone.
func (c *checker) numbers(b Block) {
	for i := 0; i < len(b.Parts); i++ {
		p := b.Parts[i]
		if p.Text == "" || covered(b.Parts[i:]) {
			continue
		}
		for _, m := range writtenNumber.FindAllStringSubmatch(p.Text, -1) {
			if c.owned(m[1]) {
				c.look(p.Line, "write {{task.name}}, or tag what it rests on", "%q is written out", strings.TrimRight(m[0], " .,;:)"))
			}
		}
	}
}

// covered says whether the tags after this text rest it on more than custom.
func covered(parts []Part) bool {
	seen := false
	for _, p := range parts {
		switch {
		case p.Tag != nil && p.Tag.Basis != CommonPractice:
			return true
		case p.Tag != nil:
			seen = true
		case seen && strings.TrimSpace(p.Text) != "":
			return false
		}
	}
	return false
}

// owned says whether the planner has settings in the unit.
func (c *checker) owned(written string) bool {
	unit := unitNames()[strings.ToLower(written)]
	if unit == "" {
		unit = written
	}
	return len(c.refs.Units) == 0 || slices.Contains(c.refs.Units, unit)
}

// unitNames maps spellings to the planner's names of units.
func unitNames() map[string]string {
	return map[string]string{
		"second": "s", "seconds": "s", "sec": "s", "secs": "s", "minute": "min", "minutes": "min", "mins": "min",
		"hour": "h", "hours": "h", "μm": "µm", "µm": "µm", "°": "deg", "mw/cm²": "mW/cm²", "j/cm²": "J/cm²", "mpa": "MPa",
	}
}

func capitals() map[string]bool {
	words := map[string]bool{}
	for line := range strings.Lines(capitalsFile) {
		line, _, _ = strings.Cut(line, "#")
		for _, w := range strings.Fields(line) {
			words[w] = true
		}
	}
	return words
}

func (c *checker) blockCapitals(b Block, allowed map[string]bool) {
	opening := true // the next word begins a sentence
	for _, p := range b.Parts {
		switch {
		case p.Text != "" || p.Link != nil:
			text := p.Text
			if p.Link != nil {
				text = p.Link.Text
			}
			opening = c.capitalsFrom(text, p.Line, opening, allowed)
		case p.Ref != nil:
			opening = false
		}
	}
}

func (c *checker) capitals(text string, line int, allowed map[string]bool) {
	c.capitalsFrom(text, line, true, allowed)
}

// capitalsFrom reports capitalised words within sentences and returns whether
// the text after it begins a sentence.
func (c *checker) capitalsFrom(text string, line int, opening bool, allowed map[string]bool) bool {
	at := 0
	for _, m := range capitalWord.FindAllStringIndex(text, -1) {
		opening = opening || strings.ContainsAny(text[at:m[0]], `.!?:;"“‘'(•`)
		word := strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(text[m[0]:m[1]], "'s"), "’s"), "'’-/+")
		if !opening && strings.IndexFunc(word, unicode.IsUpper) >= 0 && !knownCapital(word, allowed) {
			c.look(line, "describe the product in general words, or add the term to kb/capitals.txt", "%q has a capital within a sentence: a product name?", word)
		}
		opening, at = false, m[1]
	}
	return opening || strings.ContainsAny(text[at:], `.!?:;`)
}

func knownCapital(word string, allowed map[string]bool) bool {
	if allowed[word] || allowed[strings.TrimSuffix(word, "s")] {
		return true
	}
	for part := range strings.FieldsFuncSeq(word, func(r rune) bool { return r == '-' || r == '/' || r == '+' }) {
		if strings.IndexFunc(part, unicode.IsUpper) >= 0 && !allowed[part] {
			return false
		}
	}
	return true
}
