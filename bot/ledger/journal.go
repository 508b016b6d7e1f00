package ledger

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode"
)

// placeMost is the greatest length of a place in bytes.
const placeMost = 512

// A Journal of deliveries and of places of type P, each where a delivery was
// acknowledged and is still to be answered. P is a struct of exported strings that
// say where, never what. Its methods have no errors because nobody who waits for
// an answer could mend one: they tell the log.
type Journal[P comparable] struct {
	ledger *Ledger
	name   string
}

// JournalOf returns the journal with this name: a surface's own, and with several
// processes on one store each one's own. A place of another type is not read.
func JournalOf[P comparable](l *Ledger, name string) Journal[P] { return Journal[P]{l, name} }

// Begin reports whether any of a delivery's keys was given in the last 24 hours,
// in this journal or another. If none was it remembers them all and, unless p is
// the zero place, notes that an answer is owed at p. This is one step: of any
// number that ask at once about a new key one is told no, and whatever stops the
// process, a key that is known has its place noted. The empty key is never known.
//
// If the ledger cannot be written it tells the log and remembers the keys in
// memory instead: better a question answered twice after a restart than one not
// answered at all.
func (j Journal[P]) Begin(keys []string, p P) (again bool) {
	l := j.ledger
	owed, hidden, now := j.owed(p), l.hiddenKeys(keys), l.o.Now()
	again, err := l.see(l.store, hidden, owed, now)
	if err != nil {
		l.failed("a delivery is remembered in memory only", err)
		again, _ = l.see(l.spare, hidden, "", now)
	}
	return again
}

// owed is the place's key, or empty if there is none to note.
func (j Journal[P]) owed(p P) string {
	var nowhere P
	if p == nowhere {
		return ""
	}
	key, err := j.key(p)
	if err != nil {
		j.ledger.failed("a question under way was not noted", err)
		return ""
	}
	return key
}

// End notes that the answer at p was given.
func (j Journal[P]) End(p P) {
	key, err := j.key(p)
	if err == nil {
		err = j.ledger.update(func(x turn) error { return j.ledger.journal.remove(x, key) })
	}
	j.ledger.failed("an answered question still counts as under way", err)
}

// Unfinished returns where an answer is owed since at most seven days, the
// longest owed first.
func (j Journal[P]) Unfinished() []P {
	var places []P
	err := j.ledger.view(func(x turn) error {
		t := j.ledger.journal
		rows, err := t.oldest(x, t.most)
		for _, e := range rows {
			if p, ok := j.place(e.key); ok && !t.expired(e, x) {
				places = append(places, p)
			}
		}
		return err
	})
	j.ledger.failed("questions under way at the last stop are not known", err)
	return places
}

// key is how a place stands in the ledger.
func (j Journal[P]) key(p P) (string, error) {
	raw, err := json.Marshal(p)
	if err != nil {
		return "", fmt.Errorf("a place that is no plain struct: %w", err)
	}
	if len(raw) > placeMost || strings.ContainsFunc(string(raw), isOfText) {
		return "", fmt.Errorf("a place of %d bytes: at most %d are allowed, without blanks, breaks and escapes", len(raw), placeMost)
	}
	return j.name + "=" + string(raw), checkID("journal", j.name)
}

// isOfText reports whether r shows that words were put where a place should be.
func isOfText(r rune) bool { return r == '\\' || unicode.IsSpace(r) }

// place reads a key of this journal.
func (j Journal[P]) place(key string) (p P, ok bool) {
	raw, ours := strings.CutPrefix(key, j.name+"=")
	d := json.NewDecoder(strings.NewReader(raw))
	d.DisallowUnknownFields()
	return p, ours && d.Decode(&p) == nil
}
