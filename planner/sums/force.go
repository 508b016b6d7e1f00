package sums

import (
	"cmp"
	"fmt"
	"math"
)

// Retention stress that laboratories measured on abraded zirconia, in MPa.
const (
	leastRetention = 1.4 // BMC Oral Health 2022, doi 10.1186/s12903-022-02223-0: 1.42 to 2.71
	mostRetention  = 5.1 // Palacios et al. 2006, J Prosthet Dent 96:104-114, from memory
)

// RetentionForce bounds the force in N that pulls off a crown whose cemented
// walls have an area in mm². It is an order of magnitude, rounded outward to
// one digit, and ranks no cement.
func RetentionForce(wallsMM2 float64) (Band, error) {
	if err := (bounds{"area of the walls", 10, 600, MM2, "give the cemented area in mm²"}).check(wallsMM2); err != nil {
		return Band{}, err
	}
	o := Origin{
		Formula: "force = stress × area, stress 1.4 to 5.1 MPa",
		Source: "BMC Oral Health 2022, doi 10.1186/s12903-022-02223-0, for the lower end; " +
			"Palacios et al. 2006, J Prosthet Dent 96:104-114, from memory, for the upper",
		Cannot: "Laboratories differ by a factor of three to four for the same kind of cement, so it neither ranks cements nor predicts a loss.",
	}
	b := band("force to pull the crown off, order of magnitude", outward(leastRetention*wallsMM2, math.Floor),
		outward(mostRetention*wallsMM2, math.Ceil), Newton, o)
	b.Notes = []string{"a force of some hundreds of newtons; the numbers are bounds, not a prediction"}
	return b, nil
}

// outward rounds to one digit in the direction given.
func outward(v float64, round func(float64) float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v)))
	return round(v/unit) * unit
}

// BiteForce bounds the bite force in N to design for at a position. Where the
// position is not known it is that of a molar.
func BiteForce(p Position) (Band, error) {
	o := Origin{
		Formula: "bounds from published loads, no calculation",
		Source: "finite-element conventions in PMC5308080 (600 N) and PMC4722152 (700 N); single incisor 40 to 48 % of the strongest tooth, " +
			"Ferrario et al. 2004, J Oral Rehabil 31:18-22",
		Cannot: "It is for planning. Grinding and clenching exceed it, and measured people differ widely.",
	}
	switch p {
	case Molar, "":
		return band("bite force to design for, molar", 600, 700, Newton, o), nil
	case Premolar:
		b := band("bite force to design for, premolar", 600, 700, Newton, o)
		b.Notes = []string{"no figure for premolars was found: the molar's is taken to be safe"}
		return b, nil
	case Anterior:
		return band("bite force to design for, front tooth", 200, 250, Newton, o), nil
	}
	return Band{}, &InputError{"position", fmt.Sprintf("%q", p), "anterior, premolar, molar or empty", ""}
}

// MeasuredBite lists the published bite forces, as bands from women to men.
func MeasuredBite() []Band {
	helkimo := Origin{"measured", "Bite force and state of dentition, 125 people aged 15 to 65 (Helkimo, Carlsson, Helkimo 1977; authors from memory)", "group means of the strongest bite"}
	bakke := Origin{"measured", "Bakke et al. 1990, Scand J Dent Res 98:149-158", "group means of the strongest one-sided bite"}
	return []Band{
		band("strongest molar bite, women to men", 216, 382, Newton, helkimo),
		band("strongest incisor bite, women to men", 108, 176, Newton, helkimo),
		band("strongest one-sided bite, women to men", 441, 522, Newton, bakke),
	}
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

// The pressures that a blasting unit is used at, in MPa. 2 MPa for 0.2 MPa is a
// common slip.
const (
	leastBlast = 0.05
	mostBlast  = 0.6
)

// ConvertPressure converts a pressure to another unit with the factors of NIST
// SP 811.
func ConvertPressure(q Quantity, to Unit) (Quantity, error) {
	if q.Unit.Dimension() != Pressure || to.Dimension() != Pressure {
		return Quantity{}, fmt.Errorf("%s to %s is no conversion of pressures: use bar, psi, MPa or kPa", q.Unit, to)
	}
	return q.In(to)
}

// CheckBlastPressure refuses a pressure that no blasting unit is used at, and
// asks whether the next unit was meant. It does not guess.
func CheckBlastPressure(q Quantity) error {
	p, err := ConvertPressure(q, MPa)
	if err != nil {
		return err
	}
	if p.Value >= leastBlast*(1-1e-9) && p.Value <= mostBlast*(1+1e-9) {
		return nil
	}
	bar, err := q.In(Bar)
	if err != nil {
		return err
	}
	mend := "check the number and the unit"
	if asked := p.Value / 10; asked >= leastBlast && asked <= mostBlast {
		mend = fmt.Sprintf("was %s meant?", Quantity{q.Value / 10, q.Unit})
	}
	got := q.String()
	if q.Unit != Bar {
		got += " (" + bar.String() + ")"
	}
	return &InputError{"blasting pressure", got, "0.5 to 6 bar (0.05 to 0.6 MPa)", mend}
}
