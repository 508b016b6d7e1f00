package planner

import (
	"fmt"
	"strings"
)

// A Basis says what a number or a rule rests on.
type Basis string

// The bases, from the firmest to the one that is the practice's own.
const (
	Published      Basis = "published"       // the named sources were seen to say it
	CommonPractice Basis = "common practice" // a fact of the trade, without a source
	Inferred       Basis = "inferred"        // follows from the named sources, which do not state it
	FromMemory     Basis = "from memory"     // recalled, not verified
	Computed       Basis = "computed"        // the formula's origin is named
	HouseRule      Basis = "house rule"      // the practice's own, with who approved it and when
)

// A Source is one paper, standard or text that rules rest on.
type Source struct {
	ID    string `yaml:"id"`
	Cite  string `yaml:"cite"`
	Seen  string `yaml:"seen"` // abstract, table, scope, secondary or memory
	DOI   string `yaml:"doi"`
	Found string `yaml:"found"` // what was found, in our words
	Note  string `yaml:"note"`

	Where string `yaml:"-"` // file:line
}

// FromMemory reports whether the source was recalled rather than read.
func (s *Source) FromMemory() bool { return s.Seen == "memory" }

// Provenance is what a row rests on.
type Provenance struct {
	Basis   Basis
	Sources []*Source
	House   string // for house rules: who approved it and when
}

// Cite writes the sources beside a basis, or who approved a house rule. It is
// empty for common practice, which has no source; Support names what bears it out.
func (p Provenance) Cite() string {
	switch p.Basis {
	case HouseRule:
		return p.House
	case CommonPractice:
		return ""
	}
	return p.Support()
}

// Support writes every source named beside a row. Recalled ones say so.
func (p Provenance) Support() string {
	var cites []string
	for _, s := range p.Sources {
		cite := s.Cite
		if s.FromMemory() {
			cite += " (from memory)"
		}
		cites = append(cites, cite)
	}
	return strings.Join(cites, "; ")
}

// check refuses a basis that claims more than its sources support.
func (p Provenance) check() error {
	switch p.Basis {
	case CommonPractice, FromMemory, HouseRule:
		return nil
	case Published, Inferred, Computed:
	default:
		return fmt.Errorf("basis %q is unknown: allowed are published, common practice, inferred, from memory, computed", p.Basis)
	}
	if len(p.Sources) == 0 {
		return fmt.Errorf("basis %q needs at least one source", p.Basis)
	}
	for _, s := range p.Sources {
		if p.Basis == Published && s.FromMemory() {
			return fmt.Errorf("basis published rests on %s, which is known from memory only: use \"from memory\"", s.ID)
		}
	}
	return nil
}
