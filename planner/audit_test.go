package planner

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// leastStatements is how many safety statements the rules must at least prove.
const leastStatements = 25

// TestAudit holds that the audit of the built-in rules finds nothing, and that
// its counts add up.
func TestAudit(t *testing.T) {
	b := builtIn()
	r := b.Audit()
	for _, f := range r.Findings {
		t.Error(f)
	}
	t.Logf("%v cases over every fact that a rule reads; %d over the facts that argue, %d of them excluded",
		r.Cases, b.argued(), r.Excluded)
	t.Logf("%d kinds of case, %d rows reached, %d statements proved; verdicts %v", r.Classes, r.Rows, r.Statements, r.Verdicts)
	if r.Statements < leastStatements {
		t.Errorf("%d safety statements are proved, wanted at least %d", r.Statements, leastStatements)
	}
	if sum := r.counted() + r.Excluded; sum != b.argued() {
		t.Errorf("%d cases are planned or excluded, of %d", sum, b.argued())
	}
	if want := len(b.Arguments) + len(b.Exclusions) + len(b.Notices) + len(b.Steps) + len(b.Parameters); r.Rows != want {
		t.Errorf("%d rows were checked for being reachable, of %d", r.Rows, want)
	}
	for _, s := range []Strategy{Bond, Cement, Either, Depends, Stop} {
		if !slices.ContainsFunc(sortedVerdicts(r), func(v Verdict) bool { return v.Strategy == s }) {
			t.Errorf("no case at all is planned as %s", s)
		}
	}
}

func sortedVerdicts(r *Report) []Verdict {
	var out []Verdict
	for v, n := range r.Verdicts {
		if n > 0 {
			out = append(out, v)
		}
	}
	return out
}

// TestEveryStageInEveryPlan proves that no plan leaves a part of the seating
// out: priming belongs to bonding alone, all other stages to both paths.
func TestEveryStageInEveryPlan(t *testing.T) {
	b := builtIn()
	for _, stage := range stages {
		paths := []Strategy{Bond, Cement}
		if stage == "priming" {
			paths = paths[:1]
		}
		s := &Statement{Row: Row{ID: "every-plan-has-" + stage, Where: "stage " + stage, when: b.NewCase().sets},
			Says: "every plan has this stage", Paths: paths, AlwaysStep: &match{Stage: stage}}
		for _, f := range b.prove(s) {
			t.Error(f)
		}
	}
}

// A sabotage is one rule broken on purpose, and the findings that must follow.
// Those of one group do not get in each other's way and are audited together.
type sabotage struct {
	group int
	name  string
	edits []edit
	move  [2]string // steps.yaml: this row goes before that one
	want  []string  // the ids of the rows or statements that are reported
	at    []place   // rows whose file:line the first wanted finding names
}

// A place is a row in a file.
type place struct{ file, row string }

func sabotages() []sabotage {
	return []sabotage{
		{group: 0, name: "the primer brings no MDP",
			edits: []edit{{"steps.yaml", "prime-retentive", "with: [MDP, methacrylate]", "with: [methacrylate]"}},
			want:  []string{"mdp-in-every-bond"}, at: []place{{"safety.yaml", "mdp-in-every-bond"}}},
		{group: 1, name: "a wet field only speaks against bonding",
			edits: []edit{{"arguments.yaml", "cannot-be-kept-dry", "weight: decisive", "weight: strong"}},
			want:  []string{"no-bond-in-the-wet"}, at: []place{{"safety.yaml", "no-bond-in-the-wet"}}},
		{group: 0, name: "phosphoric acid inside",
			edits: []edit{{"steps.yaml", "clean-blood", "with: [zirconia cleaner]", "with: [zirconia cleaner, phosphoric acid]"}},
			want:  []string{"no-phosphoric-inside"},
			at:    []place{{"safety.yaml", "no-phosphoric-inside"}, {"steps.yaml", "clean-blood"}}},
		{group: 1, name: "hypochlorite after acid",
			edits: []edit{{"steps.yaml", "undo-phosphoric", "with: [water, zirconia cleaner]", "with: [water, sodium hypochlorite]"}},
			want:  []string{"no-hypochlorite-after-acid"},
			at:    []place{{"safety.yaml", "no-hypochlorite-after-acid"}, {"steps.yaml", "undo-phosphoric"}}},
		{group: 1, name: "primed before it is abraded", move: [2]string{"prime-partial-coverage", "abrade-3y"},
			want: []string{"abrade-before-prime"},
			at:   []place{{"safety.yaml", "abrade-before-prime"}, {"steps.yaml", "prime-partial-coverage"}}},
		{group: 1, name: "etched before the field is isolated", move: [2]string{"etch-enamel", "isolate"},
			want: []string{"dry-field-before-etch", "hypochlorite-before-tooth-etch"},
			at:   []place{{"safety.yaml", "dry-field-before-etch"}, {"steps.yaml", "etch-enamel"}, {"steps.yaml", "isolate"}}},
		{group: 0, name: "translucent zirconia under more pressure than 3Y",
			edits: []edit{{"parameters.yaml", "abrasion-pressure-translucent", "high: 1.5", "high: 3.5"}, {"learning.yaml", "pressure-5y", "[2.5, 4]", "[4, 6]"}},
			want:  []string{"gentle-on-translucent"},
			at:    []place{{"safety.yaml", "gentle-on-translucent"}, {"parameters.yaml", "abrasion-pressure-translucent"}}},
		{group: 2, name: "resin cement in a field that may not stay dry",
			edits: []edit{{"steps.yaml", "conventional-cement-damp", "with: [glass ionomer, methacrylate]", "with: [methacrylate, resin cement]"}},
			want:  []string{"no-resin-cement-in-the-wet", "glass-ionomer-in-the-wet"},
			at:    []place{{"safety.yaml", "no-resin-cement-in-the-wet"}, {"steps.yaml", "conventional-cement-damp"}}},
		{group: 1, name: "self-adhesive resin without MDP",
			edits: []edit{{"steps.yaml", "conventional-cement", "resin cement, MDP]", "resin cement]"}},
			want:  []string{"mdp-where-resin-cement-may-be"}, at: []place{{"safety.yaml", "mdp-where-resin-cement-may-be"}}},
		{group: 2, name: "resin with an allergy",
			edits: []edit{{"steps.yaml", "resin-free-cement", "with: [glass ionomer]", "with: [glass ionomer, methacrylate]"}},
			want:  []string{"no-resin-with-allergy"},
			at:    []place{{"safety.yaml", "no-resin-with-allergy"}, {"steps.yaml", "resin-free-cement"}}},
		{group: 0, name: "eugenol is only wiped away",
			edits: []edit{{"steps.yaml", "eugenol-residue", "with: [eugenol removal]", "with: [water]"}},
			want:  []string{"eugenol-before-resin"}, at: []place{{"safety.yaml", "eugenol-before-resin"}}},
		{group: 0, name: "a row that nothing reaches",
			edits: []edit{{"notices.yaml", "zirconia-veneer", "when: {restoration: [veneer]}", "when: {restoration: [veneer], substrate: [titanium]}"}},
			want:  []string{"zirconia-veneer"}, at: []place{{"notices.yaml", "zirconia-veneer"}}},
		{group: 1, name: "a step on a path that its cases never take",
			edits: []edit{{"steps.yaml", "tooth-for-cement", "when: {", "when: {restoration: [veneer], "}},
			want:  []string{"tooth-for-cement"}, at: []place{{"steps.yaml", "tooth-for-cement"}}},
		{group: 0, name: "two decisive arguments that always meet",
			edits: []edit{{"arguments.yaml", "little-enamel", "restoration: [crown, bridge, inlay, endocrown]", "restoration: [onlay]"},
				{"arguments.yaml", "little-enamel", "weight: strong", "weight: decisive\n    mend: Choose another design."}},
			want: []string{"little-enamel"}, at: []place{{"arguments.yaml", "little-enamel"}, {"arguments.yaml", "onlay"}}},
		{group: 2, name: "a decisive argument that another covers",
			edits: []edit{{"arguments.yaml", "inside-without-form", "restoration: [inlay, endocrown]", "restoration: [veneer]"}},
			want:  []string{"inside-without-form", "no-cemented-inlay-without-form"},
			at:    []place{{"arguments.yaml", "inside-without-form"}, {"arguments.yaml", "veneer-or-wing"}}},
		{group: 2, name: "one thing set twice",
			edits: []edit{{"parameters.yaml", "abrasion-pressure-silica", "abrasive: [silica-coated alumina]", "abrasive: [alumina]"},
				{"parameters.yaml", "abrasion-pressure-silica", "of: silica coating 3Y", "of: abrading 3Y with alumina"}},
			want: []string{"abrasion-pressure-3y"},
			at:   []place{{"parameters.yaml", "abrasion-pressure-3y"}, {"parameters.yaml", "abrasion-pressure-silica"}}},
	}
}

// TestAuditFindsSabotage breaks rules on purpose, in memory, and wants the audit
// to report each: by id, with the lines of the rows, and with a case that a
// person can read and that shows the fault. Nothing else may be reported.
func TestAuditFindsSabotage(t *testing.T) {
	groups := map[int][]sabotage{}
	for _, s := range sabotages() {
		groups[s.group] = append(groups[s.group], s)
	}
	for _, group := range groups {
		files := copied(t, Rules())
		for _, s := range group {
			s.commit(t, files)
		}
		b, err := Load(files)
		if err != nil {
			t.Fatalf("the broken rules do not even load: %v", err)
		}
		found := b.Audit().Findings
		var wanted []string
		for _, s := range group {
			t.Run(s.name, func(t *testing.T) { s.check(t, found, files) })
			wanted = append(wanted, s.want...)
		}
		for _, f := range found {
			checkCounterexample(t, b, f)
			if !slices.ContainsFunc(wanted, f.about) {
				t.Errorf("the audit also reports what was not broken: %s", f)
			}
		}
	}
}

// about reports whether the finding is about the row or the statement.
func (f Finding) about(id string) bool { return strings.HasPrefix(f.What, id+" ") }

func (s sabotage) commit(t *testing.T, files fstest.MapFS) {
	t.Helper()
	spoil(t, files, s.edits...)
	if s.move[0] != "" {
		moveStep(t, files, s.move[0], s.move[1])
	}
}

func (s sabotage) check(t *testing.T, found []Finding, files fstest.MapFS) {
	t.Helper()
	for i, id := range s.want {
		k := slices.IndexFunc(found, func(f Finding) bool { return f.about(id) })
		if k < 0 {
			t.Errorf("the audit does not report %s", id)
			continue
		}
		if i > 0 {
			continue
		}
		t.Log(found[k])
		for _, at := range s.at {
			if where := lineOf(t, files, at.file, at.row); !strings.Contains(found[k].String(), where) {
				t.Errorf("the finding does not name %s (%s):\n%s", where, at.row, found[k])
			}
		}
	}
}

// moveStep puts one row of steps.yaml before another.
func moveStep(t *testing.T, files fstest.MapFS, row, before string) {
	t.Helper()
	text := string(files["steps.yaml"].Data)
	from, to := rowSpan(t, text, edit{file: "steps.yaml", row: row})
	moved := text[from:to]
	text = text[:from] + text[to:]
	at, _ := rowSpan(t, text, edit{file: "steps.yaml", row: before})
	files["steps.yaml"] = &fstest.MapFile{Data: []byte(text[:at] + moved + text[at:])}
}

// checkCounterexample reads a finding's case back, as a person would retype it,
// and holds that the statement really fails on it.
func checkCounterexample(t *testing.T, b *Rulebook, f Finding) {
	t.Helper()
	id, rest, _ := strings.Cut(f.What, " does not hold on a plan to ")
	k := slices.IndexFunc(b.Statements, func(s *Statement) bool { return s.ID == id })
	if k < 0 {
		return // not about a statement
	}
	path := Strategy(strings.Fields(rest)[0])
	c, err := retype(b, f.Case)
	if err != nil {
		t.Errorf("the case cannot be read back: %v\n%s", err, f)
		return
	}
	if named := b.conflicts(c); named != nil {
		t.Errorf("the case contradicts itself (%s)\n%s", named[0].ID, f)
	}
	for v := range b.decide.outcome(c.sets) {
		if !slices.Contains(v.allowedPaths(), path) {
			t.Errorf("the case is planned as %s, which does not %s\n%s", v.Strategy, path, f)
		}
	}
	var steps []*Step
	for _, planned := range b.protocol(c, path) {
		if planned.If == nil {
			steps = append(steps, planned.Step)
		}
	}
	if b.Statements[k].broken(path, steps) == "" {
		t.Errorf("the statement holds in the case that should break it\n%s", f)
	}
}

// retype builds a case from its text, "fact: value or value; fact: value".
func retype(b *Rulebook, text string) (Case, error) {
	c := b.NewCase()
	for part := range strings.SplitSeq(text, "; ") {
		name, values, ok := strings.Cut(part, ": ")
		f := factNamed(b.Facts, name)
		if !ok || f == nil {
			return c, fmt.Errorf("%q names no fact", part)
		}
		var s Set
		for i, v := range f.Values { // "1.2 mm or more" holds the word that joins
			if strings.HasPrefix(values, v) {
				s, values = s|1<<i, strings.TrimPrefix(strings.TrimPrefix(values, v), " or ")
			}
		}
		if values != "" || s == 0 {
			return c, fmt.Errorf("%q are no values of %s", part, name)
		}
		c = c.withSet(f, s)
	}
	return c, nil
}

// TestStatementsCanFail holds that no statement is empty words: what it names
// is used somewhere, so that a slip in a name cannot make it hold for ever.
func TestStatementsCanFail(t *testing.T) {
	b := builtIn()
	const banned = "hydrofluoric acid" // named so that it never comes in
	var substances []string
	for _, s := range b.Steps {
		substances = append(substances, s.With...)
	}
	for _, s := range b.Statements {
		for _, m := range s.matches() {
			if m.ID == "" && m.Stage == "" && m.With == nil {
				t.Errorf("%s: %s picks steps by nothing that tells them apart", s.Where, s.ID)
			}
			for _, w := range m.With {
				if w != banned && !slices.Contains(substances, w) {
					t.Errorf("%s: %s speaks of %q, which no step uses", s.Where, s.ID, w)
				}
			}
		}
		for _, path := range slices.Concat(s.Paths, s.NeverPath) {
			if !slices.Contains([]Strategy{Bond, Cement, Stop}, path) {
				t.Errorf("%s: %s speaks of the path %q, which there is not", s.Where, s.ID, path)
			}
		}
		if s.NotAbove == nil && len(b.decide.outcome(s.when)) == 0 {
			t.Errorf("%s: %s speaks of no case at all", s.Where, s.ID)
		}
	}
}

// TestStepsNameWhatAShelfHolds holds that a step asks for classes and contents
// that a shelf may hold: with a slip in one it would be missing for ever.
func TestStepsNameWhatAShelfHolds(t *testing.T) {
	for _, s := range builtIn().Steps {
		for _, class := range s.Needs {
			if !slices.Contains(productClasses(), class) {
				t.Errorf("%s: %s needs a product of class %q, which there is not", s.Where, s.ID, class)
			}
		}
		for _, content := range []string{s.Holding, s.Spared} {
			if content != "" && !slices.Contains(productContents(), content) {
				t.Errorf("%s: %s asks for the content %q, which there is not", s.Where, s.ID, content)
			}
		}
	}
}

// TestPlansKeepSafe draws full cases and looks at their plans with checks that
// are written out by hand, apart from the statements and their proof.
func TestPlansKeepSafe(t *testing.T) {
	b, o := builtIn(), newOracle(t, Rules())
	rng := rand.New(rand.NewPCG(25, 11))
	paths := map[Strategy]int{}
	for range 400 {
		d := drawCase(rng, b, o)
		full := settled(b, d.Case)
		if b.conflicts(full) != nil {
			continue
		}
		p := b.Plan(full)
		paths[p.Path]++
		keepsSafe(t, p)
	}
	t.Logf("plans by path: %v", paths)
	for _, path := range []Strategy{Bond, Cement, Stop} {
		if paths[path] < 30 {
			t.Errorf("only %d plans to %s were drawn", paths[path], path)
		}
	}
}

// keepsSafe holds the plan of a full case against the cautions of the trade.
func keepsSafe(t *testing.T, p *Plan) {
	t.Helper()
	inMouth := p.Case.Is("seating_site", "mouth")
	for _, c := range []struct {
		what   string
		broken bool
	}{
		{"bonds in a field that cannot be kept dry", p.Path == Bond && inMouth && p.Case.Is("isolation", "impossible")},
		{"bonds with a resin allergy", p.Path == Bond && p.Case.Is("resin_allergy", "yes")},
		{"uses resin with a resin allergy", p.Case.Is("resin_allergy", "yes") && p.touches("", "methacrylate", "MDP")},
		{"cements without form", p.Path == Cement && p.Case.Is("retention", "inadequate")},
		{"cements a veneer, onlay or wing", p.Path == Cement && p.Case.Is("restoration", "veneer", "onlay", "resin-bonded bridge")},
		{"seats a wing without enamel", p.Path != Stop && p.Case.Is("restoration", "resin-bonded bridge") && p.Case.Is("enamel", "none")},
		{"puts phosphoric acid inside", p.touches("restoration", "phosphoric acid")},
		{"uses hydrofluoric acid", p.touches("", "hydrofluoric acid")},
		{"bonds without MDP", p.Path == Bond && !p.touches("restoration", "MDP")},
		{"bonds in the mouth without isolating", p.Path == Bond && inMouth && p.step("isolate") == nil},
		{"leaves eugenol", p.Path == Bond && inMouth && p.Case.Is("provisional_cement", "eugenol") && p.step("eugenol-residue") == nil},
		{"seats without abrading", p.Path != Stop && p.Path != "" && !p.touches("restoration", "alumina", "glass beads")},
		{"stops and still goes on", p.Path == Stop && len(p.Steps) != 1},
	} {
		if c.broken {
			t.Errorf("a plan %s: %s", c.what, p.Case)
		}
	}
}

// touches reports whether a step uses one of the substances, on the surface if
// one is named.
func (p *Plan) touches(surface string, substances ...string) bool {
	return slices.ContainsFunc(p.Steps, func(s PlannedStep) bool {
		return (surface == "" || surface == s.Surface) &&
			slices.ContainsFunc(substances, func(x string) bool { return slices.Contains(s.With, x) })
	})
}
