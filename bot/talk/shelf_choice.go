package talk

import (
	"slices"
	"strings"

	"mortarboard/planner"
)

// choiceOf names the product of the shelf that the plan's step takes, then what must not
// be used, then that the rest of the plan stands. A case that is told in the same message
// gets its whole plan below.
func (t *Talk) choiceOf(turn *turn) Reply {
	job := t.words.words.Shelf.job(turn.shelf.job)
	r, p := t.planOf(turn, turn.now)
	if p.Conflicts != nil {
		return t.plan(turn) // what contradicts itself is put right first
	}
	plan := t.planStands(turn, p)
	whole := r.Headline
	r.Headline = t.choiceLine(p, job)
	if t.deciding(turn) > 0 || turn.wants.steps {
		r.Headline += " " + whole
		r.Choices = append(r.Choices, t.runOffer(turn, p)...)
		t.beside(&r, turn)
	} else {
		r.Sections = nil
		r.section(t.say("choice plan title", nil), false, plan)
		r.section("What settles it", false, t.settles(p)...)
	}
	r.section(t.say("choice not title", nil), false, t.notThese(p, job)...)
	for _, side := range p.Sides() {
		for _, s := range t.jobSteps(p, side, job) {
			if s.Product != nil {
				turn.shelf.products = append(turn.shelf.products, s.Product)
			}
		}
	}
	return r
}

// planStands is the verdict of the plan, and that it stands.
func (t *Talk) planStands(asked *turn, p *planner.Plan) string {
	return t.say("choice rest", t.planHeadline(asked, p))
}

// planHeadline is the verdict of the plan alone, whatever was asked.
func (t *Talk) planHeadline(asked *turn, p *planner.Plan) string {
	bare := turn{reading: asked.reading, before: asked.before, now: asked.now}
	return t.headline(&bare, p)
}

// choiceLine is the first line: what each side takes, and what must not be used.
func (t *Talk) choiceLine(p *planner.Plan, job shelfJob) string {
	sides := p.Sides()
	if len(sides) == 0 {
		because := ""
		if g := grounds(p); len(g) > 0 {
			because = g[0].Because
		}
		return t.say("choice stop", map[string]any{"Job": job.Name, "Because": because})
	}
	var parts []string
	for _, side := range sides {
		takes := t.takenFor(p, side, job)
		if len(sides) > 1 {
			parts = append(parts, t.say("choice side", map[string]any{"Side": string(side), "Takes": takes}))
		} else {
			parts = append(parts, upper(takes)+".")
		}
	}
	return t.say("choice", map[string]any{"Takes": strings.Join(parts, " "), "Not": t.mustNot(p, job)})
}

// takenFor names what the steps of a job take on one side of a plan.
func (t *Talk) takenFor(p *planner.Plan, side planner.Strategy, job shelfJob) string {
	var names []string
	for _, s := range t.jobSteps(p, side, job) {
		switch {
		case t.book.Practice == nil:
			names = appendNew(names, t.say("choice class", wantedOf(s)))
		case s.Product == nil:
			names = appendNew(names, t.say("choice none", wantedOf(s)))
		default:
			names = appendNew(names, t.productLine(s.Product))
		}
	}
	if names == nil {
		return t.say("choice no step", job.Name)
	}
	return strings.Join(names, "; ")
}

// wantedOf lists the classes that serve a step.
func wantedOf(s planner.PlannedStep) string {
	var classes []string
	for _, class := range s.Needs {
		if slices.Contains(s.Holders, class) {
			class += " that holds " + s.Holding
		}
		classes = append(classes, class)
	}
	last := len(classes) - 1
	text := classes[last]
	if last > 0 {
		text = strings.Join(classes[:last], ", ") + " or " + text
	}
	if s.Holding != "" && len(s.Holders) == 0 {
		text += " that holds " + s.Holding
	}
	return text
}

// jobSteps are the steps of a job on one side, with the products of the shelf.
func (t *Talk) jobSteps(p *planner.Plan, side planner.Strategy, job shelfJob) []planner.PlannedStep {
	on := t.book.On(p, side)
	t.book.Equip(on, t.now())
	return slices.DeleteFunc(on.Steps, func(s planner.PlannedStep) bool { return !job.does(s) })
}

// productLine names a product with its lot and its last day.
func (t *Talk) productLine(p *planner.Product) string {
	house := slices.ContainsFunc(t.book.Practice.House.Prefer, func(h *planner.Preference) bool { return h.Product == p.Name })
	return t.say("choice one", map[string]any{"Name": p.Name, "Class": p.Class, "Lot": p.Lot, "Last": shelfDay(p.LastDay()), "House": house})
}

// mustNot lists the products of a job that are past their date or kept out by a rule of
// every side. With an allergy all that hold what it is to are named, whatever their job.
func (t *Talk) mustNot(p *planner.Plan, job shelfJob) string {
	var past, barred []string
	because := ""
	for _, product := range t.shelfNow() {
		ours := slices.Contains(slices.Concat(job.Classes, job.Beside), product.Class)
		fits := t.book.Fits(p, product, t.now())
		out := len(fits) > 0 && !slices.ContainsFunc(fits, func(f planner.Fit) bool { return f.Barred == nil })
		switch {
		case out && (ours || t.book.HangsOnCase(fits[0].Barred)):
			barred, because = append(barred, product.Name), fits[0].Barred.Because
		case ours && product.Past(t.now()) != "":
			past = append(past, t.say("choice past", map[string]any{"Name": product.Name, "Past": product.Past(t.now())}))
		}
	}
	if barred != nil {
		past = append(past, t.say("choice barred", map[string]any{"Names": list(barred), "Because": inSentence(because)}))
	}
	return strings.TrimSuffix(strings.Join(past, "; "), ".")
}

// shelfNow is what stands on the shelf; nothing without a practice.
func (t *Talk) shelfNow() []*planner.Product {
	if t.book.Practice == nil {
		return nil
	}
	return t.book.Practice.Shelf
}

// notThese says of every other product of the job why it is not the first.
func (t *Talk) notThese(p *planner.Plan, job shelfJob) []string {
	var lines []string
	for _, product := range t.shelfNow() {
		if !slices.Contains(slices.Concat(job.Classes, job.Beside), product.Class) {
			continue
		}
		fits := t.book.Fits(p, product, t.now())
		if slices.ContainsFunc(fits, func(f planner.Fit) bool { return f.Serves() && f.First == nil }) {
			continue
		}
		for _, f := range fits {
			lines = append(lines, upper(t.say("use side", map[string]any{
				"Sides": len(fits) > 1, "Side": string(f.Path), "Serves": t.mayServe(product, f), "Text": t.fitText(p, product, f),
			}))+".")
		}
	}
	return lines
}

// takesFor names what a side takes for the job of a class.
func (t *Talk) takesFor(p *planner.Plan, side planner.Strategy, class string) string {
	var wanted []string
	for _, s := range t.jobSteps(p, side, t.words.words.Shelf.jobOf(class)) {
		wanted = appendNew(wanted, wantedOf(s))
	}
	return strings.Join(wanted, "; ")
}

// instead names what the side that the plan leans to takes for the job of a product that
// does not serve; nothing where the plan takes none, or there is nothing else.
func (t *Talk) instead(p *planner.Plan, product *planner.Product) string {
	job := t.words.words.Shelf.jobOf(product.Class)
	var names []string
	for _, side := range p.Sides() {
		for _, s := range t.jobSteps(p, side, job) {
			switch {
			case s.Product != nil && s.Product != product:
				names = appendNew(names, t.productLine(s.Product))
			case s.Product == nil && t.book.Practice == nil:
				names = appendNew(names, wantedOf(s))
			}
		}
	}
	return strings.Join(names, " or ")
}

// stopWhy says why nothing serves where the plan is to stop.
func (t *Talk) stopWhy(asked *turn, p *planner.Plan, product *planner.Product) string {
	if past := product.Past(t.now()); past != "" {
		return t.say("use past", map[string]any{"Name": product.Name, "Past": past})
	}
	return t.say("use stop", map[string]any{"Name": nameOr(product), "Plan": t.planHeadline(asked, p)})
}

// shelfBeside tells of the products that a message names beside another answer: what they
// are, and in a plan whether they go with it.
func (t *Talk) shelfBeside(r *Reply, turn *turn) {
	if turn.shelf.about != "" || turn.deed != "" || r.Kind == KindDeclined && len(r.Notices) > 0 {
		return
	}
	t.allergyBeside(r, turn)
	if len(turn.named) == 0 {
		return
	}
	day, p := t.now(), t.book.Plan(turn.now)
	var lines []string
	for _, product := range turn.named {
		lines = append(lines, product.Name+": "+strings.Join(t.shelfCardLines(product), ""))
		switch past := product.Past(day); {
		case turn.inCase() && t.everTaken(product.Class) && len(p.Sides()) > 0:
			if line, v := t.useLine(turn, p, product); v == planner.Outside {
				t.ruleOut(r, turn, line)
			}
		case past != "":
			r.Notices = append(r.Notices, t.say("shelf past", map[string]any{"Name": product.Name, "Past": past}))
		}
	}
	r.section(t.say("beside title", nil), false, lines...)
}

// ruleOut tells that a product does not serve, first of all where a plan was asked for or
// an allergy is known.
func (t *Talk) ruleOut(r *Reply, turn *turn, line string) {
	r.Notices = append(r.Notices, line)
	if r.Kind == KindPlan || turn.allergic() {
		r.Headline = line + " " + r.Headline
	}
}

// allergyBeside tells of the classes of cement that a message names and the allergy rules
// out, beside whatever else was asked of them.
func (t *Talk) allergyBeside(r *Reply, turn *turn) {
	if !turn.allergic() || len(turn.named) > 0 {
		return
	}
	i := slices.IndexFunc(turn.facts, func(s stated) bool { return s.fact == "cement" })
	if i < 0 || r.Kind == KindCheck {
		return
	}
	p := t.book.Plan(turn.now)
	for _, product := range classes(turn.facts[i].values) {
		if line, v := t.useLine(turn, p, product); v == planner.Outside {
			t.ruleOut(r, turn, line)
		}
	}
}

// productsKept are the names of the products that the next message may go on with.
func (t *Talk) productsKept(turn *turn) []string {
	products := turn.named
	if len(products) == 0 {
		products = turn.shelf.products
	}
	var names []string
	for _, p := range products {
		names = append(names, p.Name)
	}
	return names
}

// withoutAsked is the case without the cement that a question of use only asked about.
func (t *Talk) withoutAsked(turn *turn, c planner.Case) planner.Case {
	for _, fact := range []string{"cement", "abrasive"} {
		c = c.Without(fact)
		if turn.before.Known(fact) {
			c, _ = c.With(fact, turn.before.Values(fact)...)
		}
	}
	return c
}
