package talk

import (
	"slices"
	"strings"
)

// emergency answers what nobody should wait for a bot to answer, before
// anything else is made of the message.
func (t *Talk) emergency(turn *turn) (Reply, bool) {
	for _, e := range t.words.words.Emergency {
		if slices.ContainsFunc(e.When, func(groups [][]string) bool { return allSaid(turn.tokens, groups) }) {
			say := t.say("emergency", e)
			return Reply{Kind: KindDeclined, Headline: say, Notices: []string{say}}, true
		}
	}
	return Reply{}, false
}

// allSaid reports whether of every group one phrase was said.
func allSaid(tokens []token, groups [][]string) bool {
	for _, group := range groups {
		if !slices.ContainsFunc(group, func(phrase string) bool { return said(tokens, strings.Fields(phrase)) }) {
			return false
		}
	}
	return true
}

// emergencyReach is how many words may stand between two of a phrase, as in "in
// the patient's left eye". A clause may end in between: nobody punctuates in a fright.
const emergencyReach = 3

// said reports whether the words stand in the tokens in this order, near each other.
func said(tokens []token, words []string) bool {
	for i, t := range tokens {
		if t.word == words[0] && (len(words) == 1 || said(tokens[i+1:min(i+2+emergencyReach, len(tokens))], words[1:])) {
			return true
		}
	}
	return false
}
