package planner

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Equip fills the plan's steps with products from the practice's shelf on the
// given day, leaves out steps that the chosen products make unnecessary, and
// returns what the reader must know: what is missing, expired, or must not be
// used together. Without a practice there is nothing to fill in.
func (b *Rulebook) Equip(plan *Plan, day time.Time) (warnings []string) {
	if b.Practice == nil {
		return nil
	}
	e := equipper{practice: b.Practice, pairings: b.Pairings, day: day, seen: map[string]bool{}}
	cement := e.cement(plan)
	for i := range plan.Steps {
		s := &plan.Steps[i]
		if len(s.Needs) == 0 {
			continue
		}
		s.Product = e.choose(s, plan, cement)
		s.Missing = s.Product == nil
	}
	e.ofCement(plan, cement)
	e.spare(plan)
	for _, s := range plan.Steps {
		if s.Missing {
			e.warn("The shelf has nothing usable for “%s”: wanted is %s.", s.Title, wanted(s.Step))
		}
	}
	e.pair(plan)
	return e.warnings
}

func wanted(s *Step) string {
	text := strings.Join(s.Needs, " or ")
	switch {
	case len(s.Holders) > 0:
		for _, class := range s.Holders {
			text = strings.Replace(text, class, class+" that holds "+s.Holding, 1)
		}
	case s.Holding != "":
		text += " that holds " + s.Holding
	}
	return text
}

// An equipper picks products and collects warnings, each once.
type equipper struct {
	practice *Practice
	pairings []*Pairing
	day      time.Time
	warnings []string
	seen     map[string]bool
}

func (e *equipper) warn(format string, args ...any) { e.tell(fmt.Sprintf(format, args...)) }

// tell adds a warning, unless there is nothing to say.
func (e *equipper) tell(text string) {
	if text != "" && !e.seen[text] {
		e.seen[text] = true
		e.warnings = append(e.warnings, text)
	}
}

// cement picks the luting cement first: the adhesive must match it.
func (e *equipper) cement(plan *Plan) *Product {
	for _, s := range plan.Steps {
		if s.Stage == "cement" && len(s.Needs) > 0 {
			return e.choose(&s, plan, nil)
		}
	}
	return nil
}

// choose takes the first usable product of the first class that has one, the
// preferred product of the house before others.
func (e *equipper) choose(s *PlannedStep, plan *Plan, cement *Product) *Product {
	var chosen *Product
	for _, class := range s.Needs {
		for _, product := range e.ofClass(class) { // all of them, so that every one past its date is named
			if e.usable(product, s, plan, cement) && chosen == nil {
				chosen = product
			}
		}
	}
	return chosen
}

// ofClass lists the products of a class, those that the house prefers first.
func (e *equipper) ofClass(class string) []*Product {
	var out []*Product
	for _, name := range e.practice.House.Prefer {
		for _, p := range e.practice.Shelf {
			if p.Class == class && p.Name == name.Product {
				out = append(out, p)
			}
		}
	}
	for _, p := range e.practice.Shelf {
		if p.Class == class && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// usable reports whether a product may serve the step, and warns of what is past
// its date and of pairs that must not meet.
func (e *equipper) usable(p *Product, s *PlannedStep, plan *Plan, cement *Product) bool {
	if s.wants(p.Class) && !p.Holds(s.Holding) {
		return false
	}
	if why := p.Past(e.day); why != "" {
		e.warn("%s cannot be used: %s.", p.Name, why)
		return false
	}
	if unfit := s.unfit(p); unfit != nil {
		e.warn("%s is of %v µm: %s is set to %s, %s.", p.Name, p.Particle, unfit.Name, unfit, unfit.Of)
		return false
	}
	for _, x := range e.pairings {
		if x.bars(plan, p, cement) {
			e.tell(x.says(p, cement))
			return false
		}
	}
	return true
}

// unfit is the setting that an abrasive's particle size misses in every case that
// is left; nil if it misses none, or nothing is known of its size.
func (s *PlannedStep) unfit(p *Product) *Parameter {
	var missed *Parameter
	for _, setting := range s.Settings {
		if p.Particle == 0 || setting.Unit != "µm" || !setting.isFor("abrasive", p.Class) {
			continue
		}
		if setting.Judge(p.Particle) != Outside {
			return nil
		}
		missed = setting
	}
	return missed
}

// ofCement leaves out the settings that are those of another cement than the one chosen,
// such as the working time of one that is past its date.
func (e *equipper) ofCement(plan *Plan, cement *Product) {
	if cement == nil {
		return
	}
	for i := range plan.Steps {
		s := &plan.Steps[i]
		s.Settings = slices.DeleteFunc(slices.Clone(s.Settings), func(p *Parameter) bool { return p.isForAnother(cement.Class) })
	}
}

// spare marks the steps that the chosen cement makes unnecessary.
func (e *equipper) spare(plan *Plan) {
	for i := range plan.Steps {
		s := &plan.Steps[i]
		if s.Spared == "" {
			continue
		}
		for _, other := range plan.Steps {
			if other.Stage == "cement" && other.Product != nil && other.Product.Holds(s.Spared) {
				s.SparedBy, s.Missing = other.Product, false
			}
		}
	}
}

// pair warns of what stands on the shelf and may have been used before.
func (e *equipper) pair(plan *Plan) {
	for _, x := range e.pairings {
		for _, p := range e.practice.Shelf {
			if x.warns(plan, p) {
				e.tell(x.says(p, nil))
			}
		}
	}
}
