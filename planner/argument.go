package planner

import "slices"

// An Argument speaks for bonding, for conventional cementation or for
// stopping, under its conditions.
type Argument struct {
	Row
	Provenance
	For     Strategy // Bond, Cement or Stop
	Weight  Weight
	Because string
	Mend    string // what would have to change, for decisive arguments
	First   string // what has to be done before anything else, though the argument stands
}

// An Exclusion says that facts cannot hold together. Completions that break
// one do not count, and a case that breaks one gets a notice.
type Exclusion struct {
	Row
	Provenance
	Because string
}

// A Notice is something the reader of a plan must not miss.
type Notice struct {
	Row
	Provenance
	Say   string            // {setting} stands for the settings that are missed, where Below is set
	Below map[string]string // measured facts that must lie below a setting, by its key
}

// argumentEntry is what an argument says in arguments.yaml and house.yaml alike;
// what it rests on is written differently in each.
type argumentEntry struct {
	ID      string     `yaml:"id"`
	When    conditions `yaml:"when"`
	Unless  conditions `yaml:"unless"`
	For     Strategy   `yaml:"for"`
	Weight  Weight     `yaml:"weight"`
	Because string     `yaml:"because"`
	Mend    string     `yaml:"mend"`
	First   string     `yaml:"first"`
}

type argumentFile struct {
	Arguments []struct {
		argumentEntry `yaml:",inline"`
		Basis         Basis    `yaml:"basis"`
		Sources       []string `yaml:"sources"`
	} `yaml:"arguments"`
}

func (r *reader) arguments() {
	var file argumentFile
	places := r.read("arguments.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Arguments {
		where := places["arguments"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"because": in.Because})
		r.argument(in.argumentEntry, where).Provenance = r.rests(where, in.Basis, in.Sources)
	}
}

// argument adds an argument to the book; what it rests on is the caller's to add.
func (r *reader) argument(in argumentEntry, where string) *Argument {
	a := &Argument{
		Row: r.row(in.ID, where, in.When, in.Unless),
		For: in.For, Weight: in.Weight, Because: in.Because, Mend: in.Mend, First: in.First,
	}
	r.side(a)
	r.book.Arguments = append(r.book.Arguments, a)
	return a
}

// side checks what an argument speaks for and how much it counts.
func (r *reader) side(a *Argument) {
	if !slices.Contains([]Strategy{Bond, Cement, Stop}, a.For) {
		r.problem(a.Where, "for %q is unknown: allowed are bond, cement, stop", a.For)
	}
	if !slices.Contains([]Weight{Decisive, Strong, Weak}, a.Weight) {
		r.problem(a.Where, "weight %q is unknown: allowed are decisive, strong, weak", a.Weight)
	}
	if a.For == Stop && a.Weight != Decisive {
		r.problem(a.Where, "an argument for stop is always decisive, got %q", a.Weight)
	}
	if a.Weight == Decisive && a.Mend == "" {
		r.problem(a.Where, "mend is missing: a decisive argument says what would have to change")
	}
}

func (r *reader) exclusions() {
	var file struct {
		Exclusions []struct {
			ID      string     `yaml:"id"`
			When    conditions `yaml:"when"`
			Because string     `yaml:"because"`
			Basis   Basis      `yaml:"basis"`
			Sources []string   `yaml:"sources"`
		} `yaml:"exclusions"`
	}
	places := r.read("exclusions.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Exclusions {
		where := places["exclusions"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"because": in.Because})
		r.book.Exclusions = append(r.book.Exclusions, &Exclusion{
			Row:        r.row(in.ID, where, in.When, nil),
			Provenance: r.rests(where, in.Basis, in.Sources),
			Because:    in.Because,
		})
	}
}

func (r *reader) notices() {
	var file struct {
		Notices []struct {
			ID      string            `yaml:"id"`
			When    conditions        `yaml:"when"`
			Unless  conditions        `yaml:"unless"`
			Below   map[string]string `yaml:"below"`
			Say     string            `yaml:"say"`
			Basis   Basis             `yaml:"basis"`
			Sources []string          `yaml:"sources"`
		} `yaml:"notices"`
	}
	places := r.read("notices.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Notices {
		where := places["notices"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"say": in.Say})
		for _, fact := range sortedKeys(in.Below) {
			if f := factNamed(r.book.Facts, fact); f == nil || !f.Measured() {
				r.problem(where, "below names %q, which is no measured fact", fact)
			}
			if !slices.Contains(r.book.Keys(), in.Below[fact]) {
				r.problem(where, "parameter %q is not in parameters.yaml", in.Below[fact])
			}
		}
		r.book.Notices = append(r.book.Notices, &Notice{
			Row:        r.row(in.ID, where, in.When, in.Unless),
			Provenance: r.rests(where, in.Basis, in.Sources),
			Say:        in.Say,
			Below:      in.Below,
		})
	}
}
