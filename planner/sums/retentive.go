package sums

import (
	"fmt"
	"slices"
	"strings"
)

// Position is where the tooth stands; empty where that is not known.
type Position string

// The positions of the published limits.
const (
	Anterior Position = "anterior"
	Premolar Position = "premolar"
	Molar    Position = "molar"
)

// FormVerdict is what the measures say of the retentive form.
type FormVerdict string

// The verdicts of [RetentiveForm].
const (
	Adequate     FormVerdict = "adequate"
	Inadequate   FormVerdict = "inadequate"
	NotDecidable FormVerdict = "not decidable yet"
)

// State is how one criterion of form stands.
type State string

// The states of a criterion.
const (
	Met     State = "met"
	Missed  State = "missed"
	Close   State = "too close to tell"
	Unknown State = "not known"
)

// A FormCriterion is one published limit and how the preparation stands to it.
type FormCriterion struct {
	Name   string
	State  State
	Got    string // what was measured; empty if nothing was
	Wanted string
	Source string
}

// A Form is the judged retentive form of a preparation.
type Form struct {
	Verdict  FormVerdict
	Criteria []FormCriterion
	Missing  []string // what to measure for a verdict
	Notes    []string
	Origin
}

// FormLimits are the limits that a preparation is held against. They come from
// the planner's parameters, where their source stands.
type FormLimits struct {
	MolarHeightMM   float64
	OtherHeightMM   float64
	LeastTOC        float64 // deg; less is not worse to hold, but hard to cut and to seat
	MostTOC         float64 // deg
	LeastProportion float64 // height over width

	HeightSource, TOCSource, ProportionSource string
}

// sources names what the limits rest on, each source once.
func (l FormLimits) sources() string {
	var out []string
	for _, s := range []string{l.HeightSource, l.TOCSource, l.ProportionSource} {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return strings.Join(append(out, "half-wall rule after Parker 2004, Dent Clin North Am 48:387-396"), "; ")
}

// RetentiveForm judges whether a preparation holds its crown by form, by the limits and from what
// is known of its height and width at the margin in mm and its total
// convergence in deg; nil is not known. One criterion missed makes it
// inadequate; adequate needs height and convergence known and everything known
// met.
func RetentiveForm(limits FormLimits, height, width *Length, toc *Angle, position Position) (Form, error) {
	if err := checkKnown(height, width, toc, position); err != nil {
		return Form{}, err
	}
	f := Form{Origin: Origin{
		fmt.Sprintf("height at least %s mm (molar) or %s mm, convergence at most %s°, height at least %s of the width, half-wall rule",
			number(limits.MolarHeightMM), number(limits.OtherHeightMM), number(limits.MostTOC), number(limits.LeastProportion)),
		limits.sources(),
		"It takes a plain preparation without grooves or boxes, which can make up for a missed limit, and says nothing of the cement.",
	}}
	f.Criteria = []FormCriterion{
		limits.height(height, position), limits.convergence(toc),
		limits.proportion(height, width), halfWallCriterion(height, width, toc),
	}
	f.conclude(limits, height, width, toc, position)
	return f, nil
}

func checkKnown(height, width *Length, toc *Angle, position Position) error {
	switch position {
	case Anterior, Premolar, Molar, "":
	default:
		return &InputError{"position", fmt.Sprintf("%q", position), "anterior, premolar, molar or empty", ""}
	}
	h, w, a := MM(heightBounds.low), MM(baseBounds.low), Deg(0)
	if height != nil {
		h = *height
	}
	if width != nil {
		w = *width
	}
	if toc != nil {
		a = *toc
	}
	return checkForm(h, w, a)
}

// state compares a span with a least wanted value.
func state(low, high, least float64) State {
	switch {
	case low >= least:
		return Met
	case high < least:
		return Missed
	}
	return Close
}

func (l FormLimits) height(height *Length, position Position) FormCriterion {
	c := FormCriterion{Name: "height", Source: l.HeightSource, State: Unknown}
	need, sure := l.OtherHeightMM, l.OtherHeightMM
	molar, other := number(l.MolarHeightMM), number(l.OtherHeightMM)
	c.Wanted = fmt.Sprintf("at least %s mm on a front tooth or premolar", other)
	switch position {
	case Molar:
		need, sure, c.Wanted = l.MolarHeightMM, l.MolarHeightMM, fmt.Sprintf("at least %s mm on a molar", molar)
	case "":
		sure, c.Wanted = l.MolarHeightMM, fmt.Sprintf("at least %s mm on a molar, %s mm on another tooth", molar, other)
	}
	if height == nil {
		return c
	}
	c.Got = spanOf(height.MM, height.PlusMinus, Millimetre)
	low, high := height.MM-height.PlusMinus, height.MM+height.PlusMinus
	switch c.State = state(low, high, need); {
	case c.State == Met && low < sure: // enough for another tooth, not for a molar
		c.State = Unknown
	}
	return c
}

func (l FormLimits) convergence(toc *Angle) FormCriterion {
	c := FormCriterion{Name: "total convergence", Source: l.TOCSource, State: Unknown,
		Wanted: number(l.LeastTOC) + " to " + number(l.MostTOC) + "°"}
	if toc == nil {
		return c
	}
	c.Got = spanOf(toc.Deg, toc.PlusMinus, Degree)
	c.State = state(-toc.Deg-toc.PlusMinus, -toc.Deg+toc.PlusMinus, -l.MostTOC)
	return c
}

func (l FormLimits) proportion(height, width *Length) FormCriterion {
	c := FormCriterion{Name: "height to width", Source: l.ProportionSource, State: Unknown, Wanted: "at least " + number(l.LeastProportion)}
	if height == nil || width == nil {
		return c
	}
	value, low, high := spread(func(in []float64) float64 { return in[0] / in[1] }, height.input(), width.input())
	c.Got = number(value)
	c.State = state(low, high, l.LeastProportion)
	return c
}

func halfWallCriterion(height, width *Length, toc *Angle) FormCriterion {
	c := FormCriterion{Name: "half-wall rule", Source: fractionOrigin.Source, State: Unknown,
		Wanted: "the upper half of the wall resists tipping"}
	if height == nil || width == nil || toc == nil {
		return c
	}
	value, low, high := spread(func(in []float64) float64 { return resisting(in[0], in[1], in[2]) },
		height.input(), width.input(), toc.input())
	c.Got = fmt.Sprintf("the upper %.0f %% of the wall resists", 100*max(0, value))
	c.State = state(low, high, 0.5)
	return c
}

func spanOf(value, plusMinus float64, u Unit) string {
	if plusMinus == 0 {
		return Quantity{value, u}.String()
	}
	return fmt.Sprintf("%s ± %s", number(value), Quantity{plusMinus, u})
}

// conclude weighs the criteria, says what is missing and what to note.
func (f *Form) conclude(limits FormLimits, height, width *Length, toc *Angle, position Position) {
	f.Verdict = Adequate
	for _, c := range f.Criteria {
		optional := c.State == Unknown && (c.Name == "height to width" || c.Name == "half-wall rule")
		if c.State == Missed {
			f.Verdict = Inadequate
		} else if c.State != Met && !optional && f.Verdict == Adequate {
			f.Verdict = NotDecidable
		}
		if c.State == Close {
			f.Notes = append(f.Notes, c.Name+" is within the uncertainty of its limit: measure again")
		}
	}
	f.missing(height, width, toc, position)
	if toc != nil && toc.Deg < limits.LeastTOC {
		f.Notes = append(f.Notes, "under "+number(limits.LeastTOC)+"° the crown holds well, but may not seat: check the path of insertion")
	}
}

// missing lists what would settle an open verdict.
func (f *Form) missing(height, width *Length, toc *Angle, position Position) {
	if f.Verdict == Inadequate {
		return
	}
	for _, m := range []struct {
		open bool
		what string
	}{
		{height == nil, "height"},
		{toc == nil, "total convergence"},
		{position == "" && height != nil && f.Criteria[0].State == Unknown, "position"},
		{width == nil, "width at the margin"},
	} {
		if m.open {
			f.Missing = append(f.Missing, m.what)
		}
	}
}
