package talk

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	_ "embed"

	"mortarboard/planner"
)

// A Run is the working through of a plan at the chair, one step after the other.
// It holds ids of steps and times, and nothing that anybody wrote: why a step was
// left out, and who did it, belongs in the patient's record.
type Run struct {
	Path  planner.Strategy `json:"path"` // bond or cement: whose steps they are
	Begun time.Time        `json:"begun"`
	Shown time.Time        `json:"shown"`          // when the step that is to be done next came up
	Held  bool             `json:"held,omitempty"` // its plan has become another one
	Ticks []Tick           `json:"ticks,omitempty"`

	Paused bool        `json:"paused,omitempty"` // by a word or a fall, until somebody says to go on
	Asked  string      `json:"asked,omitempty"`  // the step of which it was asked why it is left out
	Falls  []time.Time `json:"falls,omitempty"`  // when it was told that the restoration fell
}

// A Tick is one step that was done, left out, or not needed.
type Tick struct {
	Step    string        `json:"step"`
	At      time.Time     `json:"at"`
	Took    time.Duration `json:"took"` // since the step came up: no less than it really took
	Skipped bool          `json:"skipped,omitempty"`
	Spared  bool          `json:"spared,omitempty"` // what it hangs on is not so, or another step does it
	Undone  bool          `json:"undone,omitempty"` // what came later makes it necessary again
}

// clone is a copy that can be changed while the other is still remembered.
func (run *Run) clone() *Run {
	if run == nil {
		return nil
	}
	c := *run
	c.Ticks, c.Falls = slices.Clone(run.Ticks), slices.Clone(run.Falls)
	return &c
}

// RunStanding tells where a run stands, for those who list the open ones.
type RunStanding struct {
	Thread string // as the surface names it
	Title  string // what is being seated, and how
	Done   int    // steps that are ticked, left out or not needed
	Of     int    // steps of the plan as it stands
	Begun  time.Time
	Over   bool // nothing is open any more
}

// wordingRunText holds the sentences of runs.
//
//go:embed wording_run.tmpl
var wordingRunText string

// What can be said to a run, each by the cue run-… of its name, and that it fell.
const (
	runBegin  = "begin"
	runDone   = "done"
	runSkip   = "skip"
	runInsist = "insist"
	runSpare  = "spare"
	runBack   = "back"
	runWhere  = "where"
	runOn     = "on"
	runHold   = "hold"
	runWhich  = "which"
	runEnd    = "end"
	runFell   = "fell"
)

// runWords are what is said to an open run in so many words, and asking are those of
// them that may be asked as well: "next?"
var (
	runWords = []string{runWhere, runOn, runHold, runWhich, runDone, runSpare, runInsist, runSkip, runBack, runEnd}
	asking   = []string{runWhere, runOn, runHold, runWhich}
)

// runDeed is what the message says to the run of its thread. Apart from the
// beginning there has to be one, and the message may say nothing else: "done" in the
// midst of a question is no tick. A fall is told in any words.
func (t *Talk) runDeed(turn *turn) string {
	if t.words.has("run-begin", turn.tokens) && len(content(turn.tokens, t.words)) == 0 {
		return runBegin
	}
	if turn.run == nil {
		return ""
	}
	asks := slices.ContainsFunc(turn.tokens, func(w token) bool { return w.question })
	for _, deed := range runWords {
		if t.saysOnly("cue:run-"+deed, turn.tokens) && (slices.Contains(asking, deed) || !asks) {
			return deed
		}
	}
	if t.words.tellsOfFall(turn.tokens) {
		return runFell
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

// toRun answers what was said to a run.
func (t *Talk) toRun(turn *turn) Reply {
	var again []string
	if turn.deed == runFell {
		again = t.hasFallen(turn)
	}
	r, p := t.planOf(turn, t.runCase(turn))
	settled, _ := t.book.Measured(t.runCase(turn))
	r.Case = contractCase(settled)
	if turn.deed == runBegin && turn.run == nil {
		return t.beginRun(turn, r, p)
	}
	if why := t.halted(turn.run, p); why != "" && turn.deed != runEnd {
		return t.halt(turn, r, why)
	}
	switch {
	case turn.deed == runFell:
		return t.fallen(turn, r, p, again)
	case turn.deed == runBack && !turn.run.Paused:
		return t.stepBack(turn, r, p)
	}
	if turn.deed == runEnd || turn.run.next(p) == len(p.Steps) { // the case may have taken out what was open
		return t.endRun(turn, r, p)
	}
	return t.atStep(turn, r, p)
}

// atStep answers what was said to the step that is next.
func (t *Talk) atStep(turn *turn, r Reply, p *planner.Plan) Reply {
	ticks := slices.Contains([]string{runDone, runSkip, runInsist, runSpare}, turn.deed)
	switch {
	case turn.deed == runOn, turn.deed == runBegin:
		return t.resume(turn, r, p)
	case turn.deed == runHold:
		turn.run.pause()
		return t.onHold(turn, r, p)
	case turn.run.Paused:
		return t.onHold(turn, r, p)
	case turn.deed == runWhich:
		return t.whichWord(turn, r, p)
	case ticks && t.otherStep(turn, p) != "":
		why := t.otherStep(turn, p)
		r = t.showStep(turn, r, p)
		r.Notices = append([]string{why}, r.Notices...)
		return r
	case turn.deed == runDone:
		return t.tick(turn, r, p, Tick{})
	case ticks:
		return t.passOver(turn, r, p)
	}
	return t.showStep(turn, r, p)
}

// stepBack takes the last tick back that stands, and says which it was.
func (t *Talk) stepBack(turn *turn, r Reply, p *planner.Plan) Reply {
	run, was := turn.run, ""
	for i, k := range slices.Backward(run.Ticks) {
		if s, known := t.stepOf(p, k.Step); !k.Undone {
			if known {
				was = s.Title
			}
			run.Ticks = slices.Delete(run.Ticks, i, i+1)
			break
		}
	}
	run.Shown, run.Asked = turn.at, ""
	if run.next(p) == len(p.Steps) {
		return t.endRun(turn, r, p)
	}
	if r = t.showStep(turn, r, p); was != "" {
		r.Notices = append(r.Notices, t.say("run taken back", was))
	}
	return r
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
		turn.idle = true
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

// otherStep says that the number which was said is not that of the open step: two people
// may press one button.
func (t *Talk) otherStep(turn *turn, p *planner.Plan) string {
	next := turn.run.next(p) + 1
	if n, said := numberSaid(turn.tokens); said && n != next {
		return t.say("run other step", map[string]any{"Said": n, "Next": next})
	}
	return ""
}

// tick notes that the step which is next was done, left out or not needed.
func (t *Talk) tick(turn *turn, r Reply, p *planner.Plan, k Tick) Reply {
	run, step := turn.run, p.Steps[turn.run.next(p)]
	k.Step, k.At, k.Took = step.ID, turn.at, turn.at.Sub(run.Shown)
	run.Ticks = append(run.Ticks, k)
	run.Shown, run.Asked = turn.at, ""
	var notices []string
	if off := t.offTime("run", p, step, k); off != "" {
		notices = append(notices, off)
	}
	if owed := t.owed(run, p, step); k.Skipped && owed != nil {
		notices = append(notices, t.say("run owed", map[string]any{"Step": step.Title, "Again": owed}))
	}
	if run.next(p) == len(p.Steps) {
		return t.endRun(turn, r, p)
	}
	r = t.showStep(turn, r, p)
	r.Notices = append(notices, r.Notices...)
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

// showStep lays out the step that is next and how to go on. What the plan has to say
// as a whole was said when the run began.
func (t *Talk) showStep(turn *turn, r Reply, p *planner.Plan) Reply {
	n := turn.run.next(p)
	step := p.Steps[n]
	fit, rest := p.Fitting(step)
	r.Headline = t.say("run step", map[string]any{"N": n + 1, "Of": len(p.Steps), "Path": string(p.Path), "Do": t.stepText(step),
		"May": conditional(step), "By": titleOf(turn.run.doneElsewhere(p, step))})
	r.Sections, r.Notices = nil, nil
	r.section(t.say("run settings", nil), false, t.settingLines(fit)...)
	r.section(t.say("run clock", nil), false, t.clock(turn, p, step)...)
	if step.Caution != "" {
		r.section(t.say("run mind", nil), false, step.Caution)
	}
	if n+1 < len(p.Steps) {
		r.section(t.say("run then", nil), false, t.stepText(p.Steps[n+1]))
	}
	r.section(t.say("run other settings", nil), true, t.settingLines(rest)...)
	r.section(t.say("run behind", nil), true, t.tickLines(turn.run, p)...)
	r.Choices = []Choice{t.stepChoice(turn.run, p, step)}
	return r
}

// stepChoice is the question how to go on from a step; what ticks it names it, since two
// people may press one button.
func (t *Talk) stepChoice(run *Run, p *planner.Plan, step planner.PlannedStep) Choice {
	ticks := []string{runDone}
	if run.maySpare(p, step) {
		ticks = append(ticks, runSpare)
	}
	if run.Asked == step.ID {
		ticks = append(ticks, runInsist)
	} else {
		ticks = append(ticks, runSkip)
	}
	c := t.runChoice(t.say("run ask", t.place(run, p)), slices.Concat(ticks, []string{runBack, runEnd})...)
	for i := range ticks {
		c.Options[i].Says += fmt.Sprintf(" %d", run.next(p)+1)
	}
	return c
}

// titleOf is the title of a step, or nothing where there is none.
func titleOf(s *planner.PlannedStep) string {
	if s == nil {
		return ""
	}
	return s.Title
}

func (t *Talk) settingLines(settings []*planner.Parameter) []string {
	var lines []string
	for _, setting := range settings {
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
