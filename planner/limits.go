package planner

import (
	"errors"
	"fmt"

	"mortarboard/planner/sums"
)

// The limits that the sums hold values against. They are the parameters, so that
// a house rule reaches the sums as it reaches the plans.

// A limit is a setting that a sum takes: it must be there, in this unit, for a
// sum without it would take 0, which everything meets.
type limit struct {
	key      string
	unit     sums.Unit
	position string // where the tooth stands; empty where that makes no difference
}

// limitsOfSums are all settings that the sums take.
func limitsOfSums() []limit {
	limits := []limit{
		{key: "preparation.height", unit: sums.Millimetre, position: "molar"},
		{key: "preparation.height", unit: sums.Millimetre, position: "premolar"},
		{key: "preparation.convergence", unit: sums.Degree},
		{key: "preparation.ratio", unit: sums.Ratio},
		{key: "light.dose", unit: sums.JoulePerCM2},
		{key: "light.zirconia-limit", unit: sums.Millimetre},
		{key: "lamp.tolerance", unit: sums.Percent},
		{key: "connector.area", unit: sums.MM2},
		{key: "light.attenuation", unit: sums.PerMillimetre},
		{key: "light.measured-wall", unit: sums.Millimetre},
		{key: "retention.stress", unit: sums.MPa},
		{key: "bite.design", unit: sums.Newton, position: "molar"},
		{key: "bite.design", unit: sums.Newton, position: "premolar"},
		{key: "bite.design", unit: sums.Newton, position: "anterior"},
		{key: "bite.measured-molar", unit: sums.Newton},
		{key: "bite.measured-incisor", unit: sums.Newton},
		{key: "bite.measured-one-sided", unit: sums.Newton},
		{key: "blasting.plausible", unit: sums.Bar},
		{key: "strength.poisson", unit: sums.Ratio},
	}
	for _, c := range colourKeys() {
		limits = append(limits, limit{key: c.perceptible(), unit: c.unit}, limit{key: c.acceptable(), unit: c.unit})
	}
	return limits
}

// checkLimits refuses rules that lack a setting which the sums take, or that give
// it in another unit than they reckon in.
func (b *Rulebook) checkLimits() error {
	var errs []error
	for _, l := range limitsOfSums() {
		p, err := b.setting(l.key, l.position)
		switch {
		case err != nil:
			errs = append(errs, err)
		case p.Unit != string(l.unit):
			errs = append(errs, fmt.Errorf("%s: %s is in %s, but the sums reckon in %s: write it in %s", p.Where, p.ID, p.Unit, l.unit, l.unit))
		}
	}
	return errors.Join(errs...)
}

// setting is the first setting of a key for a position.
func (b *Rulebook) setting(key, position string) (*Parameter, error) {
	c := b.NewCase()
	if position != "" {
		var err error
		if c, err = c.With("position", position); err != nil {
			return nil, fmt.Errorf("facts.yaml:1: the sums tell limits apart by where the tooth stands: %w", err)
		}
	}
	if rows := b.Settings(c, key); len(rows) > 0 {
		return rows[0], nil
	}
	return nil, fmt.Errorf("parameters.yaml:1: no row with the key %q applies, from which the sums take a limit: add it, or name it so again", key)
}

// limit is a setting that the sums take; that it is there was checked at loading.
func (b *Rulebook) limit(key, position string) *Parameter {
	p, err := b.setting(key, position)
	if err != nil {
		panic(err)
	}
	return p
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
		Loss: b.limit("light.attenuation", "").span(), MeasuredMM: b.limit("light.measured-wall", "").High,
		LampLeast: lamp.Low, LampMost: lamp.High, LampSource: lamp.Cite(),
	}
}

// span is a setting as the sums take it.
func (p *Parameter) span() sums.Span {
	return sums.Span{Low: p.Low, High: p.High, Source: p.Cite(), Basis: string(p.Basis), Note: p.Note}
}

// ForceLimits are the stresses and forces that are reckoned with.
func (b *Rulebook) ForceLimits() sums.ForceLimits {
	out := sums.ForceLimits{Retention: b.limit("retention.stress", "").span(), Bite: map[sums.Position]sums.Span{}}
	for _, at := range []sums.Position{sums.Molar, sums.Premolar, sums.Anterior} {
		out.Bite[at] = b.limit("bite.design", string(at)).span()
	}
	for _, key := range []string{"bite.measured-molar", "bite.measured-incisor", "bite.measured-one-sided"} {
		p := b.limit(key, "")
		out.Measured = append(out.Measured, sums.Band{Name: p.Name + ", " + p.Of, Low: p.Low, High: p.High, Unit: sums.Newton,
			Basis: string(p.Basis), Origin: sums.Origin{Formula: "measured", Source: p.Cite()}})
	}
	return out
}

// BlastLimits is the span in bar that any blasting unit is used at.
func (b *Rulebook) BlastLimits() sums.Span { return b.limit("blasting.plausible", "").span() }

// Poisson is Poisson's ratio of a ceramic of which it is not known.
func (b *Rulebook) Poisson() float64 { return b.limit("strength.poisson", "").Low }

// A colourKey names the two settings of one measure of colour or translucency.
type colourKey struct {
	unit sums.Unit
	of   string
	tail string // what the older measure of the same thing ends with
}

func (k colourKey) perceptible() string { return k.of + ".perceptible" + k.tail }
func (k colourKey) acceptable() string  { return k.of + ".acceptable" + k.tail }

func colourKeys() []colourKey {
	return []colourKey{
		{sums.DeltaE00, "colour", ""}, {sums.DeltaEab, "colour", "-lab"},
		{sums.TP00, "translucency", ""}, {sums.TPab, "translucency", "-lab"},
	}
}

// ColourThresholds are the differences of colour and translucency that half of
// the observers see and half accept.
func (b *Rulebook) ColourThresholds() []sums.Threshold {
	var out []sums.Threshold
	for _, k := range colourKeys() {
		seen, accepted := b.limit(k.perceptible(), ""), b.limit(k.acceptable(), "")
		t := sums.Threshold{Unit: k.unit, Perceptible: seen.Low, Acceptable: accepted.Low, Basis: string(accepted.Basis), Source: accepted.Cite()}
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
