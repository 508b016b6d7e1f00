package planner

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "rewrite the golden list of the cards' answers")

// Least numbers of cards: in all, and for one role.
const (
	leastCards   = 60
	leastForRole = 25
)

// TestCards proves every card, and that each role has enough of them.
func TestCards(t *testing.T) {
	b := builtIn()
	for _, f := range b.AuditCards() {
		t.Error(f)
	}
	if len(b.Cards) < leastCards {
		t.Errorf("%d cards stand, wanted at least %d", len(b.Cards), leastCards)
	}
	kinds := map[CardKind]int{}
	for _, c := range b.Cards {
		kinds[c.Kind()]++
	}
	for _, kind := range []CardKind{AsksStrategy, AsksSetting, AsksOrder, AsksSafety} {
		if kinds[kind] < 8 {
			t.Errorf("%d cards ask for %s, wanted at least 8", kinds[kind], kind)
		}
	}
	for _, role := range b.Roles {
		if n := len(b.CardsFor(role.Name)); n < leastForRole {
			t.Errorf("%d cards are for the %s, wanted at least %d", n, role.Name, leastForRole)
		}
	}
}

const cardAnswers = "../testdata/learning-answers.txt"

// TestCardAnswers holds what the rules answer to each card, so that a change of a
// rule that turns one shows.
func TestCardAnswers(t *testing.T) {
	got := "# What the rules answer to each card: id, what it asks for, the right answer, what the others are, what it rests on.\n" +
		strings.Join(answersOf(builtIn()), "\n") + "\n"
	if *update {
		if err := os.WriteFile(cardAnswers, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(cardAnswers)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the answers differ from %s; run with -update and read the diff", cardAnswers)
	}
}

// answersOf writes one line a card.
func answersOf(b *Rulebook) []string {
	var lines []string
	for _, c := range b.Cards {
		s, _ := b.Solve(c)
		others := slices.DeleteFunc(slices.Clone(s.Options), func(o string) bool { return o == s.Right })
		lines = append(lines, fmt.Sprintf("%s | %s | %s | not: %s | %s", c.ID, c.Kind(), s.Right, strings.Join(others, " / "), groundOf(c, s)))
	}
	return lines
}

// groundOf names the rows that a card's answer rests on.
func groundOf(c *Card, s Solution) string {
	switch {
	case s.Setting != nil:
		return s.Setting.ID + ": " + s.Setting.String()
	case c.Rests != nil:
		return c.Rests.ID
	case c.Article != "":
		return "article " + c.Article
	}
	var ids []string
	for _, step := range s.Steps {
		ids = append(ids, step.ID)
	}
	if ids == nil {
		for _, a := range s.Plan.Reasons {
			ids = append(ids, a.ID)
		}
	}
	return strings.Join(ids, ", ")
}

// TestCardsTurned spoils one rule at a time: the answer of a card turns, or the
// proof of the cards says which of them has none any more.
func TestCardsTurned(t *testing.T) {
	for _, tc := range []struct {
		edit edit
		card string
		want string // the new answer, or what the proof says
	}{
		{edit{"arguments.yaml", "strong-and-retentive", "for: cement", "for: bond"}, "retentive-3y", "card retentive-3y comes to depends (it hangs on wall_mm): tell it, or write depends: true"},
		{edit{"arguments.yaml", "thinner-than-tested", `"< 0.5"`, `">= 0.5"`}, "wall-too-thin", "cement"},
		{edit{"parameters.yaml", "abrasion-pressure-3y", "low: 1.5", "low: 2"}, "pressure-3y", "2 bar"},
		{edit{"arguments.yaml", "dentin-margin", "weight: strong", "weight: weak"}, "translucent-dentin", "card translucent-dentin says that it depends and comes to bond: take depends away"},
		{edit{"parameters.yaml", "abrasion-pressure-silica", "abrasive: [silica-coated alumina]", "abrasive: [alumina]"}, "pressure-3y", "card pressure-3y is answered by 2 settings of abrasion.pressure: tell a case with exactly one"},
		{edit{"steps.yaml", "dust-off", "    do:", "    when: {cement: [zinc phosphate]}\n    do:"}, "order-prime-cement", "Prime it with MDP"},
		{edit{"steps.yaml", "adhesive", "substrate: [dentin,", "vitality: [vital], substrate: [dentin,"}, "order-after-etch", "card order-after-etch names step adhesive, which hangs on vitality: tell it"},
	} {
		files := copied(t, Rules())
		spoil(t, files, tc.edit)
		b, err := Load(files)
		if err != nil {
			t.Errorf("%s: %v", tc.edit.row, err)
			continue
		}
		c, ok := b.Card(tc.card)
		if !ok {
			t.Fatalf("there is no card %s", tc.card)
		}
		s, _ := b.Solve(c)
		if told := "card " + tc.card + " " + b.wrongWith(c); s.Right != tc.want && told != tc.want {
			t.Errorf("%s spoiled: %s is answered %q, the proof says %q; wanted %q", tc.edit.row, tc.card, s.Right, told, tc.want)
		}
	}
}

// TestCardsAtHome holds what house rules make of a setting's answers: the right
// one follows, and what the house lets in is no wrong answer any more.
func TestCardsAtHome(t *testing.T) {
	b := builtIn()
	c, _ := b.Card("pressure-3y")
	for _, tc := range []struct {
		low, high float64
		want      string
	}{
		{2, 2.5, "2 bar of [0.5 bar 2 bar 4 bar 6 bar]"},
		{1.5, 4, "1.5 bar of [0.5 bar 1.5 bar 6 bar]"},
	} {
		approved := Approval{By: "the lead", On: Date{time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)}}
		house := House{Envelopes: []*Envelope{{Parameter: "abrasion-pressure-3y", Low: &tc.low, High: &tc.high, Because: "So.", Approved: approved}}}
		next, err := b.under(&Practice{}, house)
		if err != nil {
			t.Fatal(err)
		}
		s, ok := next.Solve(c)
		if got := fmt.Sprintf("%s of %v", s.Right, s.Options); !ok || got != tc.want {
			t.Errorf("with %v to %v: got %s, wanted %s", tc.low, tc.high, got, tc.want)
		}
	}
}
