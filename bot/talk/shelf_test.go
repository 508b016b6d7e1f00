package talk

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"mortarboard/kb"
	"mortarboard/planner"
)

// practiceTalk is a conversation of the demo practice on 2026-11-30.
func practiceTalk(t testing.TB) *Talk {
	t.Helper()
	return ownMemory(t, sharedPractice)
}

var sharedPractice = sync.OnceValues(func() (*Talk, error) {
	practice, err := planner.LoadPractice(os.DirFS("../../testdata/practice"))
	if err != nil {
		return nil, err
	}
	rules, err := planner.MustLoad().With(practice)
	if err != nil {
		return nil, err
	}
	library, err := kb.NewLibrary(kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now})
	if err != nil {
		return nil, err
	}
	day := time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC)
	return New(Options{Rules: rules, Articles: library, Now: func() time.Time { return day }})
})

// shelfAskedOf are questions with how their answers begin: kind, verdict or strategy, and
// the first words. The words of a thread stand apart by "||".
var shelfAskedOf = []struct{ message, want string }{
	{"what lot is Fennick Prime", "article : Fennick Prime: lot FP-2207."},
	{"fenick prime lot", "article : Fennick Prime: lot FP-2207."},
	{"eddering all lot", "article : Eddering All: lot EA-7730."},
	{"is Harsley RM still in date?", "check outside: Harsley RM: expired on 2026-09-30; it must not be used."},
	{"is Harsly RM expired", "check outside: Harsley RM: expired on 2026-09-30; it must not be used."},
	{"is Fennick Prime still good, opened 2 november", "check within: Fennick Prime: in date to 2027-01-31 (opened on 2026-11-02, keeps 90 days; expires on 2027-04-30 unopened)."},
	{"is Eddering All in date", "check unknown: Eddering All: expires on 2027-06-30; it was opened on 2026-10-20, and how long it keeps after that the shelf does not say; read the label."},
	{"when does Ullesmoor Fifty expire", "check unknown: Ullesmoor Fifty: to when, the shelf does not say; read the label."},
	{"is the Brackenmoor expired", "article : Brackenmoor Tarn: in date to 2027-08-31. Brackenmoor Fell: in date to 2027-05-31."},
	{"how long is Fennick Prime good for after opening", "article : Fennick Prime: 90 days once opened; opened on 2026-11-02, so until 2027-01-31."},
	{"how long does Eddering All keep once opened", "article : Eddering All: how long it keeps once opened, the shelf does not say; read the label."},
	{"when did we open the Fennick", "article : Fennick Prime: opened on 2026-11-02."},
	{"when did we open the Tarn", "article : Brackenmoor Tarn: when it was opened, the shelf does not say; read the label."},
	{"what's in Harsley RM", "article : Harsley RM: HEMA, methacrylate and fluoride, as far as the shelf names it."},
	{"does Brackenmoor Tarn contain MDP", "article : MDP is not named on the shelf for Brackenmoor Tarn, only methacrylate. That is no proof"},
	{"is Oldacre Temp eugenol free", "article : Oldacre Temp: whether it holds eugenol, the shelf does not say; read the label."},
	{"does the Fell contain MDP", "article : Yes: Brackenmoor Fell holds MDP."},
	{"is the Tarn dual cure?", "article : Yes: Brackenmoor Tarn is dual cure."},
	{"is the Tarn light cure?", "article : No: Brackenmoor Tarn is dual cure."},
	{"is Brackenmoor Tarn self-adhesive?", "article : Brackenmoor Tarn, our adhesive resin: "},
	{"what is Eddering All", "article : Eddering All, our universal adhesive: "},
	{"which of our products contain HEMA", "article : HEMA is in: Eddering All and Harsley RM."},
	{"which of our products contain methacrylate", "article : Methacrylate is in: Fennick Prime, Eddering All, Brackenmoor Tarn, Brackenmoor Fell and Harsley RM."},
	{"what's expired?", "article : Must not be used: Harsley RM (lot HR-8812; expired on 2026-09-30)."},
	{"which materials expire this month", "article : Nothing that has a date on the shelf ends this month (to 2026-11-30). The first to end is Fennick Prime (lot FP-2207; to 2027-01-31). Past its date already"},
	{"what do we have on the shelf", "article : On the shelf: Tolwyn Scrub, "},
	{"what are our house rules", "article : Wrenfold Dental Rooms has 3 rules of its own"},
	{"which is our dual cure cement", "article : On the shelf as dual cure cement: Brackenmoor Tarn and Brackenmoor Fell."},
	{"do we have any zinc phosphate", "article : The shelf has no zinc phosphate."},
	{"what cement do we use for zirconia?", "article : On the shelf as cement: Brackenmoor Tarn, Brackenmoor Fell, Marrowby GI and Harsley RM (expired on 2026-09-30). Which one a crown takes hangs on its case."},
	// a setting, a check, a sum or an emergency comes first, and a name says its class
	{"what lot is Fennick Prime and what pressure for 3Y", "value : 1.5 to 2 bar"},
	{"Eddering Wick on enamel how long", "value : 15 to 30 s – time, phosphoric acid on enamel."},
	{"how much time do I have after mixing Brackenmoor Tarn", "value : 1 to 5 min – working time, resin cement."},
	{"Fennick Prime 10 s, enough?", "check outside: No, too short: 10 s. The setting is 20 to 60 s."},
	{"can I use Eddering Wick inside the crown", "check outside: No, that is not done."},
	{"5Y veneer, enamel, dry || can I use Eddering Wick inside", "check outside: No, that is not done."},
	{"got Fennick Prime in my eye, what lot is it", "declined : Do not rub."},
	{"the crown fell off", "article : Look before you lute"},
	// without a case
	{"can I use Harsley RM", "check outside: No: Harsley RM expired on 2026-09-30."},
	{"can I use Marrowby GI", "check unknown: Marrowby GI: in date to 2027-02-28. Whether it serves hangs on the case"},
	// with a case
	{"Is Harsley RM ok for a 3Y crown?", "check outside: No: Harsley RM expired on 2026-09-30. Take Marrowby GI"},
	{"which cement do we use for a 3Y crown with good prep?", "plan cement: Marrowby GI (conventional glass ionomer, lot MG-3340, to 2027-02-28; the choice of our house). Not Harsley RM: expired on 2026-09-30. Cement it conventionally"},
	{"is Marrowby GI ok for 4Y?", "check unknown: If it is bonded: no, Marrowby GI is conventional glass ionomer"},
	{"can I use the GI for a 5Y crown?", "check unknown: If it is bonded: no, Marrowby GI is conventional glass ionomer"},
	{"3Y crown, good prep, field stays wet || can I use the Fell", "check outside: No: Brackenmoor Fell is self-adhesive resin, and the plan (cement it conventionally) takes resin-modified glass ionomer or conventional glass ionomer. Take Marrowby GI"},
	{"5Y veneer, enamel, dry, wall 0.6 mm || which primer", "plan bond: Fennick Prime (zirconia primer, lot FP-2207, to 2027-01-31)."},
	{"5Y veneer, enamel, dry, wall 0.6 mm || can I use Marrowby GI", "check outside: No: Marrowby GI is conventional glass ionomer, and the plan (bond it) takes adhesive resin. Take Brackenmoor Tarn"},
	{"5Y veneer, enamel, dry, wall 0.6 mm || can I use Ullesmoor Drift", "check unknown: The step takes alumina; for glass beads (Ullesmoor Drift) it names settings as well"},
	{"5Y veneer, enamel, dry, wall 0.6 mm || what about Tolwyn Scrub || can I use Brackenmoor Tarn", "check unknown: Brackenmoor Tarn goes with the plan as it stands (bond it), if resin allergy is no."},
	{"5Y veneer, enamel, dry, wall 0.6 mm || what is silane for", "article : "},
	{"5Y onlay, cannot keep it dry || which cement", "plan stop: No cement yet: do not seat it like this."},
	{"5Y onlay wet, can I use Brackenmoor Tarn", "check outside: No: nothing is seated as it stands, with Brackenmoor Tarn neither. Stop:"},
	{"3Y crown, good prep, dry || we only have Brackenmoor Fell left", "check unknown: Brackenmoor Fell goes with the plan as it stands (cement it conventionally), if resin allergy is no; Marrowby GI comes before it."},
	{"patient has a methacrylate allergy || can I use the Fell", "check outside: No: Brackenmoor Fell (self-adhesive resin) holds MDP and methacrylate"},
}

func TestShelf(t *testing.T) {
	oneByOne(t)
	talk := practiceTalk(t)
	for i, c := range shelfAskedOf {
		var r Reply
		for _, message := range strings.Split(c.message, " || ") {
			var err error
			if r, err = talk.Handle(context.Background(), Message{Thread: "shelf " + strconv.Itoa(i), Text: message}); err != nil {
				t.Fatal(err)
			}
		}
		got := string(r.Kind) + " " + r.Verdict + r.Strategy + ": " + r.Headline
		if !strings.HasPrefix(got, c.want) {
			t.Errorf("%s\n got %s\nwant %s", c.message, got, c.want)
		}
	}
}

// TestShelfNamesAreNoSlips: no name of the shelf is read as another word, and none is told
// as not understood.
func TestShelfNamesAreNoSlips(t *testing.T) {
	oneByOne(t)
	talk := practiceTalk(t)
	for i, p := range talk.book.Practice.Shelf {
		for j, message := range []string{"3Y crown, good prep, dry, with %", "does % need shaking", "% on the tray"} {
			message = strings.ReplaceAll(message, "%", p.Name)
			r, err := talk.Handle(context.Background(), Message{Thread: "names " + strconv.Itoa(i) + strconv.Itoa(j), Text: message})
			if err != nil {
				t.Fatal(err)
			}
			first := strings.ToLower(strings.Fields(p.Name)[0])
			for _, s := range r.Sections {
				if s.Title == "Not understood" && strings.Contains(strings.ToLower(strings.Join(s.Lines, " ")), first) {
					t.Errorf("%q: %s", message, s.Lines)
				}
			}
			for _, n := range r.Notices {
				if strings.Contains(n, "was read as") && strings.Contains(strings.ToLower(n), first) {
					t.Errorf("%q: %s", message, n)
				}
			}
		}
	}
}

// TestShelfNames says which products a message names, and how it is read without them.
func TestShelfNames(t *testing.T) {
	oneByOne(t)
	x := practiceTalk(t).words
	for _, c := range []struct{ message, products, classes string }{
		{"can I use the Fell instead", "Brackenmoor Fell", "can I use the self-adhesive resin instead"},
		{"the crown fell off", "", "the crown fell off"},
		{"Crown Fell off", "", "Crown Fell off"},
		{"and Tarn?", "Brackenmoor Tarn", "and adhesive resin?"},
		{"use the GI", "Marrowby GI", "use the conventional glass ionomer"},
		{"GI or resin", "", "GI or resin"},
		{"the temp came off", "", "the temp came off"},
		{"scrub it", "", "scrub it"},
		{"FENNICK PRIME", "Fennick Prime", "zirconia primer"},
		{"the Brackenmoor", "Brackenmoor Tarn, Brackenmoor Fell", "the product"},
		{"eddering", "Eddering All, Eddering Wick", "product"},
		{"ordering", "", "ordering"},
	} {
		n := x.name(c.message)
		var names []string
		for _, p := range n.products {
			names = append(names, p.Name)
		}
		if got := strings.Join(names, ", "); got != c.products || n.classes != c.classes {
			t.Errorf("%q names %q and is read as %q; wanted %q, %q", c.message, got, n.classes, c.products, c.classes)
		}
	}
}

// TestShelfConversations replays conversations of the demo practice as TestConversations
// does those without one.
func TestShelfConversations(t *testing.T) {
	oneByOne(t)
	files, err := filepath.Glob("../../testdata/conversations/practice/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conversations of the practice (%v)", err)
	}
	talk := practiceTalk(t)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		got := replay(t, talk, file, string(data))
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		} else if got != string(data) {
			t.Errorf("%s differs from what is answered now; run with -update and read the diff:\n%s", file, firstDifference(string(data), got))
		}
	}
}

// TestShelfWithoutPractice names the class where there is no shelf.
func TestShelfWithoutPractice(t *testing.T) {
	talk := testTalk(t)
	for i, c := range []struct{ message, want string }{
		{"5Y veneer, enamel, dry || which cement", "Adhesive resin (the class; no shelf of a practice is loaded)."},
		{"5Y veneer, enamel, dry || which primer", "Zirconia primer or universal adhesive that holds MDP (the class"},
		{"3Y crown good prep, methacrylate allergy || is RMGIC ok", "No: resin-modified glass ionomer is out: with a methacrylate allergy"},
	} {
		var r Reply
		for _, message := range strings.Split(c.message, " || ") {
			var err error
			if r, err = talk.Handle(context.Background(), Message{Thread: "none " + strconv.Itoa(i), Text: message}); err != nil {
				t.Fatal(err)
			}
		}
		if !strings.HasPrefix(r.Headline, c.want) {
			t.Errorf("%s\n got %s\nwant %s", c.message, r.Headline, c.want)
		}
	}
}
