package page

import (
	"fmt"
	"testing"
	"time"

	"mortarboard/bot/talk"
)

func TestStoreIsBounded(t *testing.T) {
	s, now := newStore(), time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	first := s.open("ann", now)
	for i := range keptOwned {
		s.open("ann", now.Add(time.Duration(i+1)*time.Second))
	}
	if _, ok := s.find("ann", first.id, now); ok || len(s.files) != keptOwned {
		t.Errorf("%d cases of one visitor, the oldest kept: %v", len(s.files), ok)
	}
	for i := range 2 * keptCases {
		s.open(fmt.Sprint("visitor", i), now.Add(time.Minute))
	}
	if len(s.files) != keptCases {
		t.Errorf("%d cases, want %d", len(s.files), keptCases)
	}
	s.open("ann", now.Add(keptFor+2*time.Minute))
	if len(s.files) != 1 {
		t.Errorf("%d cases after half a day, want 1", len(s.files))
	}
}

func TestStoreDropsTheOldestCards(t *testing.T) {
	s, now := newStore(), time.Now()
	f := s.open("ann", now)
	for i := range keptCards + 3 {
		s.put(f, card{Question: fmt.Sprint("question ", i+1)})
	}
	cards := s.cards(f)
	if len(cards) != keptCards || cards[0].N != keptCards+3 || cards[len(cards)-1].N != 4 {
		t.Errorf("%d cards, newest %d, oldest %d", len(cards), cards[0].N, cards[len(cards)-1].N)
	}
	if _, ok := s.card(f, 3); ok {
		t.Error("a dropped card is found")
	}
	if c, ok := s.card(f, 4); !ok || c.Question != "question 4" {
		t.Errorf("card 4 is %+v", c)
	}
}

func TestStoreForgetsPrivateQuestions(t *testing.T) {
	s := newStore()
	f := s.open("ann", time.Now())
	s.put(f, card{Question: "name", Reply: talk.Reply{Question: "name", Private: true}})
	if c, _ := s.card(f, 1); c.Question != "" || c.Reply.Question != "" {
		t.Errorf("kept: %+v", c)
	}
}

func TestPace(t *testing.T) {
	p, now := newPace(6), time.Now() // two at once, one more each 10 s
	take := func(id string, after time.Duration) time.Duration {
		now = now.Add(after)
		wait, ok := p.take(id, now)
		if ok != (wait == 0) {
			t.Fatalf("ok is %v with a wait of %v", ok, wait)
		}
		return wait
	}
	for i, step := range []struct {
		after, want time.Duration
	}{
		{0, 0}, {0, 0}, {0, 10 * time.Second}, {4 * time.Second, 6 * time.Second}, {6 * time.Second, 0},
		{time.Hour, 0}, {0, 0}, {0, 10 * time.Second}, {-time.Hour, 10 * time.Second}, // a clock set back earns nothing
	} {
		if got := take("ann", step.after); got != step.want {
			t.Errorf("step %d: wait %v, want %v", i, got, step.want)
		}
	}
}

// TestPaceTogether: many browsers together may not do more than ten times what
// one may, and what is remembered of them is bounded.
func TestPaceTogether(t *testing.T) {
	p, now := newPace(6), time.Now()
	allowed := 0
	for i := range 5 * pacedVisitors {
		if _, ok := p.take(fmt.Sprint(i), now); ok {
			allowed++
		}
	}
	if want := 2 * togetherTimes; allowed != want {
		t.Errorf("%d allowed at once, want %d", allowed, want)
	}
	if len(p.visitors) > pacedVisitors {
		t.Errorf("%d visitors remembered, want at most %d", len(p.visitors), pacedVisitors)
	}
}
