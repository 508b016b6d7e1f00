package talk

import (
	"context"
	"slices"
	"strings"
	"unicode"

	"mortarboard/kb"
)

// A restoration of another material has another pretreatment, so that no plan is made for
// it: neither for one that is named, nor for one whose name may be an unknown word.

// otherMaterial declines a case of another material than zirconia: "glass ceramic onlay,
// bond or cement".
func (t *Talk) otherMaterial(ctx context.Context, turn *turn, text string) (Reply, bool) {
	if !turn.wants.plan || !turn.says("restoration") || t.saysZirconia(turn) && !t.unsureWhich(turn) {
		return Reply{}, false
	}
	named := t.materialNamed(turn, text)
	strange := ""
	if !t.saysZirconia(turn) {
		strange = t.strangeWord(turn)
	}
	if named == "" && strange == "" {
		return Reply{}, false
	}
	turn.now = turn.before                                   // the case of a thread is of zirconia
	found, _ := t.articles.Base().Search(ctx, text, nearest) // what lies near is only offered
	return t.decline(found, t.say("other material", map[string]any{"Named": named, "Strange": strange}), DeclinedOutside), true
}

// unsureWhich reports whether a message sets materials side by side: "3Y crown or lithium
// disilicate, unsure which".
func (t *Talk) unsureWhich(turn *turn) bool {
	return t.words.holds("sets-side-by-side", turn.tokens) || t.words.holds("is-not-known", turn.tokens)
}

// materialNamed is another material that the message names, where it is no part of what is
// told of the tooth, as amalgam is of a core.
func (t *Talk) materialNamed(turn *turn, text string) string {
	clipped, _ := clip(text)
	for _, s := range t.articles.Base().Outside(clipped) {
		if slices.Contains(t.words.words.Materials, s.Name) && !t.inFact(turn, s.Words) && !t.oursToo(s.Words) {
			return strings.Join(s.Words, " ")
		}
	}
	return ""
}

// strangeWord is a word right before that of the restoration which is neither English nor
// of the trade, so that it may be the name of another material.
func (t *Talk) strangeWord(turn *turn) string {
	x := t.words
	for i, w := range turn.tokens {
		letters := !strings.ContainsFunc(w.word, func(r rune) bool { return !unicode.IsLetter(r) })
		unknown := letters && len(w.word) >= 4 && !w.spent && !x.known[w.word] && !x.kept[w.word] && !kb.English(w.word)
		if unknown && x.is("stands-on-a-tooth", wordBehind(turn.tokens, i)) {
			return w.word
		}
	}
	return ""
}
