package talk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"mortarboard/kb"
	"mortarboard/planner"
)

// A school is a conversation with a clock that a test moves.
type school struct {
	*Talk
	now time.Time
}

// opened is the one school of all tests, since it takes seconds to build; each test
// has people of its own.
var opened = sync.OnceValues(func() (*school, error) {
	library, err := kb.NewLibrary(kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now})
	if err != nil {
		return nil, err
	}
	s := &school{}
	s.Talk, err = New(Options{Rules: planner.MustLoad(), Articles: library, Now: func() time.Time { return s.now }})
	return s, err
})

func openSchool(t *testing.T) *school {
	t.Helper()
	s, err := opened()
	if err != nil {
		t.Fatal(err)
	}
	s.now = time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC)
	return s
}

// says puts a message of a person, in a thread of their own.
func (s *school) says(t *testing.T, person, text string) Reply {
	t.Helper()
	person = t.Name() + person
	r, err := s.Handle(context.Background(), Message{Thread: "thread of " + person, From: person, Text: text})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// cardOf is the card that a reply asks; empty if it asks none.
func cardOf(r Reply) string {
	for _, c := range r.Choices {
		if name, ok := strings.CutPrefix(c.Options[0].Says, "card "); ok {
			id, _, _ := strings.Cut(name, ": ")
			return id
		}
	}
	return ""
}

// answers gives the right answer to a card, or a wrong one.
func (s *school) answers(t *testing.T, person, card string, right bool) Reply {
	t.Helper()
	c, _ := s.book.Card(card)
	solved, _ := s.solve(c)
	i := slices.IndexFunc(solved.Options, func(o string) bool { return (o == solved.Right) == right })
	return s.says(t, person, "card "+card+": "+solved.Options[i])
}

// TestMarked holds the pauses: they grow with right answers, a wrong one begins
// anew, and a right one before its day changes nothing.
func TestMarked(t *testing.T) {
	now := time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC)
	day := func(n int) time.Time { return time.Date(2026, 5, 4+n, 0, 0, 0, 0, time.UTC) }
	for _, tc := range []struct {
		name  string
		from  Learned
		right bool
		box   int
		due   time.Time
	}{
		{"new and right", Learned{}, true, 1, day(1)},
		{"new and wrong", Learned{}, false, 0, now.Add(10 * time.Minute)},
		{"right the second time", Learned{Box: 1, Due: day(0)}, true, 2, day(3)},
		{"third", Learned{Box: 2, Due: day(-5)}, true, 3, day(7)},
		{"fourth", Learned{Box: 3, Due: day(0)}, true, 4, day(21)},
		{"fifth", Learned{Box: 4, Due: day(0)}, true, 5, day(60)},
		{"and no higher", Learned{Box: 5, Due: day(0)}, true, 5, day(60)},
		{"wrong after all", Learned{Box: 5, Due: day(0)}, false, 0, now.Add(10 * time.Minute)},
		{"right too early", Learned{Box: 2, Due: day(1)}, true, 2, day(1)},
		{"wrong too early", Learned{Box: 2, Due: day(1)}, false, 0, now.Add(10 * time.Minute)},
	} {
		if got := tc.from.marked(tc.right, now); got.Box != tc.box || !got.Due.Equal(tc.due) {
			t.Errorf("%s: box %d, due %v; wanted %d, %v", tc.name, got.Box, got.Due, tc.box, tc.due)
		}
	}
}

// TestSpacing goes through days: what is due comes first, then what is new, and
// never the same card twice in a row.
func TestSpacing(t *testing.T) {
	oneByOne(t)
	s := openSchool(t)
	first := cardOf(s.says(t, "U1", "quiz me"))
	if again := cardOf(s.says(t, "U1", "next card")); again == first || again == "" {
		t.Errorf("after %q came %q", first, again)
	}
	s.answers(t, "U1", first, false)
	second := cardOf(s.says(t, "U1", "next card"))
	s.answers(t, "U1", second, true)
	if second == first {
		t.Errorf("%q came again at once", first)
	}
	s.now = s.now.Add(10 * time.Minute)
	if got := cardOf(s.says(t, "U1", "next card")); got != first {
		t.Errorf("ten minutes after a wrong answer %q is asked, wanted %q", got, first)
	}
	s.answers(t, "U1", first, true)
	s.now = time.Date(2026, 5, 5, 7, 0, 0, 0, time.UTC) // the next morning
	seen := []string{cardOf(s.says(t, "U1", "next card"))}
	s.answers(t, "U1", seen[0], true)
	seen = append(seen, cardOf(s.says(t, "U1", "next card")))
	slices.Sort(seen)
	want := []string{first, second}
	slices.Sort(want)
	if !slices.Equal(seen, want) {
		t.Errorf("the next morning %v are asked, wanted %v", seen, want)
	}
}

// TestAllLearned answers every card of a role: then nothing waits until a day that
// is named.
func TestAllLearned(t *testing.T) {
	s := openSchool(t)
	r := s.says(t, "U1", "card for the front desk")
	n := 0
	for card := cardOf(r); card != ""; card = cardOf(r) {
		c, _ := s.book.Card(card)
		if n++; !c.IsFor("front desk") || n > 200 {
			t.Fatalf("%s is no card for the front desk, or they do not end", card)
		}
		s.answers(t, "U1", card, true)
		r = s.says(t, "U1", "next card")
	}
	if want := "Nothing for the front desk is due now and nothing is new. The next card is due on 2026-05-05."; r.Headline != want || n != len(s.book.CardsFor("front desk")) {
		t.Errorf("after %d cards: %q, wanted %q", n, r.Headline, want)
	}
	if got := s.says(t, "U1", "my learning").Headline; got != fmt.Sprintf("You know %d of %d cards; nothing is due today.", n, len(s.book.Cards)) {
		t.Errorf("the score is %q", got)
	}
}

// TestMarking wants for every card a right and a wrong answer marked as such, with
// what it rests on, what to read and the next card, and the text whole.
func TestMarking(t *testing.T) {
	s := openSchool(t)
	for _, c := range s.book.Cards {
		for _, right := range []bool{true, false} {
			r := s.answers(t, "U1", c.ID, right)
			if r.Kind != KindHelp || strings.HasPrefix(r.Headline, "Right") != right || strings.HasPrefix(r.Headline, "Not right") == right {
				t.Errorf("%s answered %t: %s %q", c.ID, right, r.Kind, r.Headline)
			}
			if len(r.Sections) < 2 || !strings.HasSuffix(r.Text, r.Caution) || !strings.Contains(r.Text, r.Headline) || r.Private {
				t.Errorf("%s: no reasons, or the text is not whole: %s", c.ID, r.Text)
			}
			if !slices.Equal(r.Entries, c.Articles()) || len(r.Choices) != 1 || r.Choices[0].Options[0].Says != "next card" {
				t.Errorf("%s: entries %v, choices %v", c.ID, r.Entries, r.Choices)
			}
		}
	}
}

// TestBasisOfMarking wants the basis of what was answered, whatever was asked.
func TestBasisOfMarking(t *testing.T) {
	s := openSchool(t)
	for card, want := range map[string]string{
		"retentive-3y":       "(strong; common practice)",
		"pressure-5y":        "(inferred)",
		"order-try-in":       "(common practice)",
		"hydrofluoric":       "(from memory)",
		"saliva-water":       "(published: Yang",
		"crown-off-call":     "[common practice]",
		"enamel-margin":      "(common practice)",
		"wall-too-thin":      "Have the restoration remade",
		"translucent-dentin": "(strong; common practice)",
		"thin-5y":            "! ",
	} {
		if r := s.answers(t, "U1", card, false); !strings.Contains(r.Text, want) {
			t.Errorf("%s does not say %q:\n%s", card, want, r.Text)
		}
	}
}

// TestCardsSayWhatTheirCasesTell reads the words of every card that tells a case:
// what they say of a fact must not differ from what the case holds.
func TestCardsSayWhatTheirCasesTell(t *testing.T) {
	bot := openSchool(t)
	checked := 0
	for _, c := range bot.book.Cards {
		if len(c.Case.Facts()) == 0 {
			continue
		}
		for _, s := range bot.words.read(c.Ask, bot.book).facts {
			if s.within != nil {
				if got, ok := c.Case.Measure(s.fact); !ok || got.From != s.within.From {
					t.Errorf("%s says %s %v, its case %v", c.ID, s.fact, *s.within, got)
				}
				checked++
				continue
			}
			if values := c.Case.Values(s.fact); c.Case.Known(s.fact) {
				checked++
				if !slices.ContainsFunc(values, func(v string) bool { return slices.Contains(s.values, v) }) {
					t.Errorf("%s says %s %v, its case %v", c.ID, s.fact, s.values, values)
				}
			} else if bot.book.Argues(s.fact) && c.Kind() == planner.AsksStrategy {
				t.Errorf("%s says %s %v, its case nothing", c.ID, s.fact, s.values)
			}
		}
	}
	if checked < 100 {
		t.Errorf("only %d facts were read", checked)
	}
}

// TestCardsAreNoPatients holds that no button of a card is withheld.
func TestCardsAreNoPatients(t *testing.T) {
	bot := openSchool(t)
	for _, c := range bot.book.Cards {
		s, _ := bot.solve(c)
		for _, o := range bot.put(c, s).Choices[0].Options {
			if what := identifier(o.Says); what != "" {
				t.Errorf("%q seems to hold %s", o.Says, what)
			}
			if l, ok := bot.lesson(Message{Text: o.Says}, Remembered{}); !ok || bot.label(c, l.answer) != o.Label {
				t.Errorf("%q is read as the answer %q", o.Says, l.answer)
			}
		}
	}
}

// TestRoles keeps a role only if it was said to be the speaker's own.
func TestRoles(t *testing.T) {
	s := openSchool(t)
	s.says(t, "U1", "card for the laboratory runner")
	if got := s.says(t, "U1", "my learning").Headline; strings.Contains(got, "runner") {
		t.Errorf("the role was kept: %q", got)
	}
	r := s.says(t, "U1", "i am a hygienist, quiz me")
	if c, _ := s.book.Card(cardOf(r)); !c.IsFor("hygienist") || !strings.Contains(r.Text, "cards for the hygienist") {
		t.Errorf("dealt %q, said %q", c.ID, r.Text)
	}
	if got := s.says(t, "U1", "my learning").Headline; !strings.HasSuffix(got, " cards for the hygienist; nothing is due today.") {
		t.Errorf("the score is %q", got)
	}
	s.says(t, "U1", "i am at the front desk, quiz me")
	if got := s.says(t, "U1", "my learning").Headline; !strings.Contains(got, "for the front desk") {
		t.Errorf("the score is %q", got)
	}
	s.says(t, "U1", "my role is any role, quiz me")
	if got := s.says(t, "U1", "my learning").Headline; strings.Contains(got, " for the ") {
		t.Errorf("the score is %q", got)
	}
}

// TestOwnScore shows a score to nobody else, and forgets it on demand.
func TestOwnScore(t *testing.T) {
	s := openSchool(t)
	s.answers(t, "U1", "gloves", true)
	s.answers(t, "U1", "pressure-5y", false)
	all := fmt.Sprintf(" of %d cards; nothing is due today.", len(s.book.Cards))
	if r := s.says(t, "U1", "my learning"); r.Headline != fmt.Sprintf("You know 1 of %d cards; 1 due today.", len(s.book.Cards)) || !r.Private {
		t.Errorf("got %q, private %t", r.Headline, r.Private)
	}
	if r := s.says(t, "U2", "my learning"); r.Headline != "You know 0"+all {
		t.Errorf("somebody else is told %q", r.Headline)
	}
	if r := s.says(t, "U1", "forget my learning"); !r.Private || r.Headline != "What was kept of your learning is gone." {
		t.Errorf("got %q, private %t", r.Headline, r.Private)
	}
	if r := s.says(t, "U1", "my learning"); r.Headline != "You know 0"+all {
		t.Errorf("after forgetting: %q", r.Headline)
	}
}

// TestCardsLeaveTheCase deals cards in the middle of a case.
func TestCardsLeaveTheCase(t *testing.T) {
	s := openSchool(t)
	s.says(t, "U1", "UR6 crown, 5Y, margin in dentin")
	s.says(t, "U1", "quiz me")
	r := s.says(t, "U1", "actually the margin is in enamel")
	if r.Kind != KindPlan || fmt.Sprint(r.Case["zirconia"], r.Case["margin"]) != "[5Y] [enamel]" {
		t.Errorf("got %s, case %v", r.Kind, r.Case)
	}
	if r := s.says(t, "U1", "b"); r.Kind == KindHelp {
		t.Errorf("a letter long after the card is taken as its answer: %q", r.Headline)
	}
}

// TestOverheardCards answers what is said of the cards in a thread without a mention.
func TestOverheardCards(t *testing.T) {
	bot := openSchool(t)
	for text, want := range map[string]bool{"next card": true, "hello": false} {
		r, err := bot.Handle(context.Background(), Message{Thread: "T", From: "U1", Text: text, Overheard: true})
		if err != nil || (r.Text != "") != want {
			t.Errorf("%q overheard is answered %q (%v)", text, r.Text, err)
		}
	}
}

// A torn notebook fails.
type torn struct{ Notebook }

var errTorn = errors.New("torn")

func (*torn) Cards(context.Context, string) ([]Learned, error) { return nil, errTorn }

// TestTornNotebook tells whoever asks that it cannot be read.
func TestTornNotebook(t *testing.T) {
	s := openSchool(t)
	kept := s.learning
	s.learning = &torn{}
	defer func() { s.learning = kept }()
	if _, err := s.Handle(context.Background(), Message{Thread: "T", From: "U1", Text: "quiz me"}); !errors.Is(err, errTorn) {
		t.Errorf("got %v", err)
	}
	if _, _, err := s.MyLearning(context.Background(), "U1"); !errors.Is(err, errTorn) {
		t.Errorf("got %v", err)
	}
	if r := s.says(t, "U1", "pressure for 5Y?"); r.Kind != KindValue {
		t.Errorf("a question is answered as %s", r.Kind)
	}
}
