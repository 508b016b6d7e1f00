package planner

import (
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// An oracle decides cases from the rule files without any of the planner's
// code: it reads the YAML into loose shapes, keeps conditions as they are
// written, and goes through every completion one by one. It is slow and plain
// on purpose; the exact walk is compared with it.
type oracle struct {
	facts []oracleFact
	rows  []oracleRow
	reads []int // facts that some row names, in the facts' order
}

type oracleFact struct {
	Name   string    `yaml:"name"`
	Values []string  `yaml:"values"`
	Unit   string    `yaml:"unit"`
	Low    float64   `yaml:"low"`
	High   float64   `yaml:"high"`
	Cuts   []float64 `yaml:"cuts"`
}

type oracleRow struct {
	ID     string         `yaml:"id"`
	When   map[string]any `yaml:"when"`
	Unless map[string]any `yaml:"unless"`
	For    string         `yaml:"for"`
	Weight string         `yaml:"weight"`

	allowed map[int][]bool // by fact: which of its values the row bears
	order   []int          // the keys of allowed, sorted
}

// newOracle reads facts, arguments and exclusions.
func newOracle(t testing.TB, files fs.FS) *oracle {
	t.Helper()
	var facts struct {
		Facts []oracleFact `yaml:"facts"`
	}
	var rows struct {
		Arguments  []oracleRow `yaml:"arguments"`
		Exclusions []oracleRow `yaml:"exclusions"`
	}
	for _, f := range []struct {
		name string
		into any
	}{{"facts.yaml", &facts}, {"arguments.yaml", &rows}, {"exclusions.yaml", &rows}} {
		data, err := fs.ReadFile(files, f.name)
		if err == nil {
			err = yaml.Unmarshal(data, f.into)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	o := &oracle{facts: facts.Facts, rows: append(rows.Arguments, rows.Exclusions...)}
	for i := range o.rows {
		o.prepare(&o.rows[i])
	}
	for i := range o.facts {
		if slices.ContainsFunc(o.rows, func(r oracleRow) bool { return r.allowed[i] != nil }) {
			o.reads = append(o.reads, i)
		}
	}
	return o
}

// prepare works out, from the text of the conditions, which values a row bears.
func (o *oracle) prepare(r *oracleRow) {
	r.allowed = map[int][]bool{}
	for i, f := range o.facts {
		when, wants := r.When[f.Name]
		unless, takesBack := r.Unless[f.Name]
		if !wants && !takesBack {
			continue
		}
		for _, point := range f.points() {
			ok := !wants || fits(when, point)
			r.allowed[i] = append(r.allowed[i], ok && (!takesBack || !fits(unless, point)))
		}
		r.order = append(r.order, i)
	}
}

// points are the values of a choice, or one number within each region of an axis.
func (f oracleFact) points() []string {
	if f.Unit == "" {
		return f.Values
	}
	ends := append(append([]float64{f.Low}, f.Cuts...), f.High)
	var out []string
	for i := 1; i < len(ends); i++ {
		out = append(out, strconv.FormatFloat((ends[i-1]+ends[i])/2, 'g', -1, 64))
	}
	return out
}

// fits compares one value with a cell as written: a name, a list of names, or a
// comparison.
func fits(cell any, point string) bool {
	if list, ok := cell.([]any); ok {
		return slices.ContainsFunc(list, func(one any) bool { return fits(one, point) })
	}
	text := strings.TrimSpace(cell.(string))
	x, err := strconv.ParseFloat(point, 64)
	from, to, span := strings.Cut(text, "..")
	switch {
	case err != nil:
		return text == point
	case strings.HasPrefix(text, ">="):
		return x >= number(text[2:])
	case strings.HasPrefix(text, "<"):
		return x < number(text[1:])
	case span:
		return x >= number(from) && x < number(to)
	}
	return false
}

func number(text string) float64 {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		panic(err) // a rule file with such a cell does not load
	}
	return x
}

// judge decides one completion, given as the index of each fact's value; a
// completion that breaks an exclusion does not count.
func (o *oracle) judge(values []int) (v Verdict, counts bool) {
	var stop, decisive, strong, weak [2]int // bond, cement; stop uses the first
	for _, r := range o.rows {
		if !r.holds(values) {
			continue
		}
		side := 0
		if r.For == "cement" {
			side = 1
		}
		switch {
		case r.For == "":
			return Verdict{}, false
		case r.For == "stop":
			stop[0]++
		case r.Weight == "decisive":
			decisive[side]++
		case r.Weight == "strong":
			strong[side]++
		default:
			weak[side]++
		}
	}
	return spoken(stop[0], decisive, strong, weak), true
}

func (r *oracleRow) holds(values []int) bool {
	for _, i := range r.order {
		if !r.allowed[i][values[i]] {
			return false
		}
	}
	return true
}

// spoken is the verdict as design and documentation put it in words.
func spoken(stop int, decisive, strong, weak [2]int) Verdict {
	lean := func(n [2]int) Strategy {
		switch {
		case n[0] > n[1]:
			return Bond
		case n[0] < n[1]:
			return Cement
		}
		return ""
	}
	alone := func(n [2]int) bool { return (n[0] > 0) != (n[1] > 0) }
	switch {
	case stop > 0 || decisive[0] > 0 && decisive[1] > 0:
		return Verdict{Stop, ""}
	case alone(decisive):
		return Verdict{lean(decisive), lean(decisive)}
	case alone(strong):
		return Verdict{lean(strong), lean(strong)}
	}
	leaning := lean(strong)
	if leaning == "" {
		leaning = lean(weak)
	}
	if strong[0] > 0 {
		return Verdict{Depends, leaning}
	}
	return Verdict{Either, leaning}
}

// A tableau holds the verdict of every completion of a case over the facts that
// the rules read. The last such fact runs fastest.
type tableau struct {
	facts    []int   // the facts that vary or stand, as the oracle reads them
	values   [][]int // by fact: the values gone through
	verdicts []Verdict
	counts   []bool
}

// enumerate goes through every completion of the sets.
func (o *oracle) enumerate(sets []Set) *tableau {
	tb := &tableau{facts: o.reads}
	for _, i := range o.reads {
		var values []int
		for v := range o.facts[i].points() {
			if sets[i].Has(v) {
				values = append(values, v)
			}
		}
		tb.values = append(tb.values, values)
	}
	now := make([]int, len(o.facts))
	var down func(k int)
	down = func(k int) {
		if k == len(tb.facts) {
			v, counts := o.judge(now)
			tb.verdicts, tb.counts = append(tb.verdicts, v), append(tb.counts, counts)
			return
		}
		for _, v := range tb.values[k] {
			now[tb.facts[k]] = v
			down(k + 1)
		}
	}
	down(0)
	return tb
}

// outcome counts the completions that count, by verdict.
func (tb *tableau) outcome() outcome {
	out := outcome{}
	for i, v := range tb.verdicts {
		if tb.counts[i] {
			out[v]++
		}
	}
	return out
}

// flips looks, for every completion of the other facts, at what fact f does. The
// witness is a pair of completions that differ only in f and in the strategy.
func (tb *tableau) flips(f int) (n flips, witness [2]int) {
	k := slices.Index(tb.facts, f)
	if k < 0 {
		return flips{}, witness
	}
	stride := 1
	for _, values := range tb.values[k+1:] {
		stride *= len(values)
	}
	size := len(tb.values[k])
	for i := range tb.verdicts {
		if i/stride%size != 0 {
			continue // not the first of its group
		}
		first, others := -1, 0
		for j := i; j < i+size*stride; j += stride {
			switch {
			case !tb.counts[j]:
			case first < 0:
				first = j
			case tb.verdicts[j].Strategy != tb.verdicts[first].Strategy:
				others++
				witness = [2]int{first, j}
			}
		}
		if first >= 0 {
			n.all++
		}
		if others > 0 {
			n.hang++
		}
	}
	return n, witness
}

// read writes completion i of the tableau as a person reads a case.
func (tb *tableau) read(o *oracle, i int) string {
	var parts []string
	for k := len(tb.facts) - 1; k >= 0; k-- {
		size := len(tb.values[k])
		f := o.facts[tb.facts[k]]
		parts = append(parts, f.Name+"="+f.points()[tb.values[k][i%size]])
		i /= size
	}
	slices.Reverse(parts)
	return strings.Join(parts, "; ")
}

// excluding lists the facts that exclusions read.
func (o *oracle) excluding() []int {
	var out []int
	for _, i := range o.reads {
		if slices.ContainsFunc(o.rows, func(r oracleRow) bool { return r.For == "" && r.allowed[i] != nil }) {
			out = append(out, i)
		}
	}
	return out
}

// possible reports whether some completion of the sets breaks no exclusion.
func (o *oracle) possible(sets []Set) bool {
	now := make([]int, len(o.facts))
	read := o.excluding()
	var down func(k int) bool
	down = func(k int) bool {
		if k == len(read) {
			return !slices.ContainsFunc(o.rows, func(r oracleRow) bool { return r.For == "" && r.holds(now) })
		}
		for v := range o.facts[read[k]].points() {
			now[read[k]] = v
			if sets[read[k]].Has(v) && down(k+1) {
				return true
			}
		}
		return false
	}
	return down(0)
}
