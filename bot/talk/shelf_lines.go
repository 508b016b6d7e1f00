package talk

import (
	"slices"
	"strings"
	"time"

	"mortarboard/planner"
)

// shelfLine answers what was asked of one product. What the shelf does not say is said
// to be so, and never guessed.
func (t *Talk) shelfLine(turn *turn, p *planner.Product, q shelfQuestion, day time.Time) string {
	switch q.about {
	case shelfLot:
		return t.say("shelf lot", map[string]any{"Name": p.Name, "Lot": p.Lot})
	case shelfDate:
		return t.shelfDateLine(p, day)
	case shelfOpened:
		return t.say("shelf opened", map[string]any{"Name": p.Name, "On": shelfDay(p.Opened)})
	case shelfKeeps:
		return t.say("shelf keeps", map[string]any{"Name": p.Name, "Days": p.KeepsDays, "On": shelfDay(p.Opened), "Until": shelfDay(p.LastDay()), "Past": p.Past(day)})
	case shelfContents:
		return t.shelfContentsLine(turn, p, q.content)
	case shelfCure:
		return t.say("shelf cure", map[string]any{"Name": p.Name, "Cure": p.Cure, "Asked": q.cure})
	}
	return t.shelfDates(p, t.say("shelf card", map[string]any{"Name": p.Name, "Class": p.Class}), day)
}

func (t *Talk) shelfDateLine(p *planner.Product, day time.Time) string {
	return t.shelfDates(p, p.Name, day)
}

// shelfDates says how long a product may be used.
func (t *Talk) shelfDates(p *planner.Product, name string, day time.Time) string {
	return t.say("shelf date", map[string]any{
		"Name": name, "Past": p.Past(day), "Last": shelfDay(p.LastDay()), "Expires": shelfDay(p.Expires), "Opened": shelfDay(p.Opened), "Days": p.KeepsDays,
	})
}

// shelfContentsLine says what the shelf names of a product, or whether that is a substance.
// A list that does not name it proves nothing.
func (t *Talk) shelfContentsLine(turn *turn, p *planner.Product, content string) string {
	by := ""
	if content != "" && p.Holds(content) && !slices.Contains(p.Contains, content) {
		by = list(slices.DeleteFunc(slices.Clone(p.Contains), func(c string) bool { return c != "MDP" && c != "HEMA" }))
	}
	return t.say("shelf contents", map[string]any{
		"Name": p.Name, "Asked": content, "Holds": content != "" && p.Holds(content), "By": by, "Contains": list(p.Contains), "Allergy": t.speaksOfAllergy(turn),
	})
}

// speaksOfAllergy reports whether a message speaks of an allergy, whoever has it: then what
// a product holds is no yes.
func (t *Talk) speaksOfAllergy(turn *turn) bool {
	fact := "resin_allergy"
	told := slices.ContainsFunc(t.words.wide("facts", turn.plain), func(f found) bool { return f.sense.name == fact })
	return told || turn.allergic() || len(t.words.all("topic:"+fact, turn.plain)) > 0
}

// shelfDay writes a day, or nothing where the shelf does not say it.
func shelfDay(d planner.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}

// shelfCardLines are all that the shelf says of a product.
func (t *Talk) shelfCardLines(p *planner.Product) []string {
	return []string{t.say("shelf line", map[string]any{
		"Class": p.Class, "Lot": p.Lot, "Opened": shelfDay(p.Opened), "Expires": shelfDay(p.Expires), "Days": p.KeepsDays,
		"Contains": list(p.Contains), "Cure": p.Cure, "Particle": p.Particle, "Activator": p.Activator, "Acidic": p.Acidic,
	})}
}

// shelfHolding lists the products that name a substance, and those of which the shelf does
// not say what they hold.
func (t *Talk) shelfHolding(r *Reply, q shelfQuestion) {
	var holding, silent, other []string
	for _, p := range t.shelfOf(q) {
		switch {
		case p.Holds(q.content):
			holding = append(holding, p.Name)
		case len(p.Contains) == 0:
			silent = append(silent, p.Name)
		default:
			other = append(other, p.Name)
		}
	}
	r.Headline = t.say("shelf holding", map[string]any{"Asked": upper(q.content), "Holding": list(holding)})
	if silent != nil {
		r.section(t.say("shelf silent title", nil), false, t.say("shelf silent", list(silent)))
	}
	if other != nil {
		r.section(t.say("shelf other title", q.content), false, t.say("shelf other", map[string]any{"Names": list(other), "Asked": q.content}))
	}
}

// shelfOf are the products of the classes asked for; of all if none were.
func (t *Talk) shelfOf(q shelfQuestion) []*planner.Product {
	return slices.DeleteFunc(slices.Clone(t.book.Practice.Shelf), func(p *planner.Product) bool {
		return len(q.classes) > 0 && !slices.Contains(q.classes, p.Class)
	})
}

// shelfPast lists what is past its date.
func (t *Talk) shelfPast(r *Reply, day time.Time) {
	var past, undated []string
	for _, p := range t.book.Practice.Shelf {
		if why := p.Past(day); why != "" {
			past = append(past, t.say("shelf past one", map[string]any{"Name": p.Name, "Lot": p.Lot, "Past": why}))
		} else if p.LastDay().IsZero() {
			undated = append(undated, p.Name)
		}
	}
	r.Headline = t.say("shelf expired", map[string]any{"Past": strings.Join(past, "; "), "Day": day.Format(time.DateOnly)})
	t.shelfUndated(r, undated)
}

func (t *Talk) shelfUndated(r *Reply, names []string) {
	if names != nil {
		r.section(t.say("shelf undated title", nil), false, t.say("shelf undated", list(names)))
	}
}

// soonDays is how far ahead "soon" looks.
const soonDays = 60

// shelfEnding lists what ends within the time asked for: this month, next month, or soon.
func (t *Talk) shelfEnding(r *Reply, day time.Time, turn *turn) {
	from, to, span := day, day.AddDate(0, 0, soonDays), "in the next 60 days"
	first := time.Date(day.Year(), day.Month(), 1, 0, 0, 0, 0, day.Location())
	switch {
	case turn.cued(t.words, "shelf-this-month"):
		to, span = first.AddDate(0, 1, -1), "this month"
	case turn.cued(t.words, "shelf-next-month"):
		from, to, span = first.AddDate(0, 1, 0), first.AddDate(0, 2, -1), "next month"
	}
	var ending, past, undated []string
	var next *planner.Product
	for _, p := range t.book.Practice.Shelf {
		last := shelfDay(p.LastDay())
		switch why := p.Past(day); {
		case why != "":
			past = append(past, t.say("shelf past one", map[string]any{"Name": p.Name, "Lot": p.Lot, "Past": why}))
		case last == "":
			undated = append(undated, p.Name)
		case last >= from.Format(time.DateOnly) && last <= to.Format(time.DateOnly):
			ending = append(ending, t.shelfEnds(p))
		case next == nil || last < shelfDay(next.LastDay()):
			next = p
		}
	}
	after := ""
	if next != nil && ending == nil {
		after = t.shelfEnds(next)
	}
	r.Headline = t.say("shelf ending", map[string]any{"Next": after,
		"Span": span, "To": to.Format(time.DateOnly), "Ending": strings.Join(ending, "; "), "Past": strings.Join(past, "; "),
	})
	t.shelfUndated(r, undated)
}

func (t *Talk) shelfEnds(p *planner.Product) string {
	return t.say("shelf ends", map[string]any{"Name": p.Name, "Lot": p.Lot, "Last": shelfDay(p.LastDay())})
}

// shelfListing lists what there is, of the classes and the way of curing asked for.
func (t *Talk) shelfListing(r *Reply, q shelfQuestion) {
	var names, lines []string
	for _, p := range t.shelfOf(q) {
		if q.cure == "" || p.Cure == q.cure {
			name := p.Name
			if q.lots {
				name = strings.TrimSuffix(t.say("shelf lot", map[string]any{"Name": p.Name, "Lot": p.Lot}), ".")
			}
			if why := p.Past(t.now()); why != "" {
				name = t.say("shelf past one", map[string]any{"Name": name, "Lot": "", "Past": why})
			}
			names = append(names, name)
			lines = append(lines, p.Name+": "+strings.Join(t.shelfCardLines(p), ""))
		}
	}
	what := q.job
	if len(q.classes) == 1 {
		what = q.classes[0]
	}
	if q.cure != "" {
		what = t.say("shelf cures", map[string]any{"Cure": q.cure, "Job": q.job})
	}
	r.Headline = t.say("shelf listing", map[string]any{"What": what, "Names": list(names), "Which": q.job == "cement" && q.cure == "" && len(names) > 1})
	r.section(t.say("shelf title", nil), false, lines...)
	if q.job != "" && len(names) > 1 {
		r.section(t.say("shelf which title", nil), false, t.say("shelf which", nil))
	}
}

// houseRules lists the rules of the house, each with why and who approved it.
func (t *Talk) houseRules(r *Reply) {
	h := t.book.Practice.House
	var lines []string
	rule := func(what, because string, by planner.Approval) {
		lines = append(lines, t.say("house rule", map[string]any{"What": what, "Because": because, "By": by.String()}))
	}
	for _, e := range h.Envelopes {
		if i := slices.IndexFunc(t.book.Parameters, func(p *planner.Parameter) bool { return p.ID == e.Parameter }); i >= 0 {
			rule(t.say("house envelope", t.book.Parameters[i]), e.Because, e.Approved)
		}
	}
	for _, a := range t.book.Arguments {
		if a.Basis == planner.HouseRule {
			lines = append(lines, t.say("house argument", map[string]any{"For": string(a.For), "Weight": string(a.Weight), "Because": a.Because, "By": a.House}))
		}
	}
	for _, s := range h.Silenced {
		rule(t.say("house silence", s.Argument), s.Because, s.Approved)
	}
	for _, p := range h.Prefer {
		rule(t.say("house prefer", p.Product), p.Because, p.Approved)
	}
	r.Headline = t.say("house rules", map[string]any{"Name": t.book.Practice.Name, "N": len(lines), "Lead": t.lead()})
	r.section(t.say("house title", nil), false, lines...)
}
