package kb

import (
	"context"
	"flag"
	"hash/fnv"
	"io/fs"
	"math"
	"slices"
	"testing"
)

var fit = flag.Bool("fit", false, "fit the parts of the order to asks that are left out of the index, and print them")

// folds is how many parts the asks are cut into; the golden table leaves out the first.
const folds = 8

// leftOut puts about one ask in eight aside, a different eighth for each fold: a
// question of which it is known which article it asks for, and which no word list
// was tuned on.
func leftOut(ask string, fold uint32) bool {
	return fnvOf("left out: "+ask)%folds == fold
}

// withoutSome returns a base that lacks the asks left out, and those asks.
func withoutSome(t *testing.T, fold uint32) (*Base, []labelled) {
	t.Helper()
	articles, _, err := readStack([]fs.FS{Articles()})
	if err != nil {
		t.Fatal(err)
	}
	var questions []labelled
	var rest []*Article
	for _, a := range articles {
		c := *a
		c.Asks, c.more = nil, []moreAsks{{id: a.ID, file: a.File}}
		for _, p := range a.allAsks() {
			if leftOut(p.text, fold) {
				questions = append(questions, labelled{text: p.text, want: []string{a.ID}})
				continue
			}
			c.more[0].asks = append(c.more[0].asks, moreAsk{p.text, p.line})
		}
		rest = append(rest, &c)
	}
	b, err := newBase(rest, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b, questions
}

// list puts the parts in the order of their weights.
func (p parts) list() [6]float64 {
	return [...]float64{p.likely, p.topic, p.title, p.letters, p.pairs, p.meaning}
}

type choice struct {
	parts [][6]float64 // of each candidate
	right int          // which of them is wanted; -1 if none
}

// TestFit prints the weights that make the wanted articles likeliest by the
// softmax of their scores, for rank.go, over all folds. Only their ratios matter.
// It runs only when it is asked for:
//
//	go test ./kb -run TestFit -fit -v
func TestFit(t *testing.T) {
	if !*fit {
		t.Skip("prints weights and proves nothing: ask for it with -fit")
	}
	var choices []choice
	first := 0
	for fold := range uint32(folds) {
		b, questions := withoutSome(t, fold)
		for _, q := range questions {
			c := b.choice(t, q)
			choices = append(choices, c)
			if c.right == 0 {
				first++
			}
		}
	}
	w := parts{partLikely, partTopic, partTitle, partLetters, partPairs, partMeaning}.list()
	for k := range w {
		w[k] *= 8
	}
	for range 300 {
		w = climb(choices, w)
	}
	t.Logf("topic %.3f, title %.3f, letters %.3f, pairs %.3f, meaning %.3f, to likely 1 (scale %.2f)", w[1]/w[0], w[2]/w[0], w[3]/w[0], w[4]/w[0], w[5]/w[0], w[0])
	t.Logf("with the weights of rank.go %.4f of %d stand first", share(first, len(choices)), len(choices))
}

func (b *Base) choice(t *testing.T, q labelled) choice {
	r := b.read(q.text)
	pool, err := b.index.candidates(context.Background(), r.terms, minPool)
	if err != nil {
		t.Fatal(err)
	}
	found := b.rank(r, pool)
	found = found[:min(40, len(found))]
	c := choice{right: slices.IndexFunc(found, func(k ranked) bool { return k.profile.id == q.want[0] })}
	for _, k := range found {
		c.parts = append(c.parts, k.parts.list())
	}
	return c
}

// climb takes one step up the gradient of the log-likelihood, for each weight as
// far as its part varies.
func climb(choices []choice, w [6]float64) [6]float64 {
	var slope, bend [6]float64
	for _, c := range choices {
		if c.right < 0 {
			continue
		}
		var mean, square [6]float64
		for i, share := range softmax(c, w) {
			for k, f := range c.parts[i] {
				mean[k] += share * f
				square[k] += share * f * f
			}
		}
		for k := range w {
			slope[k] += c.parts[c.right][k] - mean[k]
			bend[k] += square[k] - mean[k]*mean[k]
		}
	}
	for k := range w {
		w[k] += 0.2 * slope[k] / max(bend[k], 1e-9)
	}
	return w
}

func softmax(c choice, w [6]float64) []float64 {
	out, sum := make([]float64, len(c.parts)), 0.0
	for i, p := range c.parts {
		score := 0.0
		for k := range w {
			score += w[k] * p[k]
		}
		out[i] = math.Exp(score)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// TestFitCloseness prints the weights and the bound by which the search abstains:
// the logistic regression that tells asks left out of the index from examples of
// others' questions left out of the leaning. It runs only when it is asked for,
// as TestFit does.
func TestFitCloseness(t *testing.T) {
	if !*fit {
		t.Skip("prints weights and proves nothing: ask for it with -fit")
	}
	b, questions := withoutSome(t, 0)
	var ours, others [][closenessParts]float64
	for _, q := range questions {
		ours = append(ours, b.closenessParts(t, q.text))
	}
	all := outsideExamples()
	for fold := range uint32(folds) {
		in := func(s string) bool { return fnvOf(s)%folds == fold }
		b.index.leaning = newLeaning(b.index, b.words, slices.DeleteFunc(slices.Clone(all), in))
		for _, s := range all {
			if in(s) {
				others = append(others, b.closenessParts(t, s))
			}
		}
	}
	w := logistic(ours, others)
	even := -w[closenessParts-1]
	t.Logf("score, tokens, words, pairs, foreign %.2f; even odds at %.2f", w[:closenessParts-1], even)
	for _, bound := range []float64{-1.5, -1, -0.5, 0, 0.5} {
		t.Logf("bound %.2f: declines %.3f of ours and %.3f of %d others'", bound+even, below(ours, w, bound), below(others, w, bound), len(others))
	}
}

const closenessParts = 6 // the signs, whether a word of others' subjects is there, 1

func (b *Base) closenessParts(t *testing.T, question string) [closenessParts]float64 {
	r := b.read(question)
	pool, err := b.index.candidates(context.Background(), r.terms, minPool)
	if err != nil {
		t.Fatal(err)
	}
	found := b.rank(r, pool)
	if len(found) == 0 {
		return [closenessParts]float64{0, -1, -1, -1, 0, 1} // is declined whatever the weights
	}
	foreign := 0.0
	if b.foreign(r, found[0]) != nil {
		foreign = -1
	}
	s := b.signs(r, found[0])
	return [closenessParts]float64{s.score, s.tokens, s.words, s.pairs, foreign, 1}
}

// logistic weighs both kinds alike, however many there are of each.
func logistic(ours, others [][closenessParts]float64) (w [closenessParts]float64) {
	for range 3000 {
		var up [closenessParts]float64
		for _, f := range ours {
			add(&up, f, (1-sigmoid(w, f))/float64(len(ours)))
		}
		for _, f := range others {
			add(&up, f, -sigmoid(w, f)/float64(len(others)))
		}
		add(&w, up, 1)
	}
	return w
}

func add(to *[closenessParts]float64, f [closenessParts]float64, times float64) {
	for k := range f {
		to[k] += times * f[k]
	}
}

func dot(w, f [closenessParts]float64) (sum float64) {
	for k := range w {
		sum += w[k] * f[k]
	}
	return sum
}

func sigmoid(w, f [closenessParts]float64) float64 { return 1 / (1 + math.Exp(-dot(w, f))) }

func below(all [][closenessParts]float64, w [closenessParts]float64, bound float64) float64 {
	n := 0
	for _, f := range all {
		if dot(w, f) < bound {
			n++
		}
	}
	return share(n, len(all))
}

func fnvOf(s string) uint32 {
	h := fnv.New32a()
	h.Write([]byte(s))
	return h.Sum32()
}
