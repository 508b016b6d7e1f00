package talk

import "mortarboard/planner/sums"

// A role is what a number of a message is to a sum. It is named the way people
// read it.
type role string

// The roles of all sums.
const (
	theHeight role = "height"
	theBase   role = "width at the margin"
	theTop    role = "width on top"
	theTOC    role = "total convergence"
	theInward role = "lean of one wall"
	theOther  role = "lean of the other wall"

	theFilm  role = "cement film"
	theSpace role = "cement space on the walls"
	theArea  role = "area of the walls"

	theLamp     role = "irradiance of the lamp"
	theStated   role = "stated output"
	theReading  role = "measured output"
	theTime     role = "exposure time"
	theDose     role = "dose"
	theCeramic  role = "thickness of zirconia"
	theDiameter role = "diameter of the instrument"
	theSpeed    role = "rotation speed"

	theLoad      role = "load at fracture"
	theThickness role = "thickness of the specimen"
	theWidth     role = "width of the bar"
	theSpan      role = "support span"
	theSupport   role = "radius of the support circle"
	thePiston    role = "radius of the piston"
	theDisc      role = "radius of the disc"
	thePoisson   role = "Poisson's ratio"
	theStress    role = "stress"
	theCharact   role = "characteristic strength"
	theModulus   role = "Weibull modulus"

	theTarget role = "unit asked for"

	theWall        role = "first wall"
	theOtherWall   role = "second wall"
	theStrength    role = "strength of the first"
	theOtherStren  role = "strength of the second"
	theConnWidth   role = "width of the first connector"
	theConnHeight  role = "height of the first connector"
	theOtherWidth  role = "width of the second connector"
	theOtherHeight role = "height of the second connector"
)

// unit is the unit in which a sum takes the role.
func (r role) unit() sums.Unit {
	switch r {
	case theTOC:
		return sums.Degree
	case theFilm, theSpace:
		return sums.Micrometre
	case theArea:
		return sums.MM2
	case theLamp, theStated, theReading:
		return sums.MilliwattPerCM
	case theTime:
		return sums.Second
	case theDose:
		return sums.JoulePerCM2
	case theSpeed:
		return sums.RPM
	case theLoad:
		return sums.Newton
	case theStress, theCharact, theStrength, theOtherStren:
		return sums.MPa
	case thePoisson, theModulus:
		return sums.Ratio
	}
	return sums.Millimetre
}

// asked names the role with its unit, for a question.
func (r role) asked() string {
	switch r.unit() {
	case sums.Degree:
		return string(r) + " in degrees (both opposing walls together)"
	case sums.Ratio:
		return string(r)
	}
	return string(r) + " in " + string(r.unit())
}
