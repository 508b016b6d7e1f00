package talk

import (
	"slices"

	"mortarboard/planner"
)

// first is one of the settings of a key, or nil.
func (t *Talk) first(key string) *planner.Parameter {
	i := slices.IndexFunc(t.book.Parameters, func(p *planner.Parameter) bool { return p.Key == key })
	if i < 0 {
		return nil
	}
	return t.book.Parameters[i]
}

func appendNew(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

func (t *Talk) rests(p *planner.Parameter) string {
	support := ""
	if p.Cite() == "" {
		support = p.Support()
	}
	return t.say("rests", map[string]any{"Of": p.Name + ", " + p.Of, "Basis": string(p.Basis), "Cite": p.Cite(), "Support": support})
}

// values answers with the settings that were asked for.
func (t *Talk) values(turn *turn) Reply {
	r := Reply{Kind: KindValue}
	settings := t.settings(turn, turn.keys)
	switch len(settings) {
	case 0:
		r.Headline = t.say("value none", t.misfit(turn))
		return r
	case 1:
		p := settings[0]
		r.Headline = t.say("value one", map[string]any{"Name": p.Name, "Of": p.Of, "Is": p.String()})
	default:
		r.Headline = t.say("values many", nil)
	}
	t.listSettings(&r, settings)
	return r
}

// misfit says what the setting that was asked for is set for, and what the case has
// instead: light beside a cement that takes none.
func (t *Talk) misfit(turn *turn) string {
	c := t.book.Usual(turn.now)
	for _, p := range t.book.Parameters {
		if m := p.Misfit(c); m != nil && slices.Contains(turn.keys, p.Key) {
			return t.say("misfit", map[string]any{"Of": p.Of, "For": list(m.Fact.Names(m.Values)), "Is": list(c.Values(m.Fact.Name))})
		}
	}
	return ""
}

// settings are the parameters of the keys that may apply, each once.
func (t *Talk) settings(turn *turn, keys []string) []*planner.Parameter {
	c := t.book.Usual(turn.now)
	var out []*planner.Parameter
	for _, key := range keys {
		for _, p := range t.book.Settings(c, key) {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

func (t *Talk) listSettings(r *Reply, settings []*planner.Parameter) {
	var lines, notes, rests []string
	for _, p := range settings {
		r.Values = append(r.Values, value(p))
		lines = append(lines, t.setting(p))
		notes = appendNew(notes, p.Note)
		rests = appendNew(rests, t.rests(p))
	}
	r.section("Settings", false, lines...)
	r.section("Note", false, notes...)
	r.section("Rests on", true, rests...)
}

// beside adds to a plan the settings and checks that were asked for with it.
func (t *Talk) beside(r *Reply, turn *turn) {
	switch {
	case turn.wants.calculation:
		sum := t.calculation(turn)
		r.section("Also asked", false, append([]string{sum.Headline}, linesOf(sum)...)...)
		r.Values = append(r.Values, sum.Values...)
	case turn.wants.check:
		checked := t.check(turn)
		r.section("Also asked", false, append([]string{checked.Headline}, linesOf(checked)...)...)
		r.Values = append(r.Values, checked.Values...)
		r.Notices = append(r.Notices, checked.Notices...)
	case len(turn.keys) > 0:
		t.listSettings(r, t.settings(turn, turn.keys))
	}
}

func linesOf(r Reply) []string {
	var out []string
	for _, s := range r.Sections {
		if !s.Fold {
			out = append(out, s.Lines...)
		}
	}
	return out
}
