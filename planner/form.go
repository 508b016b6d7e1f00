package planner

import "mortarboard/planner/sums"

// A Form is what measurements of the preparation tell about its retentive form.
type Form struct {
	sums.Form
	Stated   string // what was said of the form beside the measurements, if anything
	Disputed bool   // the measurements speak against what was said; the cautious reading counts
}

// Measured judges the retentive form from what was measured and fills in the
// fact that it settles. Measurements that miss a limit overrule a stated
// "adequate": that is the cautious reading. Measurements that meet all limits do
// not overrule a stated "inadequate", since grooves, a broken wall or taper that
// nobody measured are seen and not computed.
func (b *Rulebook) Measured(c Case) (Case, *Form) {
	height, width, toc := c.length("height_mm"), c.length("width_mm"), c.angle("convergence_deg")
	if height == nil && toc == nil {
		return c, nil
	}
	judged, err := sums.RetentiveForm(height, width, toc, c.position())
	if err != nil {
		return c, nil // a measure out of range was refused when it was said
	}
	form := &Form{Form: judged}
	if c.Known("retention") {
		form.Stated = c.Describe("retention")
		form.Disputed = judged.Verdict == sums.Inadequate && form.Stated == "adequate"
	}
	switch {
	case judged.Verdict == sums.Inadequate, judged.Verdict == sums.Adequate && form.Stated == "":
		c, err = c.With("retention", string(judged.Verdict))
		if err != nil {
			panic(err) // both verdicts are values of retention, which a test holds
		}
	}
	return c, form
}

// length reads a measured fact in mm. Of a range, the end counts that makes a
// claim no stronger than what was said.
func (c Case) length(fact string) *sums.Length {
	r, ok := c.measures[fact]
	if !ok {
		return nil
	}
	f, _ := c.fact(fact)
	x := r.From
	if !r.Exact() && r.From <= f.Low {
		x = r.To - 0.001 // "under 3 mm" is less than 3 mm
	}
	length := sums.MM(x)
	return &length
}

func (c Case) angle(fact string) *sums.Angle {
	r, ok := c.measures[fact]
	if !ok {
		return nil
	}
	f, _ := c.fact(fact)
	x := r.To
	if !r.Exact() && r.To >= f.High {
		x = r.From + 0.001 // "over 20 degrees" is more than 20 degrees
	}
	angle := sums.Deg(x)
	return &angle
}

func (c Case) position() sums.Position {
	if values := c.Values("position"); len(values) == 1 {
		return sums.Position(values[0])
	}
	return ""
}
