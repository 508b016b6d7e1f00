package kb

import "slices"

// Outside names the subjects that a text speaks of and that the articles leave
// to others, such as "ceramics other than zirconia"; none if it keeps to ours.
func (b *Base) Outside(text string) []string {
	var says []string
	for _, w := range b.words.outsideOf(b.words.words(text)) {
		if !slices.Contains(says, w.group.Says) {
			says = append(says, w.group.Says)
		}
	}
	return says
}
