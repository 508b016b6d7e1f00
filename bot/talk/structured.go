package talk

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"mortarboard/planner"
)

var decimal = regexp.MustCompile(`^-?\d+(\.\d+)?$`)

// structured takes out of a message the parts written as "fact: value", the way
// buttons and forms write them, and returns what they state and the rest. The
// parts stand between semicolons or on lines of their own.
func structured(text string, book *planner.Rulebook) (facts []stated, rest string) {
	var kept []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		if s, ok := labelledFact(part, book); ok {
			facts = append(facts, s)
		} else {
			kept = append(kept, part)
		}
	}
	if facts == nil {
		return nil, text
	}
	return facts, strings.Join(kept, "; ")
}

// labelledFact reads one "fact: value" or "fact: value or value".
func labelledFact(part string, book *planner.Rulebook) (stated, bool) {
	label, says, ok := strings.Cut(part, ":")
	label, says = strings.ToLower(strings.TrimSpace(label)), strings.TrimSpace(says)
	i := slices.IndexFunc(book.Facts, func(f *planner.Fact) bool { return label == strings.ToLower(f.Title) || label == f.Name })
	if !ok || i < 0 || says == "" {
		return stated{}, false
	}
	f := book.Facts[i]
	if f.Measured() {
		number := strings.TrimSpace(strings.TrimSuffix(says, f.Unit))
		x, err := strconv.ParseFloat(number, 64)
		return stated{fact: f.Name, within: &planner.Range{From: x, To: x}}, err == nil && decimal.MatchString(number)
	}
	var values []string
	for v := range strings.SplitSeq(says, " or ") {
		at := slices.IndexFunc(f.Values, func(w string) bool { return strings.EqualFold(w, strings.TrimSpace(v)) })
		if at < 0 {
			return stated{}, false
		}
		values = append(values, f.Values[at])
	}
	return stated{fact: f.Name, values: values}, true
}
