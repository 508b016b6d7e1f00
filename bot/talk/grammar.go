package talk

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// grammar is words by what they do in a sentence: name → words.
type grammar map[string]map[string]bool

// is reports whether a word does what a name of the grammar says. A name that
// is not there is a fault of the program, which a test of every name finds.
func (g grammar) is(name, word string) bool {
	words, ok := g[name]
	if !ok {
		panic(fmt.Sprintf("words/grammar.yaml: grammar has no %q", name))
	}
	return words[word]
}

// holds reports whether one of the tokens is a word that does what the name says.
func (g grammar) holds(name string, tokens []token) bool {
	return slices.ContainsFunc(tokens, func(t token) bool { return g.is(name, t.word) })
}

// turnsRound reports whether a word turns round what is said behind it, be it any
// phrase or a noun alone.
func (g grammar) turnsRound(word string) bool {
	return g.is("denies", word) || g.is("denies-a-noun", word)
}

// onSide reports whether a word speaks of a part of the tooth, or of the rest of it.
func (g grammar) onSide(word string) bool {
	return g.is("speaks-of-the-rest", word) || g.is("side-of-the-tooth", word)
}

// readGrammar makes the words of the data quick to find.
func readGrammar(data map[string][]string) grammar {
	g := grammar{}
	for name, words := range data {
		g[name] = map[string]bool{}
		for _, word := range words {
			g[name][word] = true
		}
	}
	return g
}

// A folding brings text into the form in which it is compared.
type folding struct {
	marks  *strings.Replacer
	denied *regexp.Regexp    // the long form of a "not"
	short  map[string]string // verb → its short form with "not"

	numbers map[string]float64 // in words
}

// newFolding takes in what is read as something else, and the verbs whose long
// form with "not" is read like the short one, so that phrases need only name this.
func newFolding(readAs, short map[string]string, numbers map[string]float64) folding {
	pairs := slices.Clone(marks)
	for _, from := range slices.Sorted(maps.Keys(readAs)) {
		pairs = append(pairs, from, readAs[from])
	}
	verbs := strings.Join(slices.Sorted(maps.Keys(short)), "|")
	return folding{strings.NewReplacer(pairs...), regexp.MustCompile(`\b(` + verbs + `) ?not\b`), short, numbers}
}

// shortNot writes "is not" as "isnt" and "cannot" as "cant".
func (f folding) shortNot(denied string) string {
	return f.short[strings.TrimSpace(strings.TrimSuffix(denied, "not"))]
}
