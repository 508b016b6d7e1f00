package talk

import (
	"strings"

	"mortarboard/kb"
)

// entryLabel begins a message that asks for one entry by its id, as buttons do:
// "entry: light-dose". A title would not do, since it is read like any other words.
const entryLabel = "entry:"

// entryNamed finds the entry that a message asks for by its id.
func (t *Talk) entryNamed(text string) (*kb.Article, bool) {
	label, id, _ := strings.Cut(strings.TrimSpace(text), " ")
	if !strings.EqualFold(label, entryLabel) {
		return nil, false
	}
	return t.articles.Base().Article(strings.ToLower(strings.TrimSpace(id)))
}

// others offers the entries that came behind, each with the first sentence of its
// answer, and as a choice.
func (t *Talk) others(r *Reply, title string, hits []kb.Hit) {
	c := Choice{Fact: "entry", Ask: title}
	var lines []string
	for _, h := range hits {
		lines = append(lines, t.inShort(h.Article))
		c.Options = append(c.Options, Option{Label: h.Article.Title, Says: entryLabel + " " + h.Article.ID})
	}
	r.section(title, false, lines...)
	if len(hits) > 0 {
		r.Choices = append(r.Choices, c)
	}
}

// inShort is the title of an entry with the first sentence of its answer; of one that
// cannot be shown the title alone.
func (t *Talk) inShort(a *kb.Article) string {
	shown, err := a.Render(t.references())
	if err != nil {
		return a.Title
	}
	return t.say("in short", map[string]any{"Title": a.Title, "Answer": firstSentence(shown.Answer)})
}

// firstSentence is a text up to the first full stop that ends a sentence, without the
// marks of what it rests on: these stand in the entry.
func firstSentence(text string) string {
	text, _, _ = strings.Cut(text, " [")
	if i := strings.Index(text, ". "); i >= 0 {
		return text[:i+1]
	}
	return text
}
