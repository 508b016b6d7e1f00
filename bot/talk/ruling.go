package talk

import (
	"context"
	"slices"

	"mortarboard/kb"
	"mortarboard/planner"
)

// A question of yes or no without a number is a check where the rules or an entry have
// a verdict on it: "zinc phosphate for a veneer?", "can I blast the outside". Where
// neither has, it is answered like any other question.

// asksForRuling reports whether the message asks with yes or no whether a thing may be
// done, and gives no number that a setting could judge and no case to plan.
func (t *Talk) asksForRuling(turn *turn) bool {
	w := turn.wants
	if w.help || w.calculation || len(turn.measures) > 0 || t.toldOf(turn) >= clearCase || t.words.is("asks-for-a-thing", turn.first()) {
		return false
	}
	return len(t.asksOK(turn)) > 0 || t.opensWithYesOrNo(turn) || t.asksOfCement(turn)
}

// asksOfCement reports whether a message names a cement with a question mark and asks for
// no plan: "zinc phosphate for a veneer?"
func (t *Talk) asksOfCement(turn *turn) bool {
	named := slices.ContainsFunc(turn.facts, func(s stated) bool {
		return s.fact == "cement" && s.at >= 0 && s.at < len(turn.tokens) && turn.tokens[s.at].question
	})
	return named && !t.words.has("plan", turn.tokens) && len(content(turn.tokens, t.words)) == 0
}

// opensWithYesOrNo reports whether some clause opens like a question to be answered
// by yes or no.
func (t *Talk) opensWithYesOrNo(turn *turn) bool {
	for i, token := range turn.tokens {
		first := i == 0 || turn.tokens[i-1].clause != token.clause
		if first && t.words.is("asks-yes-or-no", token.word) {
			return true
		}
	}
	return false
}

// ruled answers a question of yes or no by the plan of the case, by an entry that
// rules on the deed, or by what the choice of cement hangs on.
func (t *Talk) ruled(ctx context.Context, turn *turn, text string) (Reply, bool) {
	if !t.asksForRuling(turn) {
		return Reply{}, false
	}
	byPlan, asked := t.cementRuled(turn)
	if asked && byPlan.Verdict != string(planner.Unknown) {
		return byPlan, true
	}
	if r, ok := t.entryRuled(ctx, turn, text); ok {
		return r, true
	}
	return byPlan, asked
}

// entryRuled answers with an entry that rules out what is asked. None ever allows it.
func (t *Talk) entryRuled(ctx context.Context, turn *turn, text string) (Reply, bool) {
	found, err := t.articles.Base().Search(ctx, text, nearest)
	i := slices.IndexFunc(found.Hits, func(h kb.Hit) bool { return h.RulesOut })
	if err != nil || !found.Close || i < 0 {
		return Reply{}, false
	}
	found.Hits[0], found.Hits[i] = found.Hits[i], found.Hits[0]
	r := t.entry(found.Hits[0].Article, found)
	r.Kind, r.Verdict = KindCheck, string(planner.Outside)
	r.Headline = t.say("ruled out", r.Headline)
	return r, true
}

// cementRuled answers whether a cement will do, by the plan of the case. A message that
// tells of the case in sentences of their own wants the plan itself.
func (t *Talk) cementRuled(turn *turn) (Reply, bool) {
	i := slices.IndexFunc(turn.facts, func(s stated) bool { return s.fact == "cement" })
	if i < 0 || !turn.now.Known("restoration") && !turn.now.Known("zirconia") || t.plansApart(turn, turn.facts[i]) {
		return Reply{}, false
	}
	return t.heldAgainst(turn, classes(turn.facts[i].values)), true
}

// plansApart reports whether a plan is asked for in other words than those that name a
// fact, as "cement for" does in "glass ionomer cement for a 3Y crown, ok?", or whether
// facts are told in other clauses than the one of that fact.
func (t *Talk) plansApart(turn *turn, s stated) bool {
	clause := func(at int) int { return turn.tokens[max(0, at)].clause }
	named := slices.DeleteFunc(t.words.wide("facts", turn.tokens), func(f found) bool { return f.from != s.at })
	return slices.ContainsFunc(turn.facts, func(o stated) bool { return clause(o.at) != clause(s.at) }) ||
		slices.ContainsFunc(t.words.all("cue:plan", turn.tokens), func(f found) bool {
			return !slices.ContainsFunc(named, func(n found) bool { return overlap(n, f) })
		})
}
