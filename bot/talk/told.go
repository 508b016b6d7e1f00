package talk

import (
	"context"
	"slices"

	"mortarboard/planner"
)

// tellsAlone reports whether a message only tells of a case: "finish line at the gum",
// "crown rocks on the prep". It asks nothing, and tells what can change a plan, or a
// finding that stops one, or a trouble with a tooth that it names.
func (t *Talk) tellsAlone(turn *turn) bool {
	switch {
	case t.asksOutright(turn) || t.words.has("seated", turn.tokens):
		return false
	case t.tellsStop(turn):
		return true
	case slices.ContainsFunc(turn.facts, t.isTrouble):
		return t.tellsOfTooth(turn)
	case t.isHeading(turn):
		return false
	}
	weighs := func(s stated) bool { return t.weighs(turn, s) }
	return slices.ContainsFunc(turn.facts, weighs) || t.tellsOfTooth(turn)
}

// weighs reports whether a fact by itself makes a case: it can change the verdict, is
// more than the name of the work, and told by no word with many other uses.
func (t *Talk) weighs(turn *turn, s stated) bool {
	return t.decides(s) && !slices.Contains(t.words.words.Given, s.fact) && !t.isCommon(turn, s)
}

// tellsOfTooth reports whether a message names the tooth or the work, and tells of it what
// is worth a plan: what is known beside a trouble has to settle it.
func (t *Talk) tellsOfTooth(turn *turn) bool {
	said := func(fact string) bool { return turn.says(fact) }
	told := slices.ContainsFunc(turn.facts, func(s stated) bool {
		return t.isTrouble(s) || !slices.Contains(t.words.words.Given, s.fact) && !t.isSelector(s)
	})
	if trouble := slices.ContainsFunc(turn.facts, t.isTrouble); trouble && !said("position") && !said("zirconia") {
		return said("restoration") && t.book.Plan(turn.now).Flat()
	}
	return told && (said("position") || said("zirconia") || said("restoration"))
}

// headingWords is how many words a heading has at most.
const headingWords = 7

// isHeading reports whether a short message names something that is done, or a setting of
// it, and what it is done to: "primer on titanium" is no case.
func (t *Talk) isHeading(turn *turn) bool {
	if len(turn.tokens) > headingWords {
		return false
	}
	for _, list := range []string{"tasks", "parameters", "dimensions"} {
		for _, f := range t.words.all(list, turn.tokens) {
			if !spent(turn.tokens, f) {
				return true
			}
		}
	}
	return false
}

// tellsStop reports whether something found is told, and the plan stops.
func (t *Talk) tellsStop(turn *turn) bool {
	found := slices.ContainsFunc(turn.facts, func(s stated) bool { return t.fact(s.fact).Told && !t.words.clears(s) })
	return found && t.book.Plan(turn.now).Strategy == planner.Stop
}

func (t *Talk) isTrouble(s stated) bool { return slices.Contains(t.words.words.Troubles, s.fact) }

// isSelector reports whether a fact only selects a setting, as a cement does.
func (t *Talk) isSelector(s stated) bool { return t.fact(s.fact).Selector }

// isCommon reports whether the words of a value have many other uses, as bleeding has where
// no field is spoken of.
func (t *Talk) isCommon(turn *turn, s stated) bool {
	return !t.words.holds("speaks-of-the-field", turn.tokens) && slices.ContainsFunc(s.values, func(v string) bool { return slices.Contains(t.words.words.Common[s.fact], v) })
}

// asksOutright reports whether the message puts a question, by its mark or its words: "how
// do I", "do we still need", but not "it bled when I took it off", "might just manage".
func (t *Talk) asksOutright(turn *turn) bool {
	if t.leads("article", turn.tokens) || t.words.has("act", turn.tokens) || t.words.has("plan", turn.tokens) {
		return true
	}
	for i, word := range turn.tokens {
		thing := t.words.is("asks-for-a-thing", word.word) && (i == 0 || !t.words.is("goes-on-telling", word.word))
		if word.question || thing || t.asksOf(turn.tokens, i) {
			return true
		}
	}
	return false
}

// asksOf reports whether a token and the one behind it open a question of yes or no.
func (t *Talk) asksOf(tokens []token, i int) bool {
	opensOne := t.words.is("asks-yes-or-no", tokens[i].word) || t.words.is("opens-a-question", tokens[i].word)
	next := wordBehind(tokens, i)
	person := t.words.is("does-it", next) && (i == 0 || !t.words.is("tells-what-was", tokens[i].word))
	thing := t.words.is("points-at-the-thing", next) || t.words.is("stands-for-the-thing", next)
	return opensOne && !t.words.is("goes-without-its-subject", next) && (i == 0 || person || opens(tokens, i) && thing)
}

// keepGeneral keeps a question about the trade in general from telling of the case: "how
// come eugenol is bad for resin bonding" is no news of the provisional cement.
func (t *Talk) keepGeneral(turn *turn) {
	general := turn.wants.article && len(turn.tokens) > 0 && t.words.has("general", turn.tokens[:min(generalWords, len(turn.tokens))])
	if !general || t.words.has("act", turn.tokens) || t.words.holds("told-as-past", turn.tokens) {
		return
	}
	turn.facts = slices.DeleteFunc(turn.facts, func(s stated) bool { return !slices.Contains(t.words.words.Given, s.fact) || t.isTrouble(s) })
	turn.conflicts, turn.doubted, turn.notices = nil, nil, nil
	turn.now = turn.before
	t.apply(turn)
}

// generalWords is within how many words a general question opens.
const generalWords = 3

// entryBeside adds to a plan the entry on the trouble that the message tells of: what to
// do about a crown that rocks, beside the plan that stops for it.
func (t *Talk) entryBeside(ctx context.Context, r *Reply, turn *turn, text string) {
	if r.Kind != KindPlan || !slices.ContainsFunc(turn.facts, func(s stated) bool { return t.isTrouble(s) && !t.words.clears(s) }) {
		return
	}
	found, err := t.articles.Base().Search(ctx, text, 1)
	if err != nil || !found.Close {
		return
	}
	a := found.Hits[0].Article
	shown, err := a.Render(t.references())
	if err != nil {
		return
	}
	r.section(t.say("entry beside", a.Title), false, shown.Answer)
	r.Entries = append(r.Entries, a.ID)
	r.Choices = append(r.Choices, Choice{Fact: "entry", Ask: t.say("nearby", nil), Options: []Option{{Label: a.Title, Says: entryLabel + " " + a.ID}}})
}
