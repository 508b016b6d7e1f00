package talk

import (
	"errors"
	"math"
	"slices"
	"strings"

	"mortarboard/planner/sums"
)

// An answer is a sum at work on a question.
type answer struct {
	question *question
	given    *given
	sum      sum
	drawings []drawer // what can be drawn of it
}

// draws has a picture of the answer made.
func (a *answer) draws(d drawer) { a.drawings = append(a.drawings, d) }

// lacking asks for what a sum still needs, or for one of two values; nil if
// everything is there.
func (t *Talk) lacking(a *answer) *Reply {
	for _, n := range a.sum.needs {
		if more := a.given.twice[n.role]; more != nil {
			all := amounts(append([]sums.Quantity{a.given.values[n.role]}, more...))
			return &Reply{Headline: t.say("calc twice", map[string]any{"Role": upper(string(n.role)), "All": list(all)})}
		}
	}
	var missing []string
	for _, n := range a.sum.needs {
		if !n.optional && !a.given.has(n.role) {
			missing = append(missing, "the "+n.role.asked())
		}
	}
	if missing == nil {
		return nil
	}
	r := &Reply{Headline: t.say("calc missing", map[string]any{"Sum": a.sum.name, "Missing": list(missing)})}
	r.section("Known so far", false, a.from()...)
	return r
}

// from lists what a sum was given, in the order of its needs.
func (a *answer) from() []string {
	var lines []string
	for _, n := range a.sum.needs {
		if q, ok := a.given.values[n.role]; ok {
			lines = append(lines, string(n.role)+" "+q.String())
		}
	}
	return lines
}

// worked lays out a sum that came out.
func (t *Talk) worked(a *answer, headline string, means []string, origins ...sums.Origin) *Reply {
	r := &Reply{Headline: upper(headline)}
	r.section("Worked out from", false, a.from()...)
	r.section("What it means", false, upperAll(means)...)
	var cannot, formulas []string
	for _, o := range origins {
		cannot = appendNew(cannot, o.Cannot)
		formulas = appendNew(formulas, t.say("calc origin", o))
	}
	r.section("What it cannot say", false, cannot...)
	r.section("Formula", true, formulas...)
	return r
}

// figures adds computed values to the answer's data.
func (a *answer) figures(r *Reply, figures ...sums.Figure) {
	for _, f := range figures {
		r.Values = append(r.Values, Value{Name: f.Name, Of: a.about(), Low: f.Low, High: f.High, Unit: string(f.Unit), Basis: "computed", Source: f.Source})
	}
}

// bands adds bounded values to the answer's data.
func (a *answer) bands(r *Reply, bands ...sums.Band) {
	for _, b := range bands {
		r.Values = append(r.Values, Value{Name: b.Name, Of: a.about(), Low: b.Low, High: b.High, Unit: string(b.Unit), Basis: b.Basis, Source: b.Source})
	}
}

// about says in one line what the values are of.
func (a *answer) about() string {
	if from := a.from(); len(from) > 0 {
		return strings.Join(from, ", ")
	}
	return strings.TrimPrefix(a.sum.name, "the ")
}

// failed says in a plain sentence why a sum does not come out, with the mend.
func (t *Talk) failed(a *answer, err error) *Reply {
	var input *sums.InputError
	var refusal *sums.Refusal
	switch {
	case errors.As(err, &input):
		r := &Reply{Headline: t.say("calc impossible", map[string]any{
			"What": input.What, "Got": input.Got, "Allowed": input.Allowed, "Mend": upper(input.Mend),
		})}
		r.section("As it was read", false, a.from()...)
		return r
	case errors.As(err, &refusal):
		return t.refused(refusal)
	}
	return &Reply{Headline: t.say("calc failed", upper(err.Error()))}
}

func amounts(quantities []sums.Quantity) []string {
	var out []string
	for _, q := range quantities {
		out = append(out, q.String())
	}
	return out
}

// span writes a value that is known between two bounds, once where both read alike.
func span(low, high float64, u sums.Unit) string {
	l, h := sums.Quantity{Value: low, Unit: u}.String(), sums.Quantity{Value: high, Unit: u}.String()
	if l == h {
		return l
	}
	return sums.Quantity{Value: low}.String() + " to " + h
}

// bounds writes a band without its name.
func bounds(b sums.Band) string { return span(b.Low, b.High, b.Unit) }

// told writes a figure without its name: the value, and the span if there is one.
func told(f sums.Figure) string {
	value := sums.Quantity{Value: f.Value, Unit: f.Unit}.String()
	if s := span(f.Low, f.High, f.Unit); s != value {
		return value + " (" + s + ")"
	}
	return value
}

// list joins words with commas and a final "and".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// upper writes the first letter large.
func upper(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

func upperAll(lines []string) []string {
	out := slices.Clone(lines)
	for i, line := range out {
		out[i] = upper(line)
	}
	return out
}

// plusMinus is the larger distance of a figure's ends from its value.
func plusMinus(f sums.Figure) float64 { return math.Max(f.High-f.Value, f.Value-f.Low) }
