package sums

import (
	"cmp"
	"math"
)

var (
	loadBounds      = bounds{"load", 0.1, 20000, Newton, "give the load at fracture in N"}
	specimenBounds  = bounds{"thickness of the specimen", 0.1, 10, Millimetre, "give the thickness in mm"}
	widthOfBar      = bounds{"width of the bar", 0.5, 20, Millimetre, "give the width in mm"}
	spanBounds      = bounds{"support span", 5, 100, Millimetre, "give the distance of the outer supports in mm"}
	discBounds      = bounds{"radius of the disc", 1, 30, Millimetre, "give the radius, not the diameter, in mm"}
	poissonBounds   = bounds{"Poisson's ratio", 0, 0.49, Ratio, "it lies near 0.25 in most ceramics"}
	megapascals     = bounds{"strength", 1, 5000, MPa, "give the strength in MPa"}
	weibullModulus  = bounds{"Weibull modulus", 0.5, 100, Ratio, ""}
	strengthCannot  = "It is the strength of a polished or ground specimen under one load, not of a crown in use."
	bendingOfAPlate = "formula of ISO 6872 for the piston-on-three-balls test, recalled, and re-derived from thin-plate theory"
)

// A Disc is a biaxial test specimen on three balls, loaded by a piston.
// Lengths in mm.
type Disc struct {
	LoadN         float64 // at fracture
	ThicknessMM   float64
	SupportRadius float64 // of the circle through the three balls
	PistonRadius  float64 // of the loaded area
	DiscRadius    float64
	Poisson       float64
}

// BiaxialStrength is the flexural strength in MPa of a disc.
func BiaxialStrength(d Disc) (Figure, error) {
	if err := d.check(); err != nil {
		return Figure{}, err
	}
	x := (1+d.Poisson)*math.Log(square(d.PistonRadius/d.DiscRadius)) + (1-d.Poisson)/2*square(d.PistonRadius/d.DiscRadius)
	y := (1+d.Poisson)*(1+math.Log(square(d.SupportRadius/d.DiscRadius))) + (1-d.Poisson)*square(d.SupportRadius/d.DiscRadius)
	o := Origin{"strength = -0.2387 load (X - Y) / thickness²", bendingOfAPlate, strengthCannot}
	return exact("biaxial strength", -0.2387*d.LoadN*(x-y)/square(d.ThicknessMM), MPa, o), nil
}

func square(v float64) float64 { return v * v }

func (d Disc) check() error {
	support := bounds{"radius of the support circle", 0.5, d.DiscRadius, Millimetre, "it cannot be larger than the disc; give radii, not diameters"}
	piston := bounds{"radius of the piston", 0.05, d.SupportRadius, Millimetre, "it cannot be larger than the support circle; give radii, not diameters"}
	return cmp.Or(loadBounds.check(d.LoadN), specimenBounds.check(d.ThicknessMM), discBounds.check(d.DiscRadius),
		support.check(d.SupportRadius), piston.check(d.PistonRadius), poissonBounds.check(d.Poisson))
}

// A BendingBar is a bar specimen. Lengths in mm.
type BendingBar struct {
	LoadN       float64 // at fracture
	SpanMM      float64 // between the outer supports
	WidthMM     float64
	ThicknessMM float64 // in the direction of the load
}

func (b BendingBar) check() error {
	err := cmp.Or(loadBounds.check(b.LoadN), spanBounds.check(b.SpanMM), widthOfBar.check(b.WidthMM), specimenBounds.check(b.ThicknessMM))
	if err == nil && b.ThicknessMM*2 > b.SpanMM {
		return &InputError{"thickness of the specimen", lengthOf(b.ThicknessMM), "at most half the span", "width and thickness, or span and thickness, may be swapped"}
	}
	return err
}

// ThreePointStrength is the flexural strength in MPa of a bar loaded in the
// middle.
func ThreePointStrength(b BendingBar) (Figure, error) {
	o := Origin{"strength = 3 load × span / (2 width × thickness²)", "beam theory", strengthCannot}
	return b.strength("three-point strength", 1.5, o)
}

// FourPointStrength is the flexural strength in MPa of a bar loaded at the two
// quarter points.
func FourPointStrength(b BendingBar) (Figure, error) {
	o := Origin{"strength = 3 load × span / (4 width × thickness²)", "beam theory, loads at the quarter points", strengthCannot}
	return b.strength("four-point strength", 0.75, o)
}

func (b BendingBar) strength(name string, factor float64, o Origin) (Figure, error) {
	if err := b.check(); err != nil {
		return Figure{}, err
	}
	return exact(name, factor*b.LoadN*b.SpanMM/(b.WidthMM*square(b.ThicknessMM)), MPa, o), nil
}

// FailureProbability is the share in % of specimens that break up to a stress
// in MPa, for a characteristic strength in MPa and a Weibull modulus.
func FailureProbability(stressMPa, characteristicMPa, modulus float64) (Figure, error) {
	if err := cmp.Or(megapascals.check(stressMPa), megapascals.check(characteristicMPa), weibullModulus.check(modulus)); err != nil {
		return Figure{}, err
	}
	o := Origin{"share = 1 - exp(-(stress/characteristic)^modulus)", "Weibull distribution", strengthCannot}
	return exact("share that breaks", 100*(1-math.Exp(-math.Pow(stressMPa/characteristicMPa, modulus))), Percent, o), nil
}

// A Layer is a crown wall as a cracking plate on a softer support. Strength and
// moduli may be left 0 in both layers of a comparison where they are alike.
type Layer struct {
	WallMM      float64
	StrengthMPa float64
	CeramicGPa  float64 // Young's modulus of the ceramic
	SupportGPa  float64 // Young's modulus of what lies under it
}

// RelativeCrackLoad is the load at which a crack starts from the inner surface
// of one layer, as a ratio to that of another. No load in N is given.
func RelativeCrackLoad(layer, than Layer) (Figure, error) {
	if err := cmp.Or(wallOf(layer), wallOf(than)); err != nil {
		return Figure{}, err
	}
	strength, err := quotient("strength", layer.StrengthMPa, than.StrengthMPa, megapascals)
	if err != nil {
		return Figure{}, err
	}
	support, err := supportRatio(layer, than)
	o := Origin{
		Formula: "load goes with strength × thickness² / log(modulus of ceramic / modulus of support)",
		Source:  "Lawn et al. 2004, Biomaterials 25:2885-2892 (square of thickness, strength); the support term recalled, checked by ratio",
		Cannot: "It compares flat layers under one load. Full anatomical crowns follow thickness less steeply, " +
			"and years of wet chewing lower what a single load shows.",
	}
	return exact("crack load relative to the other", square(layer.WallMM/than.WallMM)*strength*support, Ratio, o), err
}

func wallOf(l Layer) error {
	return bounds{"wall", 0.1, 5, Millimetre, "give the wall in mm"}.check(l.WallMM)
}

// quotient divides two values that are either both given or both left 0.
func quotient(what string, a, b float64, within bounds) (float64, error) {
	if a == 0 && b == 0 {
		return 1, nil
	}
	within.what = what
	return a / b, cmp.Or(within.check(a), within.check(b))
}

// supportRatio compares how much the supports let the two layers bend.
func supportRatio(a, b Layer) (float64, error) {
	if a.CeramicGPa == 0 && a.SupportGPa == 0 && b.CeramicGPa == 0 && b.SupportGPa == 0 {
		return 1, nil
	}
	ceramic := bounds{"modulus of the ceramic", 10, 500, "GPa", "give it for both layers or for none"}
	err := cmp.Or(ceramic.check(a.CeramicGPa), ceramic.check(b.CeramicGPa))
	for _, l := range []Layer{a, b} {
		softer := bounds{"modulus of the support", 0.1, 0.9 * l.CeramicGPa, "GPa", "the support is softer than the ceramic"}
		err = cmp.Or(err, softer.check(l.SupportGPa))
	}
	return math.Log(b.CeramicGPa/b.SupportGPa) / math.Log(a.CeramicGPa/a.SupportGPa), err
}

var sideBounds = bounds{"side of the connector", 0.5, 12, Millimetre, "give width and height in mm"}

// ConnectorArea is the cross-section in mm² of a connector, from its width and
// height in mm.
func ConnectorArea(widthMM, heightMM float64) (Figure, error) {
	if err := cmp.Or(sideBounds.check(widthMM), sideBounds.check(heightMM)); err != nil {
		return Figure{}, err
	}
	o := Origin{"area = width × height", "rectangle",
		"Rounded corners take area away, a sharp embrasure takes strength away; the sheet of the disc decides."}
	return exact("area", widthMM*heightMM, MM2, o), nil
}

// ConnectorStressRatio is the bending stress in a rectangular connector as a
// ratio to that in another under the same load, from width and height in mm.
func ConnectorStressRatio(widthMM, heightMM, thanWidthMM, thanHeightMM float64) (Figure, error) {
	if err := cmp.Or(sideBounds.check(widthMM), sideBounds.check(heightMM), sideBounds.check(thanWidthMM), sideBounds.check(thanHeightMM)); err != nil {
		return Figure{}, err
	}
	o := Origin{"stress = 6 moment / (width × height²)", "beam theory",
		"It takes a rectangular section and forgets the embrasure; a sharp one breaks sooner than a rounded one of the same area."}
	ratio := bendingStress(1, widthMM, heightMM) / bendingStress(1, thanWidthMM, thanHeightMM)
	return exact("connector stress relative to the other", ratio, Ratio, o), nil
}

// bendingStress is in MPa for a moment in N mm.
func bendingStress(momentNMM, widthMM, heightMM float64) float64 {
	return 6 * momentNMM / (widthMM * heightMM * heightMM)
}
