package planner

import (
	"cmp"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
)

// How much the property test goes through: small enough to enumerate, large
// enough that folding, exclusions and every class of argument come up.
const (
	partialCases   = 200
	mostOpen       = 6
	mostCompletion = 1500
)

// A draw is a partial case made for the property tests: one completion that
// counts, with some facts opened up around it. Most are no stops, which would
// hide what the other classes do.
type draw struct {
	Case
	opened int
}

// drawCase settles every fact at random so that no exclusion is broken, and
// opens a few facts again, each to some or all of its values. Few completions
// are left, so that they can be gone through one by one.
func drawCase(rng *rand.Rand, b *Rulebook, o *oracle) draw {
	values := make([]int, len(b.Facts))
	for wanted := false; !wanted; {
		for i, f := range b.Facts {
			if values[i] = rng.IntN(len(f.Values)); f.Told && rng.IntN(10) > 0 {
				values[i] = 0 // else almost every case would stop at what was found
			}
		}
		v, counts := o.judge(values)
		wanted = counts && (v.Strategy != Stop || rng.IntN(5) == 0)
	}
	d := draw{Case: b.NewCase()}
	for i, f := range b.Facts {
		d.Case = d.Case.withSet(f, 1<<values[i])
	}
	size := 1
	for range 1 + rng.IntN(mostOpen) {
		i := o.reads[rng.IntN(len(o.reads))]
		f := b.Facts[i]
		open := f.All()
		if rng.IntN(3) == 0 {
			open = 1<<values[i] | 1<<rng.IntN(len(f.Values))
		}
		grown := size / d.sets[i].Len() * open.Len()
		if grown > mostCompletion {
			continue
		}
		size = grown
		d.Case, d.opened = d.withSet(f, open), d.opened+1
	}
	return d
}

// TestExact compares what the walk says of partial cases with an enumeration
// of their completions by independent code.
func TestExact(t *testing.T) {
	b, o := builtIn(), newOracle(t, Rules())
	rng := rand.New(rand.NewPCG(2026, 11))
	seen := map[Strategy]int{}
	unclear := 0
	for range partialCases {
		d := drawCase(rng, b, o)
		all := o.enumerate(d.sets)
		compareOutcome(t, b, d, all.outcome())
		plan := b.Plan(d.Case)
		within := o.enumerate(plan.Presumed.sets)
		compareVerdict(t, plan, within.outcome())
		compareAssumed(t, b, plan)
		compareOpen(t, b, o, plan, all)
		seen[plan.Strategy]++
		if len(all.outcome()) > 1 {
			unclear++
		}
	}
	t.Logf("%d partial cases, %d of them open between verdicts; planned as %v", partialCases, unclear, seen)
	if unclear < partialCases/4 {
		t.Errorf("only %d of %d drawn cases are open between verdicts: the test shows too little", unclear, partialCases)
	}
}

// compareOutcome wants the number of completions by verdict to be exact. The
// short cut for a case that no row can tell further apart may count as one.
func compareOutcome(t *testing.T, b *Rulebook, d draw, want outcome) {
	t.Helper()
	walked := outcome{}
	for m, s := range b.decide.walk(d.sets, b.decide.read()) {
		walked[b.decide.verdict(m)] += s.count
	}
	if !maps.Equal(walked, want) {
		t.Errorf("%s: the walk counts %v, one by one they are %v", d, walked, want)
	}
	got := b.decide.outcome(d.sets)
	if !maps.Equal(got, want) && (len(want) != 1 || !slices.Equal(got.strategies(), want.strategies())) {
		t.Errorf("%s: outcome is %v, one by one it is %v", d, got, want)
	}
}

// compareVerdict sums the completions up anew: flat if all agree, else depends.
func compareVerdict(t *testing.T, p *Plan, completions outcome) {
	t.Helper()
	if len(completions) == 0 {
		return // TestEveryCaseIsAnswered holds what becomes of these
	}
	strategies, leanings := map[Strategy]bool{}, map[Strategy]bool{}
	for v := range completions {
		strategies[v.Strategy], leanings[v.Leaning] = true, true
	}
	want := Verdict{Strategy: Depends}
	if len(strategies) == 1 {
		want.Strategy = slices.Collect(maps.Keys(strategies))[0]
	}
	if len(leanings) == 1 {
		want.Leaning = slices.Collect(maps.Keys(leanings))[0]
	}
	if p.Verdict != want {
		t.Errorf("%s: planned as %v, its completions give %v", p.Case, p.Verdict, want)
	}
	if got := slices.Sorted(slices.Values(p.Strategies)); !slices.Equal(got, slices.Sorted(maps.Keys(strategies))) {
		t.Errorf("%s: strategies are %v, its completions give %v", p.Case, got, strategies)
	}
}

// compareAssumed wants every fact that was filled in to be named, and no other.
func compareAssumed(t *testing.T, b *Rulebook, p *Plan) {
	t.Helper()
	for i, f := range b.Facts {
		filled := p.Presumed.sets[i] != p.Case.sets[i]
		if filled != slices.Contains(p.Assumed, f) {
			t.Errorf("%s: %s is %s, presumed %s, but assumed are %v", p.Case, f.Name, p.Case.Describe(f.Name), p.Presumed.Describe(f.Name), names(p.Assumed))
		}
		if filled && p.Case.Known(f.Name) {
			t.Errorf("%s: presumed %s over what was said of %s", p.Case, p.Presumed.Describe(f.Name), f.Name)
		}
	}
}

// compareOpen wants exactly the unknown facts on which the strategy hangs in
// some completion, the one with the largest share within the presumptions first; but
// not one that is only told, while it is presumed.
func compareOpen(t *testing.T, b *Rulebook, o *oracle, p *Plan, all *tableau) {
	t.Helper()
	share := map[string]float64{}
	var want []string
	for i, f := range b.Facts {
		n, _ := all.flips(i)
		if got := b.decide.flips(p.Case.sets, i); slices.Contains(o.reads, i) && got != n {
			t.Errorf("%s: on %s hang %v, one by one it is %v", p.Case, f.Name, got, n)
		}
		if p.Case.sets[i].Len() > 1 && n.hang > 0 && !untold(p, f) {
			near, _ := o.enumerate(p.Presumed.withSet(f, p.Case.sets[i]).sets).flips(i)
			share[f.Name] = near.share()
			want = append(want, f.Name)
		}
	}
	slices.SortStableFunc(want, func(x, y string) int { return cmp.Compare(share[y], share[x]) })
	if got := names(p.Open); !slices.Equal(got, want) {
		t.Errorf("%s: open are %v, one by one they are %v (shares %v)", p.Case, got, want, share)
	}
}

// untold reports whether a fact waits for somebody to tell of it.
func untold(p *Plan, f *Fact) bool { return f.Told && slices.Contains(p.Assumed, f) }

func names(facts []*Fact) []string {
	var out []string
	for _, f := range facts {
		out = append(out, f.Name)
	}
	return out
}

// TestOpenFactsHaveAWitness shows, for every open fact of some cases, two full
// cases that differ in nothing else and are planned differently; and for every
// other unknown fact, that no completion of the rest lets it matter.
func TestOpenFactsHaveAWitness(t *testing.T) {
	b, o := builtIn(), newOracle(t, Rules())
	rng := rand.New(rand.NewPCG(7, 7))
	shown, idle := 0, 0
	for range 120 {
		d := drawCase(rng, b, o)
		all := o.enumerate(d.sets)
		plan := b.Plan(d.Case)
		for i, f := range b.Facts {
			if d.sets[i].Len() < 2 {
				continue
			}
			n, pair := all.flips(i)
			if !slices.Contains(plan.Open, f) {
				idle++
				if n.hang != 0 && !untold(plan, f) {
					t.Errorf("%s: %s is not asked, but decides between\n\t%s\n\t%s", d, f.Name, all.read(o, pair[0]), all.read(o, pair[1]))
				}
				continue
			}
			if n.hang == 0 {
				t.Errorf("%s: %s is asked and changes nothing", d, f.Name)
				continue
			}
			if shown++; shown <= 5 {
				t.Logf("%s decides:\n\t%s: %s\n\t%s: %s", f.Name, all.read(o, pair[0]), all.verdicts[pair[0]].Strategy, all.read(o, pair[1]), all.verdicts[pair[1]].Strategy)
			}
		}
	}
	t.Logf("%d open facts with a witness, %d unknown facts that cannot matter", shown, idle)
	if shown < 50 || idle < 20 {
		t.Errorf("the drawn cases show too little: %d open facts, %d idle ones", shown, idle)
	}
}

// TestEveryCaseIsAnswered holds that a plan has one of the five strategies
// whatever is known: where completions exist, the presumptions must leave some;
// where none exists, the plan must name the contradiction.
func TestEveryCaseIsAnswered(t *testing.T) {
	b, o := builtIn(), newOracle(t, Rules())
	const (
		slandered = "has completions, and is called a contradiction"
		unnamed   = "contradicts itself, and no exclusion is named"
		emptied   = "is possible, but what is presumed leaves nothing of it"
	)
	faults := map[string][]string{}
	cases := answered(rand.New(rand.NewPCG(3, 14)), b, o)
	for _, known := range cases {
		presumed, _ := b.presume(known)
		possible, named := o.possible(known.sets), b.conflicts(known) != nil
		switch {
		case possible && named:
			faults[slandered] = append(faults[slandered], known.String())
		case !possible && !named:
			faults[unnamed] = append(faults[unnamed], known.String())
		case possible && !o.possible(presumed.sets):
			faults[emptied] = append(faults[emptied], known.String())
		}
	}
	for _, what := range sortedKeys(faults) {
		t.Errorf("%d of %d cases; the first is %q: it %s", len(faults[what]), len(cases), faults[what][0], what)
	}
}

// answered lists the cases in which one value of one fact is known, those in
// which two facts that exclusions read are, and a sample of others.
func answered(rng *rand.Rand, b *Rulebook, o *oracle) []Case {
	var out, excluding []Case
	read := o.excluding()
	for i, f := range b.Facts {
		for v := range f.Values {
			c := b.NewCase().withSet(f, 1<<v)
			out = append(out, c)
			if slices.Contains(read, i) {
				excluding = append(excluding, c)
			}
		}
	}
	for _, c := range excluding {
		for _, i := range read {
			for v := range b.Facts[i].Values {
				if c.sets[i].Len() > 1 {
					out = append(out, c.withSet(b.Facts[i], 1<<v))
				}
			}
		}
	}
	for range 300 {
		c := out[rng.IntN(len(out))]
		for range 1 + rng.IntN(3) {
			f := b.Facts[rng.IntN(len(b.Facts))]
			c = c.withSet(f, 1<<rng.IntN(len(f.Values))|1<<rng.IntN(len(f.Values)))
		}
		out = append(out, c)
	}
	return out
}
