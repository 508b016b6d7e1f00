package planner

import (
	"slices"
	"strings"
)

// A Pairing says which products of a shelf do not serve a plan: in its cases and on
// its paths, and beside its cement if it names one.
type Pairing struct {
	Row
	Provenance
	Paths   []Strategy // the plans it speaks of; empty: all
	Shelf   bool       // it warns of whatever stands on the shelf, and keeps nothing from being chosen
	Because string
	Say     string // what staff are told; {product} and {cement} stand for the names. Empty: passed over in silence

	product kind
	cement  *kind
}

// kind picks products; every part that is set must fit.
type kind struct {
	Class     []string `yaml:"class"`
	Holds     []string `yaml:"holds"` // one of them is enough
	Cure      []string `yaml:"cure"`
	CureNot   []string `yaml:"cure_not"` // a product that does not say how it cures fits, too
	Acidic    *bool    `yaml:"acidic"`
	Activator *bool    `yaml:"activator"`
	AmineFree *bool    `yaml:"aminefree"`
}

func (k *kind) fits(p *Product) bool {
	same := func(wanted *bool, is bool) bool { return wanted == nil || *wanted == is }
	return (k.Class == nil || slices.Contains(k.Class, p.Class)) &&
		(k.Holds == nil || slices.ContainsFunc(k.Holds, p.Holds)) &&
		(k.Cure == nil || slices.Contains(k.Cure, p.Cure)) &&
		!slices.Contains(k.CureNot, p.Cure) &&
		same(k.Acidic, p.Acidic) && same(k.Activator, p.Activator) && same(k.AmineFree, p.AmineFree)
}

// bars reports whether the product must not serve the plan beside the cement, which
// may be nil. The row's conditions have to be certain.
func (x *Pairing) bars(plan *Plan, p, cement *Product) bool {
	certain, _ := x.applies(plan.Presumed)
	beside := x.cement == nil || cement != nil && x.cement.fits(cement)
	return !x.Shelf && certain && x.on(plan.Path) && beside && x.product.fits(p)
}

// warns reports whether staff are to know that the product stands on the shelf. For
// that the row's conditions need only be possible.
func (x *Pairing) warns(plan *Plan, p *Product) bool {
	_, possible := x.applies(plan.Presumed)
	return x.Shelf && possible && x.on(plan.Path) && x.product.fits(p)
}

// Named are the contents of the product for which the row picks it.
func (x *Pairing) Named(p *Product) []string {
	return slices.DeleteFunc(slices.Clone(p.Contains), func(c string) bool { return !slices.Contains(x.product.Holds, c) })
}

// HangsOnCase reports whether a row keeps a product out because of the case, as one on
// an allergy does.
func (b *Rulebook) HangsOnCase(x *Pairing) bool { return slices.ContainsFunc(b.Facts, x.reads) }

func (x *Pairing) on(path Strategy) bool { return len(x.Paths) == 0 || slices.Contains(x.Paths, path) }

// says is what staff are told of the product, and of the cement beside it.
func (x *Pairing) says(p, cement *Product) string {
	names := []string{"{product}", p.Name}
	if cement != nil {
		names = append(names, "{cement}", cement.Name)
	}
	return strings.NewReplacer(names...).Replace(x.Say)
}

type pairingFile struct {
	Pairings []struct {
		ID      string     `yaml:"id"`
		When    conditions `yaml:"when"`
		Unless  conditions `yaml:"unless"`
		Paths   []Strategy `yaml:"paths"`
		Shelf   bool       `yaml:"shelf"`
		Product *kind      `yaml:"product"`
		Cement  *kind      `yaml:"cement"`
		Because string     `yaml:"because"`
		Say     string     `yaml:"say"`
		Basis   Basis      `yaml:"basis"`
		Sources []string   `yaml:"sources"`
	} `yaml:"pairings"`
}

func (r *reader) pairings() {
	var file pairingFile
	places := r.read("pairings.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Pairings {
		where := places["pairings"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"because": in.Because})
		x := &Pairing{
			Row: r.row(in.ID, where, in.When, in.Unless), Provenance: r.rests(where, in.Basis, in.Sources),
			Paths: in.Paths, Shelf: in.Shelf, Because: in.Because, Say: in.Say, cement: in.Cement,
		}
		for _, path := range in.Paths {
			if path != Bond && path != Cement && path != Stop {
				r.problem(where, "path %q is unknown: allowed are bond, cement, stop", path)
			}
		}
		if in.Product == nil {
			r.problem(where, "%s bars nothing: name the product", in.ID)
			continue
		}
		x.product = *in.Product
		r.pairing(x)
		r.book.Pairings = append(r.book.Pairings, x)
	}
}

// pairing checks that a row picks products that a shelf may hold, and names in its
// sentence only what it speaks of.
func (r *reader) pairing(x *Pairing) {
	r.kindOf(x.Where, x.ID, &x.product)
	if x.cement != nil {
		r.kindOf(x.Where, x.ID, x.cement)
	}
	switch {
	case x.Shelf && x.Say == "":
		r.problem(x.Where, "%s warns of nothing: write say", x.ID)
	case x.Shelf && x.cement != nil:
		r.problem(x.Where, "%s looks at the whole shelf, where no cement is chosen: take cement out", x.ID)
	case x.cement == nil && strings.Contains(x.Say, "{cement}"):
		r.problem(x.Where, "%s says {cement} and names no cement", x.ID)
	}
}

func (r *reader) kindOf(where, id string, k *kind) {
	if k.Class == nil && k.Holds == nil && k.Cure == nil && k.CureNot == nil && k.Acidic == nil && k.Activator == nil && k.AmineFree == nil {
		r.problem(where, "%s picks every product: name class, holds, cure, cure_not, acidic, activator or aminefree", id)
	}
	for _, list := range []struct {
		what    string
		written []string
		allowed []string
	}{
		{"class", k.Class, productClasses()}, {"content", k.Holds, productContents()},
		{"cure", slices.Concat(k.Cure, k.CureNot), productCures()},
	} {
		for _, w := range list.written {
			if !slices.Contains(list.allowed, w) {
				r.problem(where, "%s %q is unknown: allowed are %s", list.what, w, strings.Join(list.allowed, ", "))
			}
		}
	}
}
