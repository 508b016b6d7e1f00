package ledger

import (
	"cmp"
	"iter"
	"slices"
)

// runMost is how many keys stand in one run; twice as many are split.
const runMost = 256

// sorted is keys in order, in short runs, so that a key goes in or out without
// moving all that come after it.
type sorted struct{ runs [][]string } // no run is empty

// find returns where key stands or would stand.
func (s *sorted) find(key string) (run, at int, had bool) {
	run, _ = slices.BinarySearchFunc(s.runs, key, func(r []string, key string) int {
		return cmp.Compare(r[len(r)-1], key)
	})
	if run == len(s.runs) {
		return run, 0, false
	}
	at, had = slices.BinarySearch(s.runs[run], key)
	return run, at, had
}

// add takes in key, once.
func (s *sorted) add(key string) {
	run, at, had := s.find(key)
	switch {
	case had:
		return
	case len(s.runs) == 0:
		s.runs = [][]string{{key}}
		return
	case run == len(s.runs): // beyond the last
		run, at = run-1, len(s.runs[run-1])
	}
	r := slices.Insert(s.runs[run], at, key)
	s.runs[run] = r
	if len(r) >= 2*runMost {
		s.runs[run] = r[:runMost:runMost]
		s.runs = slices.Insert(s.runs, run+1, slices.Clone(r[runMost:]))
	}
}

// remove takes out key, if it is there.
func (s *sorted) remove(key string) {
	run, at, had := s.find(key)
	if !had {
		return
	}
	s.runs[run] = slices.Delete(s.runs[run], at, at+1)
	if len(s.runs[run]) == 0 {
		s.runs = slices.Delete(s.runs, run, run+1)
	}
}

// from yields the keys that are not below start.
func (s *sorted) from(start string) iter.Seq[string] {
	return func(yield func(string) bool) {
		run, at, _ := s.find(start)
		for ; run < len(s.runs); run, at = run+1, 0 {
			for _, key := range s.runs[run][at:] {
				if !yield(key) {
					return
				}
			}
		}
	}
}
