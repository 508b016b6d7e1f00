package talk

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	_ "embed"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A Run is the working through of a plan at the chair, one step after the other.
// It holds ids of steps and times, and nothing that anybody wrote: why a step was
// left out, and who did it, belongs in the patient's record.
type Run struct {
	Path  planner.Strategy `json:"path"` // bond or cement: whose steps they are
	Begun time.Time        `json:"begun"`
	Shown time.Time        `json:"shown"` // when the step that is to be done next came up
	Held  bool             `json:"held,omitempty"`
	Ticks []Tick           `json:"ticks,omitempty"`
}

// A Tick is one step that was done, or left out.
type Tick struct {
	Step    string        `json:"step"`
	At      time.Time     `json:"at"`
	Took    time.Duration `json:"took"` // since the step came up: no less than it really took
	Skipped bool          `json:"skipped,omitempty"`
	Undone  bool          `json:"undone,omitempty"` // what came later makes it necessary again
}

// clone is a copy that can be changed while the other is still remembered.
func (run *Run) clone() *Run {
	if run == nil {
		return nil
	}
	c := *run
	c.Ticks = slices.Clone(run.Ticks)
	return &c
}

// RunStanding tells where a run stands, for those who list the open ones.
type RunStanding struct {
	Thread string // as the surface names it
	Title  string // what is being seated, and how
	Done   int    // steps that are ticked or left out
	Of     int    // steps of the plan as it stands
	Begun  time.Time
	Over   bool // nothing is open any more
}

// wordingRunText holds the sentences of runs.
//
//go:embed wording_run.tmpl
var wordingRunText string

// What can be said to a run, each by the cue run-… of its name.
const (
	runBegin = "begin"
	runDone  = "done"
	runSkip  = "skip"
	runBack  = "back"
	runWhere = "where"
	runEnd   = "end"
)

// runDeed is what the message says to the run of its thread. Apart from the
// beginning there has to be one, and the message may say nothing else: "done" in the
// midst of a question is no tick.
func (t *Talk) runDeed(turn *turn) string {
	if t.words.has("run-begin", turn.tokens) && len(content(turn.tokens, t.words)) == 0 {
		return runBegin
	}
	if turn.run == nil {
		return ""
	}
	for _, deed := range []string{runWhere, runDone, runSkip, runBack, runEnd} {
		asks := slices.ContainsFunc(turn.tokens, func(w token) bool { return w.question })
		if t.saysOnly("cue:run-"+deed, turn.tokens) && (deed == runWhere || !asks) {
			return deed
		}
	}
	return ""
}

// saysOnly reports whether a message holds a phrase of a list and else at most a bare
// number and a few words that stand beside a tick. Any other word may turn it round:
// "not done", "try-in done", "done on the left", "can I skip".
func (t *Talk) saysOnly(list string, tokens []token) bool {
	left := slices.Clone(tokens)
	for i := range left {
		left[i].spent = false // what another reader took counts, too: "try-in done"
	}
	for _, f := range t.words.all(list, tokens) {
		spend(left, f)
	}
	numbers := 0
	for _, w := range left {
		switch {
		case w.spent || t.words.is("stands-beside-a-tick", w.word):
		case w.isNum && w.unit == "":
			numbers++
		default:
			return false
		}
	}
	return len(t.words.all(list, tokens)) > 0 && numbers <= 1
}

// questioned reports whether a message asks and does not tell: "is that done", "dry?"
func (t *Talk) questioned(turn *turn) bool {
	return t.words.is("opens-a-question", turn.first()) || slices.ContainsFunc(turn.tokens, func(w token) bool { return w.question })
}

// runOn answers what was said to a run.
func (t *Talk) runOn(turn *turn) Reply {
	c, deed := t.runCase(turn), turn.deed
	r, p := t.planOf(turn, c)
	settled, _ := t.book.Measured(c)
	r.Case = contractCase(settled)
	if deed == runBegin && turn.run == nil {
		return t.beginRun(turn, r, p)
	}
	if why := t.halted(turn.run, p); why != "" && deed != runEnd {
		return t.halt(turn, r, why)
	}
	if deed == runBack {
		turn.run.Ticks = turn.run.Ticks[:max(0, len(turn.run.Ticks)-1)]
		turn.run.Shown = turn.at
	}
	switch {
	case deed == runEnd, turn.run.next(p) == len(p.Steps): // the case may have taken out what was open
		return t.endRun(turn, r, p)
	case deed == runDone, deed == runSkip:
		return t.tick(turn, r, p, deed == runSkip)
	}
	return t.showStep(turn, r, p)
}

// runOffer offers to work a settled plan through.
func (t *Talk) runOffer(turn *turn, p *planner.Plan) []Choice {
	if turn.run != nil || turn.whatIf || !workable(p) {
		return nil
	}
	return []Choice{t.runChoice(t.say("run offer", nil), runBegin)}
}

// workable reports whether a plan is settled enough to be worked through.
func workable(p *planner.Plan) bool {
	sided := p.Path == planner.Bond || p.Path == planner.Cement
	settled := p.Strategy != planner.Depends && p.Strategy != planner.Stop
	return sided && (settled || p.Followed()) && len(p.Steps) > 0
}

// runCase is the case that a run works on: a what-if is none.
func (t *Talk) runCase(turn *turn) planner.Case {
	if turn.whatIf {
		return turn.before
	}
	return turn.now
}

// beginRun begins a run, where the plan is settled enough to be worked through.
func (t *Talk) beginRun(turn *turn, r Reply, p *planner.Plan) Reply {
	switch {
	case !turn.past.Planned && t.deciding(turn) == 0:
		return Reply{Kind: KindHelp, Headline: t.say("run no plan", nil)}
	case !workable(p):
		r.Notices = append([]string{t.say("run unsettled", nil)}, r.Notices...)
		return r
	}
	turn.run = &Run{Path: p.Path, Begun: turn.at, Shown: turn.at}
	notices := r.Notices
	r = t.showStep(turn, r, p)
	r.Notices = notices
	r.section(t.say("run assumed", nil), false, slices.Concat(t.assumed(p))...)
	return r
}

// tick notes that the step which is next was done or left out. A number that was
// said has to be that of the step: two people may press one button.
func (t *Talk) tick(turn *turn, r Reply, p *planner.Plan, skipped bool) Reply {
	next := turn.run.next(p)
	if n, said := numberSaid(turn.tokens); said && n != next+1 {
		r = t.showStep(turn, r, p)
		r.Notices = append([]string{t.say("run other step", map[string]any{"Said": n, "Next": next + 1})}, r.Notices...)
		return r
	}
	step := p.Steps[next]
	done := Tick{Step: step.ID, At: turn.at, Took: turn.at.Sub(turn.run.Shown), Skipped: skipped}
	turn.run.Ticks = append(turn.run.Ticks, done)
	turn.run.Shown = turn.at
	if turn.run.next(p) == len(p.Steps) {
		return t.endRun(turn, r, p)
	}
	r = t.showStep(turn, r, p)
	if off := t.offTime(step, done); off != "" {
		r.Notices = append([]string{off}, r.Notices...)
	}
	return r
}

// numberSaid is the one bare number of a message.
func numberSaid(tokens []token) (int, bool) {
	i := slices.IndexFunc(tokens, func(t token) bool { return t.isNum })
	if i < 0 {
		return 0, false
	}
	return int(tokens[i].number), true
}

// ticked reports whether a step is behind the run, and stands.
func (run *Run) ticked(s planner.PlannedStep) bool {
	return slices.ContainsFunc(run.Ticks, func(k Tick) bool { return k.Step == s.ID && !k.Undone })
}

// standing counts the ticks that still stand.
func (run *Run) standing() int {
	n := 0
	for _, k := range run.Ticks {
		if !k.Undone {
			n++
		}
	}
	return n
}

// next is the first step that is not ticked; len(p.Steps) when all are. A step that
// came into the plan since the run began is next where it belongs.
func (run *Run) next(p *planner.Plan) int {
	open := func(s planner.PlannedStep) bool { return !run.ticked(s) }
	if i := slices.IndexFunc(p.Steps, open); i >= 0 {
		return i
	}
	return len(p.Steps)
}

// offTime says that a step was ticked sooner than its settings ask, or took longer
// than they allow. Both are sure in one direction only: the time runs from when the
// step came up.
func (t *Talk) offTime(s planner.PlannedStep, k Tick) string {
	least := timeOf(s, s.Timer, func(p *planner.Parameter) float64 { return p.Low }, func(a, b time.Duration) bool { return a > b })
	most := timeOf(s, s.Within, func(p *planner.Parameter) float64 { return p.High }, func(a, b time.Duration) bool { return a < b })
	data := map[string]any{"Step": named(s.ID), "Took": k.Took.Round(time.Second), "Least": least, "Most": most}
	switch {
	case k.Skipped:
		return ""
	case k.Took < least:
		return t.say("run early", data)
	case most > 0 && k.Took > most:
		return t.say("run late", data)
	}
	return ""
}

// timeOf is an end of the setting that a step's clock goes by; 0 without one. Of
// several settings, where the case leaves them open, the one that further tells counts.
func timeOf(s planner.PlannedStep, key string, end func(*planner.Parameter) float64, further func(a, b time.Duration) bool) time.Duration {
	var out time.Duration
	for _, p := range s.Settings {
		seconds, err := sums.Quantity{Value: end(p), Unit: sums.Unit(p.Unit)}.In(sums.Second)
		if asked := time.Duration(seconds.Value * float64(time.Second)); p.Key == key && err == nil && (out == 0 || further(asked, out)) {
			out = asked
		}
	}
	return out
}

// showStep lays out the step that is next and how to go on. What the plan has to say
// as a whole was said when the run began.
func (t *Talk) showStep(turn *turn, r Reply, p *planner.Plan) Reply {
	n := turn.run.next(p)
	step := p.Steps[n]
	r.Headline = t.say("run step", map[string]any{"N": n + 1, "Of": len(p.Steps), "Path": string(p.Path), "Do": t.stepText(step)})
	r.Sections, r.Notices = nil, nil
	r.section(t.say("run settings", nil), false, t.settingLines(step)...)
	if step.Caution != "" {
		r.section(t.say("run mind", nil), false, step.Caution)
	}
	if n+1 < len(p.Steps) {
		r.section(t.say("run then", nil), false, t.stepText(p.Steps[n+1]))
	}
	r.section(t.say("run behind", nil), true, t.tickLines(turn.run, p)...)
	r.Choices = []Choice{t.runChoice(t.say("run ask", map[string]any{"N": n + 1, "Of": len(p.Steps)}), runDone, runSkip, runBack, runEnd)}
	for i := range r.Choices[0].Options[:2] {
		r.Choices[0].Options[i].Says += fmt.Sprintf(" %d", n+1)
	}
	return r
}

func (t *Talk) settingLines(s planner.PlannedStep) []string {
	var lines []string
	for _, setting := range s.Settings {
		lines = append(lines, t.setting(setting))
	}
	return lines
}

// runChoice is the question how to go on, with the deeds as answers.
func (t *Talk) runChoice(ask string, deeds ...string) Choice {
	c := Choice{Fact: "run", Ask: ask}
	for _, deed := range deeds {
		c.Options = append(c.Options, Option{Label: t.say("run "+deed, nil), Says: t.words.words.Cues["run-"+deed][0]})
	}
	return c
}

// standing tells those who list open runs about the run of a thread, if it has one or
// had one until now.
func (t *Talk) standing(thread string, before, after Remembered) {
	run := cmp.Or(after.Run, before.Run)
	if run == nil {
		return
	}
	p := t.book.Plan(caseOf(t.book, after))
	t.runs(RunStanding{Thread: thread, Title: t.runTitle(p, run), Done: run.standing(), Of: len(p.Steps), Begun: run.Begun, Over: after.Run == nil})
}
