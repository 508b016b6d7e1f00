package kb

import "strings"

// A Subject is something that a text speaks of and that the articles leave to
// others, with the words that say so.
type Subject struct {
	Name  string   // of the group in outofscope.yaml
	Says  string   // how a sentence names it, e.g. "ceramics other than zirconia"
	Words []string // as written in the text, folded
}

// Outside names the subjects of a text that the articles leave to others; none
// if it keeps to ours.
func (b *Base) Outside(text string) []Subject {
	var found []Subject
	for _, w := range b.words.outsideOf(b.words.words(text)) {
		found = append(found, Subject{w.group.Name, w.group.Says, strings.Fields(strings.Join(w.words, " "))})
	}
	return found
}
