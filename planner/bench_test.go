package planner

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// fullCases draws n cases in which every fact is settled and no exclusion broken.
func fullCases(b *testing.B, n int) []Case {
	book, o := builtIn(), newOracle(b, Rules())
	rng := rand.New(rand.NewPCG(5, 5))
	out := make([]Case, n)
	for i := range out {
		out[i] = settled(book, drawCase(rng, book, o).Case)
		for book.conflicts(out[i]) != nil {
			out[i] = settled(book, drawCase(rng, book, o).Case)
		}
	}
	return out
}

// settled takes the first value of each fact that is open.
func settled(b *Rulebook, c Case) Case {
	for i, f := range b.Facts {
		c = c.withSet(f, c.sets[i]&-c.sets[i])
	}
	return c
}

// perCase is the time that do takes for one case, over enough of them to tell.
func perCase(cases []Case, do func(i int)) time.Duration {
	const least = 200 * time.Millisecond
	n := 0
	start := time.Now()
	for time.Since(start) < least {
		for i := range cases {
			do(i)
		}
		n += len(cases)
	}
	return time.Since(start) / time.Duration(n)
}

// BenchmarkFullCase puts the rules to full cases: the bare verdict, and a whole
// plan with reasons, steps and settings. Both are set against the same decision
// written by hand as if and else, in the same run on the same cases.
func BenchmarkFullCase(b *testing.B) {
	book := builtIn()
	cases := fullCases(b, 512)
	written := make([]byHand, len(cases))
	for i, c := range cases {
		written[i] = handOf(c)
		if got, want := written[i].decide(), book.decide.outcome(c.sets).verdict(); got != want {
			b.Fatalf("%s: by hand it is %v, by the rules %v: byHand no longer says what the rules say", c, got, want)
		}
	}
	var sink Verdict
	for i := 0; b.Loop(); i++ {
		book.Plan(cases[i%len(cases)])
	}
	plan := b.Elapsed() / time.Duration(b.N)
	verdict := perCase(cases, func(i int) { sink = book.decide.outcome(cases[i].sets).verdict() })
	byHand := max(perCase(cases, func(i int) { sink = written[i].decide() }), 1)
	_ = sink
	b.ReportMetric(float64(byHand.Nanoseconds()), "ns/by-hand")
	b.ReportMetric(float64(verdict.Nanoseconds()), "ns/verdict")
	b.ReportMetric(float64(verdict)/float64(byHand), "verdict/by-hand")
	b.ReportMetric(float64(plan)/float64(byHand), "plan/by-hand")
}

// BenchmarkNothingKnown plans the case of which nothing is known.
func BenchmarkNothingKnown(b *testing.B) {
	book := builtIn()
	for b.Loop() {
		book.Plan(book.NewCase())
	}
	b.ReportMetric(float64(book.argued()), "completions")
}

// BenchmarkAudit proves the built-in rules over their whole domain.
func BenchmarkAudit(b *testing.B) {
	book := builtIn()
	var r *Report
	for b.Loop() {
		r = book.Audit()
	}
	b.ReportMetric(float64(book.argued()), "argued-cases")
	b.ReportMetric(float64(r.Statements), "statements")
}

// BenchmarkWholeDomain goes through every case of the facts that argue, one by
// one on one core, and holds the counts against those of the audit's walk. In
// "alone" each case is decided from nothing; in "in order" neighbours share
// what they have in common.
func BenchmarkWholeDomain(b *testing.B) {
	book := builtIn()
	want := book.Audit()
	for _, way := range []struct {
		name string
		run  func(*grid, []Set) (outcome, uint64)
	}{{"alone", decideAlone}, {"in order", decideInOrder}} {
		b.Run(way.name, func(b *testing.B) {
			for b.Loop() {
				got, excluded := way.run(book.decide, book.NewCase().sets)
				if !maps.Equal(got, outcome(want.Verdicts)) || excluded != want.Excluded {
					b.Fatalf("one by one: %v and %d excluded; the audit counts %v and %d", got, excluded, want.Verdicts, want.Excluded)
				}
			}
			b.ReportMetric(float64(book.argued())*float64(b.N)/b.Elapsed().Seconds(), "cases/s")
		})
	}
}

// decideAlone settles each case fully and asks which rows it leaves.
func decideAlone(g *grid, sets []Set) (outcome, uint64) {
	out, excluded := outcome{}, uint64(0)
	now := slices.Clone(sets)
	order := g.read()
	var down func(k int)
	down = func(k int) {
		if k < len(order) {
			for v := range g.kill[order[k]] {
				now[order[k]] = 1 << v
				down(k + 1)
			}
			return
		}
		m, _ := g.full(now)
		if !m.and(g.exclusions).none() {
			excluded++
			return
		}
		out[g.verdict(m)]++
	}
	down(0)
	return out, excluded
}

// decideInOrder kills rows fact by fact on the way down.
func decideInOrder(g *grid, sets []Set) (outcome, uint64) {
	out, excluded := outcome{}, uint64(0)
	order := g.read()
	var down func(k int, m mask)
	down = func(k int, m mask) {
		if k < len(order) {
			for _, kill := range g.kill[order[k]] {
				down(k+1, m.without(kill))
			}
			return
		}
		if !m.and(g.exclusions).none() {
			excluded++
			return
		}
		out[g.verdict(m)]++
	}
	down(0, g.everyRow())
	return out, excluded
}

// BenchmarkGrowth adds made-up facts of three values, each with an argument of
// its own, and plans the case of which nothing is known. The domain grows
// threefold with each.
func BenchmarkGrowth(b *testing.B) {
	for _, extra := range []int{0, 4, 8} {
		b.Run(fmt.Sprintf("%d more facts", extra), func(b *testing.B) {
			book, err := Load(grown(b, extra))
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				book.Plan(book.NewCase())
			}
			b.ReportMetric(float64(book.argued()), "completions")
			b.ReportMetric(float64(len(book.decide.walk(book.NewCase().sets, book.decide.read()))), "kinds")
		})
	}
}

// grown is a copy of the built-in rules with made-up facts and arguments.
func grown(b *testing.B, extra int) fstest.MapFS {
	files := copied(b, Rules())
	var facts, arguments strings.Builder
	for i := range extra {
		fmt.Fprintf(&facts, "\n  - name: extra%d\n    title: extra %d\n    ask: Which?\n    values: [a, b, c]\n", i, i)
		fmt.Fprintf(&arguments, "\n  - id: extra-%d\n    when: {extra%d: [a], load: [heavy]}\n    for: %s\n    weight: %s\n    because: Made up.\n    basis: common practice\n",
			i, i, []Strategy{Bond, Cement}[i%2], []Weight{Weak, Strong}[i/2%2])
	}
	text := string(files["facts.yaml"].Data)
	if n := strings.Count(text, "\npresumptions:\n"); n != 1 {
		b.Fatalf("facts.yaml holds %d lists of presumptions, wanted one", n)
	}
	text = strings.Replace(text, "\npresumptions:\n", facts.String()+"\npresumptions:\n", 1)
	files["facts.yaml"] = &fstest.MapFile{Data: []byte(text)}
	files["arguments.yaml"] = &fstest.MapFile{Data: append(files["arguments.yaml"].Data, arguments.String()...)}
	return files
}
