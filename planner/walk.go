package planner

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// A grid is a list of rows compiled for walking over cases.
//
// Walking takes the facts one after the other and keeps, in place of every
// completion, the set of rows that it leaves standing: choosing a value kills
// the rows that want another one. Two completions that leave the same rows
// standing are one state from then on. What is counted is exact; nothing is
// sampled.
//
// Rows whose facts are all settled are folded: an argument then matters only
// through its class, so any k standing rows of a class count as its first k,
// and what a decisive argument overrules is dropped. That keeps the number of
// states in the hundreds where the completions are in the millions.
type grid struct {
	facts []*Fact
	kill  [][]mask // by fact and value: the rows that the value rules out
	rows  []*Row

	exclusions mask
	arguments  mask
	byClass    [classes]mask
}

// newGrid compiles the arguments and the exclusions, then the extra rows,
// which are never folded. Extra row i stands at g.extra(i).
func (b *Rulebook) newGrid(extra []*Row) (*grid, error) {
	g := &grid{facts: b.Facts}
	for _, a := range b.Arguments {
		c := classOf(a.For, a.Weight)
		g.byClass[c] = g.byClass[c].with(len(g.rows))
		g.arguments = g.arguments.with(len(g.rows))
		g.rows = append(g.rows, &a.Row)
	}
	for _, x := range b.Exclusions {
		g.exclusions = g.exclusions.with(len(g.rows))
		g.rows = append(g.rows, &x.Row)
	}
	g.rows = append(g.rows, extra...)
	if len(g.rows) > maxRows {
		return nil, fmt.Errorf("%d rows are more than one walk can tell apart (%d): merge rows or raise maxRows", len(g.rows), maxRows)
	}
	g.compile()
	return g, nil
}

// newExclusions compiles the exclusions alone.
func newExclusions(b *Rulebook) *grid {
	g := &grid{facts: b.Facts}
	for _, x := range b.Exclusions {
		g.exclusions = g.exclusions.with(len(g.rows))
		g.rows = append(g.rows, &x.Row)
	}
	g.compile()
	return g
}

// extra is the bit of extra row i.
func (g *grid) extra(i int) int { return g.arguments.or(g.exclusions).count() + i }

func (g *grid) compile() {
	g.kill = make([][]mask, len(g.facts))
	for i, f := range g.facts {
		g.kill[i] = make([]mask, len(f.Values))
		for v := range f.Values {
			for k, row := range g.rows {
				if !row.when[i].Has(v) {
					g.kill[i][v] = g.kill[i][v].with(k)
				}
			}
		}
	}
}

// everyRow is the state in which nothing is settled.
func (g *grid) everyRow() mask {
	var m mask
	for i := range g.rows {
		m = m.with(i)
	}
	return m
}

// A state is what a walk keeps of all completions that leave the same rows standing.
type state struct {
	count   uint64 // completions
	witness []int8 // one of them: the value of each fact, -1 where any will do
}

// states maps the rows left standing to the completions that leave them.
type states map[mask]state

// walk settles the facts in the given order, each over the values that sets
// allows, and returns what is left standing. Completions that break an
// exclusion are dropped.
func (g *grid) walk(sets []Set, order []int) states {
	unread := make([]int8, len(g.facts))
	for i := range unread {
		unread[i] = -1
	}
	level := states{g.everyRow(): {1, unread}}
	settled := g.settled(order)
	for step, f := range order {
		level = g.settle(level, f, sets[f], settled[step])
	}
	return level
}

// settle takes every state through every value of one fact.
func (g *grid) settle(level states, f int, allowed Set, settled mask) states {
	next := make(states, len(level))
	for m, s := range level {
		for v := range g.kill[f] {
			if !allowed.Has(v) {
				continue
			}
			to := m.without(g.kill[f][v])
			if !to.and(settled).and(g.exclusions).none() {
				continue
			}
			next.add(g.fold(to, settled), s, f, v)
		}
	}
	return next
}

// sorted lists the states in a fixed order, so that what is printed of them can
// be compared between runs.
func (s states) sorted() []mask {
	return slices.SortedFunc(maps.Keys(s), func(x, y mask) int {
		return cmp.Or(cmp.Compare(x[1], y[1]), cmp.Compare(x[0], y[0]))
	})
}

func (s states) add(m mask, from state, f, v int) {
	to, seen := s[m]
	if !seen {
		to.witness = append([]int8(nil), from.witness...)
		to.witness[f] = int8(v)
	}
	to.count += from.count
	s[m] = to
}

// settled tells, after each step of the order, which rows have no fact left to settle.
func (g *grid) settled(order []int) []mask {
	last := make([]int, len(g.rows)) // the last step that can still kill the row
	for k, row := range g.rows {
		for i, f := range g.facts {
			switch step := slices.Index(order, i); {
			case !row.reads(f):
			case step < 0:
				last[k] = len(order) // a fact that is left for later keeps the row unsettled
			default:
				last[k] = max(last[k], step)
			}
		}
	}
	out := make([]mask, len(order))
	for step := range order {
		for k := range g.rows {
			if last[k] <= step {
				out[step] = out[step].with(k)
			}
		}
	}
	return out
}

// fold replaces the settled arguments of a state by the first of their class,
// and drops what a settled decisive argument overrules.
func (g *grid) fold(m, settled mask) mask {
	standing := m.and(settled)
	for c := stopping; c < classes; c++ {
		rows := standing.and(g.byClass[c])
		if rows.none() {
			continue
		}
		keep := rows.count()
		if c <= decisiveCement {
			keep = 1
		}
		m = m.without(rows).or(first(g.byClass[c].and(settled), keep))
	}
	return g.overrule(m, settled)
}

// overrule drops the arguments that can no longer change the verdict.
func (g *grid) overrule(m, settled mask) mask {
	done := m.and(settled)
	bond, cement := done.and(g.byClass[decisiveBond]), done.and(g.byClass[decisiveCement])
	stop := done.and(g.byClass[stopping])
	switch {
	case !stop.none():
		return m.without(g.arguments).or(stop)
	case !bond.none() && !cement.none():
		return m.without(g.arguments).or(bond).or(cement)
	case !bond.none() || !cement.none():
		for c := strongBond; c < classes; c++ {
			m = m.without(g.byClass[c])
		}
	}
	return m
}

// first is the first n rows of a mask.
func first(m mask, n int) mask {
	var out mask
	for i := 0; n > 0; i++ {
		if m.has(i) {
			out = out.with(i)
			n--
		}
	}
	return out
}

// verdict adds up the arguments that stand.
func (g *grid) verdict(m mask) Verdict {
	var t tally
	for c := range t {
		t[c] = m.and(g.byClass[c]).count()
	}
	return t.verdict()
}

// read lists the facts that any row looks at, in the facts' own order.
func (g *grid) read() []int {
	var order []int
	for i, f := range g.facts {
		for _, row := range g.rows {
			if row.reads(f) {
				order = append(order, i)
				break
			}
		}
	}
	return order
}
