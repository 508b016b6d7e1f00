package planner

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
)

// A Report is what an audit of the rules found.
type Report struct {
	Cases      *big.Int           // completions of the whole domain, over every fact that any rule reads
	Verdicts   map[Verdict]uint64 // how the completions that count fall out, over the facts that argue
	Excluded   uint64             // completions that break an exclusion, over the facts that argue
	Classes    int                // kinds of case that the arguments tell apart
	Statements int                // safety statements proved
	Rows       int                // rows checked for being reachable
	Findings   []Finding          // what is wrong; empty is good
}

// A Finding is one fault, with a case that shows it where there is one.
type Finding struct {
	Where string // file:line of the rows concerned
	What  string
	Case  string // a counterexample, as a person reads a case
}

// String writes a finding on one line, or two with its case.
func (f Finding) String() string {
	if f.Case == "" {
		return f.Where + ": " + f.What
	}
	return f.Where + ": " + f.What + "\n\tcase: " + f.Case
}

// Audit proves the rules over their whole finite domain: every case has a
// verdict, every row can apply, none contradicts another, and every safety
// statement holds in every case. Each proof walks only the rows that it
// concerns, which leaves nothing out: facts that no such row reads cannot
// change what it proves.
func (b *Rulebook) Audit() *Report {
	r := &Report{Cases: b.domain(), Verdicts: map[Verdict]uint64{}}
	level := b.decide.walk(b.NewCase().sets, b.decide.read())
	for m, s := range level {
		r.Verdicts[b.decide.verdict(m)] += s.count
	}
	r.Classes = len(level)
	r.Excluded = b.argued() - r.counted()
	b.auditReach(r)
	b.auditContradictions(r)
	for _, s := range b.Statements {
		r.Statements++
		r.Findings = append(r.Findings, b.prove(s)...)
	}
	return r
}

func (r *Report) counted() (n uint64) {
	for _, count := range r.Verdicts {
		n += count
	}
	return n
}

// argued counts the combinations of the facts that arguments and exclusions read.
func (b *Rulebook) argued() uint64 {
	n := uint64(1)
	for _, i := range b.decide.read() {
		n *= uint64(len(b.Facts[i].Values))
	}
	return n
}

// domain counts the combinations of every fact that any row reads.
func (b *Rulebook) domain() *big.Int {
	n := big.NewInt(1)
	for _, f := range b.Facts {
		if slices.ContainsFunc(b.rows(), func(r *Row) bool { return r.reads(f) }) {
			n.Mul(n, big.NewInt(int64(len(f.Values))))
		}
	}
	return n
}

// rows lists every row that has conditions.
func (b *Rulebook) rows() []*Row {
	var rows []*Row
	for _, a := range b.Arguments {
		rows = append(rows, &a.Row)
	}
	for _, x := range b.Exclusions {
		rows = append(rows, &x.Row)
	}
	for _, n := range b.Notices {
		rows = append(rows, &n.Row)
	}
	for _, s := range b.Steps {
		rows = append(rows, &s.Row)
	}
	for _, p := range b.Parameters {
		rows = append(rows, &p.Row)
	}
	return rows
}

// auditReach finds rows that no case reaches: those whose conditions only
// excluded cases meet, and steps whose path no such case allows.
func (b *Rulebook) auditReach(r *Report) {
	for _, row := range b.rows() {
		r.Rows++
		if len(b.decide.outcome(row.when)) == 0 && !b.isExclusion(row) {
			r.Findings = append(r.Findings, Finding{row.Where, row.ID + " can apply to no case: every case that meets its conditions is excluded", ""})
		}
	}
	for _, s := range b.Steps {
		if !b.onSomePath(s) {
			r.Findings = append(r.Findings, Finding{s.Where, fmt.Sprintf("%s can apply to no case: none that meets its conditions is planned on %v", s.ID, s.Paths), ""})
		}
	}
}

func (b *Rulebook) isExclusion(row *Row) bool {
	return slices.ContainsFunc(b.Exclusions, func(x *Exclusion) bool { return &x.Row == row })
}

func (b *Rulebook) onSomePath(s *Step) bool {
	for v := range b.decide.outcome(s.when) {
		if slices.ContainsFunc(v.allowedPaths(), s.on) {
			return true
		}
	}
	return false
}

// auditContradictions finds decisive arguments that can never decide, because
// one on the other side always applies with them, arguments that say the same
// twice, and settings of one thing that overlap.
func (b *Rulebook) auditContradictions(r *Report) {
	for i, x := range b.Arguments {
		for j, y := range b.Arguments {
			switch {
			case i == j || !x.narrower(&y.Row) || x.Weight != y.Weight:
			case x.For != y.For && x.Weight == Decisive && x.For != Stop && y.For != Stop:
				r.contradict(&x.Row, &y.Row, "always applies together with %s, which decides the other way")
			case x.For == y.For && x.Weight == Decisive:
				r.contradict(&x.Row, &y.Row, "adds nothing to %s, which covers it")
			}
		}
	}
	for i, p := range b.Parameters {
		for _, q := range b.Parameters[i+1:] {
			if p.Key == q.Key && p.Of == q.Of && p.overlaps(&q.Row) {
				r.contradict(&p.Row, &q.Row, "sets the same as %s in some case")
			}
		}
	}
}

func (r *Report) contradict(x, y *Row, how string) {
	r.Findings = append(r.Findings, Finding{x.Where + ", " + y.Where, x.ID + " " + fmt.Sprintf(how, y.ID), ""})
}

func (r *Row) overlaps(other *Row) bool {
	for i := range r.when {
		if r.when[i]&other.when[i] == 0 {
			return false
		}
	}
	return true
}

// prove walks the cases that a statement speaks of, with the steps it concerns,
// and reports the first case on each path that breaks it.
func (b *Rulebook) prove(s *Statement) []Finding {
	if s.NotAbove != nil {
		return b.proveCeiling(s)
	}
	steps := b.concerned(s)
	rows := make([]*Row, len(steps))
	for i, step := range steps {
		rows[i] = &step.Row
	}
	g, err := b.newGrid(rows)
	if err != nil {
		return []Finding{{s.Where, err.Error(), ""}}
	}
	var found []Finding
	level := g.walk(s.when, g.read())
	for _, m := range level.sorted() {
		for _, path := range g.verdict(m).allowedPaths() {
			how := s.brokenAt(g, m, path, steps)
			if how == "" || slices.ContainsFunc(found, func(f Finding) bool { return strings.HasPrefix(f.What, s.reads(path)) }) {
				continue
			}
			found = append(found, Finding{s.Where, s.reads(path) + how, b.readable(level[m].witness, s.when)})
		}
	}
	return found
}

func (s *Statement) reads(path Strategy) string {
	return fmt.Sprintf("%s does not hold on a plan to %s (%q): ", s.ID, path, s.Says)
}

func (s *Statement) brokenAt(g *grid, m mask, path Strategy, steps []*Step) string {
	if !slices.Contains(s.Paths, path) {
		return ""
	}
	var applying []*Step
	for i, step := range steps {
		if m.has(g.extra(i)) && step.on(path) {
			applying = append(applying, step)
		}
	}
	return s.broken(path, applying)
}

// concerned lists the steps that a statement's matches pick.
func (b *Rulebook) concerned(s *Statement) []*Step {
	var out []*Step
	for _, step := range b.Steps {
		if slices.ContainsFunc(s.matches(), func(m *match) bool { return m.fits(step) }) {
			out = append(out, step)
		}
	}
	return out
}

// proveCeiling compares settings, which depend on no verdict.
func (b *Rulebook) proveCeiling(s *Statement) []Finding {
	limit, ok := b.ceiling(s.NotAbove)
	if !ok {
		return []Finding{{s.Where, s.ID + ": no setting to compare with", ""}}
	}
	var found []Finding
	for _, p := range b.Parameters {
		if p.Key == s.NotAbove.Key && p.overlaps(&s.Row) && p.High > limit {
			found = append(found, Finding{s.Where + ", " + p.Where, fmt.Sprintf("%s does not hold (%q): %s goes to %v %s, above %v", s.ID, s.Says, p.ID, p.High, p.Unit, limit), ""})
		}
	}
	return found
}

// ceiling is the highest value that a setting may have. Of a setting that the
// house replaced the built-in row counts, so that raising both hides nothing.
func (b *Rulebook) ceiling(c *ceiling) (limit float64, ok bool) {
	if c.Figure != nil {
		return *c.Figure, true
	}
	for _, p := range b.Parameters {
		if p.Key != c.Key || !p.overlaps(&c.than) {
			continue
		}
		high := p.High
		if p.Base != nil {
			high = p.Base.High
		}
		limit, ok = max(limit, high), true
	}
	return limit, ok
}

// readable writes a witness as a case, naming only the facts that were read.
func (b *Rulebook) readable(witness []int8, within []Set) string {
	var parts []string
	for i, v := range witness {
		switch {
		case v >= 0:
			parts = append(parts, b.Facts[i].Name+": "+b.Facts[i].Values[v])
		case within[i] != b.Facts[i].All():
			parts = append(parts, b.Facts[i].Name+": "+strings.Join(b.Facts[i].Names(within[i]), " or "))
		}
	}
	return strings.Join(parts, "; ")
}
