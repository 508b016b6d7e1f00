package sums

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// ForceLimits are the stresses and forces that the sums reckon with.
type ForceLimits struct {
	Retention Span              // MPa that pull a crown off
	Bite      map[Position]Span // N to design for
	Measured  []Band            // bite forces that were measured
}

// RetentionForce bounds the force in N that pulls off a crown whose cemented
// walls have an area in mm². It is an order of magnitude, rounded outward to
// one digit, and ranks no cement.
func RetentionForce(limits ForceLimits, wallsMM2 float64) (Band, error) {
	if err := (bounds{"area of the walls", 10, 600, MM2, "give the cemented area in mm²"}).check(wallsMM2); err != nil {
		return Band{}, err
	}
	stress := limits.Retention
	o := Origin{
		Formula: "force = stress × area, stress " + between(stress.Low, stress.High, MPa),
		Source:  stress.Source,
		Cannot:  "Laboratories differ by a factor of three to four for the same kind of cement, so it neither ranks cements nor predicts a loss.",
	}
	b := band("force to pull the crown off, order of magnitude", outward(stress.Low*wallsMM2, math.Floor),
		outward(stress.High*wallsMM2, math.Ceil), Newton, o)
	b.Basis = stress.Basis
	b.Notes = noted("a force of some hundreds of newtons; the numbers are bounds, not a prediction", stress.Note)
	return b, nil
}

// noted are the notes that are not empty.
func noted(notes ...string) []string {
	return slices.DeleteFunc(notes, func(n string) bool { return n == "" })
}

// outward rounds to one digit in the direction given.
func outward(v float64, round func(float64) float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v)))
	return round(v/unit) * unit
}

// BiteForce bounds the bite force in N to design for at a position. Where the
// position is not known it is that of a molar.
func BiteForce(limits ForceLimits, p Position) (Band, error) {
	name := map[Position]string{Molar: "molar", Premolar: "premolar", Anterior: "front tooth"}
	if p == "" {
		p = Molar
	}
	if name[p] == "" {
		return Band{}, &InputError{"position", fmt.Sprintf("%q", p), "anterior, premolar, molar or empty", ""}
	}
	force := limits.Bite[p]
	b := band("bite force to design for, "+name[p], force.Low, force.High, Newton, Origin{
		Formula: "bounds from published loads, no calculation",
		Source:  force.Source,
		Cannot:  "It is for planning. Grinding and clenching exceed it, and measured people differ widely.",
	})
	b.Basis, b.Notes = force.Basis, noted(force.Note)
	return b, nil
}

// PeripheralSpeed is the speed in m/s of the edge of an instrument, from its
// diameter in mm and its speed in rpm.
func PeripheralSpeed(diameterMM, rpm float64) (Figure, error) {
	diameter := bounds{"diameter of the instrument", 0.1, 30, Millimetre, "give the working diameter in mm"}
	speed := bounds{"rotation speed", 100, 500000, RPM, "give turns a minute"}
	if err := cmp.Or(diameter.check(diameterMM), speed.check(rpm)); err != nil {
		return Figure{}, err
	}
	o := Origin{"speed = π × diameter × rpm / 60000", "definition",
		"It says nothing of force, water or heat; the speed printed on the instrument is never exceeded."}
	return exact("speed at the edge", math.Pi*diameterMM*rpm/60000, MetrePerSecond, o), nil
}

// ConvertPressure converts a pressure to another unit with the factors of NIST
// SP 811.
func ConvertPressure(q Quantity, to Unit) (Quantity, error) {
	if q.Unit.Dimension() != Pressure || to.Dimension() != Pressure {
		return Quantity{}, fmt.Errorf("%s to %s is no conversion of pressures: use bar, psi, MPa or kPa", q.Unit, to)
	}
	return q.In(to)
}

// CheckBlastPressure refuses a pressure that no blasting unit is used at, by the
// limits in bar, and asks whether the next unit was meant, for 2 MPa in place of
// 0.2 MPa is a common slip. It does not guess.
func CheckBlastPressure(limits Span, q Quantity) error {
	p, err := ConvertPressure(q, Bar)
	if err != nil {
		return err
	}
	if p.Value >= limits.Low*(1-1e-9) && p.Value <= limits.High*(1+1e-9) {
		return nil
	}
	mend := "check the number and the unit"
	if meant := p.Value / 10; meant >= limits.Low && meant <= limits.High {
		mend = fmt.Sprintf("was %s meant?", Quantity{q.Value / 10, q.Unit})
	}
	got := q.String()
	if q.Unit != Bar {
		got += " (" + p.String() + ")"
	}
	allowed := fmt.Sprintf("%s (%s)", between(limits.Low, limits.High, Bar), between(limits.Low/10, limits.High/10, MPa))
	return &InputError{"blasting pressure", got, allowed, mend}
}
