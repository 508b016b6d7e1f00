package kb

// A phraseTree maps sequences of stems to canonical tokens.
type phraseTree struct {
	next map[string]*phraseTree
	to   []string // set where a phrase ends
	end  bool
}

func (t *phraseTree) add(stems, to []string) {
	for _, s := range stems {
		if t.next == nil {
			t.next = map[string]*phraseTree{}
		}
		if t.next[s] == nil {
			t.next[s] = &phraseTree{}
		}
		t = t.next[s]
	}
	t.to, t.end = to, true
}

// longest returns what the longest phrase at the start of stems maps to, and
// how many stems it takes; 0 when there is none.
func (t *phraseTree) longest(stems []string) (to []string, taken int) {
	for i, s := range stems {
		t = t.next[s]
		if t == nil {
			break
		}
		if t.end {
			to, taken = t.to, i+1
		}
	}
	return to, taken
}

// exactly returns what exactly these stems map to.
func (t *phraseTree) exactly(stems []string) (to []string, ok bool) {
	to, n := t.longest(stems)
	return to, n > 0 && n == len(stems)
}
