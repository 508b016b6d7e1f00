package planner

import "slices"

// byHand is a case for the decision written out as Go, to measure the rules
// against. BenchmarkFullCase checks that it still says what the rules say.
type byHand struct {
	restoration, zirconia, retention, isolation, margin, enamel string
	load, substrate, site, allergy, retrieval, opening          string
	wallUnder05, wallUnder08, wallUnder10, wallUnder12, long    bool
	lostAgain, deep, against                                    bool
	slenderAny, slenderBack, slenderWeak, back                  bool
}

// handOf reads a full case.
func handOf(c Case) byHand {
	one := func(fact string) string { return c.Values(fact)[0] }
	wall := slices.Index(factNamed(c.facts, "wall_mm").Values, one("wall_mm"))
	connector := slices.Index(factNamed(c.facts, "connector_mm2").Values, one("connector_mm2"))
	return byHand{
		restoration: one("restoration"), zirconia: one("zirconia"), retention: one("retention"), isolation: one("isolation"),
		margin: one("margin"), enamel: one("enamel"), load: one("load"), substrate: one("substrate"), site: one("seating_site"),
		allergy: one("resin_allergy"), retrieval: one("retrieval"), opening: one("opening"),
		wallUnder05: wall < 1, wallUnder08: wall < 2, wallUnder10: wall < 3, wallUnder12: wall < 4,
		long: one("span_units") != "under 4 units", lostAgain: one("losses") == "repeatedly",
		deep: one("margin_depth_mm") != "under 1 mm", against: one("found") != "none",
		slenderAny: connector < 1, slenderBack: connector < 2, slenderWeak: connector < 3, back: one("position") != "anterior",
	}
}

// decide is what a programmer without rule files would have written.
func (c *byHand) decide() Verdict {
	full := c.restoration == "crown" || c.restoration == "bridge" || c.restoration == "implant crown"
	inner := c.restoration == "inlay" || c.restoration == "endocrown"
	if c.stops(full) {
		return Verdict{Strategy: Stop}
	}
	bond, cement := c.mustBond(full, inner), c.site == "mouth" && c.isolation == "impossible" || c.allergy == "yes"
	switch {
	case bond && cement:
		return Verdict{Strategy: Stop}
	case bond:
		return Verdict{Bond, Bond}
	case cement:
		return Verdict{Cement, Cement}
	}
	strongBond, strongCement := c.strongForBond(full, inner), c.strongForCement(full, inner)
	switch {
	case strongBond > 0 && strongCement == 0:
		return Verdict{Bond, Bond}
	case strongCement > 0 && strongBond == 0:
		return Verdict{Cement, Cement}
	}
	v := Verdict{Strategy: Either}
	if strongBond > 0 {
		v.Strategy = Depends
	}
	lean := strongBond - strongCement
	if lean == 0 {
		lean = c.weak(inner)
	}
	if lean > 0 {
		v.Leaning = Bond
	} else if lean < 0 {
		v.Leaning = Cement
	}
	return v
}

func (c *byHand) stops(full bool) bool {
	return c.lostAgain || c.against || full && c.wallUnder05 ||
		c.restoration == "resin-bonded bridge" && c.enamel == "none" ||
		c.restoration == "bridge" && c.zirconia != "3Y" && (c.long || c.slenderWeak) ||
		c.restoration == "bridge" && c.zirconia == "3Y" && (c.slenderAny || c.slenderBack && c.back)
}

func (c *byHand) mustBond(full, inner bool) bool {
	switch c.restoration {
	case "veneer", "resin-bonded bridge", "onlay":
		return true
	}
	if (full || inner) && c.retention == "inadequate" {
		return true
	}
	return full && ((c.zirconia == "5Y" || c.zirconia == "multilayer") && c.wallUnder12 || c.zirconia == "4Y" && c.wallUnder08)
}

func (c *byHand) strongForBond(full, inner bool) int {
	n := 0
	if full && c.zirconia == "4Y" && c.wallUnder10 && !c.wallUnder08 {
		n++
	}
	if (full || inner) && c.zirconia != "3Y" {
		n++
		if c.load == "heavy" {
			n++
		}
	}
	if inner {
		n++
	}
	if (c.restoration == "crown" || c.restoration == "implant crown") && c.substrate == "titanium" && c.site == "bench" {
		n++
	}
	return n
}

func (c *byHand) strongForCement(full, inner bool) int {
	n := 0
	onAbutment := c.substrate == "titanium" || c.substrate == "zirconia abutment"
	notImplant := full && c.restoration != "implant crown" || inner
	if full && c.zirconia == "3Y" && c.retention == "adequate" && c.site == "mouth" {
		n++
	}
	if notImplant && c.margin == "dentin" {
		n++
	}
	if notImplant && c.enamel == "none" && !onAbutment {
		n++
	}
	if c.isolation == "doubtful" && c.site == "mouth" {
		n++
	}
	if full && c.retrieval == "wanted" {
		n++
	}
	if full && c.restoration != "bridge" && onAbutment && c.site == "mouth" {
		n++
	}
	return n
}

// weak is how many weak arguments speak for bonding over cementing.
func (c *byHand) weak(inner bool) int {
	n := 0
	if c.enamel == "ample" {
		n++
	}
	if c.margin == "enamel" {
		n++
	}
	if c.margin == "dentin" && c.isolation == "dry" && c.site == "mouth" {
		n++
	}
	if (c.restoration == "crown" || c.restoration == "bridge" || inner) && (c.margin == "mixed" || c.margin == "core") {
		n--
	}
	if c.restoration == "bridge" && c.long {
		n--
	}
	if c.opening == "limited" && c.site == "mouth" {
		n--
	}
	if c.deep && c.site == "mouth" && c.restoration != "veneer" && c.restoration != "resin-bonded bridge" {
		n--
	}
	return n
}
