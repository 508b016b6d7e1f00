package talk

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// saidIn puts a message to a thread.
func saidIn(t *testing.T, bot *Talk, thread, text string) Reply {
	t.Helper()
	r, err := bot.Handle(context.Background(), Message{Thread: thread, Text: text})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// oneOfEach asks for every kind of answer.
var oneOfEach = map[Kind]string{
	KindPlan: "3Y zirconia crown on a molar, retentive prep, dry: bond or cement?", KindValue: "blasting pressure for 5Y?", KindCheck: "is 2 bar ok on 5Y",
	KindCalculation: "40 psi in bar", KindArticle: "what is MDP", KindHelp: "help", KindDeclined: "what is the capital of France",
}

// TestTheTextEndsWithTheCaution: whoever reads only the text must be told who
// decides, whatever the answer; and the text holds what was noticed.
func TestTheTextEndsWithTheCaution(t *testing.T) {
	bot := testTalk(t)
	says := []string{"it's for a patient, DOB 12/03/1950"}
	for kind, text := range oneOfEach {
		if r := saidIn(t, bot, string(kind), text); r.Kind != kind {
			t.Errorf("%q is answered as %s, want %s", text, r.Kind, kind)
		}
		says = append(says, text)
	}
	for _, text := range says {
		r := saidIn(t, bot, "again "+text, text)
		if r.Caution == "" || !strings.HasSuffix(r.Text, "\n"+r.Caution) {
			t.Errorf("%q: the text does not end with the caution %q:\n%s", text, r.Caution, r.Text)
		}
		for _, n := range r.Notices {
			if !strings.Contains(r.Text, n) {
				t.Errorf("%q: the text lacks the notice %q", text, n)
			}
		}
	}
}

// TestWhatMayNameAPatientIsForTheAskerOnly sends what identifies somebody: the
// answer repeats none of it, is private, and leaves nothing in the thread.
func TestWhatMayNameAPatientIsForTheAskerOnly(t *testing.T) {
	bot := testTalk(t)
	for _, secret := range []string{"12/03/1950", "jane@example.org", "chart no 4471982"} {
		text := "3Y crown, dry, DOB " + secret
		if !strings.Contains(secret, "/") {
			text = "3Y crown, dry, " + secret
		}
		r := saidIn(t, bot, secret, text)
		if !r.Private || r.Kind != KindDeclined {
			t.Errorf("%q: private is %v, the kind %s", text, r.Private, r.Kind)
		}
		if all := r.Question + r.Headline + r.Text + strings.Join(r.Notices, " "); strings.Contains(all, secret) {
			t.Errorf("%q is repeated: %s", secret, all)
		}
		if kept, err := bot.memory.Load(context.Background(), secret); err != nil || kept.Last != "" || len(kept.Facts) > 0 {
			t.Errorf("%q left %+v in the thread (%v)", text, kept, err)
		}
	}
	if r := saidIn(t, bot, "nobody", "3Y crown, dry, lot 4471982"); r.Private {
		t.Errorf("a lot number is answered in private: %s", r.Headline)
	}
}

// TestAnEmergencyComesBeforeOthersSubjects puts every emergency beside a material
// that is left to others: it must be answered as an emergency all the same.
func TestAnEmergencyComesBeforeOthersSubjects(t *testing.T) {
	data, err := os.ReadFile("../../testdata/questions/emergencies.tsv")
	if err != nil {
		t.Fatal(err)
	}
	bot := testTalk(t)
	n := 0
	for line := range strings.Lines(string(data)) {
		message, holds, ok := strings.Cut(strings.TrimSpace(line), "\t")
		if !ok || holds == "holds" || holds == "-" {
			continue
		}
		for _, text := range []string{message, message + ". It was a lithium disilicate veneer"} {
			n++
			if r := saidIn(t, bot, text, text); !strings.Contains(r.Headline, holds) {
				t.Errorf("%q is answered %q, wanted %q in it", text, r.Headline, holds)
			}
		}
	}
	if r := saidIn(t, bot, "other", "how do I etch a lithium disilicate veneer"); r.Kind == KindPlan || n < 40 {
		t.Errorf("%d messages were tried; without an emergency it is a %s: %s", n, r.Kind, r.Headline)
	}
}

// TestADoubtLastsUntilItIsSettled speaks of an allergy in a way that cannot be
// made out. What a plan would else presume of it may not be presumed in that
// message or in those behind it, until the fact is stated.
func TestADoubtLastsUntilItIsSettled(t *testing.T) {
	const fact = "resin_allergy"
	presumed := func(bot *Talk, thread, next string) bool {
		t.Helper()
		past, err := bot.memory.Load(context.Background(), thread)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range bot.book.Plan(bot.begin(next, past).now).Assumed {
			if f.Name == fact {
				return true
			}
		}
		return false
	}
	bot := testTalk(t)
	saidIn(t, bot, "sure", "3Y crown")
	if !presumed(bot, "sure", "upper molar") {
		t.Fatal("nothing is presumed of the allergy where nothing was said of it: the test shows nothing")
	}
	saidIn(t, bot, "doubt", "3Y crown, patient says she is allergic to something in fillings")
	for _, next := range []string{"upper molar", "the prep is retentive"} {
		if presumed(bot, "doubt", next) {
			t.Errorf("after %q no allergy is presumed, though one was spoken of", next)
		}
		saidIn(t, bot, "doubt", next)
		if kept, err := bot.memory.Load(context.Background(), "doubt"); err != nil || !slices.Contains(kept.Doubted, fact) {
			t.Errorf("after %q the thread doubts %v (%v)", next, kept.Doubted, err)
		}
	}
	saidIn(t, bot, "doubt", "no resin allergy")
	if kept, err := bot.memory.Load(context.Background(), "doubt"); err != nil || slices.Contains(kept.Doubted, fact) {
		t.Errorf("stated, it is still doubted: %v (%v)", kept.Doubted, err)
	}
}

// TestATaperOfOneWallIsHeldAgainstTwice: two walls of 14° are 28° of total
// convergence, so both ways of saying it are one check, and 14° in total another.
func TestATaperOfOneWallIsHeldAgainstTwice(t *testing.T) {
	bot := testTalk(t)
	whole := saidIn(t, bot, "whole", "is 28 degrees convergence ok")
	half := saidIn(t, bot, "half", "is 14 degrees convergence ok")
	if whole.Verdict == half.Verdict {
		t.Fatalf("28° and 14° in total are both %q: the test shows nothing", whole.Verdict)
	}
	for _, text := range []string{"is 14 degrees per wall ok", "taper 14 degrees per wall, ok?"} {
		r := saidIn(t, bot, text, text)
		if r.Kind != KindCheck || r.Verdict != whole.Verdict || !strings.Contains(r.Headline, "28°") || fmt.Sprint(r.Case["convergence_deg"]) != "[28]" {
			t.Errorf("%q is answered as %s, %s: %s; 28° in total is %s", text, r.Kind, r.Verdict, r.Headline, whole.Verdict)
		}
	}
}

// TestAnotherKindOfNumberIsNoSecondTry: behind a check of a pressure a time is no
// pressure, a pressure in another unit is one.
func TestAnotherKindOfNumberIsNoSecondTry(t *testing.T) {
	bot := testTalk(t)
	for second, again := range map[string]bool{"20 s?": false, "60 psi?": true} {
		saidIn(t, bot, second, "is 2 bar ok on 5Y")
		if r := saidIn(t, bot, second, second); again != (r.Kind == KindCheck) {
			t.Errorf("behind a check of 2 bar %q is answered as %s: %s", second, r.Kind, r.Headline)
		}
	}
}

// TestWhatIsOverheardIsAnsweredOnlyWhereItIsOurs: what people say to each other in
// a thread gets no answer, what is put to the bot gets one, and a case gets one always.
func TestWhatIsOverheardIsAnsweredOnlyWhereItIsOurs(t *testing.T) {
	bot := testTalk(t)
	for text, ours := range map[string]bool{oneOfEach[KindDeclined]: false, oneOfEach[KindPlan]: true} {
		for _, overheard := range []bool{true, false} {
			r, err := bot.Handle(context.Background(), Message{Thread: fmt.Sprint(text, overheard), Text: text, Overheard: overheard})
			if err != nil || (r.Headline != "") != (ours || !overheard) {
				t.Errorf("%q, overheard %v: answered %q (%v)", text, overheard, r.Headline, err)
			}
		}
	}
}

// TestOfWhatWasNotReadNothingIsPresumed says more than is read: the rest may hold
// any fact, so those that matter most are not presumed.
func TestOfWhatWasNotReadNothingIsPresumed(t *testing.T) {
	bot := testTalk(t)
	for text, cut := range map[string]bool{"3Y crown": false, "3Y crown. " + strings.Repeat("and so on ", maxRunes/8): true} {
		saidIn(t, bot, text[:8]+fmt.Sprint(cut), text)
		kept, err := bot.memory.Load(context.Background(), text[:8]+fmt.Sprint(cut))
		if err != nil || len(bot.words.words.Cut) == 0 {
			t.Fatal(err, bot.words.words.Cut)
		}
		for _, fact := range bot.words.words.Cut {
			if slices.Contains(kept.Doubted, fact) != cut {
				t.Errorf("cut off %v: of %v %s is doubted %v", cut, kept.Doubted, fact, !cut)
			}
		}
	}
}

// TestAnExceptionIsNoPlainNo: who is allergic to nothing but a resin is allergic to it.
func TestAnExceptionIsNoPlainNo(t *testing.T) {
	bot := testTalk(t)
	for text, no := range map[string]bool{"3Y crown, no resin allergy": true, "3Y crown, no resin allergy apart from HEMA": false, "3Y crown, no allergy except HEMA": false} {
		if r := saidIn(t, bot, text, text); (fmt.Sprint(r.Case["resin_allergy"]) == "[no]") != no {
			t.Errorf("%q is read as an allergy of %v", text, r.Case["resin_allergy"])
		}
	}
}
