package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"mortarboard/bot/talk"
)

// casePart is what was understood, where no section says it.
func casePart(facts map[string][]any) part {
	p := part{Title: "Taken as", Known: true}
	for _, key := range slices.Sorted(maps.Keys(facts)) {
		p.Facts = append(p.Facts, factOf(key, facts[key]))
	}
	return p
}

func factOf(key string, values []any) fact {
	label, unit := factLabel(key)
	var texts []string
	for _, v := range values {
		text := fmt.Sprint(v)
		if x, ok := v.(float64); ok {
			text = figure(x)
		}
		texts = append(texts, text+unitWords(unit))
	}
	return fact{Name: label, Values: strings.Join(texts, " or ")}
}

// namesAll reports whether a section says every fact of a case, each on a line
// of its own with little else on it.
func namesAll(s talk.Section, facts map[string][]any) bool {
	items := itemsOf(s.Lines)
	for _, values := range facts {
		if s.Fold || !slices.ContainsFunc(items, func(it item) bool { return names(it.Text, values) }) {
			return false
		}
	}
	return true
}

// wordsToName is how many words it takes at most to name a fact and its unit.
const wordsToName = 6

func names(line string, values []any) bool {
	var known []string
	for _, v := range values {
		if !says(line, fmt.Sprint(v)) {
			return false
		}
		known = append(known, fmt.Sprint(v), "or")
	}
	rest := without(line, known...)
	return !strings.ContainsFunc(rest, unicode.IsDigit) && len(strings.Fields(rest)) <= wordsToName
}
