package sums

import (
	"fmt"
	"math"
)

// CaliperMM is the uncertainty, in mm, of a width or height that was read with
// a caliper.
const CaliperMM = 0.1

// A Length is a measured length.
type Length struct {
	MM        float64
	PlusMinus float64 // mm; 0 for a length taken as it stands
}

// Caliper is a length in mm that is good to [CaliperMM].
func Caliper(mm float64) Length { return Length{mm, CaliperMM} }

// MM is a length in mm, taken as it stands.
func MM(mm float64) Length { return Length{MM: mm} }

// An Angle is a measured angle.
type Angle struct {
	Deg       float64
	PlusMinus float64 // deg; 0 for an angle taken as it stands
}

// Deg is an angle in degrees, taken as it stands.
func Deg(degrees float64) Angle { return Angle{Deg: degrees} }

// An Origin says where a figure comes from and what it cannot say.
type Origin struct {
	Formula string
	Source  string
	Cannot  string
}

// A Figure is a computed value, with the span from Low to High that the
// uncertainty of the inputs leaves open.
type Figure struct {
	Name      string
	Value     float64
	Low, High float64
	Unit      Unit
	Notes     []string // what the reader must know beside the number
	Origin
}

// String names the figure, its value and its span.
func (f Figure) String() string {
	value := Quantity{f.Value, f.Unit}.String()
	span := between(f.Low, f.High, f.Unit)
	if span == value {
		return f.Name + " " + value
	}
	return fmt.Sprintf("%s %s (%s)", f.Name, value, span)
}

// A Span is a setting that a sum reckons with, from the planner's parameters, where
// its source stands.
type Span struct {
	Low, High float64
	Source    string
	Basis     string
	Note      string // where sources differ, and what the figure is not
}

// A Band is a result that is known only within bounds. It has no single value,
// so that none can be shown.
type Band struct {
	Name      string
	Low, High float64
	Unit      Unit
	Basis     string // of the bounds, which claims no more than what went in
	Notes     []string
	Origin
}

// String names the band and its bounds.
func (b Band) String() string { return b.Name + " " + between(b.Low, b.High, b.Unit) }

// An InputError tells which measure cannot be right, and the mend.
type InputError struct {
	What    string // the measure
	Got     string
	Allowed string
	Mend    string
}

// Error puts it in one line.
func (e *InputError) Error() string {
	s := fmt.Sprintf("%s: got %s, allowed %s", e.What, e.Got, e.Allowed)
	if e.Mend != "" {
		s += ": " + e.Mend
	}
	return s
}

// bounds are the limits within which a measure makes sense.
type bounds struct {
	what      string
	low, high float64
	unit      Unit
	mend      string
}

// check refuses a value that is no number or lies outside.
func (b bounds) check(v float64) error {
	if v >= b.low && v <= b.high {
		return nil
	}
	got := Quantity{v, b.unit}.String()
	return &InputError{b.what, got, between(b.low, b.high, b.unit), b.mend}
}

// input is one measure with its uncertainty, as spread takes it.
type input struct{ value, plusMinus float64 }

func (l Length) input() input { return input{l.MM, l.PlusMinus} }
func (a Angle) input() input  { return input{a.Deg, a.PlusMinus} }

// spread evaluates f at the inputs, and its least and greatest value over all
// corners of their uncertainty. For a function that rises or falls in each
// input, as all of ours do, the corners hold the extremes.
func spread(f func(in []float64) float64, ins ...input) (value, low, high float64) {
	at := make([]float64, len(ins))
	for i, in := range ins {
		at[i] = in.value
	}
	value = f(at)
	low, high = value, value
	for corner := range 1 << len(ins) {
		for i, in := range ins {
			at[i] = in.value - in.plusMinus
			if corner>>i&1 == 1 {
				at[i] = in.value + in.plusMinus
			}
		}
		v := f(at)
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return value, low, high
}

// figure spreads f over its inputs and names the result.
func figure(name string, unit Unit, o Origin, f func(in []float64) float64, ins ...input) Figure {
	value, low, high := spread(f, ins...)
	return Figure{Name: name, Value: value, Low: low, High: high, Unit: unit, Origin: o}
}

// exact is a figure whose inputs carry no uncertainty.
func exact(name string, value float64, unit Unit, o Origin) Figure {
	return Figure{Name: name, Value: value, Low: value, High: value, Unit: unit, Origin: o}
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }
func deg(rad float64) float64 { return rad * 180 / math.Pi }
