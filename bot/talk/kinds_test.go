package talk

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// kindsAsked are messages with the kind of answer that they ask for, each beside
// what it must not be taken for. Behind a colon stands what the answer is about: a
// parameter for a setting, a verdict or a parameter for a check, a sum for a
// calculation, a strategy or a parameter for a plan. The words of a thread stand apart by "||".
var kindsAsked = []struct{ want, message string }{
	// "can I" behind "how" asks for a thing; a yes or no question about a number is a check
	{"plan", "5Y crown on 11, prep is 3 mm high, dam on. how do we put this one in?"},
	{"check:within", "could I go to 2.5 bar with 3Y"},
	{"check:outside", "can the crown wait 10 minutes after mixing"},
	{"value:abrasion.pressure", "for 5Y how many bars do I turn the blaster to"},
	// a case stays a case although it holds a number and an "ok"
	{"plan:cement", "crown lower 6 bruxer 3Y parallel 5 mm stump. rmgi ok?"},
	{"plan", "is it alright to use rmgi for a 4Y molar with 4 mm walls and no enamel left"},
	{"plan", "3Y crown, 47, 3 mm stump, taper 25 total. what now?"},
	{"check:within", "5 mm high molar prep, good?"},
	{"value:abrasion.pressure", "before bonding this 5Y veneer, what pressure for the inside"},
	{"plan:abrasion.pressure", "translucent premolar crown: bond? what pressure?"},
	{"check:outside", "implant margin 3 mm subgingival, too deep to cement?"},
	// degrees of warmth are no convergence, those of the jet neither
	{"check:within", "primer in the fridge at 5 degrees ok?"},
	{"check:outside", "bonding kept at 30 C all weekend, still ok?"},
	{"check:storage.room", "cement stored at 35 degrees, still ok?"},
	{"check:outside", "held the jet at 20 degrees to the surface, ok?"},
	{"check:within", "16 degrees convergence, acceptable?"},
	// a part with a thickness of its own
	{"check:wing.thickness", "wing 0.4 mm thin, ok?"},
	{"check:wall.minimum", "4Y wall 0.6, is it too thin?"},
	{"check:margin.width", "chamfer 0.4 mm deep, too little?"},
	{"check:implant-margin.depth", "implant cement margin 2.5 mm deep, is that ok"},
	// numbers without their unit
	{"check:abrasion.pressure", "is 4 too much to blast a translucent crown"},
	{"check:outside", "is 0.6 enough for a 5Y molar"},
	{"check:etch.enamel", "etch for 60 too long?"},
	{"check:polishing.roughness", "is 0.5 ok for roughness"},
	{"check:outside", "crown is 0.45 mm in 3Y, may I seat it"},
	{"check:margin.gap", "marginal gap 0.2 mm, acceptable?"},
	// the special part of what is done
	{"check:adhesive.drying", "adhesive air thinned for 2 seconds ok?"},
	{"value:primer.drying", "how long do we blow on the primer"},
	{"value:primer.dwell", "after I paint the MDP on, how long does it need before drying"},
	{"value:hypochlorite.rinse", "rinsing after the bleach, how long"},
	{"value:light.surface-time", "4Y crown cemented with adhesive resin, how long do I light each side?"},
	{"value:lamp.tolerance", "how far below stated output is the lamp ok"},
	// why and what is
	{"article", "why shouldn't we etch zirconia"},
	{"check:outside", "can I etch the inside with phosphoric acid?"},
	{"article", "what is convergence"},
	{"value:preparation.convergence", "what is the max convergence"},
	{"article", "how to remove a zirconia crown that is bonded"},
	{"article", "how dry is dry"},
	// sums
	{"calculation:the conversion", "60psi -> bar"},
	{"calculation:the conversion", "3bar psi?"},
	{"calculation:the conversion", "2 bar in psi || and 3 bar?"},
	{"calculation:the cement volume", "how many microlitres cement for a 4 high, 8 base, 7 top prep with 50 um film"},
	{"calculation:the dose", "a 1200 lamp for 20 s, how many joules is that"},
	{"calculation:the form", "4.5 high, 8 wide, 22 degrees: retentive?"},
	{"calculation:the total convergence", "base 9.2 top 7.9 height 4.1 convergence?"},
	{"plan", "45 crown, multilayer disc, 0.7 occlusally, 3.5 tall stump, cement?"},
	{"plan", "3Y crown 46, the prep area is dry, 4 high and 9 wide. bond or cement"},
	// a case that is told names settings and asks for none of them
	{"plan", "4Y crown 25, enamel half, dry, convergence not measured"},
	{"plan:bond", "4Y crown 35, sandblasted by the lab at low pressure, enamel all round, dry"},
	{"value:abrasion.pressure", "4Y crown 24, enamel, dry, pressure"},
	{"plan", "implant crown on ti base"},
	{"plan", "zr crown on titanium base, luting on the bench then screwing in"},
	{"article", "crown loose on a titanium base, what now"},
	// a clear case is ours whatever else is said of the patient, but for another material
	{"plan:cement", "diabetic patient, crown 14, subgingival, bleeds, retention ok. cement today?"},
	{"plan", "crown 46, amalgam core, prep 5 mm tall, dry"},
	{"declined", "gold crown 46, tall prep, dry, cement?"},
	{"declined", "composite onlay 36, dry, bond?"},
	{"declined", "root canal irrigation protocol"},
	// a number is asked for, whatever the message opens with
	{"value:tack.cure", "when do I flick the excess off with self adhesive, how many seconds tack cure"},
	{"value:excess.window", "how many seconds until I can peel the excess"},
	{"value:setting.time", "how long till rmgi is hard"},
	{"article", "why does it matter how long I etch"},
	// numbers whose unit stands apart or is left out
	{"calculation:the conversion", "our compressor dial is in MPa, 0.25 is what in bar"},
	{"calculation:the conversion", "2 bar in psi || and 3?"},
	{"calculation:the dose", "10 s at 1400, what dose"},
	{"calculation:the light behind the zirconia", "meter says 1000, how long for 12 joules under 1.5 mm zirconia"},
	{"check:light.irradiance", "light meter says 450, still ok to use?"},
	{"check:adjusting.coolant", "30 ml per minute coolant enough?"},
	{"check:light.zirconia-limit", "light-cure only cement under a 1.5 mm 3Y crown, would that work"},
	// all measures of a form at once ask whether it holds
	{"calculation:the form", "is 12 degrees per wall inside the limit, prep 5 tall on #19, 10 at the margin"},
	{"calculation:the form", "is a 3.5 x 9 prep at 12 degrees retentive"},
	// a bare fact in a planned thread changes its plan
	{"plan:depends", "5Y crown || upper premolar"},
	{"article", "zirconia maryland, two wings || one of them came loose"},
	// what only tells of a case gets its plan, a finding its stop; a heading, a complaint
	// and a question get their entry
	{"plan:stop", "crown rocks on the prep, UL6 zirc"},
	{"plan:stop", "decay at the margin, crown LR6"},
	{"plan:stop", "crown margin is open on the distal, do we still seat it?"},
	{"plan:bond", "blood in the veneer from try in"},
	{"plan", "no chance of a dam on this one"},
	{"article", "primer on titanium"},
	{"article", "pain on biting after a new crown"},
	{"article", "crown came off, what now"},
	{"article", "can blasting crack translucent zirconia"},
	{"article", "assistant allergic to acrylates, can she mix the cement"},
	// what nobody knows of the form is not presumed
	{"plan:depends", "3Y crown, dunno about the prep"},
	{"plan:depends", "3Y crown, prep borderline"},
	// other materials
	{"declined", "glass ceramic onlay, bond or cement"},
	{"declined", "titanium crown"},
	{"declined", "qzmax veneer bonding"},
	{"plan:bond", "zirconia veneer bonding"},
	// on the bench, and several bases
	{"plan:bond", "screw retained 3Y crown on ti base, retrievable"},
	{"plan:depends", "3Y full arch implant bridge, 6 ti bases"},
	// replies and words that go on with a plan
	{"plan", "i have a crown to seat || zirconia"},
	{"plan", "5Y crown, dentin margin, dry, wall 1.3 || so?"},
	{"plan", "5Y crown, dentin margin, dry, wall 1.3 || what would change it"},
	{"plan:depends", "5Y crown, dentin margin, dry, wall 1.3 || dunno"},
	{"help", "what questions can I ask you"},
	{"help", "give me some examples of what I can ask"},
}

func TestKindsOfAnswers(t *testing.T) {
	oneByOne(t)
	talk := testTalk(t)
	for i, k := range kindsAsked {
		thread := "kinds " + strconv.Itoa(i)
		var r Reply
		for _, message := range strings.Split(k.message, " || ") {
			var err error
			if r, err = talk.Handle(context.Background(), Message{Thread: thread, Text: message}); err != nil {
				t.Fatal(err)
			}
		}
		past, err := talk.memory.Load(context.Background(), thread)
		if err != nil {
			t.Fatal(err)
		}
		kind, about, named := strings.Cut(k.want, ":")
		said := append([]string{r.Verdict, r.Strategy, past.Worked.Sum}, past.Keys...)
		if string(r.Kind) != kind || named && !slices.Contains(said, about) {
			t.Errorf("%s\n got %s %v: %s\nwant %s", k.message, r.Kind, said, r.Headline, k.want)
		}
	}
}

// TestNoNumberIsPassedOver holds that an answer names every number that it was asked about.
func TestNoNumberIsPassedOver(t *testing.T) {
	talk := testTalk(t)
	for i, c := range []struct {
		message string
		numbers []string
	}{
		{"50 micron at 2 bar for 3Y ok?", []string{"50 µm", "2 bar"}},
		{"30 or 50 micron on 5Y ok?", []string{"30 µm", "50 µm"}},
		{"40 psi in bar and is that ok for 4Y", []string{"2.76 bar", "1.5 bar"}},
		{"connector 3 by 3 or 2.5 by 4, which is stiffer", []string{"3 × 3", "2.5 × 4"}},
		{"polish at 2 bar and 10 N ok?", []string{"2 bar", "10 N"}},
	} {
		r, err := talk.Handle(context.Background(), Message{Thread: "numbers " + strconv.Itoa(i), Text: c.message})
		if err != nil {
			t.Fatal(err)
		}
		told := append([]string{r.Headline}, r.Notices...)
		for _, s := range r.Sections {
			told = append(told, s.Lines...)
		}
		for _, number := range c.numbers {
			if !strings.Contains(strings.Join(told, "\n"), number) {
				t.Errorf("%s: %s is not told in %q", c.message, number, told)
			}
		}
	}
}
