package planner

import (
	"cmp"
	"slices"
)

// flips counts the completions of the other facts in which the strategy hangs
// on this one, and how many there are in all.
type flips struct{ hang, all uint64 }

func (f flips) share() float64 {
	if f.all == 0 {
		return 0
	}
	return float64(f.hang) / float64(f.all)
}

// open lists the unknown facts that can still change the strategy. A fact that
// cannot is never asked, nor is one that is only told while it is presumed. First comes the fact on which the strategy hangs in
// most completions within the presumptions; between equals, the one that a
// clinician would ask for first. The second list holds those on which it hangs
// within the presumptions at all.
func (b *Rulebook) open(p *Plan) (open, within []*Fact) {
	var found []*Fact
	near := map[*Fact]float64{}
	for _, i := range b.decide.read() {
		f := b.Facts[i]
		quiet := f.Told && slices.Contains(p.Assumed, f)
		if p.Case.sets[i].Len() < 2 || quiet {
			continue
		}
		near[f] = b.decide.flips(p.Presumed.withSet(f, p.Case.sets[i]).sets, i).share()
		if near[f] > 0 || b.matters(p, f) {
			found = append(found, f)
		}
	}
	slices.SortStableFunc(found, func(x, y *Fact) int { return cmp.Compare(near[y], near[x]) })
	n := slices.IndexFunc(found, func(f *Fact) bool { return near[f] == 0 })
	if n < 0 {
		n = len(found)
	}
	return found, found[:n:n]
}

// matters reports whether the strategy hangs on a fact in any completion. One
// such completion proves it, and it is mostly found with a single other fact
// off its presumption; only if there is none is the whole domain walked.
func (b *Rulebook) matters(p *Plan, f *Fact) bool {
	freed := p.Presumed.withSet(f, p.Case.sets[f.index])
	for _, i := range b.decide.read() {
		other := freed.withSet(b.Facts[i], p.Case.sets[i])
		if b.decide.flips(other.sets, f.index).hang > 0 {
			return true
		}
	}
	return b.decide.flips(p.Case.sets, f.index).hang > 0
}

// flips settles every other fact first and then looks at what this one does.
func (g *grid) flips(sets []Set, f int) flips {
	others := slices.DeleteFunc(g.read(), func(i int) bool { return i == f })
	var n flips
	for m, s := range g.walk(sets, others) {
		strategies := g.overLast(m, f, sets[f])
		if strategies > 0 {
			n.all += s.count
		}
		if strategies > 1 {
			n.hang += s.count
		}
	}
	return n
}

// overLast counts the strategies that the values of the one unsettled fact give.
func (g *grid) overLast(m mask, f int, allowed Set) int {
	var seen [5]Strategy
	n := 0
	for v := range g.kill[f] {
		to := m.without(g.kill[f][v])
		if !allowed.Has(v) || !to.and(g.exclusions).none() {
			continue
		}
		s := g.verdict(to).Strategy
		if !slices.Contains(seen[:n], s) {
			seen[n] = s
			n++
		}
	}
	return n
}

// changes says, for each fact on which it hangs, which of its values would turn the verdict,
// everything else presumed afresh.
func (b *Rulebook) changes(p *Plan) []Change {
	var out []Change
	for _, f := range p.Near {
		for v := range f.Values {
			if !p.Case.sets[f.index].Has(v) {
				continue
			}
			presumed, _ := b.presume(p.Case.withSet(f, 1<<v))
			o := b.decide.outcome(presumed.sets)
			if got := o.verdict(); len(o) > 0 && got != p.Verdict {
				out = addChange(out, Change{f, 1 << v, got})
			}
		}
	}
	return out
}

// addChange joins values of one fact that change the verdict alike.
func addChange(list []Change, c Change) []Change {
	for i := range list {
		if list[i].Fact == c.Fact && list[i].Verdict == c.Verdict {
			list[i].Values |= c.Values
			return list
		}
	}
	return append(list, c)
}
