package talk

import (
	"slices"
	"strings"
)

// followReply lets "yes", "no" and "dunno" answer the first question of the last plan, and
// takes words such as "so?" or a bare "zirconia" for what goes on with it.
func (t *Talk) followReply(turn *turn) {
	if !turn.past.Planned || turn.fresh || turn.past.Run != nil || // a run has not asked
		len(turn.facts) > 0 || len(turn.tokens) == 0 {
		return
	}
	turn.goesOn = t.asksOn(turn) || t.namesOnlyZirconia(turn)
	if turn.past.Last != KindPlan || len(turn.past.Asked) == 0 {
		return
	}
	fact, word := turn.past.Asked[0], t.bareReply(turn)
	replies := t.words.words.Replies[fact]
	turn.goesOn = turn.goesOn || word != ""
	switch {
	case replies[word] != nil:
		turn.facts = append(turn.facts, stated{fact: fact, values: replies[word]})
	case word == replyOpen, word != "" && replies != nil: // nobody knows, or the word leaves it open
		turn.doubt(fact, turn.tokens[0].word, "unsettled")
	}
}

// replyOpen is the reply of somebody who does not know.
const replyOpen = "open"

// bareReply is "yes", "no", or replyOpen, if the message says nothing else.
func (t *Talk) bareReply(turn *turn) string {
	x := t.words
	first, known := turn.tokens[0], true
	for i, token := range turn.tokens {
		known = known && !x.notKnown(turn.tokens, i)
		filler := x.is("carries-nothing", token.word) || x.is("answers-yes", token.word) || x.is("answers-no", token.word) || x.is("knows", token.word) || x.is("is-not-known", token.word) || x.is("denies", token.word)
		if token.question || !filler {
			return ""
		}
	}
	switch {
	case !known:
		return replyOpen
	case x.is("answers-yes", first.word) && !x.holds("denies", turn.tokens) && !x.holds("answers-no", turn.tokens):
		return "yes"
	case x.holds("denies", turn.tokens):
		return replyOpen // "not really"
	case x.is("answers-no", first.word) && !x.holds("answers-yes", turn.tokens):
		return "no"
	}
	return ""
}

// asksOn reports whether a message is nothing but words that ask to go on with the plan.
func (t *Talk) asksOn(turn *turn) bool {
	for _, cue := range []string{"asks-changes", "asks-settles", "asks-again"} {
		for _, f := range t.words.all("cue:"+cue, turn.tokens) {
			rest := func(tokens []token) bool {
				return !slices.ContainsFunc(tokens, func(w token) bool { return w.isNum || !t.words.is("carries-nothing", w.word) && w.word != "ok" })
			}
			if rest(turn.tokens[:f.from]) && rest(turn.tokens[f.to:]) {
				return true
			}
		}
	}
	return false
}

// namesOnlyZirconia reports whether a message names the material and nothing else.
func (t *Talk) namesOnlyZirconia(turn *turn) bool {
	return t.words.holds("names-zirconia", turn.tokens) && len(content(turn.tokens, t.words)) == 0 && !t.asksAnything(turn)
}

// partAsked leads the plan with the part that was asked for: "what would change it".
func (t *Talk) partAsked(r *Reply, turn *turn) {
	if !turn.goesOn {
		return
	}
	for cue, title := range map[string]string{"asks-changes": "What would change it", "asks-settles": "What settles it"} {
		i := slices.IndexFunc(r.Sections, func(s Section) bool { return s.Title == title })
		if i < 0 || !t.words.has(cue, turn.tokens) {
			continue
		}
		part := r.Sections[i]
		part.Fold = false
		r.Sections = slices.Insert(slices.Delete(r.Sections, i, i+1), 0, part)
		r.Headline = t.say("part asked", map[string]any{"Part": title, "Lines": sentences(part.Lines), "Headline": r.Headline})
	}
}

// sentences joins lines that may lack their full stop.
func sentences(lines []string) string {
	var out []string
	for _, l := range lines {
		if !strings.HasSuffix(l, ".") && !strings.HasSuffix(l, "?") && !strings.HasSuffix(l, "!") {
			l += "."
		}
		out = append(out, l)
	}
	return strings.Join(out, " ")
}
