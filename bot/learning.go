package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"mortarboard/bot/ledger"
	"mortarboard/bot/slack"
	"mortarboard/bot/talk"
	"mortarboard/kb"
	"mortarboard/planner"
)

// cards keeps how far each person is with the cards in the ledger.
type cards struct{ ledger *ledger.Ledger }

// Cards reads how far a person is.
func (c cards) Cards(_ context.Context, person string) ([]talk.Learned, error) {
	kept, err := c.ledger.Cards(person)
	var out []talk.Learned
	for _, k := range kept {
		out = append(out, talk.Learned{Card: k.Item, Box: k.Box, Due: k.Due})
	}
	return out, err
}

// Save writes how far a person is with one card.
func (c cards) Save(_ context.Context, person string, l talk.Learned) error {
	return c.ledger.SaveCard(person, ledger.Card{Item: l.Card, Box: l.Box, Due: l.Due})
}

// Forget removes a person's cards and nothing else.
func (c cards) Forget(_ context.Context, person string) error { return c.ledger.ForgetCards(person) }

// addLearning puts a person's learning on top of their home tab.
func addLearning(ctx context.Context, home *slack.Home, conversation *talk.Talk, user string) error {
	section, choices, err := conversation.MyLearning(ctx, user)
	if err != nil {
		return err
	}
	home.Sections = slices.Insert(home.Sections, 0, section)
	home.Choices = append(home.Choices, choices...)
	return nil
}

// addMissed shows a lead which cards the team finds hard, and of nobody who.
func addMissed(home *slack.Home, conversation *talk.Talk, kept *ledger.Ledger) error {
	missed, err := kept.Missed()
	people := map[string]int{}
	for _, m := range missed {
		people[m.Item] = m.People
	}
	if section := conversation.Missed(people); len(section.Lines) > 0 {
		home.Sections = append(home.Sections, section)
	}
	return err
}

// auditCards proves the cards and writes what is wrong with them. With a practice's
// rules a card may have another answer or none, which is for the practice to know
// and not to mend.
func auditCards(h house, s surroundings) error {
	found := h.rules.AuditCards()
	lost := strayArticles(h.rules, h.articles.Base())
	for _, f := range append(found, lost...) {
		fmt.Fprintln(s.out, f)
	}
	fmt.Fprintf(s.out, "cards: %d for %d roles; findings: %d\n", len(h.rules.Cards), len(h.rules.Roles), len(found)+len(lost))
	if h.rules.Practice == nil && len(found)+len(lost) > 0 {
		return errors.New("a card has to be mended, see above")
	}
	return nil
}

// strayArticles lists what cards and roles name that is no article.
func strayArticles(rules *planner.Rulebook, base *kb.Base) []planner.Finding {
	var found []planner.Finding
	look := func(where, of, id string) {
		if _, ok := base.Article(id); !ok {
			found = append(found, planner.Finding{Where: where, What: fmt.Sprintf("%s names %q, which is no article: mend the id, or write the article", of, id)})
		}
	}
	for _, role := range rules.Roles {
		look(role.Where, "the "+role.Name, role.Page)
	}
	for _, c := range rules.Cards {
		for _, id := range c.Articles() {
			look(c.Where, "card "+c.ID, id)
		}
	}
	return found
}
