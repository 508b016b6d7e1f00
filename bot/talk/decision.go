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
	asks := t.questioned(turn) || t.asksAnything(turn)
	if !turn.past.Planned || turn.fresh || turn.whatIf || asks || t.words.holds("denies", turn.tokens) || t.words.holds("decides-nothing", turn.tokens) || len(turn.facts) > 0 {
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

// decisionFact is the fact that holds what the dentist has decided, nil if the rules have none.
func (t *Talk) decisionFact() *planner.Fact {
	i := slices.IndexFunc(t.book.Facts, func(f *planner.Fact) bool { return f.Decides })
	if i < 0 {
		return nil
	}
	return t.book.Facts[i]
}

// unsaysDecision reports whether a message takes back what was decided: "Dr … changed her
// mind", "we decided not to bond".
func (t *Talk) unsaysDecision(turn *turn) bool {
	f := t.decisionFact()
	if f == nil || !turn.before.Known(f.Name) || turn.fresh || t.questioned(turn) {
		return false
	}
	return t.words.has("decide-back", turn.tokens) || t.words.holds("denies", turn.tokens) && t.words.has("plan-word", turn.tokens)
}

// withDecision notes in the case what was decided, or that it no longer is.
func (t *Talk) withDecision(turn *turn, c planner.Case) planner.Case {
	f, side := t.decisionFact(), t.decision(turn)
	switch {
	case f == nil:
		return c
	case t.unsaysDecision(turn):
		return c.Without(f.Name)
	case side == "":
		return c
	}
	if next, err := c.Without(f.Name).With(f.Name, string(side)); err == nil {
		return next
	}
	return c
}

// decidedNotice says how a decision stands to the rules, where the two differ.
func (t *Talk) decidedNotice(p *planner.Plan) []string {
	if p.Decided == "" || p.Decided == p.Strategy {
		return nil
	}
	var against []string
	for _, a := range slices.Concat(grounds(p), p.Possible) { // what only may hold forbids it as well
		if a.Weight == planner.Decisive && a.For != p.Decided {
			against = appendNew(against, a.Because)
		}
	}
	return []string{t.say("decided", map[string]any{"Side": string(p.Decided), "Followed": p.Followed(), "Against": against, "Verdict": t.verdict(p.Verdict)})}
}
