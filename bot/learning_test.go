package main

import (
	"context"
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/ledger"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
	"mortarboard/kb"
	"mortarboard/planner"
)

// TestServeLearning deals a card from the home tab, answers it by its button, sees it
// counted there by its owner alone, after a restart too, and has it forgotten.
func TestServeLearning(t *testing.T) {
	w, ctx := workspace(t)
	kept := filepath.Join(t.TempDir(), "ledger")
	p := start(t, w, kept)
	if err := w.Ready(ctx); err != nil {
		t.Fatalf("not connected: %v\n%s", err, p.out.String())
	}
	home := homeWith(t, ctx, w, "U1", "Known, as last answered: 0 of ")
	if err := w.PressView(home, "U1", "say/0/0"); err != nil {
		t.Fatal(err)
	}
	card := planner.MustLoad().Cards[0]
	dealt := message(t, ctx, w, card.Ask)
	if err := w.Press(dealt, "U1", buttonOf(t, card)); err != nil {
		t.Fatal(err)
	}
	if got := message(t, ctx, w, "Right: "+card.Right); got.Channel != dealt.Channel || !strings.HasPrefix(got.Channel, "D") {
		t.Errorf("dealt in %s, answered in %s; wanted both in the direct messages", dealt.Channel, got.Channel)
	}
	homeWith(t, ctx, w, "U1", "Known, as last answered: 1 of ")
	homeWith(t, ctx, w, "U2", "Known, as last answered: 0 of ")
	if code := p.stop(t); code != exitOK {
		t.Errorf("stopped with %d\n%s", code, p.out.String())
	}
	p = start(t, w, kept)
	if err := w.Ready(ctx); err != nil {
		t.Fatal(err)
	}
	for _, told := range []struct{ says, text string }{
		{"my learning", "You know 1 of "}, {"forget my learning", "your learning is gone"}, {"show me my learning", "You know 0 of "},
	} {
		w.Direct("U1", told.says)
		if m := message(t, ctx, w, told.text); m.For != "U1" {
			t.Errorf("%q is told to %q, wanted the asker alone", told.text, m.For)
		}
	}
	if code := p.stop(t); code != exitOK || len(w.Refusals()) > 0 {
		t.Errorf("stopped with %d; refused: %v", code, w.Refusals())
	}
}

// homeWith opens a person's home tab and waits until it says so.
func homeWith(t *testing.T, ctx context.Context, w *standin.Workspace, user, text string) standin.View {
	t.Helper()
	w.OpenHome(user)
	v, err := w.LastView(ctx, func(v standin.View) bool {
		return v.Type == "home" && v.User == user && strings.Contains(string(v.Raw), text)
	})
	if err != nil {
		t.Fatalf("the home tab of %s never says %q: %v", user, text, err)
	}
	return v
}

func message(t *testing.T, ctx context.Context, w *standin.Workspace, text string) standin.Message {
	t.Helper()
	m, err := w.Find(ctx, func(m standin.Message) bool { return strings.Contains(m.Text, text) })
	if err != nil {
		t.Fatalf("nobody says %q: %v", text, err)
	}
	return m
}

// buttonOf names the button of the right answer.
func buttonOf(t *testing.T, c *planner.Card) string {
	t.Helper()
	s, _ := planner.MustLoad().Solve(c)
	for i, o := range s.Options {
		if o == s.Right {
			return fmt.Sprintf("say/0/%d", i)
		}
	}
	t.Fatalf("%s has no right answer", c.ID)
	return ""
}

// TestCardsInTheLedger writes what was learned to the ledger and reads it back.
func TestCardsInTheLedger(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "ledger")
	want := []talk.Learned{
		{Card: "role/front-desk", Box: 1, Due: time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC)},
		{Card: "pressure-5y", Box: 3, Due: time.Date(2026, 5, 11, 0, 0, 0, 0, time.UTC)},
	}
	for round := range 2 {
		l, err := ledger.Open(path, ledger.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range want {
			if err := (cards{l}).Save(ctx, "U1", k); err != nil && round == 0 {
				t.Error(err)
			}
		}
		got, err := cards{l}.Cards(ctx, "U1")
		for i := range got {
			got[i].Due = got[i].Due.UTC()
		}
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("read %v (%v), wanted %v", got, err, want)
		}
		if other, err := (cards{l}).Cards(ctx, "U2"); len(other) > 0 || err != nil {
			t.Errorf("somebody else has %v (%v)", other, err)
		}
		if round == 1 {
			if err := (cards{l}).Forget(ctx, "U1"); err != nil {
				t.Error(err)
			}
			if got, _ := (cards{l}).Cards(ctx, "U1"); len(got) > 0 {
				t.Errorf("after forgetting: %v", got)
			}
		}
		l.Close()
	}
}

// TestCardItems holds that the ledger takes every card and every role.
func TestCardItems(t *testing.T) {
	l, err := ledger.Open(filepath.Join(t.TempDir(), "ledger"), ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for _, c := range planner.MustLoad().Cards {
		if err := (cards{l}).Save(context.Background(), "U1", talk.Learned{Card: c.ID, Due: time.Now()}); err != nil {
			t.Error(err)
		}
	}
}

// TestHomeOfTheLead shows the lead what three people answered wrong, nobody else, and
// nothing of what two did.
func TestHomeOfTheLead(t *testing.T) {
	oneByOne(t)
	l, err := ledger.Open(filepath.Join(t.TempDir(), "ledger"), ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	h, err := open(options{})
	if err != nil {
		t.Fatal(err)
	}
	conversation, err := h.conversation(talk.Options{Learning: cards{l}})
	if err != nil {
		t.Fatal(err)
	}
	for i, who := range []string{"U1", "U2", "U3"} {
		for card, right := range map[string]int{"pressure-5y": 0, "gloves": i / 2, "role/hygienist": 0} {
			if err := l.SaveCard(who, ledger.Card{Item: card, Box: right, Due: time.Now()}); err != nil {
				t.Fatal(err)
			}
		}
	}
	pressure, _ := h.rules.Card("pressure-5y")
	for user, want := range map[string]string{"U9": "[" + pressure.Ask + " (3 people)]", "U1": "[]"} {
		home, err := homer(conversation, l, []string{"U9"})(context.Background(), user)
		if err != nil {
			t.Fatal(err)
		}
		got := []string{}
		for _, s := range home.Sections {
			if strings.Contains(s.Title, "several people") {
				got = s.Lines
			}
		}
		if fmt.Sprint(got) != want {
			t.Errorf("%s is shown %v, wanted %s", user, got, want)
		}
	}
}

// TestAuditCards tells of a card that has to be mended; under a practice's rules it is
// told and need not be.
func TestAuditCards(t *testing.T) {
	oneByOne(t)
	h, err := open(options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		name, says string
		spoil      func()
		fails      bool
	}{
		{"sound", "roles; findings: 0", func() {}, false},
		{"stray", "learning.yaml:9: card stray", func() {
			h.rules.Cards = append(h.rules.Cards, &planner.Card{ID: "stray", Where: "learning.yaml:9", Case: h.rules.NewCase()})
		}, true},
		{"in a practice", "learning.yaml:9: card stray", func() { h.rules.Practice = &planner.Practice{} }, false},
	} {
		tc.spoil()
		var out strings.Builder
		if err := auditCards(h, surroundings{out: &out}); (err != nil) != tc.fails || !strings.Contains(out.String(), tc.says) {
			t.Errorf("%s: error %v, printed %q", tc.name, err, out.String())
		}
	}
}

// TestStrayArticles finds nothing in the built-in cards, and what is not there.
func TestStrayArticles(t *testing.T) {
	rules := planner.MustLoad()
	base, err := kb.Load(kb.Articles())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range strayArticles(rules, base) {
		t.Error(f)
	}
	rules.Cards = append(rules.Cards, &planner.Card{ID: "stray", Where: "learning.yaml:9", Article: "firstweek-never", Read: []string{"no-such-page"}})
	rules.Roles = append(rules.Roles, &planner.Role{Name: "porter", Where: "learning.yaml:2", Page: "firstweek-porter"})
	want := `[learning.yaml:2: the porter names "firstweek-porter", which is no article: mend the id, or write the article ` +
		`learning.yaml:9: card stray names "no-such-page", which is no article: mend the id, or write the article]`
	if got := fmt.Sprint(strayArticles(rules, base)); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
