package planner

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

const leastCases = 80

// A written case is one line of testdata/cases.txt.
type writtenCase struct {
	where    string // file:line
	known    map[string][]string
	strategy string
	leaning  string // empty if the line does not say
}

// writtenCases reads testdata/cases.txt.
func writtenCases(t *testing.T) []writtenCase {
	t.Helper()
	data, err := os.ReadFile("testdata/cases.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []writtenCase
	for i, line := range strings.Split(string(data), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		c := writtenCase{where: at("cases.txt", i+1), known: map[string][]string{}}
		facts, verdict, ok := strings.Cut(line, " -> ")
		if !ok {
			t.Fatalf("%s: wanted \"facts -> strategy\", got %q", c.where, line)
		}
		for part := range strings.SplitSeq(facts, "; ") {
			name, values, ok := strings.Cut(part, "=")
			if _, twice := c.known[name]; !ok || twice {
				t.Fatalf("%s: wanted each fact once as fact=value, got %q", c.where, part)
			}
			c.known[name] = strings.Split(values, "|")
		}
		c.strategy, c.leaning, _ = strings.Cut(verdict, ", leaning ")
		out = append(out, c)
	}
	return out
}

// TestWrittenCases plans every line of testdata/cases.txt, and lists the rows of
// the rules that none of them reaches.
func TestWrittenCases(t *testing.T) {
	b := builtIn()
	cases := writtenCases(t)
	if len(cases) < leastCases {
		t.Errorf("%d cases stand, wanted at least %d", len(cases), leastCases)
	}
	reached := map[string]bool{}
	strategies := map[string]int{}
	for _, c := range cases {
		known, err := b.Case(c.known)
		if err != nil {
			t.Errorf("%s: %v", c.where, err)
			continue
		}
		p := b.Plan(known)
		c.check(t, p)
		strategies[c.strategy]++
		for _, where := range b.rowsOf(p) {
			reached[where] = true
		}
	}
	t.Logf("%d cases, by strategy %v; %d rows reached", len(cases), strategies, len(reached))
	for _, row := range b.rows() {
		if !reached[row.Where] {
			t.Errorf("%s: no case of testdata/cases.txt reaches %s", row.Where, row.ID)
		}
	}
}

func (c writtenCase) check(t *testing.T, p *Plan) {
	t.Helper()
	if c.strategy == "contradiction" {
		if p.Conflicts == nil || p.Steps != nil || p.Strategy != Depends {
			t.Errorf("%s: planned as %s with %d steps, wanted a contradiction named and no steps", c.where, p.Strategy, len(p.Steps))
		}
		return
	}
	if p.Conflicts != nil {
		t.Errorf("%s: %s contradicts itself: %s", c.where, p.Case, p.Conflicts[0].Because)
	}
	if string(p.Strategy) != c.strategy {
		t.Errorf("%s: %s is planned as %s, wanted %s (%s)", c.where, p.Case, p.Strategy, c.strategy, reasonsOf(p))
	}
	if c.leaning != "" && string(p.Leaning) != c.leaning {
		t.Errorf("%s: %s leans to %q, wanted %q (%s)", c.where, p.Case, p.Leaning, c.leaning, reasonsOf(p))
	}
}

func reasonsOf(p *Plan) string {
	var out []string
	for _, a := range p.Reasons {
		out = append(out, fmt.Sprintf("%s for %s: %s", a.Weight, a.For, a.ID))
	}
	return strings.Join(out, "; ")
}

// rowsOf lists where the rows stand that a plan uses for certain.
func (b *Rulebook) rowsOf(p *Plan) []string {
	var out []string
	for _, x := range p.Conflicts {
		out = append(out, x.Where)
	}
	if p.Conflicts != nil {
		return out // nothing else follows from a contradiction
	}
	for _, a := range p.Reasons {
		out = append(out, a.Where)
	}
	for _, n := range p.Notices {
		out = append(out, n.Where)
	}
	for _, s := range p.Steps {
		if s.If == nil {
			out = append(out, s.Where)
		}
	}
	for _, q := range b.Parameters {
		if always, _ := q.applies(p.Presumed); always && slices.Contains(b.Settings(p.Presumed, q.Key), q) {
			out = append(out, q.Where)
		}
	}
	return out
}
