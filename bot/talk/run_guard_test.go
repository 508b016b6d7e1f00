package talk

import (
	"context"
	"strings"
	"testing"
	"time"
)

// goTo ticks steps until one comes up whose line holds the words.
func (c *chair) goTo(words string) Reply {
	c.t.Helper()
	r := c.says(0, "where are we")
	for range 40 {
		if strings.Contains(r.Headline, words) {
			return r
		}
		r = c.says(10*time.Minute, "done")
	}
	c.t.Fatalf("no step says %q", words)
	return r
}

const bondedCase = "veneer UR1, 4Y, ample enamel, dry, margin in enamel, wall 1 mm"

// TestRunAsksWhy leaves out what a bond stands or falls with: each is asked about once,
// and the record does not call it bonded.
func TestRunAsksWhy(t *testing.T) {
	c := newChair(t)
	c.says(0, bondedCase)
	c.says(0, "start the run")
	c.wants(c.goTo("phosphate off the inside"), "With “abrade the inside gently” to come, “not needed” passes it over")
	c.wants(c.says(0, "leave it out"), "Abrade gently")
	c.wants(c.says(0, "leave it out"), "Without “abrade the inside gently” it is not a bond (common practice). Why is it left out?", "say “leave it out” again; that is the dentist's decision")
	c.wants(c.says(0, "which pressure?"), "It stands at step")
	c.wants(c.says(0, "leave it out"), "open again: clean the inside", "phosphate off the inside")
	c.wants(c.says(0, "not needed"), "Without “clean the inside” it is not a bond")
	c.wants(c.says(0, "done"), "Blow the dust off")
	c.goTo("MDP-bearing primer")
	for range 2 { // one button, pressed by two people
		r := c.says(0, "leave it out 13")
		c.wants(r, "Without “prime the inside where the bond holds alone”")
		if says := r.Choices[0].Options[1].Says; says != "leave it out all the same 13" {
			t.Errorf("the button says %q", says)
		}
	}
	c.wants(c.says(0, "leave it out all the same 13"), "Etch the enamel")
	c.goTo("Record in the patient's file")
	r := c.says(0, "done")
	c.wants(r, "All 22 steps are behind you. Left out, although the result stands or falls with it: abrade the inside gently, prime the inside",
		"begun for bonding, but not to be called bonded adhesively: left out were abrade the inside gently, prime the inside",
		"abrade the inside gently: left out, although the hold stands or falls with it",
		"Why “abrade the inside gently” was left out, and who decided it: ____")
	if strings.Contains(r.Text, "; bonded adhesively") {
		t.Errorf("it is called bonded:\n%s", r.Text)
	}
}

// TestRunOpensTheWholeChain has saliva get inside after steps were left out: those are
// open again with the ones that were done.
func TestRunOpensTheWholeChain(t *testing.T) {
	c := newChair(t)
	c.says(0, bondedCase)
	c.says(0, "start the run")
	c.goTo("phosphate off the inside")
	for range 4 {
		c.says(0, "leave it out") // the cleaning, the abrading, and the cleaning that comes back
	}
	c.goTo("MDP-bearing primer")
	c.says(0, "leave it out")
	c.says(0, "leave it out")
	c.goTo("universal adhesive, blow")
	c.wants(c.says(0, "saliva got inside"), "To be done again, since that comes before it: rinse the inside", "abrade the inside gently", "clean the inside", "prime the inside")
	c.wants(c.says(0, "where are we"), "Rinse the inner surface")
	c.goTo("Abrade gently")
	c.wants(c.says(0, "leave it out"), "it is not a bond")
}

// TestRunOpensWhatWasLeftOutBefore tells of saliva on etched tooth after the etching was
// left out: the etching is open again, and so is the adhesive behind it.
func TestRunOpensWhatWasLeftOutBefore(t *testing.T) {
	c := newChair(t)
	c.says(0, bondedCase)
	c.says(0, "start the run")
	c.goTo("Etch the enamel only")
	c.says(0, "leave it out")
	c.says(0, "leave it out")
	c.says(time.Minute, "done") // the adhesive
	r := c.says(0, "saliva on the etched tooth")
	c.wants(r, "New since this was said: etch the wetted tooth again", "To be done again, since that comes before it: etch the enamel, put adhesive on the tooth")
}

// TestRunFalls drops the crown: the run is held, and the inside is to be treated again.
func TestRunFalls(t *testing.T) {
	oneByOne(t)
	c := newChair(t)
	c.says(0, plainCase+", inside is clean now")
	c.says(0, "start the run")
	c.goTo("Mix it as its instructions say")
	r := c.says(time.Minute, "the crown fell on the floor")
	c.wants(r, "Look for cracks and chips under magnification, then clean and disinfect it", "the inside is treated again, from the rinse on", "abrade the inside", "The run is held at step")
	if got := c.remembered().Facts["intaglio"]; got != nil {
		t.Errorf("the inside of what fell is remembered as %v", got)
	}
	c.wants(c.says(0, "done"), "The run is held at step")
	c.wants(c.says(0, "which pressure?"), "1.5 to 2.8 bar", "The run is held at step")
	c.wants(c.says(0, "go on"), "Rinse the inner surface", "The run was held and goes on")
	c.wants(c.says(0, "done"), "phosphate off the inside")
	c.wants(c.says(0, "end the run"), "09:10 read the laboratory slip", "told that it fell; looked at for cracks and chips, cleaned and disinfected by: ____", "blow the dust off, to be done again")
}

// TestRunFallsAndBreaks tells of a crack with the fall: it is not seated.
func TestRunFallsAndBreaks(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	r := c.says(0, "dropped the crown on the floor and now there is a crack in it")
	c.wants(r, "The run was begun for cementing. With what is known now the plan reads: neither, stop")
	c.wants(c.says(0, "go on"), "neither, stop")
	c.wants(c.says(0, "end the run"), "The run ended with 0 steps behind it, held since its plan became another one", "begun for cementing, not worked through: the plan came to read “neither, stop”", "told that it fell")
}

// TestRunHolds holds a run by a word, and says which words tick where others do not.
func TestRunHolds(t *testing.T) {
	oneByOne(t)
	for _, word := range []string{"stop", "Stop!", "pause", "hold", "wait", "hold on please", "wait a minute"} {
		c := newChair(t)
		c.says(0, plainCase)
		c.says(0, "start the run")
		c.wants(c.says(0, word), "The run is held at step 1 of 18: read the laboratory slip. Nothing is ticked until you say “go on”")
		c.wants(c.says(0, "done"), "The run is held")
		for _, on := range []string{"resume", "go on"} {
			c.wants(c.says(0, on), "Step 1 of ")
		}
		if run := c.remembered().Run; run == nil || run.Paused || len(run.Ticks) != 0 {
			t.Errorf("after %q, done and resume the run is %+v", word, run)
		}
	}
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	for _, word := range []string{"next", "ok", "yes", "go", "ready", "finish", "ok, next", "ready?"} {
		c.wants(c.says(0, word), "Step 1 of ", "That ticks nothing. “Done” ticks step 1, “leave it out” passes it over")
	}
}

// TestRunInAnEmergency tells of an emergency in the thread of a run, to nobody in
// particular: it is answered, and the run is held.
func TestRunInAnEmergency(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	r, err := c.talk.Handle(context.Background(), Message{Thread: "chair", Text: "he choked on the crown", At: c.now, Overheard: true})
	if err != nil {
		t.Fatal(err)
	}
	c.wants(r, "call your emergency number")
	c.wants(c.says(0, "done"), "The run is held")
	c.wants(c.says(0, "go on"), "Step 1 of ")
}

// TestRunWordsWithoutARun says the words of a run where none is open.
func TestRunWordsWithoutARun(t *testing.T) {
	c := newChair(t)
	c.says(0, plainCase)
	for _, word := range []string{"done", "ok", "stop", "where are we", "leave it out", "one step back", "go"} {
		r := c.says(0, word)
		if c.wants(r, "No run is open. “Start the run” begins one: crown, molar, 3Y: cementing."); r.Kind != KindHelp {
			t.Errorf("%q is answered as %s", word, r.Kind)
		}
	}
	c.says(0, "start the run")
	c.says(0, "end the run")
	c.wants(c.says(0, "done"), "No run is open. “Start the run” begins one")
	c.says(0, "what is yttria?")
	if r := c.says(0, "stop"); strings.Contains(r.Text, "No run is open") {
		t.Errorf("after an article a word of the run is answered by\n%s", r.Text)
	}
	c.says(0, "new case: translucent crown, margin in dentin")
	c.wants(c.says(0, "start the run"), "not settled enough")
	for range 2 {
		c.wants(c.says(0, "done"), "it waits for the answers below", "It waits for", "?")
	}
}

// TestRunSparesConditions passes over what hangs on something that is not so.
func TestRunSparesConditions(t *testing.T) {
	oneByOne(t)
	c := newChair(t)
	c.says(0, plainCase)
	c.says(0, "start the run")
	c.wants(c.goTo("If the inside binds"), "If that is not so, “not needed” passes it over")
	c.says(0, "not needed")
	c.goTo("If provisional cement is eugenol")
	c.wants(c.says(0, "not needed 6"), "Step 7 of ")
	c.wants(c.says(0, "end the run"), "ease the inside: not needed", "clean off what eugenol left: not needed")

	c.says(0, "new case: "+plainCase+", provisional cement eugenol-free")
	c.says(0, "start the run")
	for range 12 {
		if r := c.says(0, "done"); strings.Contains(r.Text, "ugenol harms") {
			t.Fatalf("the case rules eugenol out:\n%s", r.Text)
		}
	}
}
