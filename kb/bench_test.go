package kb

import (
	"fmt"
	"math/rand"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// benchSizes are numbers of articles: today's, ten times as many, and more
// than anybody will write.
func benchSizes() []int { return []int{200, 2_000, 20_000} }

// generated makes n articles of about 1 KB from the words of the real ones, so
// that words are as rare and as common as they are there.
func generated(tb testing.TB, n int) fstest.MapFS {
	words := realWords(tb)
	rng := rand.New(rand.NewSource(int64(n)))
	text := func(k int) string {
		out := make([]string, k)
		for i := range out {
			out[i] = words[rng.Intn(len(words))]
		}
		return strings.Join(out, " ")
	}
	files := fstest.MapFS{}
	for i := range n {
		id := fmt.Sprintf("article-%d", i)
		body := fmt.Sprintf("%s. [common practice]\n\n%s. [common practice]\n\n%s. [from memory]", text(25), text(40), text(30))
		files[id+".md"] = article(id, text(6), body, text(6), text(5), text(7), text(4), text(6))
	}
	return files
}

// realWords returns the plain words of the articles in order, repetitions kept.
func realWords(tb testing.TB) []string {
	base, err := Load(Articles())
	if err != nil {
		tb.Fatal(err)
	}
	var words []string
	for _, a := range base.All() {
		_, body := articleText(a)
		for _, w := range strings.FieldsFunc(body, func(r rune) bool { return r < 'a' || r > 'z' }) {
			if len(w) > 1 {
				words = append(words, w)
			}
		}
	}
	return words
}

// benchQuestions takes 4 to 11 neighbouring words of the articles, as questions
// have.
func benchQuestions(tb testing.TB) []string {
	words := realWords(tb)
	rng := rand.New(rand.NewSource(1))
	out := make([]string, 256)
	for i := range out {
		at := rng.Intn(len(words) - 12)
		out[i] = strings.Join(words[at:at+4+rng.Intn(8)], " ")
	}
	return out
}

// BenchmarkSearch measures our search and, in the same run and on the same
// articles, a bare bleve match query; it reports both medians, our 99th
// percentile and the ratio of the medians.
func BenchmarkSearch(b *testing.B) {
	questions := benchQuestions(b)
	for _, n := range benchSizes() {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			base := mustLoad(b, generated(b, n))
			bare := plainBleve(b, base)
			var ours, theirs []time.Duration
			for i := 0; b.Loop(); i++ {
				q := questions[i%len(questions)]
				start := time.Now()
				if _, err := base.Search(b.Context(), q, 3); err != nil {
					b.Fatal(err)
				}
				middle := time.Now()
				bare(q)
				ours, theirs = append(ours, middle.Sub(start)), append(theirs, time.Since(middle))
			}
			report(b, ours, theirs)
		})
	}
}

func report(b *testing.B, ours, theirs []time.Duration) {
	slices.Sort(ours)
	slices.Sort(theirs)
	at := func(all []time.Duration, share float64) float64 {
		return float64(all[int(share*float64(len(all)-1))].Nanoseconds()) / 1e6
	}
	b.ReportMetric(0, "ns/op") // says nothing here: it holds both searches
	b.ReportMetric(at(ours, 0.5), "ms/p50")
	b.ReportMetric(at(ours, 0.99), "ms/p99")
	b.ReportMetric(at(theirs, 0.5), "ms/bare-p50")
	b.ReportMetric(at(theirs, 0.99), "ms/bare-p99")
	b.ReportMetric(at(ours, 0.5)/at(theirs, 0.5), "×bare")
}

// BenchmarkLoad measures reading, checking and indexing, and the memory that
// a loaded base keeps.
func BenchmarkLoad(b *testing.B) {
	for _, n := range benchSizes() {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			files := generated(b, n)
			before := heap()
			var base *Base
			for b.Loop() {
				base = nil
				base = mustLoad(b, files)
			}
			b.ReportMetric(float64(heap()-before)/1e6, "MB-kept")
			runtime.KeepAlive(base)
		})
	}
}

func heap() int64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// BenchmarkSearchReal searches the real articles for the questions of the
// benchmark, several at once.
func BenchmarkSearchReal(b *testing.B) {
	base, err := Load(Articles())
	if err != nil {
		b.Fatal(err)
	}
	questions := benchQuestions(b)
	b.ResetTimer()
	b.RunParallel(func(pb *testing.PB) {
		for i := 0; pb.Next(); i++ {
			if _, err := base.Search(b.Context(), questions[i%len(questions)], 3); err != nil {
				b.Error(err)
				return
			}
		}
	})
}
