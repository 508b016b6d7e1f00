package talk

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestUsages takes every usage out of the vocabulary, one at a time: its example has to
// be read otherwise then. A usage that changes nothing is of no use.
func TestUsages(t *testing.T) {
	x := testTalk(t).words
	without := map[string]*lexicon{} // example → the lexicon that lacks its usage
	leaveOut(without, x, x.ofOtherFact, func(y *lexicon, u usages[found]) { y.ofOtherFact = u })
	leaveOut(without, x, x.notTold, func(y *lexicon, u usages[found]) { y.notTold = u })
	leaveOut(without, x, x.denials, func(y *lexicon, u usages[found]) { y.denials = u })
	leaveOut(without, x, x.mistrust, func(y *lexicon, u usages[stated]) { y.mistrust = u })
	for i, j := range x.joinings {
		y := *x
		y.joinings = slices.Delete(slices.Clone(x.joinings), i, i+1)
		without[j.example] = &y
	}
	if len(without) < 30 {
		t.Errorf("%d examples, wanted one for each usage", len(without))
	}
	for example, y := range without {
		if with, lacking := reads(t, x, example), reads(t, y, example); with == lacking {
			t.Errorf("%q is read as %s with and without its usage", example, with)
		}
	}
}

// leaveOut adds a lexicon without it for each usage of a table.
func leaveOut[T any](without map[string]*lexicon, x *lexicon, table usages[T], set func(*lexicon, usages[T])) {
	for i, u := range table {
		y := *x
		set(&y, slices.Delete(slices.Clone(table), i, i+1))
		without[u.example] = &y
	}
}

// reads is what a message is read to say, in one line.
func reads(t *testing.T, x *lexicon, message string) string {
	t.Helper()
	r := x.read(message, testTalk(t).book)
	var out []string
	for _, f := range r.facts {
		out = append(out, f.fact+"="+f.written())
	}
	for _, d := range r.doubted {
		out = append(out, d.fact+" in doubt")
	}
	return fmt.Sprint(strings.Join(out, "; "), r.conflicts)
}
