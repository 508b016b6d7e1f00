package kb

import (
	"fmt"
	"maps"
	"slices"
)

// A Ruling is what an article answers to a question of yes or no.
type Ruling int

// The rulings. An article is silent on what its deeds do not name.
const (
	Silent Ruling = iota
	Allowed
	RuledOut
)

// A deed is something that an article allows or rules out, by the words that tell
// it from other deeds: "blast outside".
type deed struct {
	words  []string        // canonical tokens and marks, in order
	marked bool            // it holds a mark such as "after", so that their order counts
	turns  map[string]bool // those of its words that turn a meaning round: "without"
	ruling Ruling
}

func (x *lexicon) deed(text string, ruling Ruling) deed {
	words := x.words(text)
	d := deed{words: x.sequence(words), turns: among(x.stemList(words), x.turns), ruling: ruling}
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

// A Ruled deed is one that a question names, with what an article says to it.
type Ruled struct {
	Ruling Ruling
	Words  int // of the deed: of several deeds the one with the most words is meant
}

// ruling is what the article says to the deed that the question names; of two deeds
// with as many words the one that is ruled out counts. What is allowed is allowed as
// it stands: where the question adds to it, nothing is said.
func (p *profile) ruling(r reading, common map[string]bool) Ruled {
	var best Ruled
	for _, d := range p.deeds { // those ruled out come first
		if !d.namedIn(r) || len(d.words) <= best.Words {
			continue
		}
		best = Ruled{d.ruling, len(d.words)}
		if d.ruling == Allowed && slices.ContainsFunc(r.terms, func(t term) bool { return !slices.Contains(d.words, t.text) && !p.title[t.text] && !common[t.text] }) {
			best.Ruling = Silent
		}
	}
	return best
}

// namedIn reports whether a question names the deed: it holds all its words, in order
// where one of them is a mark, and no other word that would turn the meaning round.
func (d deed) namedIn(r reading) bool {
	at := 0
	for _, w := range d.words {
		n := slices.Index(r.sequence[at:], w)
		if n < 0 {
			return false
		}
		if d.marked {
			at += n + 1
		}
	}
	return maps.Equal(d.turns, r.turns)
}

// deeds are the deeds of an article, those that it rules out first.
func (x *lexicon) deeds(a *Article) []deed {
	var out []deed
	for _, text := range a.RulesOut {
		out = append(out, x.deed(text, RuledOut))
	}
	for _, text := range a.Allows {
		out = append(out, x.deed(text, Allowed))
	}
	return out
}

// leastDeed is how many words a deed has at least: one alone would answer questions
// of other things.
const leastDeed = 2

// rulings checks that each deed tells itself from others, and that no other article
// rules otherwise.
func (c *checker) rulings() {
	said := map[string]deed{}
	for _, a := range c.base.articles {
		c.page = &page{file: a.File}
		for i, d := range c.base.words.deeds(a) {
			line := a.deedLine(i)
			key := fmt.Sprint(slices.Sorted(slices.Values(d.words)), slices.Sorted(maps.Keys(d.turns)))
			switch old, known := said[key]; {
			case len(d.words) < leastDeed:
				c.page.add(line, "add the word that tells it from other deeds", "a deed of %d words that count would answer other questions, too", len(d.words))
			case known && old.ruling != d.ruling:
				c.page.add(line, "let them agree, or add the word in which they differ", "the same deed is allowed and ruled out")
			}
			said[key] = d
		}
		c.problems = append(c.problems, c.page.problems...)
	}
}

func (a *Article) deedLine(i int) int {
	if i < len(a.RulesOut) {
		return a.line(fmt.Sprintf("rules-out/%d", i))
	}
	return a.line(fmt.Sprintf("allows/%d", i-len(a.RulesOut)))
}
