package sums

import (
	"cmp"
	"math"
)

// A Lab is a colour in CIELAB coordinates.
type Lab struct{ L, A, B float64 }

func (c Lab) check() error {
	axis := bounds{"a* or b*", -128, 128, "", "give CIELAB coordinates"}
	return cmp.Or(bounds{"L*", 0, 100, "", "give CIELAB coordinates"}.check(c.L), axis.check(c.A), axis.check(c.B))
}

const colourCannot = "A measured difference holds for that instrument and that backing; what is seen in the mouth depends on light, moisture and neighbours."

// CIEDE2000 is the colour difference ΔE00 of two colours, with all weights 1.
func CIEDE2000(x, y Lab) (Figure, error) {
	if err := cmp.Or(x.check(), y.check()); err != nil {
		return Figure{}, err
	}
	o := Origin{"CIEDE2000, kL = kC = kH = 1", "Sharma, Wu, Dalal 2005, Color Res Appl 30:21-30", colourCannot}
	return exact("colour difference", deltaE00(x, y), DeltaE00, o), nil
}

// CIELAB76 is the colour difference ΔEab of two colours, their distance in
// CIELAB.
func CIELAB76(x, y Lab) (Figure, error) {
	if err := cmp.Or(x.check(), y.check()); err != nil {
		return Figure{}, err
	}
	o := Origin{"ΔEab = √(ΔL² + Δa² + Δb²)", "CIELAB distance, 1976", colourCannot}
	return exact("colour difference", labDistance(x, y), DeltaEab, o), nil
}

func labDistance(x, y Lab) float64 {
	return math.Hypot(math.Hypot(x.L-y.L, x.A-y.A), x.B-y.B)
}

// deltaE00 follows the implementation notes of Sharma, Wu and Dalal step by
// step; angles are in degrees, as there.
func deltaE00(x, y Lab) float64 {
	g := 0.5 * (1 - highChroma((math.Hypot(x.A, x.B)+math.Hypot(y.A, y.B))/2))
	c1, h1 := polar((1+g)*x.A, x.B)
	c2, h2 := polar((1+g)*y.A, y.B)
	dh, hue := hues(h1, h2, c1*c2 == 0)
	light, chroma := (x.L+y.L)/2, (c1+c2)/2
	t := 1 - 0.17*cosDeg(hue-30) + 0.24*cosDeg(2*hue) + 0.32*cosDeg(3*hue+6) - 0.20*cosDeg(4*hue-63)
	rc := 2 * highChroma(chroma)
	rt := -math.Sin(2*rad(30*math.Exp(-square((hue-275)/25)))) * rc
	dl := (y.L - x.L) / (1 + 0.015*square(light-50)/math.Sqrt(20+square(light-50)))
	dc := (c2 - c1) / (1 + 0.045*chroma)
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(rad(dh)/2) / (1 + 0.015*chroma*t)
	return math.Sqrt(dl*dl + dc*dc + dH*dH + rt*dc*dH)
}

// highChroma is √(C⁷ / (C⁷ + 25⁷)).
func highChroma(c float64) float64 {
	c7 := math.Pow(c, 7)
	return math.Sqrt(c7 / (c7 + math.Pow(25, 7)))
}

func cosDeg(d float64) float64 { return math.Cos(rad(d)) }

// polar gives chroma and hue angle, 0 to 360; a grey has hue 0.
func polar(a, b float64) (c, h float64) {
	if a == 0 && b == 0 {
		return 0, 0
	}
	h = deg(math.Atan2(b, a))
	if h < 0 {
		h += 360
	}
	return math.Hypot(a, b), h
}

// hues gives the difference, -180 to 180, and the mean of two hue angles.
func hues(h1, h2 float64, grey bool) (difference, mean float64) {
	if grey {
		return 0, h1 + h2
	}
	difference, mean = h2-h1, (h1+h2)/2
	if math.Abs(difference) <= 180 {
		return difference, mean
	}
	if h1+h2 < 360 {
		mean += 180
	} else {
		mean -= 180
	}
	if difference > 180 {
		return difference - 360, mean
	}
	return difference + 360, mean
}

// Visibility is how people see a colour or translucency difference.
type Visibility string

// What half of the observers say.
const (
	NotVisible Visibility = "not visible to half of the observers"
	Acceptable Visibility = "visible, and acceptable to half of the observers"
	NotAccept  Visibility = "not acceptable to half of the observers"
)

// A Threshold pair, at which half of the observers see and half accept a
// difference. It comes from the planner's parameters, where its source stands.
type Threshold struct {
	Unit        Unit
	Perceptible float64
	Acceptable  float64
	Basis       string
	Source      string
	Notes       []string
}

// BoothOnly is what no threshold of colour or translucency can say.
const BoothOnly = "The thresholds are for ceramic beside ceramic in a viewing booth, not for a luted crown in the mouth."

// JudgeDifference says how a difference in one of the units ΔE00, ΔEab, TP00
// or TPab is seen by the pair in its unit: up to the first threshold not
// visible, up to the second acceptable.
func JudgeDifference(pairs []Threshold, value float64, u Unit) (Visibility, Threshold, error) {
	if !(value >= 0 && value <= 200) {
		return "", Threshold{}, &InputError{"difference", number(value), "0 to 200", "a difference has no sign"}
	}
	for _, t := range pairs {
		switch {
		case t.Unit != u:
		case value <= t.Perceptible:
			return NotVisible, t, nil
		case value <= t.Acceptable:
			return Acceptable, t, nil
		default:
			return NotAccept, t, nil
		}
	}
	return "", Threshold{}, &InputError{"unit of the difference", string(u), "ΔE00, ΔEab, TP00 or TPab", ""}
}

// TranslucencyParameter is the colour difference of one specimen over a white
// and over a black backing, by CIELAB and by CIEDE2000: more is more
// translucent.
func TranslucencyParameter(overWhite, overBlack Lab) (lab, ciede Figure, err error) {
	if err := cmp.Or(overWhite.check(), overBlack.check()); err != nil {
		return lab, ciede, err
	}
	if overWhite.L < overBlack.L {
		return lab, ciede, &InputError{"L* over white", number(overWhite.L), "at least L* over black, " + number(overBlack.L), "the two readings may be swapped"}
	}
	o := Origin{"difference of the specimen over white and over black", "definition of the translucency parameter; CIEDE2000 after Sharma, Wu, Dalal 2005",
		"It depends on thickness, so compare at the same thickness only."}
	return exact("translucency", labDistance(overWhite, overBlack), TPab, o),
		exact("translucency", deltaE00(overWhite, overBlack), TP00, o), nil
}
