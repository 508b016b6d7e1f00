package planner

import "mortarboard/planner/sums"

// The limits that the sums hold values against. They are the parameters, so that
// a house rule reaches the sums as it reaches the plans.

// limit is the first setting of a key for a position; one of noughts if there is none.
func (b *Rulebook) limit(key, position string) *Parameter {
	c := b.NewCase()
	if position != "" {
		c, _ = c.With("position", position)
	}
	if rows := b.Settings(c, key); len(rows) > 0 {
		return rows[0]
	}
	return &Parameter{}
}

// FormLimits are the limits of form.
func (b *Rulebook) FormLimits() sums.FormLimits {
	molar, other := b.limit("preparation.height", "molar"), b.limit("preparation.height", "premolar")
	convergence, ratio := b.limit("preparation.convergence", ""), b.limit("preparation.ratio", "")
	height := molar.Cite()
	if other.Cite() != height {
		height += "; " + other.Cite()
	}
	return sums.FormLimits{
		MolarHeightMM: molar.High, OtherHeightMM: other.High,
		LeastTOC: convergence.Low, MostTOC: convergence.High, LeastProportion: ratio.High,
		HeightSource: height, TOCSource: convergence.Cite(), ProportionSource: ratio.Cite(),
	}
}

// LightLimits are the limits of light. Of a bound with two figures the cautious one counts.
func (b *Rulebook) LightLimits() sums.LightLimits {
	dose, alone, lamp := b.limit("light.dose", ""), b.limit("light.zirconia-limit", ""), b.limit("lamp.tolerance", "")
	return sums.LightLimits{
		Dose: dose.High, DoseSource: dose.Cite(), AloneMM: alone.Low,
		LampLeast: lamp.Low, LampMost: lamp.High, LampSource: lamp.Cite(),
	}
}

// ColourThresholds are the differences of colour and translucency that half of
// the observers see and half accept.
func (b *Rulebook) ColourThresholds() []sums.Threshold {
	var out []sums.Threshold
	for _, of := range []struct {
		unit sums.Unit
		key  string // with the place of the two figures left open
		tail string
	}{
		{sums.DeltaE00, "colour.", ""},
		{sums.DeltaEab, "colour.", "-lab"},
		{sums.TP00, "translucency.", ""},
		{sums.TPab, "translucency.", "-lab"},
	} {
		seen, accepted := b.limit(of.key+"perceptible"+of.tail, ""), b.limit(of.key+"acceptable"+of.tail, "")
		t := sums.Threshold{Unit: of.unit, Perceptible: seen.Low, Acceptable: accepted.Low, Basis: string(accepted.Basis), Source: accepted.Cite()}
		if seen.Cite() != accepted.Cite() {
			t.Source += "; " + seen.Cite()
		}
		if seen.Note != accepted.Note {
			t.Notes = []string{seen.Note, accepted.Note}
		}
		out = append(out, t)
	}
	return out
}
