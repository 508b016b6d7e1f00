package kb

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// A deed is something that an article rules out, by the words that tell it from
// other deeds: "blast outside".
type deed struct {
	words  []string        // canonical tokens and marks, in order
	marked bool            // it holds a mark such as "after", so that their order counts
	turns  map[string]bool // those of its words that turn a meaning round: "without"
}

func (x *lexicon) deed(text string) deed {
	words := x.words(text)
	d := deed{words: x.sequence(words), turns: among(x.stemList(words), x.turns)}
	d.marked = slices.ContainsFunc(words, func(w string) bool { return x.marks[w] })
	return d
}

// sequence is the canonical tokens of words in order, with the marks among them.
func (x *lexicon) sequence(words []string) []string {
	var out []string
	for len(words) > 0 {
		n := slices.IndexFunc(words, func(w string) bool { return x.marks[w] })
		if n < 0 {
			n = len(words)
		}
		for _, t := range x.tokens(words[:n]) {
			out = append(out, t.text)
		}
		if n < len(words) {
			out = append(out, words[n])
			n++
		}
		words = words[n:]
	}
	return out
}

// among are the stems that belong to a set.
func among(stems []string, set map[string]bool) map[string]bool {
	out := map[string]bool{}
	for _, s := range stems {
		if set[s] {
			out[s] = true
		}
	}
	return out
}

// rulesOut reports whether the article rules out what the question names. A yes is
// never concluded from words: one more of them, or another order, may make it wrong.
func (p *profile) rulesOut(r reading, beside map[string]bool) bool {
	return slices.ContainsFunc(p.deeds, func(d deed) bool {
		return d.namedIn(r, func(w string) bool { return beside[w] || p.title[w] })
	})
}

// namedIn reports whether a question names the deed and nothing else: its words, in
// order where one of them is a mark, the same words that turn a meaning round, and
// besides only words that add nothing. "Rinse the primer off the eye" is not "rinse
// the primer off".
func (d deed) namedIn(r reading, adds func(string) bool) bool {
	var said []string
	for _, w := range r.sequence {
		switch {
		case slices.Contains(said, w):
		case slices.Contains(d.words, w):
			said = append(said, w)
		case !adds(w):
			return false
		}
	}
	if !d.marked {
		slices.Sort(said)
		return slices.Equal(said, slices.Compact(slices.Sorted(slices.Values(d.words)))) && maps.Equal(d.turns, r.turns)
	}
	return slices.Equal(said, d.words) && maps.Equal(d.turns, r.turns)
}

// deeds are the deeds that an article rules out.
func (x *lexicon) deeds(a *Article) []deed {
	var out []deed
	for _, text := range a.RulesOut {
		out = append(out, x.deed(text))
	}
	return out
}

// leastDeed is how many words a deed has at least: one alone would answer questions
// of other things.
const leastDeed = 2

// saysYes reports whether the answer begins with yes, to which no deed of it can be a no.
func (a *Article) saysYes() bool {
	answer, ok := a.Section("Answer")
	return ok && len(answer.Blocks) > 0 && strings.HasPrefix(strings.ToLower(answer.Blocks[0].Parts[0].Text), "yes")
}

// rulings checks that each deed tells itself from others.
func (c *checker) rulings() {
	for _, a := range c.base.articles {
		c.page = &page{file: a.File}
		for i, d := range c.base.words.deeds(a) {
			line := a.line(fmt.Sprintf("rules-out/%d", i))
			if i == 0 && a.saysYes() {
				c.page.add(line, "begin the answer with what is not done, or take the deeds out", "the answer begins with yes, and deeds are ruled out")
			}
			if len(d.words) < leastDeed {
				c.page.add(line, "add the word that tells it from other deeds", "a deed of %d words that count would answer other questions, too", len(d.words))
			}
		}
		c.problems = append(c.problems, c.page.problems...)
	}
}
