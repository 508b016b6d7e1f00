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
	judged, split := b.judged(c)
	if judged == nil {
		return c, nil
	}
	if split {
		c = c.Doubting("retention") // what was measured may miss a limit: adequate is not to be presumed
	}
	form := &Form{Form: *judged}
	var err error
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

// judged holds what was measured against the limits of form; nil if nothing was.
// Of a range both ends are judged: where they differ, the form is not decided.
func (b *Rulebook) judged(c Case) (form *sums.Form, split bool) {
	if !c.Known("height_mm") && !c.Known("convergence_deg") {
		return nil, false
	}
	for _, height := range c.ends("height_mm") {
		for _, width := range c.ends("width_mm") {
			for _, toc := range c.ends("convergence_deg") {
				next, err := sums.RetentiveForm(b.FormLimits(), length(height), length(width), angle(toc), c.position())
				switch {
				case err != nil:
					return nil, false // out of range: it was refused when it was said
				case form == nil:
					form = &next
				case next.Verdict != form.Verdict:
					form.Verdict, split = sums.NotDecidable, true
				}
			}
		}
	}
	if !c.exact("height_mm", "width_mm", "convergence_deg") {
		form.Criteria = nil // they would show one end as if it had been measured
	}
	return form, split
}

// ends are the ends of what is known of a measured fact: one if it is exact,
// none that counts (nil) if nothing is known.
func (c Case) ends(fact string) []*float64 {
	r, ok := c.measures[fact]
	if !ok {
		return []*float64{nil}
	}
	f, _ := c.fact(fact)
	from, to := r.From, r.To
	if r.Exact() {
		return []*float64{&from}
	}
	if to < f.High {
		to -= 0.001 // "under 3 mm" is less than 3 mm
	}
	return []*float64{&from, &to}
}

// exact reports whether what is known of the facts was measured as one number.
func (c Case) exact(facts ...string) bool {
	for _, fact := range facts {
		if r, ok := c.measures[fact]; ok && !r.Exact() {
			return false
		}
	}
	return true
}

func length(x *float64) *sums.Length {
	if x == nil {
		return nil
	}
	l := sums.MM(*x)
	return &l
}

func angle(x *float64) *sums.Angle {
	if x == nil {
		return nil
	}
	a := sums.Deg(*x)
	return &a
}

func (c Case) position() sums.Position {
	if values := c.Values("position"); len(values) == 1 {
		return sums.Position(values[0])
	}
	return ""
}
