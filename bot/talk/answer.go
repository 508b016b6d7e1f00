package talk

import (
	"context"

	"mortarboard/kb"
)

// answer answers a message: an emergency before anything, then what is said to a run,
// then the first way of answering that fits.
func (t *Talk) answer(ctx context.Context, turn *turn, text string) Reply {
	if r, urgent := t.emergency(turn); urgent {
		turn.urgent = true
		turn.run.pause()
		return r
	}
	if turn.deed != "" {
		return t.toRun(turn)
	}
	if turn.entry == nil {
		text = turn.asking
	}
	r := t.reply(ctx, turn, text)
	t.entryBeside(ctx, &r, turn, text)
	settled, _ := t.book.Measured(turn.now)
	r.Case = contractCase(settled)
	if r.Kind != KindArticle && r.Kind != KindDeclined {
		r.Notices = append(turn.notices, r.Notices...)
	}
	t.shelfBeside(&r, turn)
	t.warn(&r, turn)
	t.illustrate(&r, turn)
	t.closeRun(turn, &r)
	t.runGoesOn(turn, &r)
	return r
}

// A way of answering gives its answer if it fits what was asked.
type way func(t *Talk, ctx context.Context, turn *turn, text string) (Reply, bool)

// ways of answering, the most particular first: what is asked by name, what is not ours,
// what the plan in hand or the shelf answers, and then the kinds that decide has found.
var ways = []way{
	(*Talk).namedEntry,
	(*Talk).ofShelf,
	(*Talk).courtesy,
	(*Talk).withoutRun,
	(*Talk).otherMaterial,
	(*Talk).notOurs,
	(*Talk).ofProduct,
	(*Talk).stepAsked,
	(*Talk).ruled,
	(*Talk).ofKind,
}

// reply gives the answer of the first way that fits. Where no entry answers well what
// holds the facts of a case, there is a plan.
func (t *Talk) reply(ctx context.Context, turn *turn, text string) Reply {
	for _, w := range ways {
		if r, ok := w(t, ctx, turn, text); ok {
			return r
		}
	}
	r := t.article(ctx, turn, text)
	if r.Kind == KindDeclined && len(turn.keys) > 0 && !t.foreign(turn, text) {
		r = t.settled(turn) // no entry explains it, but there is a setting
	}
	if t.deciding(turn) > 0 && t.weakly(turn, r) && !t.foreign(turn, text) {
		return t.plan(turn)
	}
	return r
}

// namedEntry shows the entry that was asked for by its id.
func (t *Talk) namedEntry(_ context.Context, turn *turn, _ string) (Reply, bool) {
	if turn.entry == nil {
		return Reply{}, false
	}
	return t.entry(turn.entry, kb.Result{Hits: []kb.Hit{{Article: turn.entry}}}), true
}

// ofShelf answers what is asked of the shelf alone.
func (t *Talk) ofShelf(_ context.Context, turn *turn, _ string) (Reply, bool) {
	if !turn.shelf.answersItself() {
		return Reply{}, false
	}
	return t.shelfAnswer(turn), true
}

// courtesy says what the bot does, and thanks for thanks.
func (t *Talk) courtesy(_ context.Context, turn *turn, _ string) (Reply, bool) {
	thanked := t.words.has("thanks", turn.tokens) && len(content(turn.tokens, t.words)) == 0 && len(turn.facts) == 0
	switch {
	case turn.wants.help:
		return t.help(), true
	case thanked:
		return Reply{Kind: KindHelp, Headline: t.say("thanks", nil)}, true
	}
	return Reply{}, false
}

// withoutRun answers words for a run where none is open.
func (t *Talk) withoutRun(_ context.Context, turn *turn, _ string) (Reply, bool) {
	if !turn.wants.article || !t.idles(turn) {
		return Reply{}, false
	}
	return t.noRun(turn), true
}

// notOurs lets the search decline, or answer, what is about another subject.
func (t *Talk) notOurs(ctx context.Context, turn *turn, text string) (Reply, bool) {
	if turn.wants.article || turn.wants.calculation || !t.foreign(turn, text) {
		return Reply{}, false
	}
	return t.article(ctx, turn, text), true
}

// ofProduct answers which product serves, or whether one may be used, by the plan.
func (t *Talk) ofProduct(_ context.Context, turn *turn, _ string) (Reply, bool) {
	switch turn.shelf.about {
	case shelfUse:
		return t.useOf(turn), true
	case shelfChoice:
		return t.choiceOf(turn), true
	}
	return Reply{}, false
}

// ofKind answers with a plan, a sum, a check or a setting.
func (t *Talk) ofKind(_ context.Context, turn *turn, _ string) (Reply, bool) {
	switch w := turn.wants; {
	case w.plan:
		return t.plan(turn), true
	case w.calculation:
		return t.calculation(turn), true
	case w.check:
		return t.check(turn), true
	case w.value:
		return t.values(turn), true
	}
	return Reply{}, false
}

// settled answers with the settings that were asked for; one that is never done is
// told as such.
func (t *Talk) settled(turn *turn) Reply {
	for _, key := range turn.keys {
		if _, never := t.never(key); never {
			return t.check(turn)
		}
	}
	return t.values(turn)
}
