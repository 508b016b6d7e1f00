package ledger

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// boxMost is the highest box there may be.
const boxMost = 100

// A Card is how far one person is with one item, and when it is due again. What
// a box means is the caller's affair.
type Card struct {
	Item string    `json:"-"` // an id
	Box  int       `json:"box"`
	Due  time.Time `json:"due"`
}

// SaveCard keeps how far a person is with an item, in place of what was kept
// before.
func (l *Ledger) SaveCard(person string, c Card) error {
	err := cmp.Or(checkName("a person", person), checkID("item", c.Item))
	if err == nil && (c.Box < 0 || c.Box > boxMost || c.Due.IsZero()) {
		err = fmt.Errorf("box %d, due %v: boxes are 0 to %d, and a time must be given", c.Box, c.Due, boxMost)
	}
	if err == nil {
		key := l.hidden("person", person) + c.Item
		err = l.update(func(x turn) error { return l.learning.store(x, key, c) })
	}
	return doing("save a card", err)
}

// Cards returns a person's cards, the earliest due first.
func (l *Ledger) Cards(person string) (cards []Card, err error) {
	who := l.hidden("person", person)
	err = l.view(func(x turn) error {
		rows, err := l.learning.live(x, "", who)
		for _, e := range rows {
			c := Card{Item: e.key[len(who):]}
			if err := json.Unmarshal(e.value, &c); err != nil {
				return err
			}
			cards = append(cards, c)
		}
		return err
	})
	slices.SortFunc(cards, func(a, b Card) int {
		return cmp.Or(a.Due.Compare(b.Due), cmp.Compare(a.Item, b.Item))
	})
	return cards, doing("read the cards", err)
}

// A Missed is an item that several people have in the lowest box.
type Missed struct {
	Item   string
	People int
}

// missedLeast is how many people an item needs to be told of, so that no count
// tells how one of them is doing.
const missedLeast = 3

// Missed lists the items that at least three people have in the lowest box, those
// of most people first. Who they are cannot be told from it.
func (l *Ledger) Missed() (missed []Missed, err error) {
	people := map[string]int{}
	err = l.view(func(x turn) error {
		rows, err := l.learning.live(x, "", "")
		for _, e := range rows {
			var c Card
			if err := json.Unmarshal(e.value, &c); err != nil {
				return err
			}
			if c.Box == 0 {
				people[e.key[hiddenSize:]]++
			}
		}
		return err
	})
	for item, n := range people {
		if n >= missedLeast {
			missed = append(missed, Missed{item, n})
		}
	}
	slices.SortFunc(missed, func(a, b Missed) int {
		return cmp.Or(cmp.Compare(b.People, a.People), cmp.Compare(a.Item, b.Item))
	})
	return missed, doing("list the missed cards", err)
}

// Forget removes all that is kept about a person: the cards, and who cast their
// votes. The counts that the votes went into stay.
func (l *Ledger) Forget(person string) error {
	return doing("forget a person", l.strike(person, l.learning, l.votes))
}

// ForgetCards removes a person's cards and nothing else.
func (l *Ledger) ForgetCards(person string) error {
	return doing("forget a person's cards", l.strike(person, l.learning))
}

// strike removes a person's rows from the tables.
func (l *Ledger) strike(person string, from ...table) error {
	who := l.hidden("person", person)
	return l.update(func(x turn) error {
		for _, t := range from {
			rows, err := t.list(x, "", who)
			if err != nil {
				return err
			}
			if err := t.removeAll(x, rows); err != nil {
				return err
			}
		}
		return nil
	})
}
