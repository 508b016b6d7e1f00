package talk

import "strings"

// family writes out the phrases that one phrase with bars stands for: in
// "under|below the| gum|gums" one word of each group is taken, none where a group
// holds an empty one, and an underscore joins words that are taken together.
func family(phrase string) []string {
	said := []string{""}
	for _, group := range strings.Fields(phrase) {
		var longer []string
		for _, choice := range strings.Split(group, "|") {
			for _, begun := range said {
				longer = append(longer, strings.TrimSpace(begun+" "+strings.ReplaceAll(choice, "_", " ")))
			}
		}
		said = longer
	}
	return said
}
