package kb

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"
)

// Bounds of one search.
const (
	maxQuestion = 1000 // runes that are read
	maxTerms    = 64   // different tokens that are looked up
	minPool     = 400  // candidates that are ranked, at least
)

// A Result is what a question found.
type Result struct {
	Hits []Hit // best first
	// Close says that the first hit answers the question. If not, the search
	// abstains: the hits are only "perhaps", and Why says in words why.
	Close     bool
	Why       string
	Corrected []Correction // words that were read as other words
}

// A Hit is one article found.
type Hit struct {
	Article  *Article
	Covered  float64 // share of the question's weight that the article covers, 0 to 1
	Score    float64 // orders hits of one question; means nothing beside another's
	RulesOut bool    // the article rules out what the question asks leave for
}

// A Correction says that a word was taken for a slip of the pen.
type Correction struct {
	Said string
	Read string
}

// meaningToken is what "mean", "stands for" and the like come to. It says what
// sort of question it is, so it is left out where no article explains words.
const meaningToken = "mean"

// A term is a token of the question with its weight.
type term struct {
	text    string
	weight  float64 // IDF times certainty
	certain float64 // 1 for a plain word of the trade, less for everyday and corrected ones
	near    []near
}

// A reading is a question as the search understands it.
type reading struct {
	terms     []term
	weight    float64         // sum over terms
	words     map[string]bool // stems of all words, little ones too
	stems     []string        // the same in order
	turns     map[string]bool // those that turn a meaning round
	sequence  []string        // canonical tokens and marks in order
	letters   []string        // of all words, three by three
	pairs     []string        // stems that stand near each other
	meaning   bool            // it asks what a word means
	outside   []outsideWord
	corrected []Correction
}

// Search finds at most n articles for a question. It reads no more than 1,000
// characters of it, and gives up when ctx ends.
func (b *Base) Search(ctx context.Context, question string, n int) (Result, error) {
	if n < 1 {
		return Result{}, fmt.Errorf("kb: search for n=%d articles, need at least 1", n)
	}
	if err := ctx.Err(); err != nil {
		return Result{}, fmt.Errorf("kb: search: %w", err)
	}
	r := b.read(question)
	pool, err := b.index.candidates(ctx, r.terms, max(minPool, 3*n))
	if err != nil {
		return Result{}, fmt.Errorf("kb: search: %w", err)
	}
	ranked := b.rank(r, pool)
	result := b.judge(r, ranked)
	result.Corrected = r.corrected
	for _, c := range ranked[:min(n, len(ranked))] {
		result.Hits = append(result.Hits, Hit{b.byID[c.profile.id], c.covered, c.score, c.profile.rulesOut(r, b.words.beside)})
	}
	return result, nil
}

// read turns a question into weighted terms.
func (b *Base) read(question string) reading {
	var r reading
	words := b.words.withoutLeadIns(b.words.words(cut(question, maxQuestion)))
	fixed := map[string]bool{}
	for i, w := range words {
		if to, ok := b.index.speller.correct(w); ok {
			r.corrected = append(r.corrected, Correction{w, to})
			words[i], fixed[to] = to, true
		}
	}
	r.outside = b.words.outsideOf(words)
	r.stems = b.words.stemList(words)
	r.words, r.letters, r.pairs = setOf(r.stems), letters(words), pairs(r.stems)
	r.turns, r.sequence = among(r.stems, b.words.turns), b.words.sequence(words)
	r.meaning = b.words.asksMeaning(words)
	for _, t := range b.words.tokens(words) {
		if fixed[t.word] {
			t.certain *= correctedCertain
		}
		if t.text != meaningToken || b.index.counts[t.text] > 0 {
			b.addTerm(&r, t)
		}
	}
	return r
}

func (b *Base) addTerm(r *reading, t token) {
	if len(r.terms) == maxTerms || slices.ContainsFunc(r.terms, func(old term) bool { return old.text == t.text }) {
		return
	}
	certain := t.certain * b.standing(t.text)
	weight := b.index.idf(t.text) * certain
	r.terms = append(r.terms, term{t.text, weight, certain, b.words.near[t.text]})
	r.weight += weight
}

// standing is the share of its weight that a token counts by the sort of word it is.
func (b *Base) standing(token string) float64 {
	common, known := b.words.common[token], b.index.counts[token] > 0
	switch {
	case known && common:
		return everyday
	case known:
		return 1
	case strings.ContainsAny(token, "0123456789"):
		return strangeNumber
	case common:
		return strangeCommon
	}
	return strangeWord
}

func cut(text string, n int) string {
	for i := range text {
		if n == 0 {
			return text[:i]
		}
		n--
	}
	return text
}

// asksMeaning says whether the question holds one of the ways in which one asks
// for the meaning of a word.
func (x *lexicon) asksMeaning(words []string) bool {
	for i := range words {
		if _, n := x.meaning.longest(words[i:]); n > 0 {
			return true
		}
	}
	return len(words) == 1
}

// withoutLeadIns leaves out how people begin, "hi all, can you tell me about", as
// long as something is left.
func (x *lexicon) withoutLeadIns(words []string) []string {
	for {
		_, n := x.leadIns.longest(words)
		if n == 0 || n == len(words) {
			return words
		}
		words = words[n:]
	}
}

// rank orders the candidates by our own measure; ties go by id.
func (b *Base) rank(r reading, pool []*profile) []ranked {
	out := make([]ranked, len(pool))
	for i, p := range pool {
		out[i] = b.measure(r, p)
	}
	slices.SortFunc(out, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.score, a.score), strings.Compare(a.profile.id, b.profile.id))
	})
	return out
}

// closeWhenUnused lets go of the index (it owns a goroutine) once nobody holds
// the Base any longer, so that a reload needs no count of its readers.
func (b *Base) closeWhenUnused() {
	runtime.AddCleanup(b, func(x *index) { x.bleve.Close() }, b.index)
}
