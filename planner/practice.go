package planner

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"
)

// A Practice is what one practice brings: its name, who leads it clinically,
// its shelf of products and its rules of the house.
type Practice struct {
	Name  string
	Lead  string // who is asked when the bot does not know
	Shelf []*Product
	House House
}

// A Product is one thing on the shelf.
type Product struct {
	Name      string   `yaml:"name"`
	Class     string   `yaml:"class"`
	Contains  []string `yaml:"contains"`  // MDP, silane, HEMA, eugenol, methacrylate
	Cure      string   `yaml:"cure"`      // light, dual or self; for resin cements
	AmineFree bool     `yaml:"aminefree"` // cures without an amine that acid would use up
	Acidic    bool     `yaml:"acidic"`    // adhesives acidic enough to stop an amine-cured cement
	Activator bool     `yaml:"activator"` // adhesives that come with their dual-cure activator
	Particle  float64  `yaml:"particle"`  // abrasives: size in µm
	Lot       string   `yaml:"lot"`
	Opened    Date     `yaml:"opened"`
	Expires   Date     `yaml:"expires"`
	KeepsDays int      `yaml:"keeps_days"` // how long it keeps once opened, in days; 0 if it does not say

	Where string `yaml:"-"` // file:line
}

// A Date is a day as written in a practice file, 2026-11-24.
type Date struct{ time.Time }

// UnmarshalYAML reads the day; the error shows the form wanted.
func (d *Date) UnmarshalYAML(node *yaml.Node) error {
	t, err := time.Parse(time.DateOnly, node.Value)
	if err != nil {
		return fmt.Errorf("line %d: %q is not a day: write it as 2026-11-24", node.Line, node.Value)
	}
	d.Time = t
	return nil
}

// String writes the day as 2026-11-24.
func (d Date) String() string { return d.Format(time.DateOnly) }

// before reports whether the day is over on the given day, wherever that day is.
func (d Date) before(day time.Time) bool { return d.String() < day.Format(time.DateOnly) }

// Holds reports whether the product contains the substance. MDP and HEMA are
// methacrylates: what names one of them holds a methacrylate.
func (p *Product) Holds(substance string) bool {
	kin := substance == "methacrylate" && (p.Holds("MDP") || p.Holds("HEMA"))
	return kin || slices.Contains(p.Contains, substance)
}

// LastDay is the last day on which the product may be used, by its expiry and by how
// long it keeps once opened; zero if the shelf does not say.
func (p *Product) LastDay() Date {
	last := p.Expires
	if opened := p.OpenedUntil(); !opened.IsZero() && (last.IsZero() || opened.Before(last.Time)) {
		last = opened
	}
	return last
}

// OpenedUntil is the last day by how long the product keeps once opened; zero if the
// shelf does not say both.
func (p *Product) OpenedUntil() Date {
	if p.KeepsDays == 0 || p.Opened.IsZero() {
		return Date{}
	}
	return Date{p.Opened.AddDate(0, 0, p.KeepsDays)}
}

// Past tells why the product can no longer be used on the day, or nothing.
func (p *Product) Past(day time.Time) string {
	switch {
	case !p.Expires.IsZero() && p.Expires.before(day):
		return "expired on " + p.Expires.String()
	case !p.OpenedUntil().IsZero() && p.OpenedUntil().before(day):
		return fmt.Sprintf("opened on %s, keeps %d days", p.Opened, p.KeepsDays)
	}
	return ""
}

// productClasses are the classes of product that a shelf may hold.
func productClasses() []string {
	return []string{
		"zirconia cleaner", "sodium hypochlorite", "alumina", "glass beads", "silica-coated alumina",
		"zirconia primer", "silane", "universal adhesive", "phosphoric acid",
		"adhesive resin", "self-adhesive resin", "resin-modified glass ionomer", "conventional glass ionomer",
		"zinc phosphate", "calcium aluminate", "provisional cement", "try-in paste", "polisher",
	}
}

// productContents are the contents that a product may name.
func productContents() []string {
	return []string{"MDP", "silane", "HEMA", "methacrylate", "eugenol", "fluoride"}
}

// productCures are the ways in which a product may cure.
func productCures() []string { return []string{"light", "dual", "self"} }

// LoadPractice reads practice.yaml, shelf.yaml and house.yaml of a practice
// folder. The last two may be absent. The error joins every problem, each with
// file:line.
func LoadPractice(fsys fs.FS) (*Practice, error) {
	r := &reader{fsys: fsys}
	var about struct {
		Name string `yaml:"name"`
		Lead string `yaml:"lead"`
	}
	r.read("practice.yaml", &about)
	p := &Practice{Name: about.Name, Lead: about.Lead}
	if len(r.problems) == 0 {
		r.wanted("practice.yaml", map[string]string{"name": p.Name, "lead": p.Lead})
	}
	r.knownFiles()
	if exists(fsys, "shelf.yaml") {
		p.Shelf = r.shelf()
	}
	if exists(fsys, "house.yaml") {
		p.House = r.house()
	}
	return p, errors.Join(r.problems...)
}

// knownFiles refuses what would be left unread in silence, such as house.yml.
func (r *reader) knownFiles() {
	entries, err := fs.ReadDir(r.fsys, ".")
	if err != nil {
		return // practice.yaml has already said so
	}
	for _, e := range entries {
		name := e.Name()
		known := slices.Contains([]string{"practice.yaml", "shelf.yaml", "house.yaml"}, name) || name == "articles" && e.IsDir()
		aside := strings.HasPrefix(name, ".") || strings.HasPrefix(strings.ToUpper(name), "README")
		if !known && !aside {
			r.problem(name, "is not read: a practice has practice.yaml, shelf.yaml, house.yaml and a folder articles; rename it or take it out")
		}
	}
}

func exists(fsys fs.FS, name string) bool {
	_, err := fs.Stat(fsys, name)
	return !errors.Is(err, fs.ErrNotExist)
}

func (r *reader) shelf() []*Product {
	var file struct {
		Products []*Product `yaml:"products"`
	}
	places := r.read("shelf.yaml", &file)
	seen := map[string]string{}
	for i, p := range file.Products {
		p.Where = places["products"][i]
		r.unique(seen, p.Name, p.Where)
		r.wanted(p.Where, map[string]string{"name": p.Name, "class": p.Class})
		if !slices.Contains(productClasses(), p.Class) {
			r.problem(p.Where, "class %q is unknown: allowed are %v", p.Class, productClasses())
		}
		for _, c := range p.Contains {
			if !slices.Contains(productContents(), c) {
				r.problem(p.Where, "contents %q are unknown: allowed are %v", c, productContents())
			}
		}
		if p.Cure != "" && !slices.Contains(productCures(), p.Cure) {
			r.problem(p.Where, "cure %q is unknown: allowed are light, dual, self", p.Cure)
		}
		if p.Class == "adhesive resin" && p.Cure == "" {
			r.problem(p.Where, "%s needs cure (light, dual or self): a plan cannot choose it without", p.Name)
		}
	}
	return file.Products
}
