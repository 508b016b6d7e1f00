package sums

import (
	"cmp"
	"math"
	"slices"
)

var (
	irradianceBounds = bounds{"irradiance", 50, 10000, MilliwattPerCM, "give the lamp's output in mW/cm²; 1 W/cm² is 1000 mW/cm²"}
	exposureBounds   = bounds{"exposure time", 0.5, 1800, Second, "give the time in seconds"}
	doseBounds       = bounds{"dose", 0.5, 200, JoulePerCM2, "give the dose in J/cm²"}
	lossBounds       = bounds{"attenuation in zirconia", 0.01, 20, PerMillimetre, "without it all light would seem to pass"}
	zirconiaBounds   = bounds{"thickness of zirconia", 0.1, 5, Millimetre, "give the wall in mm"}
)

// LightLimits are the settings that light is held against. They come from the
// planner's parameters, where their sources stand.
type LightLimits struct {
	Dose       float64 // J/cm² aimed for where the cement's own instructions give none
	DoseSource string
	AloneMM    float64 // the most zirconia behind which light alone may be relied on
	Loss       Span    // attenuation per mm of zirconia, from the least to the greatest loss
	MeasuredMM float64 // the thickest zirconia behind which light was measured
	LampLeast  float64 // measured output of a lamp as % of the stated
	LampMost   float64
	LampSource string
}

var doseOrigin = Origin{
	Formula: "dose = irradiance × time / 1000",
	Source:  "definition of radiant exposure",
	Cannot:  "It is the dose where the irradiance was measured, and supposes that the lamp stays on the spot.",
}

// LightDose is the dose in J/cm² that an irradiance in mW/cm² gives in a time
// in s.
func LightDose(irradiance, seconds float64) (Figure, error) {
	if err := cmp.Or(irradianceBounds.check(irradiance), exposureBounds.check(seconds)); err != nil {
		return Figure{}, err
	}
	return exact("dose", irradiance*seconds/1000, JoulePerCM2, doseOrigin), nil
}

// ExposureTime is the time in s that an irradiance in mW/cm² needs for a dose
// in J/cm².
func ExposureTime(dose, irradiance float64) (Figure, error) {
	if err := cmp.Or(doseBounds.check(dose), irradianceBounds.check(irradiance)); err != nil {
		return Figure{}, err
	}
	o := doseOrigin
	o.Formula = "time = 1000 × dose / irradiance"
	return exact("exposure time", 1000*dose/irradiance, Second, o), nil
}

// origin says how light behind zirconia is reckoned.
func (l LightLimits) origin(formula string) Origin {
	return Origin{
		Formula: formula + ", µ from " + between(l.Loss.Low, l.Loss.High, PerMillimetre),
		Source:  l.Loss.Source,
		Cannot:  "It cannot tell grades or shades apart: published values for that are lacking. Never plan with one end of the span alone.",
	}
}

// band is a result that hangs on the loss in the zirconia.
func (l LightLimits) band(name string, low, high float64, u Unit, o Origin) Band {
	b := band(name, low, high, u, o)
	b.Basis = l.Loss.Basis
	return b
}

// A Behind is the light behind a wall of zirconia, all of it as bands.
type Behind struct {
	Share      Band // % of the light that gets through
	Irradiance Band // mW/cm²
	Dose       Band // J/cm², after the given time
	Time       Band // s, for the target dose
}

// LightBehindZirconia bounds the light behind a wall in mm of zirconia, for a
// lamp of an irradiance in mW/cm² held for a time in s, and the time in s that
// a target dose in J/cm² would take there.
func LightBehindZirconia(limits LightLimits, irradiance, seconds, wallMM, target float64) (Behind, error) {
	if err := cmp.Or(irradianceBounds.check(irradiance), exposureBounds.check(seconds),
		zirconiaBounds.check(wallMM), doseBounds.check(target), lossBounds.check(limits.Loss.Low)); err != nil {
		return Behind{}, err
	}
	low, high := math.Exp(-limits.Loss.High*wallMM), math.Exp(-limits.Loss.Low*wallMM)
	o := limits.origin("light behind = light in front × exp(-µ × thickness)")
	b := Behind{
		Share:      limits.band("light that gets through", 100*low, 100*high, Percent, o),
		Irradiance: limits.band("irradiance behind the zirconia", irradiance*low, irradiance*high, MilliwattPerCM, o),
		Dose:       limits.band("dose behind the zirconia", irradiance*seconds*low/1000, irradiance*seconds*high/1000, JoulePerCM2, o),
		Time:       limits.band("time for the dose", 1000*target/(irradiance*high), 1000*target/(irradiance*low), Second, o),
	}
	b.note(limits, wallMM, target)
	return b, nil
}

// note says what the bands mean for the wall; of the dose also whether it is enough.
func (b *Behind) note(limits LightLimits, wallMM, target float64) {
	var notes []string
	if wallMM > limits.AloneMM {
		notes = append(notes, "behind more than "+lengthOf(limits.AloneMM)+" do not rely on light: the cement must set by itself too, cure from every side, and longer")
	}
	if wallMM > limits.MeasuredMM {
		notes = append(notes, "walls above "+lengthOf(limits.MeasuredMM)+" were not measured")
	}
	b.Time.Notes, b.Dose.Notes = notes, slices.Clone(notes)
	switch {
	case b.Dose.High < target:
		b.Dose.Notes = append(b.Dose.Notes, "the dose falls short even in the best case")
	case b.Dose.Low < target:
		b.Dose.Notes = append(b.Dose.Notes, "the dose may fall short")
	}
}

func band(name string, low, high float64, u Unit, o Origin) Band {
	return Band{Name: name, Low: low, High: high, Unit: u, Origin: o}
}

// ThicknessWithin bounds the wall of zirconia in mm behind which a dose in
// J/cm² is reached within a time in s, for a lamp of an irradiance in mW/cm².
func ThicknessWithin(limits LightLimits, irradiance, seconds, dose float64) (Band, error) {
	given, err := LightDose(irradiance, seconds)
	if err = cmp.Or(err, doseBounds.check(dose), lossBounds.check(limits.Loss.Low)); err != nil {
		return Band{}, err
	}
	if given.Value <= dose {
		return Band{}, &InputError{"dose in front of the zirconia", Quantity{given.Value, JoulePerCM2}.String(),
			"more than the dose wanted, " + Quantity{dose, JoulePerCM2}.String(), "hold the light for longer"}
	}
	reach := math.Log(given.Value / dose)
	o := limits.origin("thickness = ln(irradiance × time / (1000 × dose)) / µ")
	return limits.band("thickness with that dose behind it", reach/limits.Loss.High, reach/limits.Loss.Low, Millimetre, o), nil
}

// A Lamp is a curing lamp's measured output against the stated one.
type Lamp struct {
	Share Figure // measured output as % of the stated
	Pass  bool   // within the limits
}

// LampCheck compares the measured output of a lamp with the stated one, both
// in mW/cm².
func LampCheck(limits LightLimits, stated, measured float64) (Lamp, error) {
	if err := cmp.Or(irradianceBounds.check(stated),
		bounds{"measured irradiance", 0, 10000, MilliwattPerCM, "give the reading in mW/cm²"}.check(measured)); err != nil {
		return Lamp{}, err
	}
	o := Origin{
		Formula: "pass: measured / stated from " + between(limits.LampLeast, limits.LampMost, Percent),
		Source:  limits.LampSource,
		Cannot:  "A hand meter shows change over time, not the true output; compare readings of the same meter.",
	}
	share := exact("output against the stated", 100*measured/stated, Percent, o)
	const rounding = 1e-9 // %
	return Lamp{share, share.Value >= limits.LampLeast-rounding && share.Value <= limits.LampMost+rounding}, nil
}
