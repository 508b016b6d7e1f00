package talk

import (
	"slices"
	"strings"
)

// emergency answers what nobody should wait for a bot to answer, before
// anything else is made of the message.
func (t *Talk) emergency(turn *turn) (Reply, bool) {
	tokens := t.words.uncalmed(turn.tokens)
	for i, lines := range t.words.urgent {
		if slices.ContainsFunc(lines, func(line urgentLine) bool { return t.words.allSaid(tokens, line) }) {
			say := t.say("emergency", t.words.words.Emergency[i])
			return Reply{Kind: KindDeclined, Headline: say, Notices: []string{say}}, true
		}
	}
	return Reply{}, false
}

// uncalmed are the tokens without the words of phrases that only sound urgent.
func (x *lexicon) uncalmed(tokens []token) []token {
	tokens = slices.Clone(tokens)
	for _, phrase := range x.calm {
		for at := x.said(tokens, phrase); at != nil; at = x.said(tokens, phrase) {
			for _, i := range at {
				tokens[i].word = ""
			}
		}
	}
	return tokens
}

// allSaid reports whether of every group one phrase was said.
func (x *lexicon) allSaid(tokens []token, line urgentLine) bool {
	for _, group := range line {
		if !slices.ContainsFunc(group, func(phrase urgentPhrase) bool { return x.said(tokens, phrase) != nil }) {
			return false
		}
	}
	return true
}

// emergencyReach is how many words may stand between two of a phrase, as in "in
// the patient's left eye". A clause may end in between: nobody punctuates in a fright.
const emergencyReach = 3

// urgency takes the phrases of the emergencies, and of what only sounds like one, apart.
func (x *lexicon) urgency() {
	for _, e := range x.words.Emergency {
		x.urgent = append(x.urgent, x.linesOf(e.When))
	}
	x.calm = x.stepsOf(x.words.Calm)
	for _, words := range x.words.Kin {
		x.stepsOf(words)
	}
}

// linesOf takes the phrases of lines of groups apart.
func (x *lexicon) linesOf(when [][][]string) []urgentLine {
	lines := make([]urgentLine, len(when))
	for i, groups := range when {
		for _, group := range groups {
			lines[i] = append(lines[i], x.stepsOf(group))
		}
	}
	return lines
}

// stepsOf takes phrases apart, whose words are then known to the spelling.
func (x *lexicon) stepsOf(says []string) []urgentPhrase {
	var out []urgentPhrase
	for _, say := range says {
		phrase := steps(say)
		for _, s := range phrase {
			if s.kin == "" {
				x.known[s.word] = true
			}
		}
		out = append(out, phrase)
	}
	return out
}

// A step is one word of an urgent phrase, or a family of words, and how many
// words may stand before it.
type step struct {
	word, kin string
	reach     int
}

type (
	urgentPhrase []step
	urgentLine   [][]urgentPhrase // groups, of every one of which a phrase has to be said
)

// steps takes an urgent phrase apart: "chest <hurts>", "passed-out".
func steps(phrase string) urgentPhrase {
	var out urgentPhrase
	for _, near := range strings.Fields(phrase) {
		reach := emergencyReach
		for _, word := range chain(near) {
			name, ok := strings.CutPrefix(word, "<")
			s := step{word: word, reach: reach}
			if ok {
				s = step{kin: strings.TrimSuffix(name, ">"), reach: reach}
			}
			out, reach = append(out, s), 0
		}
	}
	return out
}

// chain cuts words that a hyphen joins; one in the name of a family joins nothing.
func chain(words string) []string {
	var out []string
	for words != "" {
		end := strings.IndexByte(words, '-')
		if words[0] == '<' {
			end = strings.IndexByte(words, '>') + 1
		}
		if end <= 0 || end >= len(words) {
			return append(out, words)
		}
		out, words = append(out, words[:end]), words[end+1:]
	}
	return out
}

// said is where the words stand in the tokens in this order, near each other; nil
// if they do not.
func (x *lexicon) said(tokens []token, words urgentPhrase) []int {
	for i := range tokens {
		if !x.steppedOn(tokens[i].word, words[0]) {
			continue
		}
		if at := x.saidFrom(tokens, words[1:], i+1); at != nil {
			return append([]int{i}, at...)
		}
	}
	return nil
}

// saidFrom goes on with a phrase from a token; an empty rest is said at once.
func (x *lexicon) saidFrom(tokens []token, words urgentPhrase, from int) []int {
	if len(words) == 0 {
		return []int{}
	}
	for i := from; i < min(from+1+words[0].reach, len(tokens)); i++ {
		if !x.steppedOn(tokens[i].word, words[0]) {
			continue
		}
		if at := x.saidFrom(tokens, words[1:], i+1); at != nil {
			return append([]int{i}, at...)
		}
	}
	return nil
}

// steppedOn reports whether a word is the one of a step, or one of its family.
func (x *lexicon) steppedOn(word string, s step) bool {
	if s.kin == "" {
		return word == s.word
	}
	return slices.Contains(x.words.Kin[s.kin], word)
}
