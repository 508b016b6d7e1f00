package planner

import (
	"math"
	"slices"
)

// A Parameter is one setting as an envelope under conditions. It exists once:
// plans, look-ups, checks, articles and house rules all read this row.
type Parameter struct {
	Row
	Provenance
	Key   string // task.name; several rows may share it, told apart by their conditions
	Name  string // as the trade names the setting: pressure, particle, time
	Of    string // what it is a setting of
	Low   float64
	High  float64 // equal to Low for a single value
	Unit  string
	Below string // what happens below the envelope
	Above string // what happens above it
	Safer string // the setting to fall back to
	Note  string // where sources differ

	Base *Parameter // the built-in row that a house rule replaced

	facts []*Fact // what its conditions are counted by
}

type parameterFile struct {
	Parameters []struct {
		ID      string     `yaml:"id"`
		Key     string     `yaml:"key"`
		Name    string     `yaml:"name"`
		Of      string     `yaml:"of"`
		When    conditions `yaml:"when"`
		Unless  conditions `yaml:"unless"`
		Low     *float64   `yaml:"low"`
		High    *float64   `yaml:"high"`
		Unit    string     `yaml:"unit"`
		Basis   Basis      `yaml:"basis"`
		Sources []string   `yaml:"sources"`
		Below   string     `yaml:"below"`
		Above   string     `yaml:"above"`
		Safer   string     `yaml:"safer"`
		Note    string     `yaml:"note"`
	} `yaml:"parameters"`
}

func (r *reader) parameters() {
	var file parameterFile
	places := r.read("parameters.yaml", &file)
	seen := map[string]string{}
	for i, in := range file.Parameters {
		where := places["parameters"][i]
		r.unique(seen, in.ID, where)
		r.wanted(where, map[string]string{"key": in.Key, "name": in.Name, "of": in.Of, "unit": in.Unit})
		low, high := r.envelopeEnds(where, in.ID+": ", in.Low, in.High)
		r.book.Parameters = append(r.book.Parameters, &Parameter{
			Row:        r.row(in.ID, where, in.When, in.Unless),
			Provenance: r.rests(where, in.Basis, in.Sources),
			Key:        in.Key, Name: in.Name, Of: in.Of, Low: low, High: high, Unit: in.Unit,
			facts: r.book.Facts, Below: in.Below, Above: in.Above, Safer: in.Safer, Note: in.Note,
		})
	}
}

// envelopeEnds checks the ends of an envelope: both there, numbers, in order.
// Problems begin with id.
func (r *reader) envelopeEnds(where, id string, low, high *float64) (float64, float64) {
	switch {
	case low == nil:
		r.problem(where, "low is missing")
	case high == nil:
		r.problem(where, "high is missing")
	case !finite(*low) || !finite(*high):
		r.problem(where, id+"low and high must be numbers, got %v and %v", *low, *high)
	case *low > *high:
		r.problem(where, id+"low %v is above high %v", *low, *high)
	default:
		return *low, *high
	}
	return 0, 0
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// isFor reports whether the setting is one for this value of a choice.
func (p *Parameter) isFor(fact, value string) bool {
	for i, f := range p.facts {
		if f.Name == fact {
			s, err := f.SetOf(value)
			return err == nil && s.Within(p.when[i]) && p.reads(f)
		}
	}
	return false
}

// isForOther reports whether the setting is one for other values of a choice than this.
func (p *Parameter) isForOther(fact, value string) bool {
	for i, f := range p.facts {
		if f.Name == fact && p.reads(f) {
			s, err := f.SetOf(value)
			return err == nil && !s.Within(p.when[i])
		}
	}
	return false
}

// Keys lists every parameter key once, in file order.
func (b *Rulebook) Keys() []string {
	var keys []string
	for _, p := range b.Parameters {
		if !slices.Contains(keys, p.Key) {
			keys = append(keys, p.Key)
		}
	}
	return keys
}

// Settings returns the parameters of a key that can apply to the case. Rows
// that the case rules out are left out; with facts open, several remain.
func (b *Rulebook) Settings(c Case, key string) []*Parameter {
	var out []*Parameter
	for _, p := range b.Parameters {
		if _, possible := p.applies(c); p.Key == key && possible {
			out = append(out, p)
		}
	}
	return out
}
