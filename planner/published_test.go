package planner

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"testing"

	"gopkg.in/yaml.v3"
)

// leastPublished is how many cases from published guidance must at least stand.
const leastPublished = 60

// A publishedCase is what one source found, and what a plan must not contradict.
type publishedCase struct {
	Source     string              `yaml:"source"`
	Found      string              `yaml:"found"`
	Therefore  string              `yaml:"therefore"`
	FromMemory bool                `yaml:"from_memory"`
	Case       map[string][]string `yaml:"case"`
	Must       demands             `yaml:"must"`
}

type demands struct {
	StrategyIn  []Strategy    `yaml:"strategy_in"`
	StrategyNot []Strategy    `yaml:"strategy_not"`
	LeaningNot  Strategy      `yaml:"leaning_not"`
	Form        string        `yaml:"form"`
	Reason      []string      `yaml:"reason"`
	NoReason    []string      `yaml:"no_reason"`
	Notice      []string      `yaml:"notice"`
	Step        []string      `yaml:"step"`
	NoStep      []string      `yaml:"no_step"`
	Order       [][2]string   `yaml:"order"`
	NoStepWith  *contact      `yaml:"no_step_with"`
	Class       string        `yaml:"class"`
	Values      []valueDemand `yaml:"values"`
}

type contact struct {
	Surface string   `yaml:"surface"`
	Any     []string `yaml:"any"`
}

type valueDemand struct {
	Key      string    `yaml:"key"`
	AtMost   *float64  `yaml:"at_most"`
	AtLeast  *float64  `yaml:"at_least"`
	Includes *float64  `yaml:"includes"`
	Within   []float64 `yaml:"within"`
	Overlaps []float64 `yaml:"overlaps"`
}

// publishedCases reads the cases strictly.
func publishedCases(t *testing.T) []publishedCase {
	t.Helper()
	data, err := os.ReadFile("../testdata/published/decisions.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []publishedCase `yaml:"cases"`
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(&file); err != nil {
		t.Fatal(err)
	}
	return file.Cases
}

// TestPublished plans every case of ../testdata/published/decisions.yaml and
// holds the plan against what the named source found.
func TestPublished(t *testing.T) {
	b := builtIn()
	cases := publishedCases(t)
	if len(cases) < leastPublished {
		t.Errorf("%d cases stand, wanted at least %d", len(cases), leastPublished)
	}
	sources := map[string]bool{}
	for i, c := range cases {
		t.Run(fmt.Sprintf("%03d %s", i+1, c.Source), func(t *testing.T) {
			t.Parallel()
			c.checkSource(t, b)
			known := caseOf(t, b, c.Case)
			broken := c.Must.ofValues(b, known)
			if !c.Must.onlyValues() {
				p := b.Plan(known)
				broken = slices.Concat(broken, c.Must.ofVerdict(p), c.Must.ofRows(p), c.Must.ofSteps(p))
			}
			for _, what := range broken {
				t.Errorf("%s\nfound: %s %s\ncase: %v", what, c.Found, c.Therefore, c.Case)
			}
		})
		sources[c.Source] = true
	}
	t.Logf("%d cases from %d sources", len(cases), len(sources))
}

// checkSource holds that the source is on record, and that the case says so
// where it was only recalled.
func (c publishedCase) checkSource(t *testing.T, b *Rulebook) {
	t.Helper()
	s, ok := b.Source(c.Source)
	switch {
	case !ok:
		t.Errorf("source %q is not in sources.yaml", c.Source)
	case s.FromMemory() != c.FromMemory:
		t.Errorf("from_memory is %v, but the source was seen as %q", c.FromMemory, s.Seen)
	case c.Found == "":
		t.Error("the case does not say what the source found")
	}
	if c.Must.onlyValues() && c.Must.Values == nil {
		t.Error("the case demands nothing")
	}
}

// onlyValues reports whether nothing is demanded of a plan.
func (d demands) onlyValues() bool {
	return d.StrategyIn == nil && d.StrategyNot == nil && d.LeaningNot == "" && d.Form == "" && d.Reason == nil &&
		d.NoReason == nil && d.Notice == nil && d.Step == nil && d.NoStep == nil && d.Order == nil &&
		d.NoStepWith == nil && d.Class == ""
}

func (d demands) ofVerdict(p *Plan) (broken []string) {
	if d.StrategyIn != nil && !slices.Contains(d.StrategyIn, p.Strategy) {
		broken = append(broken, fmt.Sprintf("strategy is %s, wanted one of %v", p.Strategy, d.StrategyIn))
	}
	if slices.Contains(d.StrategyNot, p.Strategy) {
		broken = append(broken, fmt.Sprintf("strategy is %s, which the finding rules out", p.Strategy))
	}
	if d.LeaningNot != "" && d.LeaningNot == p.Leaning {
		broken = append(broken, fmt.Sprintf("the plan leans to %s, which the finding rules out", p.Leaning))
	}
	if p.Conflicts != nil {
		broken = append(broken, "the case contradicts itself: "+p.Conflicts[0].ID)
	}
	if d.Form != "" && (p.Form == nil || string(p.Form.Verdict) != d.Form) {
		broken = append(broken, fmt.Sprintf("the form is judged %v, wanted %s", p.Form, d.Form))
	}
	return broken
}

func (d demands) ofRows(p *Plan) (broken []string) {
	var reasons, notices []string
	for _, a := range p.Reasons {
		reasons = append(reasons, a.ID)
	}
	for _, n := range p.Notices {
		notices = append(notices, n.ID)
	}
	for _, id := range d.Reason {
		if !slices.Contains(reasons, id) {
			broken = append(broken, fmt.Sprintf("%s is not among the reasons %v", id, reasons))
		}
	}
	for _, id := range d.NoReason {
		if slices.Contains(reasons, id) {
			broken = append(broken, fmt.Sprintf("%s is among the reasons, which the finding rules out", id))
		}
	}
	for _, id := range d.Notice {
		if !slices.Contains(notices, id) {
			broken = append(broken, fmt.Sprintf("%s is not among the notices %v", id, notices))
		}
	}
	return broken
}

func (d demands) ofSteps(p *Plan) (broken []string) {
	at := func(id string) int {
		return slices.IndexFunc(p.Steps, func(s PlannedStep) bool { return s.ID == id })
	}
	for _, id := range d.Step {
		if at(id) < 0 {
			broken = append(broken, fmt.Sprintf("step %s is missing from the plan to %q", id, p.Path))
		}
	}
	for _, id := range d.NoStep {
		if at(id) >= 0 {
			broken = append(broken, fmt.Sprintf("step %s stands, which the finding rules out", id))
		}
	}
	for _, pair := range d.Order {
		if x, y := at(pair[0]), at(pair[1]); x < 0 || y < 0 || x > y {
			broken = append(broken, fmt.Sprintf("wanted step %s before %s, they stand at %d and %d", pair[0], pair[1], x, y))
		}
	}
	if w := d.NoStepWith; w != nil && p.touches(w.Surface, w.Any...) {
		broken = append(broken, fmt.Sprintf("a step on %q uses one of %v", w.Surface, w.Any))
	}
	if d.Class != "" && !slices.ContainsFunc(p.Steps, func(s PlannedStep) bool { return slices.Contains(s.Needs, d.Class) }) {
		broken = append(broken, fmt.Sprintf("no step of the plan to %q may take a product of class %q", p.Path, d.Class))
	}
	return broken
}

func (d demands) ofValues(b *Rulebook, c Case) (broken []string) {
	for _, v := range d.Values {
		rows := b.Settings(c, v.Key)
		if rows == nil {
			broken = append(broken, "no setting of "+v.Key+" applies")
		}
		for _, row := range rows {
			if why := v.broken(row); why != "" {
				broken = append(broken, fmt.Sprintf("%s (%s) is %v to %v %s, wanted %s", row.ID, row.Where, row.Low, row.High, row.Unit, why))
			}
		}
	}
	return broken
}

// broken says what a setting should have kept to; it is empty if it does.
func (v valueDemand) broken(p *Parameter) string {
	switch {
	case v.AtMost != nil && p.High > *v.AtMost:
		return fmt.Sprintf("at most %v", *v.AtMost)
	case v.AtLeast != nil && p.Low < *v.AtLeast:
		return fmt.Sprintf("at least %v", *v.AtLeast)
	case v.Includes != nil && (*v.Includes < p.Low || *v.Includes > p.High):
		return fmt.Sprintf("to include %v", *v.Includes)
	case len(v.Within) == 2 && (p.Low < v.Within[0] || p.High > v.Within[1]):
		return fmt.Sprintf("within %v", v.Within)
	case len(v.Overlaps) == 2 && (p.High < v.Overlaps[0] || p.Low > v.Overlaps[1]):
		return fmt.Sprintf("to overlap %v", v.Overlaps)
	case v.AtMost == nil && v.AtLeast == nil && v.Includes == nil && len(v.Within) != 2 && len(v.Overlaps) != 2:
		return "a demand, got none"
	}
	return ""
}
