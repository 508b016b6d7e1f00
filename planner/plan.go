package planner

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Plan is what the rules make of a case.
type Plan struct {
	Verdict
	Case       Case        // as known, with what measurements gave
	Presumed   Case        // the same with the presumptions filled in
	Assumed    []*Fact     // the facts that were presumed
	Form       *Form       // the retentive form, where measurements were given
	Strategies []Strategy  // those of all completions within the presumptions
	Reasons    []*Argument // that hold in every completion, heaviest first
	Possible   []*Argument // that hold in some
	Open       []*Fact     // unknown facts that can still change the strategy, the one that settles most first
	Near       []*Fact     // those of Open on which it hangs with everything else as presumed
	Changes    []Change    // what would become of it
	Conflicts  []*Exclusion
	Notices    []*Notice
	Decided    Strategy // by the dentist: bond, cement or nothing
	Path       Strategy // whose steps are given: bond, cement, stop, or none where neither side leads
	Steps      []PlannedStep
}

// Flat reports whether no completion within the presumptions differs.
func (p *Plan) Flat() bool { return len(p.Strategies) == 1 }

// A Change says what the verdict becomes if a fact turns out to be one of the values.
type Change struct {
	Fact   *Fact
	Values Set
	Verdict
}

// Plan plans a case, however much of it is known. It never fails: a case that
// contradicts itself is named in Conflicts and has no steps.
func (b *Rulebook) Plan(c Case) *Plan {
	c, form := b.Measured(c)
	p := &Plan{Case: c, Form: form}
	if p.Conflicts = b.conflicts(c); p.Conflicts != nil {
		p.Verdict = Verdict{Strategy: Depends}
		p.Presumed = c
		return p
	}
	p.Presumed, p.Assumed = b.presume(c)
	out := b.decide.outcome(p.Presumed.sets)
	p.Verdict, p.Strategies = out.verdict(), out.strategies()
	p.Reasons, p.Possible = b.reasons(p.Presumed)
	p.Open, p.Near = b.open(p)
	p.Changes = b.changes(p)
	p.Notices = b.noticesFor(p.Presumed)
	p.Decided = b.decided(p.Case)
	p.Path = path(p.Verdict)
	if p.Followed() {
		p.Path = p.Decided
	}
	p.Steps = b.protocol(p.Presumed, p.Path)
	return p
}

// Followed reports whether the steps follow what the dentist has decided: it is not to be
// stopped, and no decisive reason speaks, or may speak, for the other side.
func (p *Plan) Followed() bool {
	if p.Decided == "" || p.Strategy == Stop {
		return false
	}
	against := func(a *Argument) bool { return a.Weight == Decisive && a.For != p.Decided }
	return !slices.ContainsFunc(p.Reasons, against) && !slices.ContainsFunc(p.Possible, against)
}

// decided is the side that the dentist has decided on, or nothing.
func (b *Rulebook) decided(c Case) Strategy {
	for _, f := range b.Facts {
		for _, side := range []Strategy{Bond, Cement} {
			if f.Decides && c.Is(f.Name, string(side)) {
				return side
			}
		}
	}
	return ""
}

// path is the side whose steps a verdict shows.
func path(v Verdict) Strategy {
	if v.Strategy == Stop {
		return Stop
	}
	return v.Leaning
}

type applier interface {
	applies(Case) (always, sometimes bool)
}

// parted tells the rows that hold in every completion of a case from those that
// hold in some.
func parted[R applier](rows []R, c Case) (certain, possible []R) {
	for _, r := range rows {
		switch always, sometimes := r.applies(c); {
		case always:
			certain = append(certain, r)
		case sometimes:
			possible = append(possible, r)
		}
	}
	return certain, possible
}

// conflicts lists the exclusions that the case is certain to break; where it
// breaks none alone and several together, those that may apply.
func (b *Rulebook) conflicts(c Case) []*Exclusion {
	certain, possible := parted(b.Exclusions, c)
	if certain != nil || len(b.apart.walk(c.sets, b.apart.read())) > 0 {
		return certain
	}
	return possible
}

// presume fills in what an everyday case is taken to be, for facts of which
// nothing that matters has been said.
func (b *Rulebook) presume(c Case) (Case, []*Fact) {
	var assumed []*Fact
	for _, p := range b.Presumptions {
		always, _ := p.applies(c)
		if !always || c.doubted[p.Fact.Name] || p.barred(c) || c.Known(p.Fact.Name) {
			continue
		}
		next := c.withSet(p.Fact, p.Values)
		if !b.possible(next, p.Fact) {
			continue
		}
		c, assumed = next, append(assumed, p.Fact)
	}
	return c, assumed
}

// possible reports whether some completion breaks no exclusion, after the fact
// was narrowed.
func (b *Rulebook) possible(c Case, narrowed *Fact) bool {
	touched := slices.ContainsFunc(b.Exclusions, func(x *Exclusion) bool { return x.reads(narrowed) })
	return !touched || len(b.apart.walk(c.sets, b.apart.read())) > 0
}

// barred reports whether one of the presumption's exceptions is certain.
func (p *Presumption) barred(c Case) bool {
	for _, when := range p.unless {
		if always, _ := (&Row{when: when}).applies(c); always {
			return true
		}
	}
	return false
}

// reasons lists the arguments of a case, heaviest first: those that hold in
// every completion, and those that hold in some.
func (b *Rulebook) reasons(c Case) (certain, possible []*Argument) {
	certain, possible = parted(b.Arguments, c)
	heaviest := func(x, y *Argument) int {
		return cmp.Compare(classOf(x.For, x.Weight), classOf(y.For, y.Weight))
	}
	slices.SortStableFunc(certain, heaviest)
	slices.SortStableFunc(possible, heaviest)
	return certain, possible
}

// noticesFor lists the notices of a case. Of those that hang on a setting, the
// ones that the measures miss, with the settings that are missed filled in.
func (b *Rulebook) noticesFor(c Case) []*Notice {
	certain, _ := parted(b.Notices, c)
	var out []*Notice
	for _, n := range certain {
		if n.Below == nil {
			out = append(out, n)
			continue
		}
		for _, fact := range sortedKeys(n.Below) {
			if missed := b.missed(c, fact, n.Below[fact]); missed != nil {
				filled := *n
				filled.Say = strings.ReplaceAll(n.Say, "{setting}", strings.Join(missed, ", "))
				out = append(out, &filled)
			}
		}
	}
	return out
}

// missed lists the settings of a key that a measured fact is certain to fall
// short of. Between the ends of a bound it falls short.
func (b *Rulebook) missed(c Case, fact, key string) []string {
	r, ok := c.Measure(fact)
	if !ok {
		return nil
	}
	var out []string
	for _, p := range b.Settings(c, key) {
		if r.From < p.High && r.To <= p.High {
			out = append(out, fmt.Sprintf("%s (%s)", p.Of, p))
		}
	}
	return out
}

// An outcome counts the completions of a case by their verdict, as far as any
// row tells them apart.
type outcome map[Verdict]uint64

// outcome walks a case over everything still open.
func (g *grid) outcome(sets []Set) outcome {
	out := outcome{}
	if m, full := g.full(sets); full {
		if m.and(g.exclusions).none() {
			out[g.verdict(m)] = 1
		}
		return out
	}
	for m, s := range g.walk(sets, g.read()) {
		out[g.verdict(m)] += s.count
	}
	return out
}

// full is the rows left standing by a case in which every fact is settled as
// far as any row can tell.
func (g *grid) full(sets []Set) (mask, bool) {
	var m mask
rows:
	for k, row := range g.rows {
		for i, want := range row.when {
			if sets[i]&want == 0 {
				continue rows
			}
			if sets[i]&^want != 0 {
				return m, false
			}
		}
		m = m.with(k)
	}
	return m, true
}

// strategies lists what the completions come to, in a fixed order.
func (o outcome) strategies() []Strategy {
	var out []Strategy
	for _, s := range []Strategy{Stop, Bond, Cement, Depends, Either} {
		for v := range o {
			if v.Strategy == s && !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// verdict sums an outcome up: flatly if all completions agree, else as a
// depends that leans only where all of them lean the same way.
func (o outcome) verdict() Verdict {
	sum, first := Verdict{}, true
	for v := range o {
		switch {
		case first:
			sum, first = v, false
		case v.Strategy != sum.Strategy && v.Leaning != sum.Leaning:
			return Verdict{Strategy: Depends}
		case v.Strategy != sum.Strategy:
			sum.Strategy = Depends
		case v.Leaning != sum.Leaning:
			sum.Leaning = ""
		}
	}
	return sum
}

// Argues reports whether any argument looks at the fact, so that it can change
// a verdict.
func (b *Rulebook) Argues(fact string) bool {
	f := factNamed(b.Facts, fact)
	return f != nil && slices.ContainsFunc(b.Arguments, func(a *Argument) bool { return a.reads(f) })
}
