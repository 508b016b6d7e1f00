package talk

import (
	"context"
	"slices"
	"sync"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// Remembered is what a thread keeps between messages. It holds facts of the
// case and nothing that anybody wrote.
type Remembered struct {
	Facts    map[string][]string      `json:"facts,omitempty"`    // choice facts → values still possible
	Ranges   map[string]planner.Range `json:"ranges,omitempty"`   // measured facts
	WhatIf   *Remembered              `json:"what_if,omitempty"`  // the last what-if, until it is kept or left
	Doubted  []string                 `json:"doubted,omitempty"`  // facts that may not be presumed
	Keys     []string                 `json:"keys,omitempty"`     // parameters of the last answer, for "and on 5Y?"
	Said     []sums.Quantity          `json:"said,omitempty"`     // numbers of the last check or conversion, for "and on 5Y?"
	Worked   Worked                   `json:"worked,omitzero"`    // the last calculation, for "and 40 s"
	Entry    string                   `json:"entry,omitempty"`    // article of the last answer
	Asked    []string                 `json:"asked,omitempty"`    // facts that the last plan asked for
	Last     Kind                     `json:"last,omitempty"`     // kind of the last answer
	Planned  bool                     `json:"planned,omitempty"`  // a plan has been given
	Offered  bool                     `json:"offered,omitempty"`  // the last answer gave a plan, or spoke of a run
	Run      *Run                     `json:"run,omitempty"`      // the plan being worked through, if it is
	Products []string                 `json:"products,omitempty"` // products of the shelf that the last answer was about
	Dealt    Dealt                    `json:"dealt,omitzero"`     // the last card
}

// A Memory keeps what threads remember. Load of an unknown thread gives the
// zero value.
type Memory interface {
	Load(ctx context.Context, thread string) (Remembered, error)
	Save(ctx context.Context, thread string, r Remembered) error
}

// A Scratchpad is a Memory that ends with the process.
type Scratchpad struct {
	mu      sync.Mutex
	threads map[string]Remembered
}

// Load returns what the thread remembers.
func (s *Scratchpad) Load(_ context.Context, thread string) (Remembered, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.threads[thread], nil
}

// Save keeps what the thread remembers.
func (s *Scratchpad) Save(_ context.Context, thread string, r Remembered) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.threads == nil {
		s.threads = map[string]Remembered{}
	}
	s.threads[thread] = r
	return nil
}

// remember writes a case down.
func remember(c planner.Case) Remembered {
	r := Remembered{Facts: map[string][]string{}, Ranges: map[string]planner.Range{}}
	r.Doubted = c.Doubted()
	for _, fact := range c.Facts() {
		if span, ok := c.Measure(fact); ok {
			r.Ranges[fact] = span
		} else {
			r.Facts[fact] = c.Values(fact)
		}
	}
	return r
}

// stillKnown is what a thread remembers without the names that the rules no longer
// know, so that an update of the rules does not lose a thread.
func stillKnown(book *planner.Rulebook, r Remembered) Remembered {
	fact := func(name string) bool { _, ok := book.Fact(name); return !ok }
	key := func(name string) bool { return !slices.Contains(book.Keys(), name) }
	r.Asked = slices.DeleteFunc(slices.Clone(r.Asked), fact)
	r.Doubted = slices.DeleteFunc(slices.Clone(r.Doubted), fact)
	r.Keys = slices.DeleteFunc(slices.Clone(r.Keys), key)
	return r
}

// caseOf reads a case back. What the rules no longer know is
// dropped.
func caseOf(book *planner.Rulebook, r Remembered) planner.Case {
	c := book.NewCase()
	for fact, values := range r.Facts {
		if next, err := c.With(fact, values...); err == nil {
			c = next
		}
	}
	for fact, span := range r.Ranges {
		if next, err := c.WithRange(fact, span); err == nil {
			c = next
		}
	}
	return c.Doubting(r.Doubted...)
}

// contractCase writes a case the way the answer contract shows it: choice facts
// as their values, a measured one as a list of one number. Of a range that is the
// number that was said; the text of the answer says which way it goes.
func contractCase(c planner.Case) map[string][]any {
	out := map[string][]any{}
	for _, fact := range c.Facts() {
		if _, measured := c.Measure(fact); measured {
			said, _ := c.Said(fact)
			out[fact] = []any{said}
			continue
		}
		for _, v := range c.Values(fact) {
			out[fact] = append(out[fact], v)
		}
	}
	return out
}
