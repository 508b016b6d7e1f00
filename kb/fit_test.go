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

// leftOut puts about one ask in eight aside: a question of which it is known
// which article it asks for, and which no weight or word list was tuned on.
func leftOut(ask string) bool {
	return fnvOf("left out: "+ask)%8 == 0
}

// withoutSome returns a base that lacks the asks left out, and those asks.
func withoutSome(t *testing.T) (*Base, []labelled) {
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
			if leftOut(p.text) {
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

// parts are what the order of a candidate adds up, before they are weighted.
const parts = 4

type choice struct {
	parts [][parts]float64 // of each candidate
	right int              // which of them is wanted; -1 if none
}

// TestFit prints the weights that make the wanted articles likeliest by the
// softmax of their scores, for rank.go. Only their ratios matter. It runs only
// when it is asked for:
//
//	go test ./kb -run TestFit -fit -v
func TestFit(t *testing.T) {
	if !*fit {
		t.Skip("prints weights and proves nothing: ask for it with -fit")
	}
	b, questions := withoutSome(t)
	var choices []choice
	for _, q := range questions {
		choices = append(choices, b.choice(t, q))
	}
	w := [parts]float64{1, 0.2, 0.1, 0.05}
	for range 3000 {
		w = climb(choices, w)
	}
	t.Logf("likely 1, topic %.3f, words %.3f, pairs %.3f (scale %.2f)", w[1]/w[0], w[2]/w[0], w[3]/w[0], w[0])
}

func (b *Base) choice(t *testing.T, q labelled) choice {
	r := b.read(q.text)
	pool, err := b.index.candidates(context.Background(), r.terms, minPool)
	if err != nil {
		t.Fatal(err)
	}
	found := b.rank(r, pool)
	c := choice{right: slices.IndexFunc(found[:min(40, len(found))], func(k ranked) bool { return k.profile.id == q.want[0] })}
	for _, k := range found[:min(40, len(found))] {
		c.parts = append(c.parts, b.parts(r, k.profile))
	}
	return c
}

func (b *Base) parts(r reading, p *profile) [parts]float64 {
	var topic, likely float64
	for _, t := range r.terms {
		topic += b.index.topical(t, p, r)
		likely += t.certain * b.index.likely(t, p.mentions(t), p) / float64(len(r.terms))
	}
	return [parts]float64{likely, topic, p.words.likelier(r.stems, b.index.words, mixWords), p.pairs.likelier(r.pairs, b.index.pairs, mixWords)}
}

// climb takes one step up the gradient of the log-likelihood.
func climb(choices []choice, w [parts]float64) [parts]float64 {
	const step = 0.001
	next := w
	for _, c := range choices {
		if c.right < 0 {
			continue
		}
		for i, share := range softmax(c, w) {
			if i == c.right {
				share--
			}
			for k := range w {
				next[k] -= step * share * c.parts[i][k]
			}
		}
	}
	return next
}

func softmax(c choice, w [parts]float64) []float64 {
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
	b, questions := withoutSome(t)
	var ours, others [][closenessParts]float64
	for _, q := range questions {
		ours = append(ours, b.closenessParts(t, q.text))
	}
	all := outsideExamples()
	for fold := range uint32(8) {
		in := func(s string) bool { return fnvOf(s)%8 == fold }
		b.index.leaning = newLeaning(b.words, b.index.profiles, slices.DeleteFunc(slices.Clone(all), in))
		b.index.leaning.ours = b.index.words
		for _, s := range all {
			if in(s) {
				others = append(others, b.closenessParts(t, s))
			}
		}
	}
	w := logistic(ours, others)
	t.Logf("score %.2f, tokens %.2f, words %.2f; even odds at %.2f", w[0], w[1], w[2], -w[3])
	for _, bound := range []float64{-1.5, -1, -0.5, 0, 0.5} {
		t.Logf("bound %.2f: declines %.3f of ours and %.3f of %d others'", bound-w[3], below(ours, w, bound), below(others, w, bound), len(others))
	}
}

const closenessParts = 4 // score, tokens, words, 1

func (b *Base) closenessParts(t *testing.T, question string) [closenessParts]float64 {
	r := b.read(question)
	pool, err := b.index.candidates(context.Background(), r.terms, minPool)
	if err != nil {
		t.Fatal(err)
	}
	found := b.rank(r, pool)
	if len(found) == 0 {
		return [closenessParts]float64{0, -1, -1, 1} // is declined whatever the weights
	}
	l := b.index.leaning
	return [closenessParts]float64{found[0].score, l.trust * l.of(r.terms), l.trust * l.ofWords(r.stems), 1}
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
