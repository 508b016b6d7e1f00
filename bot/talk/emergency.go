package talk

import "slices"

// emergency answers what nobody should wait for a bot to answer, before
// anything else is made of the message.
func (t *Talk) emergency(turn *turn) (Reply, bool) {
	for _, e := range t.words.words.Emergency {
		for _, set := range e.Words {
			if allSaid(turn.tokens, set) {
				return Reply{Kind: KindDeclined, Headline: e.Say, Notices: []string{e.Say}}, true
			}
		}
	}
	return Reply{}, false
}

func allSaid(tokens []token, words []string) bool {
	for _, w := range words {
		if !slices.ContainsFunc(tokens, func(t token) bool { return t.word == w }) {
			return false
		}
	}
	return true
}
