package page

import (
	"crypto/rand"
	"slices"
	"sync"
	"time"

	"mortarboard/bot/talk"
)

// What is kept, all in memory.
const (
	keptFor   = 12 * time.Hour // a case unused for longer is dropped
	keptCases = 500            // cases of all visitors
	keptOwned = 20             // cases of one visitor
	keptCards = 40             // cards of one case; the oldest is dropped first
)

// A card is one question with its answer.
type card struct {
	N        int // 1 for the first of its case
	Question string
	At       time.Time
	Reply    talk.Reply
}

// A file is one case: a conversation of one visitor, with an address of its own.
type file struct {
	id, owner string
	turn      chan struct{} // held while a question of this case is worked on
	used      time.Time
	cards     []card // oldest first
	last      int    // number of the newest card
}

// A store keeps the cases. Its files are touched only under its lock.
type store struct {
	mu    sync.Mutex
	files map[string]*file
}

func newStore() *store { return &store{files: map[string]*file{}} }

// open begins a case and drops those that are too old or too many.
func (s *store) open(owner string, now time.Time) *file {
	s.mu.Lock()
	defer s.mu.Unlock()
	f := &file{id: rand.Text(), owner: owner, turn: make(chan struct{}, 1), used: now}
	s.files[f.id] = f
	for id, other := range s.files {
		if now.Sub(other.used) > keptFor {
			delete(s.files, id)
		}
	}
	s.trim(keptOwned, func(other *file) bool { return other.owner == owner }, f)
	s.trim(keptCases, func(*file) bool { return true }, f)
	return f
}

// trim drops the longest unused of the files that belong, down to limit; keep
// stays.
func (s *store) trim(limit int, belongs func(*file) bool, keep *file) {
	var found []*file
	for _, f := range s.files {
		if belongs(f) && f != keep {
			found = append(found, f)
		}
	}
	slices.SortFunc(found, func(a, b *file) int { return a.used.Compare(b.used) })
	for i := 0; i < len(found)-(limit-1); i++ {
		delete(s.files, found[i].id)
	}
}

// find gives a visitor's own case; somebody else's is as good as none.
func (s *store) find(owner, id string, now time.Time) (*file, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f, ok := s.files[id]
	if !ok || f.owner != owner || now.Sub(f.used) > keptFor {
		return nil, false
	}
	f.used = now
	return f, true
}

// put files a card on top of its case. The question of a private reply may name
// a patient: it is not kept.
func (s *store) put(f *file, c card) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if c.Reply.Private {
		c.Question, c.Reply.Question = "", ""
	}
	f.last++
	c.N = f.last
	f.cards = append(f.cards, c)
	if len(f.cards) > keptCards {
		f.cards = slices.Delete(f.cards, 0, 1)
	}
}

// cards are a case's cards, newest first.
func (s *store) cards(f *file) []card {
	s.mu.Lock()
	defer s.mu.Unlock()
	cards := slices.Clone(f.cards)
	slices.Reverse(cards)
	return cards
}

// card finds one card of a case by its number.
func (s *store) card(f *file, n int) (card, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	i := slices.IndexFunc(f.cards, func(c card) bool { return c.N == n })
	if i < 0 {
		return card{}, false
	}
	return f.cards[i], true
}
