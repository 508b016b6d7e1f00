package talk

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"
)

// A chair is a thread in which a run is worked through, with a clock.
type chair struct {
	t    *testing.T
	talk *Talk
	now  time.Time
	told []RunStanding
}

func newChair(t *testing.T) *chair {
	c := &chair{t: t, talk: testTalk(t), now: time.Date(2026, 11, 29, 9, 0, 0, 0, time.UTC)}
	c.talk.runs = func(s RunStanding) { c.told = append(c.told, s) }
	return c
}

// says says something after a pause and returns the answer.
func (c *chair) says(pause time.Duration, text string) Reply {
	c.t.Helper()
	c.now = c.now.Add(pause)
	r, err := c.talk.Handle(context.Background(), Message{Thread: "chair", Text: text, At: c.now})
	if err != nil {
		c.t.Fatal(err)
	}
	return r
}

// wants fails unless the answer's text holds every part.
func (c *chair) wants(r Reply, parts ...string) {
	c.t.Helper()
	for _, part := range parts {
		if !strings.Contains(r.Text, part) {
			c.t.Errorf("after %q the answer lacks %q:\n%s", r.Question, part, r.Text)
		}
	}
}

func (c *chair) remembered() Remembered {
	r, err := c.talk.memory.Load(context.Background(), "chair")
	if err != nil {
		c.t.Fatal(err)
	}
	return r
}

const plainCase = "3Y crown UR6, dry, good prep, wall 1 mm"

// TestRunToItsEnd ticks every step of a plan and reads the record.
func TestRunToItsEnd(t *testing.T) {
	oneByOne(t)
	c := newChair(t)
	plan := c.says(0, plainCase)
	begun := c.says(time.Minute, "start the run")
	c.wants(begun, "Step 1 of ", plan.Steps[0].Do, "Assumed; if one of these is not so")
	var last Reply
	for range plan.Steps {
		if last.Kind != "" {
			c.wants(last, "Step ")
		}
		last = c.says(15*time.Minute, "done")
	}
	c.wants(last, "All ", "Record", "2026-11-29, 09:01 to", "cemented conventionally", "zirconia grade: 3Y", "09:16 read the laboratory slip", "Who did each step: ____", "Shade of the cement: ____", "lot numbers really used: ____")
	if strings.Contains(last.Text, "not done") || c.remembered().Run != nil {
		t.Errorf("the run is not over:\n%s", last.Text)
	}
	if end := c.told[len(c.told)-1]; !end.Over || end.Title != "crown, molar, 3Y: cementing" || len(c.told) != len(plan.Steps)+1 {
		t.Errorf("told %d times, last %+v", len(c.told), end)
	}
}

// TestRunKeepsItsPlace asks, corrects and steps back in the midst of a run.
func TestRunKeepsItsPlace(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	c.says(0, "done 1")
	before := len(c.remembered().Ranges)
	r := c.says(0, "done 1")
	c.wants(r, "Step 1 is not the one that is open; the run stands at step 2")
	if c.remembered().Ranges["wall_mm"].From != 1 || len(c.remembered().Ranges) != before {
		t.Errorf("the number of a step was taken for a measure: %v", c.remembered().Ranges)
	}
	r = c.says(0, "which pressure?")
	c.wants(r, "1.5 to 2.8 bar", "It stands at step 2")
	r = c.says(0, "the field cannot be kept dry")
	c.wants(r, "New since this was said", "No longer in it", "It stands at step 2")
	c.wants(c.says(0, "skip"), "Step 3 of ", ": left out")
	c.wants(c.says(0, "one step back"), "Step 2 of ", "Taken back: take the provisional off.")
	for _, chat := range []string{"are we done with the scan?", "is that done", "skip?", "done?", "skip lunch again", "not done", "can I skip", "this must not be left out",
		"try in done", "done, but some blood", "done at 3 bar", "done on the left", "when do we end the run", "patient is back", "all done"} {
		c.says(0, chat)
		if run := c.remembered().Run; run == nil || len(run.Ticks) != 1 {
			t.Fatalf("after %q the run is %+v, wanted one tick", chat, run)
		}
	}
}

// TestRunIsHeld begins a run for cementing and learns what turns the plan.
func TestRunIsHeld(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	held := "The run was begun for cementing. With what is known now the plan reads"
	c.wants(c.says(0, "it is 5Y, ample enamel"), held)
	c.wants(c.says(0, "done"), held)
	if n := len(c.remembered().Run.Ticks); n != 0 {
		t.Errorf("%d steps were ticked on a run that is held", n)
	}
	r := c.says(0, "sorry, it is 3Y")
	c.wants(r, "The run was held and goes on. If spit")
	if strings.Contains(r.Text, held) {
		t.Errorf("still held:\n%s", r.Text)
	}
	c.wants(c.says(0, "what if it is 5Y with ample enamel?"), "Supposing", "It stands at step 1")
	c.wants(c.says(0, "done"), "Step 2 of ")
}

// TestRunDoesAgain has blood get inside after the abrading: what was done to the inner
// surface from the cleaning on is to be done again, and the record shows both.
func TestRunDoesAgain(t *testing.T) {
	c := newChair(t)
	c.says(0, "veneer UR1, 4Y, ample enamel, dry, margin in enamel, wall 1 mm")
	r := c.says(0, "start the run")
	for !strings.Contains(r.Headline, "Etch the enamel") {
		r = c.says(time.Minute, "done")
	}
	r = c.says(time.Minute, "blood got inside it")
	c.wants(r, "New since this was said: clean blood off the inside", "To be done again, since that comes before it: rinse the inside, abrade the inside gently", "prime the inside")
	if strings.Contains(r.Text, "again, since that comes before it: read the laboratory slip") {
		t.Errorf("what came before the cleaning is to be done again:\n%s", r.Text)
	}
	c.says(0, "pressure for 3Y?")
	if got := c.remembered().Facts["zirconia"]; len(got) != 1 || got[0] != "4Y" {
		t.Errorf("a question about 3Y made the case %v", got)
	}
	c.wants(c.says(0, "where are we"), "Blood needs a dedicated cleaner")
	c.wants(c.says(0, "end the run"), "abrade the inside gently, to be done again", "not done: abrade the inside gently")
}

// TestRunDoesAgainForSaliva tells of saliva on a surface that was ready, although the
// plan took saliva for granted from the beginning.
func TestRunDoesAgainForSaliva(t *testing.T) {
	c := newChair(t)
	c.says(0, "veneer UR1, 4Y, ample enamel, dry, margin in enamel, wall 1 mm")
	r := c.says(0, "start the run")
	for !strings.Contains(r.Headline, "MDP-bearing primer") {
		r = c.says(time.Minute, "done")
	}
	c.wants(c.says(0, "saliva got inside again"), "To be done again, since that comes before it: rinse the inside, clean the inside, abrade the inside gently")
	c.wants(c.says(0, "where are we"), "Rinse the inner surface")
}

// TestRunAndTheClock ticks steps sooner and later than their settings ask.
func TestRunAndTheClock(t *testing.T) {
	c := newChair(t)
	c.says(0, "veneer UR1, 4Y, ample enamel, dry, margin in enamel, wall 1 mm")
	r := c.says(0, "start the run")
	for !strings.Contains(r.Headline, "Etch the enamel") {
		if r = c.says(time.Minute, "done"); !strings.Contains(r.Headline, "Step ") {
			t.Fatalf("no step etches:\n%s", r.Text)
		}
	}
	c.wants(c.says(0, "where are we"), "15 s at least; begun now, that is until 09:13:15.")
	c.wants(c.says(5*time.Second, "done"), "Too early for “etch the enamel”? It was ticked 5 s after it came up; at least 15 s are asked for", "the 10 s that are left")
	for !strings.Contains(r.Headline, ": Seat it") {
		if r = c.says(time.Minute, "done"); strings.Contains(r.Headline, "resin cement, matched") {
			c.wants(r, "1 min to 5 min at most, as the instructions of what is used say; begun now, it may be over from 09:")
		}
	}
	c.wants(r, "2 min at most; begun now, that is until 09:")
	c.wants(c.says(3*time.Minute, "done"), "3 min since it came up", "2 min at most")
	c.wants(c.says(0, "end the run"), "etch the enamel (ticked 5 s after it came up, 15 s are asked for)", "not done: ", "begun for bonding, not worked through")
}

// TestRunIsRefused asks for a run where there is none to be had.
func TestRunIsRefused(t *testing.T) {
	c := newChair(t)
	c.wants(c.says(0, "start the run"), "There is no plan here to work through yet")
	c.says(0, "translucent crown, margin in dentin")
	c.wants(c.says(0, "start the run"), "The plan is not settled enough")
	if c.remembered().Run != nil || len(c.told) != 0 {
		t.Errorf("a run was begun: %+v", c.remembered().Run)
	}
	if r := c.says(0, "done"); r.Kind == KindPlan {
		t.Errorf("%q without a run is answered with a plan", "done")
	}
}

// TestNewCaseKeepsTheRecord begins another case while a run is open.
func TestNewCaseKeepsTheRecord(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	c.says(time.Minute, "done")
	r := c.says(time.Minute, "new case: 5Y veneer UR1, dry")
	c.wants(r, "Record of the run that the new case put an end to", "09:01 read the laboratory slip", "zirconia grade: 3Y")
	if c.remembered().Run != nil || !c.told[len(c.told)-1].Over {
		t.Error("the run is still open")
	}
}

// TestRunSurvives writes what a thread remembers as JSON and goes on from there.
func TestRunSurvives(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	c.says(time.Minute, "done")
	written, err := json.Marshal(c.remembered())
	if err != nil || len(written) > 4096 {
		t.Fatalf("%d bytes, %v", len(written), err)
	}
	var read Remembered
	if err := json.Unmarshal(written, &read); err != nil {
		t.Fatal(err)
	}
	again := newChair(t)
	if err := again.talk.memory.Save(context.Background(), "chair", read); err != nil {
		t.Fatal(err)
	}
	again.wants(again.says(0, "where are we"), "Step 2 of ", "09:01 read")
}

// TestRunWithNothingLeft has a change of the case take out the last steps that were open:
// whatever is said to the run then ends it with its record.
func TestRunWithNothingLeft(t *testing.T) {
	for _, says := range []string{"done", "skip", "where are we", "start the run"} {
		c := newChair(t)
		plan := c.says(0, plainCase)
		c.says(0, "start the run")
		past := c.remembered()
		for _, s := range plan.Steps {
			past.Run.Ticks = append(past.Run.Ticks, Tick{Step: s.ID, At: c.now})
		}
		if err := c.talk.memory.Save(context.Background(), "chair", past); err != nil {
			t.Fatal(err)
		}
		c.wants(c.says(0, says), "All ", "Record")
		if c.remembered().Run != nil {
			t.Errorf("after %q the run is still open", says)
		}
	}
}

func TestInWords(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0 s", 20 * time.Second: "20 s", 6 * time.Minute: "6 min", 150 * time.Second: "2 min 30 s", 65 * time.Minute: "1 h 5 min", 2 * time.Hour: "2 h",
	} {
		if got := inWords(d); got != want {
			t.Errorf("%v reads %q, wanted %q", d, got, want)
		}
	}
}
