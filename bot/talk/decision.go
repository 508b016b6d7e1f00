package talk

import (
	"slices"

	"mortarboard/planner"
)

// What the dentist has decided counts in the thread of a plan: "Dr … says bond". The
// steps then follow it wherever no decisive reason speaks against it. Outside such a
// thread the same words only weigh one against the other: "boss says bond, who's right?"

// decision is the side that a message says is decided, or nothing.
func (t *Talk) decision(turn *turn) planner.Strategy {
	if !turn.past.Planned || turn.fresh || turn.whatIf || t.questioned(turn) || t.words.holds("denies", turn.tokens) {
		return ""
	}
	var said []planner.Strategy
	for _, side := range []planner.Strategy{planner.Bond, planner.Cement} {
		if t.words.has("decide-"+string(side), turn.tokens) {
			said = append(said, side)
		}
	}
	if len(said) != 1 {
		return ""
	}
	return said[0]
}

// withDecision notes in the case what was decided.
func (t *Talk) withDecision(turn *turn, c planner.Case) planner.Case {
	side := t.decision(turn)
	i := slices.IndexFunc(t.book.Facts, func(f *planner.Fact) bool { return f.Decides })
	if side == "" || i < 0 {
		return c
	}
	fact := t.book.Facts[i].Name
	next, err := c.Without(fact).With(fact, string(side))
	if err != nil {
		return c
	}
	return next
}

// decidedNotice says how a decision stands to the rules, where the two differ.
func (t *Talk) decidedNotice(p *planner.Plan) []string {
	if p.Decided == "" || p.Decided == p.Strategy {
		return nil
	}
	var against []string
	for _, a := range grounds(p) {
		if a.Weight == planner.Decisive && a.For != p.Decided {
			against = append(against, a.Because)
		}
	}
	return []string{t.say("decided", map[string]any{"Side": string(p.Decided), "Followed": p.Followed(), "Against": against, "Verdict": t.verdict(p.Verdict)})}
}
