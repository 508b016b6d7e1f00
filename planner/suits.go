package planner

import (
	"slices"
	"time"
)

// A Fit is how a product stands to one side of a plan: which step takes it, or why
// none does. A product without a name stands for its class.
type Fit struct {
	Path   Strategy
	Step   *PlannedStep // the step that takes its class; nil if none does
	Maybe  bool         // a step takes it in some completion of the case, though not as presumed
	Beside bool         // a step that wants another class has settings for this one too: beads beside alumina
	Hangs  []Condition  // what has to be so for a step to take it and no rule to keep it out
	First  *Product     // what the shelf has before it for the step; nil where it comes first
	Past   string       // why it can no longer be used on the day
	Barred *Pairing     // the rule that keeps it out
	Lacks  string       // what it has to contain and does not name
	Unfit  *Parameter   // the setting that its particle size misses
}

// Serves reports whether the product may be used on this side.
func (f Fit) Serves() bool {
	return f.Step != nil && f.Past == "" && f.Barred == nil && f.Lacks == "" && f.Unfit == nil
}

// Sides are the paths that a plan leaves open, the one it leans to first.
func (p *Plan) Sides() []Strategy {
	switch {
	case p.Followed():
		return []Strategy{p.Decided}
	case p.Strategy == Bond, p.Strategy == Cement:
		return []Strategy{p.Strategy}
	case p.Strategy == Stop, p.Conflicts != nil:
		return nil
	case p.Leaning == Bond:
		return []Strategy{Bond, Cement}
	}
	return []Strategy{Cement, Bond}
}

// On is the plan as it stands if that path is taken, without products.
func (b *Rulebook) On(p *Plan, path Strategy) *Plan {
	taken := *p
	taken.Path, taken.Steps = path, b.protocol(p.Presumed, path)
	return &taken
}

// Fits judges a product by a plan on a day, once for every side that is open.
func (b *Rulebook) Fits(p *Plan, product *Product, day time.Time) []Fit {
	var out []Fit
	for _, side := range p.Sides() {
		out = append(out, b.fit(p, side, product, day))
	}
	return out
}

func (b *Rulebook) fit(p *Plan, side Strategy, product *Product, day time.Time) Fit {
	on := b.On(p, side)
	f := Fit{Path: side, Past: product.Past(day)}
	shelf := b.Practice
	if shelf == nil {
		shelf = &Practice{}
	}
	e := equipper{practice: shelf, pairings: b.Pairings, day: day, seen: map[string]bool{}}
	cement := e.cement(on)
	f.Barred = e.barring(on, product, cement)
	open := takers(b.protocol(p.Case, side), product.Class)
	f.Hangs = e.spared(on, product, cement, hangs(p.Case, open))
	taken := takers(on.Steps, product.Class)
	if len(taken) == 0 {
		f.Maybe = len(open) > 0
		f.Beside = slices.ContainsFunc(on.Steps, func(s PlannedStep) bool { return s.setsFor(product.Class) })
		return f
	}
	f.Step = &taken[0]
	if f.Step.wants(product.Class) && !product.Holds(f.Step.Holding) {
		f.Lacks = f.Step.Holding
	}
	f.Unfit = f.Step.unfit(product)
	if first := e.choose(f.Step, on, cement); first != product {
		f.First = first
	}
	return f
}

// barring is the rule that keeps a product out of a plan; nil if none does.
func (e *equipper) barring(plan *Plan, p, cement *Product) *Pairing {
	i := slices.IndexFunc(e.pairings, func(x *Pairing) bool { return x.bars(plan, p, cement) })
	if i < 0 {
		return nil
	}
	return e.pairings[i]
}

// spared adds what has to be so for no rule to keep the product out: a resin goes with a
// plan if there is no resin allergy, although nobody may have spoken of one.
func (e *equipper) spared(plan *Plan, p, cement *Product, known []Condition) []Condition {
	for _, x := range e.pairings {
		certain, possible := x.applies(plan.Case)
		beside := x.cement == nil || cement != nil && x.cement.fits(cement)
		if x.Shelf || certain || !possible || !x.on(plan.Path) || !beside || !x.product.fits(p) {
			continue
		}
		for _, f := range x.unsettled(plan.Case) {
			if !slices.ContainsFunc(known, func(o Condition) bool { return o.Fact == f }) {
				known = append(known, Condition{f, plan.Case.sets[f.index] &^ x.when[f.index]})
			}
		}
	}
	return known
}

// takers are the steps that a product of the class serves.
func takers(steps []PlannedStep, class string) []PlannedStep {
	return slices.DeleteFunc(slices.Clone(steps), func(s PlannedStep) bool { return !slices.Contains(s.Needs, class) })
}

// setsFor reports whether a step shows settings for abrading with the class.
func (s PlannedStep) setsFor(class string) bool {
	return slices.ContainsFunc(s.Settings, func(p *Parameter) bool { return p.isFor("abrasive", class) })
}

// hangs is what a case has to be for one of the steps to apply. A fact of which the
// steps together take every value is none: a glass ionomer is taken dry and damp.
func hangs(c Case, steps []PlannedStep) []Condition {
	var out []Condition
	for _, s := range steps {
		for _, cond := range s.If {
			taken := Set(0)
			for _, other := range steps {
				taken |= other.when[cond.Fact.index]
			}
			known := slices.ContainsFunc(out, func(o Condition) bool { return o.Fact == cond.Fact })
			if left := taken & c.sets[cond.Fact.index]; !known && left != c.sets[cond.Fact.index] {
				out = append(out, Condition{cond.Fact, left})
			}
		}
	}
	return out
}

// ShelfClasses are the classes of product that a shelf may hold.
func ShelfClasses() []string { return productClasses() }

// ShelfContents are the contents that a product may name.
func ShelfContents() []string { return productContents() }

// ShelfCures are the ways in which a product may cure.
func ShelfCures() []string { return productCures() }
