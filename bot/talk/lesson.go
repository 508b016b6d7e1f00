package talk

import (
	"regexp"
	"slices"
	"strings"

	"mortarboard/planner"
)

// A wish is what a message about the cards wants.
type wish int

const (
	wantsCard wish = iota
	wantsMarking
	wantsScore
	wantsForgetting
)

// A lesson is a message about the cards.
type lesson struct {
	wants  wish
	role   string // whose cards; empty: everybody's
	named  bool   // the role, or everybody, was named
	says   bool   // the role was said to be the speaker's own
	card   *planner.Card
	solved planner.Solution
	answer string // the option that was chosen; empty: none of them was made out
}

// lessonMost is how many words a message about the cards may have.
const lessonMost = 14

// lesson finds out whether a message is about the cards and nothing else. Every
// word of it has to be one of theirs, so that no real question is taken: "teach me
// about MDP" asks for an entry. Slips of the pen are not mended first, lest a cord
// become a card.
func (t *Talk) lesson(m Message, past Remembered) (lesson, bool) {
	text, cut := clip(m.Text)
	if cut {
		return lesson{}, false
	}
	if l, ok := t.answered(text, past.Dealt); ok {
		return l, true
	}
	tokens := t.words.tokenize(t.words.folding.fold(text))
	if len(tokens) == 0 || len(tokens) > lessonMost || !t.ofCards(tokens) {
		return lesson{}, false
	}
	return t.wished(tokens)
}

// wished is what the words of the cards ask for, if anything.
func (t *Talk) wished(tokens []token) (lesson, bool) {
	has := func(cue string) bool { return t.words.has(cue, tokens) }
	var l lesson
	if role := t.words.all("role", tokens); len(role) > 0 {
		l.role, l.named = role[0].sense.name, true
	}
	l.named = l.named || has("learn-all")
	l.says = l.named && has("learn-as")
	switch {
	case has("learn-forget"):
		l.wants = wantsForgetting
	case has("learn-mine"):
		l.wants = wantsScore
	default:
		return l, has("learn-next") || l.named && has("learn-card")
	}
	return l, true
}

// ofCards reports whether every word belongs to what is said of cards.
func (t *Talk) ofCards(tokens []token) bool {
	taken := make([]bool, len(tokens))
	for _, list := range []string{"role", "cue:learn-next", "cue:learn-card", "cue:learn-mine", "cue:learn-forget", "cue:learn-as", "cue:learn-all", "cue:learn-filler"} {
		for _, f := range t.words.all(list, tokens) {
			for i := f.from; i < f.to; i++ {
				taken[i] = true
			}
		}
	}
	return !slices.Contains(taken, false)
}

// cardSays is how an answer to a card is written: "card pressure-5y: 1 bar".
var cardSays = regexp.MustCompile(`(?i)^\s*card\s+([a-z0-9-]+)\s*:\s*(.*?)\s*$`)

// answered reads an answer to a card: by the card's name, or bare right after the
// card was dealt.
func (t *Talk) answered(text string, dealt Dealt) (lesson, bool) {
	id, said, named := dealt.Card, strings.TrimSpace(text), false
	if m := cardSays.FindStringSubmatch(text); m != nil {
		id, said, named = strings.ToLower(m[1]), m[2], true
	}
	if !named && !dealt.Open {
		return lesson{}, false
	}
	c, ok := t.book.Card(id)
	if !ok {
		return lesson{}, false
	}
	s, ok := t.solve(c)
	l := lesson{wants: wantsMarking, card: c, solved: s}
	if ok {
		l.answer = t.chosen(c, s.Options, said)
	}
	return l, named || l.answer != ""
}

// chosen is the option of a card that was meant: by its words, as people read them
// or as a button says them, or by its letter.
func (t *Talk) chosen(c *planner.Card, options []string, said string) string {
	said = strings.TrimRight(said, ".!)")
	for i, o := range options {
		for _, way := range []string{o, t.label(c, o), letter(i)} {
			if strings.EqualFold(said, strings.TrimRight(way, ".!")) {
				return o
			}
		}
	}
	return ""
}
