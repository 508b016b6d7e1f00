package page

import (
	"slices"
	"strings"

	"mortarboard/bot/talk"
)

// A setting is one value with what it rests on. Is and Said are the section's own
// words where there are any: only they tell a bound ("at most 2 bar") from a
// single value, which as data look the same.
type setting struct {
	Name, Of, Is string
	Said         string // what the section says of it besides, e.g. how a measure stands to it
	Basis        string
	Rests        string // the basis and its source
	Alike        bool   // another setting beside it has the same name: only Of tells them apart
	worded       bool
}

// settings makes a reply's values ready, in the words of its sections.
func settings(r talk.Reply, values []talk.Value) []setting {
	var out []setting
	for _, v := range values {
		out = append(out, setting{
			Name: v.Name, Of: v.Of, Is: isOf(r, v), Basis: v.Basis, Rests: rests(v.Basis, v.Source),
			Alike: slices.ContainsFunc(values, func(o talk.Value) bool { return o.Name == v.Name && o.Of != v.Of }),
		})
	}
	return out
}

// isOf says what a value is, in the words of whichever section says it.
func isOf(r talk.Reply, v talk.Value) string {
	for _, s := range r.Sections {
		for _, it := range itemsOf(s.Lines) {
			if is, _, ok := wording(it.Text, v); ok {
				return is
			}
		}
	}
	return spread(v)
}

// word gives a line to the setting that it words, if there is one.
func word(all []setting, values []talk.Value, line string) bool {
	for i, v := range values {
		if is, said, ok := wording(line, v); ok && is == all[i].Is && !all[i].worded {
			all[i].Said, all[i].worded = said, true
			return true
		}
	}
	return false
}

// wording reads "name: is – of (basis) more", the way sections write a value.
func wording(line string, v talk.Value) (is, more string, ok bool) {
	rest, ok := strings.CutPrefix(line, v.Name+": ")
	if !ok {
		return "", "", false
	}
	is, more, ok = strings.Cut(rest, " – "+v.Of)
	return is, strings.TrimSpace(strings.TrimPrefix(lessBasis(strings.TrimSpace(more), v), ":")), ok
}

// lessBasis cuts off brackets that only say what the value rests on, since that
// stands beside it.
func lessBasis(text string, v talk.Value) string {
	depth := 0
	for i, r := range text {
		switch r {
		case '(':
			depth++
		case ')':
			depth--
		}
		if depth == 0 {
			if r == ')' && !adds(text[:i], v.Basis, v.Source, v.Basis) {
				return strings.TrimSpace(text[i+1:])
			}
			return text
		}
	}
	return text
}

func valueList(r talk.Reply) *list {
	l := &list{title: "Settings", fold: ofSteps(r), within: true}
	if r.Kind == talk.KindCalculation {
		l.title = "Figures"
	}
	for _, v := range r.Values {
		l.phrases = append(l.phrases, v.Of)
	}
	l.fill = func(p *part, said []saying) {
		p.Values = settings(r, r.Values)
		for _, s := range said {
			if !word(p.Values, r.Values, s.Text) {
				p.Notes = append(p.Notes, s.Text)
			}
		}
	}
	return l
}

// ofSteps reports whether every value of a reply stands at one of its steps, so
// that a table of them only repeats.
func ofSteps(r talk.Reply) bool {
	return !slices.ContainsFunc(r.Values, func(v talk.Value) bool {
		return !slices.ContainsFunc(r.Steps, func(s talk.Step) bool { return slices.Contains(s.Values, v) })
	})
}

// onlyRests reports whether a section says nothing but what the values rest on,
// which stands beside each of them.
func onlyRests(s talk.Section, values []talk.Value) bool {
	return len(s.Lines) > 0 && len(values) > 0 && !slices.ContainsFunc(s.Lines, func(line string) bool {
		return !slices.ContainsFunc(values, func(v talk.Value) bool {
			return says(line, v.Of) && says(line, v.Basis) && !adds(line, v.Name, v.Of, v.Basis, v.Source, "of")
		})
	})
}

// Mark is the basis in short, for a sheet that has no room for it beside every figure.
func (s setting) Mark() string { return basisMark(s.Basis) }

// Key says what the marks of a part's settings stand for, in the order they occur.
func (p part) Key() []setting {
	var key []setting
	for _, s := range p.Steps {
		for _, v := range s.Settings {
			if v.Basis != "" && !slices.ContainsFunc(key, func(k setting) bool { return k.Basis == v.Basis }) {
				key = append(key, v)
			}
		}
	}
	return key
}

// rests says what a claim rests on: its basis, and the source if one is named.
func rests(basis, source string) string {
	switch {
	case source == "":
		return basis
	case strings.HasPrefix(source, basis):
		return source
	}
	return basis + ": " + source
}
