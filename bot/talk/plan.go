package talk

import (
	"slices"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// plan answers what to do with the case.
func (t *Talk) plan(turn *turn) Reply {
	r, p := t.planOf(turn, turn.now)
	r.Choices = append(r.Choices, t.runOffer(turn, p)...)
	t.beside(&r, turn)
	t.partAsked(&r, turn)
	return r
}

// planOf is the plan of a case as an answer, and as the planner made it.
func (t *Talk) planOf(turn *turn, c planner.Case) (Reply, *planner.Plan) {
	p := t.book.Plan(c)
	r := Reply{Kind: KindPlan, Strategy: string(p.Strategy), Notices: t.doubtNotices(turn)}
	if p.Strategy == planner.Either || p.Strategy == planner.Depends {
		r.Leaning = string(p.Leaning)
	}
	t.shelf(&r, turn, p)
	r.Headline = t.headline(turn, p)
	r.Open = factNames(p.Open)
	for _, a := range grounds(p) {
		r.Reasons = append(r.Reasons, reason(a))
	}
	r.Steps = t.steps(p)
	r.Notices = append(r.Notices, t.decidedNotice(p)...)
	t.planNotices(&r, p)
	t.planSections(&r, turn, p)
	r.Choices = t.choices(p)
	return r, p
}

// shelf brings in the practice's products, and what is wrong with them today. Where rules
// of the house touch the plan is said once in a thread, and whenever steps are asked for.
func (t *Talk) shelf(r *Reply, turn *turn, p *planner.Plan) {
	if t.book.Practice == nil {
		return
	}
	r.Notices = append(r.Notices, t.book.Equip(p, t.now())...)
	if !turn.past.Planned || turn.fresh || turn.wants.steps {
		r.Notices = append(r.Notices, t.departures(p)...)
	}
}

// departures says where rules of the house touch a plan.
func (t *Talk) departures(p *planner.Plan) []string {
	var lines []string
	for _, d := range t.book.Departures(p) {
		lines = append(lines, t.say("departure", map[string]any{"What": d.What, "By": d.By.String()}))
	}
	return lines
}

// grounds are the reasons of a plan; where several things were found, each of which
// stops it, all of those.
func grounds(p *planner.Plan) []*planner.Argument {
	stops := func(a *planner.Argument) bool { return a.For == planner.Stop }
	if p.Strategy != planner.Stop || slices.ContainsFunc(p.Reasons, stops) || decided(p) {
		return p.Reasons
	}
	return append(slices.Clone(p.Reasons), slices.DeleteFunc(slices.Clone(p.Possible), func(a *planner.Argument) bool { return !stops(a) })...)
}

// headline says the answer in one or two sentences, with the assumptions it
// hangs on; after a what-if it says what would be different, and to a "why" it
// gives the reasons of the side that was asked about.
func (t *Talk) headline(turn *turn, p *planner.Plan) string {
	text := t.say("headline", map[string]any{
		"Strategy": string(p.Strategy), "Leaning": string(p.Leaning), "Conflicts": len(p.Conflicts) > 0,
		"Flat": p.Flat(), "Decided": decided(p), "Dispute": decidedFor(p, planner.Bond) && decidedFor(p, planner.Cement),
		"Decision": string(p.Decided), "Followed": p.Followed(), "Because": barred(p), "First": firstOf(p), "Assuming": strings.Join(t.hanging(p), ", "), "Doubtful": p.Case.Known("isolation") && !p.Case.Is("isolation", "dry"),
	})
	if turn.whatIf {
		before := t.book.Plan(turn.before)
		return t.say("what if", map[string]any{
			"Supposed": t.differences(turn.before, turn.now), "Text": text, "Same": before.Verdict == p.Verdict,
			"Before": t.verdict(before.Verdict),
		})
	}
	if turn.wants.why {
		return t.because(turn, p) + text
	}
	return text
}

// barred is why nothing is to be seated, by all the reasons that say so.
func barred(p *planner.Plan) string {
	var why []string
	for _, a := range grounds(p) {
		if a.For == planner.Stop {
			why = append(why, a.Because)
		}
	}
	return strings.Join(why, " ")
}

// firstOf is what comes before anything else by the reasons that hold.
func firstOf(p *planner.Plan) string {
	var first []string
	for _, a := range p.Reasons {
		first = appendNew(first, a.First)
	}
	return strings.Join(first, " ")
}

// hangingShown is how many assumptions a headline names.
const hangingShown = 3

// hanging names the assumptions that could turn the verdict.
func (t *Talk) hanging(p *planner.Plan) []string {
	var out []string
	for _, f := range p.Near {
		if slices.Contains(p.Assumed, f) && len(out) < hangingShown {
			out = append(out, f.Title+" "+t.presumedValue(p, f))
		}
	}
	return out
}

// because answers "why bond?" and "why not bond?" with that side's reasons.
func (t *Talk) because(turn *turn, p *planner.Plan) string {
	side := planner.Bond
	if t.words.holds("speaks-for-cementing", turn.tokens) {
		side = planner.Cement
	}
	if t.words.holds("denies", turn.tokens) {
		side = map[planner.Strategy]planner.Strategy{planner.Bond: planner.Cement, planner.Cement: planner.Bond}[side]
	}
	var reasons []string
	for _, a := range p.Reasons {
		if a.For == side || a.For == planner.Stop {
			reasons = append(reasons, a.Because)
		}
	}
	return t.say("because", map[string]any{"Side": string(side), "Reasons": strings.Join(reasons, " ")}) + " "
}

// decided reports whether a decisive argument holds.
func decided(p *planner.Plan) bool {
	return decidedFor(p, planner.Bond) || decidedFor(p, planner.Cement)
}

func decidedFor(p *planner.Plan, side planner.Strategy) bool {
	return slices.ContainsFunc(p.Reasons, func(a *planner.Argument) bool { return a.Weight == planner.Decisive && a.For == side })
}

func (t *Talk) verdict(v planner.Verdict) string {
	return t.say("verdict", map[string]any{"Strategy": string(v.Strategy), "Leaning": string(v.Leaning)})
}

// differences names the facts in which two cases differ, as the second has them.
func (t *Talk) differences(before, now planner.Case) string {
	var parts []string
	for _, f := range t.book.Facts {
		if b, n := before.Describe(f.Name), now.Describe(f.Name); b != n {
			parts = append(parts, f.Title+": "+n)
		}
	}
	return strings.Join(parts, "; ")
}

func factNames(facts []*planner.Fact) []string {
	names := make([]string, len(facts))
	for i, f := range facts {
		names[i] = f.Name
	}
	return names
}

func reason(a *planner.Argument) Reason {
	return Reason{For: string(a.For), Weight: string(a.Weight), Because: a.Because, Basis: string(a.Basis), Source: a.Cite()}
}

func value(p *planner.Parameter) Value {
	return Value{Name: p.Name, Of: p.Of, Low: p.Low, High: p.High, Unit: p.Unit, Basis: string(p.Basis), Source: p.Cite()}
}

func (t *Talk) planNotices(r *Reply, p *planner.Plan) {
	for _, x := range p.Conflicts {
		r.Notices = append(r.Notices, t.say("excluded", x.Because))
	}
	for _, n := range p.Notices {
		r.Notices = append(r.Notices, t.say("rested", map[string]any{"Say": n.Say, "Basis": string(n.Basis), "Cite": n.Cite()}))
	}
	if f := p.Form; f != nil && f.Disputed {
		r.Notices = append(r.Notices, t.say("form disputed", f.Stated))
	}
}

// planSections lays the plan out in reading order.
func (t *Talk) planSections(r *Reply, turn *turn, p *planner.Plan) {
	r.section("Changed", false, t.changed(turn)...)
	r.section("Understood", false, t.understood(p)...)
	deciding, usual := t.assumed(p)
	r.section("Assumed, since nobody has said otherwise", false, deciding...)
	if usual != nil {
		r.Sections = append(r.Sections, Section{Title: "Assumed as usual", Lines: usual, Fold: true, Assumes: true})
	}
	for _, side := range []planner.Strategy{planner.Stop, planner.Bond, planner.Cement} {
		r.section(t.say("side", string(side)), false, t.reasonsFor(p, side)...)
	}
	r.section("What has to change", false, t.mends(p)...)
	r.section("What settles it", false, t.settles(p)...)
	r.section("What would change it", true, t.changes(p)...)
	r.section(t.say("steps title", map[string]any{"Path": string(p.Path), "Strategy": string(p.Strategy)}), !turn.wants.steps, t.stepLines(p)...)
	r.section("Sources", true, sourcesOf(p)...)
	if left := slices.Concat(turn.unread, t.unusedNumbers(turn)); len(left) > 0 {
		r.section("Not understood", false, t.say("unread", strings.Join(left, ", ")))
	}
}

// unusedNumbers lists the quantities of which a plan makes nothing, so that nobody
// takes them to be in it. Bare numbers name teeth and grades.
func (t *Talk) unusedNumbers(turn *turn) []string {
	if turn.wants.check || turn.wants.calculation {
		return nil // the section about these speaks of them
	}
	var out []string
	for _, m := range turn.measures {
		doubted := slices.ContainsFunc(turn.doubted, func(d doubt) bool { return d.word == m.quantity.String() })
		if m.fact == "" && m.quantity.Unit != "" && !doubted {
			out = append(out, m.quantity.String())
		}
	}
	return out
}

// changed names facts that were known before this message and are different now.
func (t *Talk) changed(turn *turn) []string {
	var lines []string
	for _, fact := range turn.before.Facts() {
		if was, is := turn.before.Describe(fact), turn.now.Describe(fact); was != is {
			lines = append(lines, t.say("changed", map[string]any{"Title": t.title(fact), "Was": was, "Is": is}))
		}
	}
	return lines
}

func (t *Talk) understood(p *planner.Plan) []string {
	if len(p.Case.Facts()) == 0 {
		return []string{t.say("nothing understood", nil)}
	}
	var lines []string
	for _, fact := range p.Case.Facts() {
		lines = append(lines, t.title(fact)+": "+p.Case.Describe(fact))
	}
	if p.Form != nil {
		lines = append(lines, t.criteria(p.Form.Criteria)...)
	}
	return lines
}

// criteria lists how each published limit of the form stands, and once where they are from.
func (t *Talk) criteria(all []sums.FormCriterion) []string {
	var lines, sources []string
	for _, c := range all {
		if c.State != sums.Unknown || c.Got != "" {
			lines = append(lines, t.say("criterion", c))
			sources = appendNew(sources, c.Source)
		}
	}
	if lines != nil {
		lines = append(lines, t.say("criteria from", strings.Join(sources, "; ")))
	}
	return lines
}

// assumed names every presumption: those on which the strategy hangs line by line, and
// in one line what is usual and changes nothing.
func (t *Talk) assumed(p *planner.Plan) (deciding, usual []string) {
	for _, f := range p.Assumed {
		line := f.Title + ": " + t.presumedValue(p, f)
		if slices.Contains(p.Near, f) {
			deciding = append(deciding, line)
		} else {
			usual = append(usual, line)
		}
	}
	if usual != nil {
		usual = []string{strings.Join(usual, "; ")}
	}
	return deciding, usual
}

// presumedValue names a presumed value; of a measured fact its lower end.
func (t *Talk) presumedValue(p *planner.Plan, f *planner.Fact) string {
	values := p.Presumed.Values(f.Name)
	if f.Measured() && len(values) > 1 {
		lowest, _, _ := strings.Cut(values[0], " to ")
		return lowest + " " + f.Unit + " or more"
	}
	return strings.Join(values, " or ")
}

func (t *Talk) reasonsFor(p *planner.Plan, side planner.Strategy) []string {
	var lines []string
	for _, a := range grounds(p) {
		if a.For == side {
			lines = append(lines, t.say("reason", reason(a)))
		}
	}
	return lines
}

// mends says what has to change where the plan is to stop.
func (t *Talk) mends(p *planner.Plan) []string {
	if p.Strategy != planner.Stop {
		return nil
	}
	var lines []string
	for _, a := range grounds(p) {
		if a.Mend != "" && !slices.Contains(lines, a.Mend) {
			lines = append(lines, a.Mend)
		}
	}
	return lines
}

// asks is how many open facts an answer puts as questions.
const asks = 4

func (t *Talk) settles(p *planner.Plan) []string {
	if p.Strategy != planner.Depends && p.Strategy != planner.Either || p.Followed() {
		return nil
	}
	var lines []string
	for _, f := range p.Open[:min(asks, len(p.Open))] {
		lines = append(lines, f.Ask)
	}
	if len(p.Open) > asks {
		var more []string
		for _, f := range p.Open[asks:] {
			more = append(more, f.Title)
		}
		lines = append(lines, t.say("settles too", strings.Join(more, ", ")))
	}
	return lines
}

func (t *Talk) changes(p *planner.Plan) []string {
	var lines []string
	for _, c := range p.Changes {
		lines = append(lines, t.say("change", map[string]any{
			"Title": c.Fact.Title, "Values": strings.Join(c.Fact.Names(c.Values), " or "), "Verdict": t.verdict(c.Verdict),
		}))
	}
	return lines
}

// sourcesOf lists the citations of a plan's reasons, each once.
func sourcesOf(p *planner.Plan) []string {
	var out []string
	for _, a := range p.Reasons {
		out = appendNew(out, a.Support())
	}
	return out
}

// choices turns the facts that settle most into questions with buttons.
func (t *Talk) choices(p *planner.Plan) []Choice {
	var out []Choice
	for _, f := range p.Open {
		if f.Measured() || len(out) == asks {
			continue
		}
		c := Choice{Fact: f.Name, Ask: f.Ask}
		for _, v := range p.Case.Values(f.Name) {
			c.Options = append(c.Options, Option{Label: v, Says: t.say("choose", map[string]any{"Title": f.Title, "Value": v})})
		}
		out = append(out, c)
	}
	return out
}

func (t *Talk) title(fact string) string { return t.fact(fact).Title }
func (t *Talk) ask(fact string) string   { return t.fact(fact).Ask }

func (t *Talk) fact(name string) *planner.Fact {
	i := slices.IndexFunc(t.book.Facts, func(f *planner.Fact) bool { return f.Name == name })
	return t.book.Facts[i]
}

// section adds a part to the answer unless it is empty.
func (r *Reply) section(title string, fold bool, lines ...string) {
	if len(lines) > 0 {
		r.Sections = append(r.Sections, Section{Title: title, Lines: lines, Fold: fold})
	}
}
