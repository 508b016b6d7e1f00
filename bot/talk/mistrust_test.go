package talk

import (
	"slices"
	"strings"
	"testing"
)

// TestMistrusted pins what takes back a value that makes a plan bolder, or leaves one
// open that is otherwise presumed, each beside everyday words that do not.
func TestMistrusted(t *testing.T) {
	x := testTalk(t)
	for _, c := range []struct{ message, doubted string }{
		// a word of the trouble is left unread beside it
		{"dam on, but it's leaking. 5Y onlay", "isolation"},
		{"claims it's dry but there's blood, 5Y onlay", "isolation"},
		{"bone dry lol, swimming pool in there, 5Y onlay", "isolation"},
		{"dam on, no leaks, 5Y onlay", ""},
		{"dry, healthy gum, no bleeding, 5Y onlay", ""},
		{"no allergies recorded but she broke out last time, 5Y onlay", "resin_allergy"},
		{"patch test negative to acrylates, 5Y onlay", ""},
		{"retentive prep, tooth is a stub, 3Y crown", "retention"},
		{"bleeding almost stopped, 5Y onlay", "isolation"},
		{"bleeding mostly stopped, 5Y onlay", "isolation"},
		{"bleeding under control mostly, 5Y onlay", "isolation"},
		{"dry on the cast, 5Y onlay", "isolation"},
		{"stored dry, 5Y onlay", "isolation"},
		{"dry so far, 5Y onlay", "isolation"},
		{"prep probably retentive, 3Y crown", "retention"},
		{"bleeding has stopped, 5Y onlay", ""},
		// words that take back what was said
		{"dry as long as she doesn't swallow, 5Y onlay", "isolation"},
		{"dry until I rinse, 5Y onlay", "isolation"},
		{"I think it's dry, hard to say. 5Y onlay", "isolation"},
		{"my boss reckons the prep holds, i have my doubts 3Y crown", "retention"},
		{"prep is tall enough on paper, 3Y crown", "retention"},
		{"dry, limited opening as if that helped, 5Y onlay", ""},
		// less than that, or only for moments
		{"less than dry, 5Y onlay", "isolation"},
		{"retention is less than adequate, 3Y crown", "retention"},
		{"dry, wall less than 1 mm, 5Y onlay", ""},
		{"dry for about ten seconds, 5Y onlay", "isolation"},
		{"dry for bonding, 5Y onlay", ""},
		// a "not" behind it, or another voice
		{"retentive it ain't, 3Y crown", "retention"},
		{"she says the prep is retentive, I say it isn't, 3Y crown", "retention"},
		{"the last dentist wrote retentive, its not, 3Y crown", "retention"},
		{"I say dry, the nurse says no, 5Y onlay", "isolation"},
		{"dry, 5Y onlay, bond or not", ""},
		{"dry, 5Y onlay, why not", ""},
		{"the nurse says dry, 5Y onlay", ""},
		// asked and not told
		{"can the field be kept dry, 5Y onlay", "isolation"},
		{"retentive form adequate?? 3Y crown", "retention"},
		{"can I bond this dry 5Y onlay", ""},
		{"retentive? yes. 3Y crown", ""},
		// what is supposed is not so
		{"had it been dry I'd bond, 5Y onlay", "isolation"},
		{"had the margin been in enamel I'd bond the 5Y crown", "margin"},
		{"if the prep had been taller I'd cement, 3Y crown", "retention"},
		{"had a dry field, 5Y onlay", ""},
		// spoken of without a value
		{"pocket 7mm, bleeding on probing, 5Y onlay", "isolation"},
		{"not a lot of prep left, 3Y crown", "retention"},
		{"stump broke at gum level, 3Y crown", "retention"},
		{"crown falls off by itself at try-in, 3Y", "retention"},
		{"not allergic to penicillin but to methacrylates, 5Y onlay", "resin_allergy"},
		{"no latex allergy but a resin one, 5Y onlay", "resin_allergy"},
		{"she had a patch test for acrylates, result pending, 5Y onlay", "resin_allergy"},
		{"dry, but resin cement has run out, 5Y onlay", ""},
		// words of form beside a "not"
		{"prep isn't tall, 3Y crown", "retention"},
		{"prep not very long, 3Y crown", "retention"},
		{"prep is neither tall nor parallel, 3Y crown", "retention"},
		{"not long now, 3Y crown", ""},
		// small numbers that measure nothing known
		{"3Y crown caliper says 0.3", "wall_mm"},
		{"wall was 1.2, ground 0.5 off, 5Y crown", "wall_mm"},
		{"3Y crown 1.6", ""},
		{"eggshell 3Y crown", "wall_mm"},
	} {
		r := x.words.read(c.message, x.book)
		var got []string
		for _, d := range r.doubted {
			got = append(got, d.fact)
		}
		slices.Sort(got)
		if strings.Join(got, " ") != c.doubted {
			t.Errorf("%q leaves %q in doubt, want %q; it states %v", c.message, got, c.doubted, factsRead(r))
		}
	}
}

// TestImplausibleMeasureIsDoubted holds that a height which cannot be leaves the form
// of the preparation open, instead of presuming it.
func TestImplausibleMeasureIsDoubted(t *testing.T) {
	x := testTalk(t)
	turn := x.begin("prep height 40 mm molar 3Y crown", Remembered{})
	if turn.now.Known("retention") || !slices.ContainsFunc(turn.doubted, func(d doubt) bool { return d.fact == "retention" }) {
		t.Errorf("a height of 40 mm leaves %v in doubt, and not the form", turn.doubted)
	}
}

// TestThreadTakesBack holds what a later message takes back of a thread, and what it
// leaves alone.
func TestThreadTakesBack(t *testing.T) {
	oneByOne(t)
	for _, c := range []struct {
		first, later, fact string
		known              bool
	}{
		{"5Y onlay 36, dry", "not any more", "isolation", false},
		{"5Y onlay 36, dry", "dam is leaking now", "isolation", false},
		{"5Y onlay 36, dry", "why not", "isolation", true},
		{"3Y crown 36, retentive", "it isn't really", "retention", false},
		{"3Y crown 36, prep is good", "no it's 2 mm", "retention", false},
		{"3Y crown 36, prep is good", "sorry, wall is 2 mm", "retention", true},
		{"3Y crown 36, wall 0.6", "caliper says 0.3", "wall_mm", false},
		{"5Y onlay 36, no allergy", "she has blistered from methacrylate", "resin_allergy", false},
		{"5Y onlay 36, no allergy", "enamel all round", "resin_allergy", true},
	} {
		bot := testTalk(t)
		saidIn(t, bot, "back", c.first)
		saidIn(t, bot, "back", c.later)
		kept, err := bot.memory.Load(t.Context(), "back")
		if err != nil {
			t.Fatal(err)
		}
		if known := caseOf(bot.book, kept).Known(c.fact); known != c.known {
			t.Errorf("%q, then %q: %s is known: %v, want %v", c.first, c.later, c.fact, known, c.known)
		}
	}
}
