package talk

import (
	"fmt"
	"testing"
)

// neutral are messages around a phrase that say nothing of its facts.
var neutral = []string{"40 s, %s", "%s, 40 s", "%s. we blast at 1 bar", "50 psi. %s", "5Y crown, %s", "%s, 5Y crown"}

// TestNeutralClause checks that what stands in another clause takes no fact away:
// "prep short" must not be lost behind "40 s". A fact may become doubted, since
// that is asked for; it may not vanish or change.
func TestNeutralClause(t *testing.T) {
	oneByOne(t)
	bot := testTalk(t)
	checked := 0
	for _, p := range readPhrasings(t) {
		alone := bot.readFacts(p.message)
		for _, around := range neutral {
			message := fmt.Sprintf(around, p.message)
			got := bot.readFacts(message)
			for fact, value := range alone {
				if fact == "zirconia" || fact == "restoration" || value == doubted {
					continue // the clauses around speak of these
				}
				checked++
				if got[fact] != value && got[fact] != doubted {
					t.Errorf("phrases.tsv:%d: %q: %s is %q, without the clause around it %q", p.line, message, fact, got[fact], value)
				}
			}
		}
	}
	if checked < 10000 {
		t.Errorf("%d facts were checked; the file holds more", checked)
	}
}

const doubted = "doubted"

// readFacts is what a message states and leaves in doubt, fact by fact.
func (t *Talk) readFacts(message string) map[string]string {
	r := t.words.read(message, t.book)
	out := map[string]string{}
	for _, s := range r.facts {
		out[s.fact] = fmt.Sprint(s.values)
		if s.within != nil {
			out[s.fact] = fmt.Sprint(*s.within)
		}
	}
	for _, d := range r.doubted {
		out[d.fact] = doubted
	}
	return out
}
