package talk

import (
	"slices"
	"strings"

	"mortarboard/planner"
)

// useOf answers whether products serve the case: no with the reasons, or how far the
// plan takes them. Where anything is open there is no flat yes.
func (t *Talk) useOf(turn *turn) Reply {
	products := t.materialsAsked(turn)
	turn.shelf.products = slices.DeleteFunc(slices.Clone(products), func(p *planner.Product) bool { return p.Name == "" })
	return t.heldAgainst(turn, products)
}

// heldAgainst holds products against the plan of the case.
func (t *Talk) heldAgainst(turn *turn, products []*planner.Product) Reply {
	p := t.book.Plan(turn.now)
	if p.Conflicts != nil {
		return t.plan(turn) // what contradicts itself is put right first
	}
	r := Reply{Kind: KindCheck, Notices: t.doubtNotices(turn)}
	var lines []string
	verdicts := map[planner.Standing]bool{}
	if p.Strategy == planner.Stop && len(products) > 1 {
		products = products[:1] // nothing is seated, whatever with
	}
	for _, product := range products {
		line, verdict := t.useLine(turn, p, product)
		lines = append(lines, line)
		verdicts[verdict] = true
	}
	r.Verdict = string(planner.Unknown)
	for v := range verdicts {
		if len(verdicts) == 1 {
			r.Verdict = string(v)
		}
	}
	r.Headline = strings.Join(lines, " ")
	if turn.inCase() || turn.allergic() {
		t.planBelow(&r, turn, p)
	}
	for _, product := range products {
		r.section(t.say("use for", nameOr(product)), false, t.useSteps(p, product)...)
		if product.Name != "" {
			r.section(product.Name, false, t.shelfCardLines(product)...)
		} else if verdicts[planner.Unknown] || verdicts[planner.Within] {
			r.Notices = append(r.Notices, t.classNotices(product.Class)...)
		}
	}
	return r
}

// classNotices say of a class that was asked about what the shelf has of it: nothing, or
// something past its date.
func (t *Talk) classNotices(class string) []string {
	if t.book.Practice == nil {
		return nil
	}
	var notices []string
	ours := t.shelfOf(shelfQuestion{classes: []string{class}})
	for _, p := range ours {
		if past := p.Past(t.now()); past != "" {
			notices = append(notices, t.say("shelf past", map[string]any{"Name": p.Name, "Past": past}))
		}
	}
	if len(ours) == 0 {
		notices = append(notices, t.say("shelf listing", map[string]any{"Names": "", "What": class, "Which": false}))
	}
	return notices
}

// useSteps are the steps that take a product, with their settings.
func (t *Talk) useSteps(p *planner.Plan, product *planner.Product) []string {
	var lines []string
	for _, f := range t.book.Fits(p, product, t.now()) {
		if f.Step == nil || !t.mayServe(product, f) {
			continue
		}
		lines = append(lines, f.Step.Do)
		for _, setting := range f.Step.Settings {
			lines = append(lines, t.setting(setting))
		}
	}
	return lines
}

// planBelow says in which plan a product was judged, and what that rests on.
func (t *Talk) planBelow(r *Reply, turn *turn, p *planner.Plan) {
	r.section(t.say("choice plan title", nil), false, t.planStands(turn, p))
	for _, a := range grounds(p) {
		r.Reasons = append(r.Reasons, reason(a))
	}
	r.section("Understood", false, t.understood(p)...)
	r.section("Assumed, since nobody has said otherwise", false, slices.Concat(t.assumed(p))...)
	r.section("What settles it", false, t.settles(p)...)
}

// useLine is the answer on one product, and its verdict.
func (t *Talk) useLine(turn *turn, p *planner.Plan, product *planner.Product) (string, planner.Standing) {
	if past := product.Past(t.now()); past != "" && !turn.inCase() && !turn.allergic() {
		return t.useSays(planner.Outside, t.say("use past", map[string]any{"Name": product.Name, "Past": past}), "", p), planner.Outside
	}
	if !turn.inCase() && !turn.allergic() {
		return t.say("use without case", map[string]any{"Line": t.shelfDateLine(product, t.now())}), planner.Unknown
	}
	fits := t.book.Fits(p, product, t.now())
	if len(fits) == 0 {
		return t.useSays(planner.Outside, t.stopWhy(turn, p, product), "", p), planner.Outside
	}
	return t.useOnSides(turn, p, product, fits)
}

// useOnSides weighs what the sides of a plan say of a product.
func (t *Talk) useOnSides(turn *turn, p *planner.Plan, product *planner.Product, fits []planner.Fit) (string, planner.Standing) {
	verdict := t.standingOn(p, product, fits)
	if verdict == planner.Outside {
		return t.useSays(verdict, t.whyNot(p, product, fits[0]), t.instead(p, product), p), verdict
	}
	var sides []string
	for _, f := range fits {
		text := t.fitText(p, product, f)
		sides = append(sides, t.say("use side", map[string]any{
			"Sides": len(fits) > 1, "Side": string(f.Path), "Serves": t.mayServe(product, f), "Text": text,
		}))
	}
	return t.useSays(verdict, strings.Join(sides, ". "), "", p), verdict
}

func (t *Talk) useSays(v planner.Standing, why, instead string, p *planner.Plan) string {
	why = strings.TrimSuffix(why, ".")
	if v == planner.Unknown {
		why = upper(why)
	}
	return t.say("use", map[string]any{"Verdict": string(v), "Why": why, "Instead": instead, "Plan": t.verdict(p.Verdict)})
}

// standingOn is the verdict on a product: outside where no side takes it whatever else
// turns up, within where the only side does and nothing open can change that.
func (t *Talk) standingOn(p *planner.Plan, product *planner.Product, fits []planner.Fit) planner.Standing {
	if !slices.ContainsFunc(fits, func(f planner.Fit) bool { return t.mayServe(product, f) }) {
		return planner.Outside
	}
	only := fits[0]
	if len(fits) == 1 && p.Flat() && len(p.Open) == 0 && only.Serves() && len(only.Hangs) == 0 && product.Name != "" {
		return planner.Within
	}
	return planner.Unknown
}

// mayServe reports whether a product serves a side, or would if something open turns out
// right. A class may hold what the step wants.
func (t *Talk) mayServe(product *planner.Product, f planner.Fit) bool {
	lacks := f.Lacks != "" && product.Name != ""
	return f.Past == "" && f.Barred == nil && !lacks && f.Unfit == nil && (f.Step != nil || f.Maybe || f.Beside)
}

// nameOr is the name of a product, or its class where it has none.
func nameOr(p *planner.Product) string {
	if p.Name == "" {
		return p.Class
	}
	return p.Name
}

// fitText says how a product goes with one side, or why not.
func (t *Talk) fitText(p *planner.Plan, product *planner.Product, f planner.Fit) string {
	if !t.mayServe(product, f) {
		return t.whyNot(p, product, f)
	}
	conditions := t.conditions(f.Hangs)
	if f.Lacks != "" {
		conditions = strings.Trim(t.say("use holding", f.Lacks)+", "+conditions, ", ")
	}
	if f.Step == nil && f.Beside {
		return t.say("use beside", map[string]any{"Name": nameOr(product), "Class": product.Class, "Takes": t.takesFor(p, f.Path, product.Class)})
	}
	if f.Step == nil {
		return t.say("use only if", map[string]any{"Name": nameOr(product), "If": conditions})
	}
	first, yours := nameOf(f.First), ""
	if product.Name == "" && f.First != nil && f.First.Class == product.Class {
		first, yours = "", first
	}
	return t.say("use serves", map[string]any{
		"Name": nameOr(product), "Plan": t.sideOf(f.Path), "If": conditions, "First": first, "Yours": yours,
	})
}

func (t *Talk) conditions(hangs []planner.Condition) string {
	var parts []string
	for _, c := range hangs {
		if c.Fact.Told {
			continue // what is presumed without being asked for stands among the assumptions
		}
		parts = append(parts, c.Fact.Title+" is "+strings.Join(c.Fact.Names(c.Values), " or "))
	}
	return strings.Join(parts, " and ")
}

// whyNot gives every reason against a product on one side.
func (t *Talk) whyNot(p *planner.Plan, product *planner.Product, f planner.Fit) string {
	var why []string
	name, class := nameOr(product), product.Class
	if product.Name == "" {
		class = ""
	}
	if f.Past != "" {
		why = append(why, t.say("use past", map[string]any{"Name": name, "Past": f.Past}))
		name = "it"
	}
	if f.Barred != nil {
		why = append(why, t.say("use barred", map[string]any{"Name": name, "Class": class, "It": name == "it", "Holds": list(f.Barred.Named(product)), "Because": inSentence(f.Barred.Because)}))
	}
	if f.Step == nil && f.Barred == nil {
		why = append(why, t.say("use not taken", map[string]any{"Name": name, "Class": class, "Plan": t.sideOf(f.Path), "Takes": t.takesFor(p, f.Path, product.Class)}))
	}
	if f.Lacks != "" && product.Name != "" {
		why = append(why, t.say("use lacks", map[string]any{"Name": name, "What": f.Lacks}))
	}
	if f.Unfit != nil {
		why = append(why, t.say("use unfit", map[string]any{"Name": name, "Size": product.Particle, "Setting": f.Unfit.Name + ", " + f.Unfit.Of + ", is set to " + f.Unfit.String()}))
	}
	return strings.Join(why, "; ")
}

func (t *Talk) sideOf(path planner.Strategy) string {
	return t.verdict(planner.Verdict{Strategy: path, Leaning: path})
}

// inSentence writes a sentence as the rest of another one.
func inSentence(s string) string {
	s = strings.TrimSuffix(s, ".")
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
