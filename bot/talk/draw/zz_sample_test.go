package draw

import (
	"mortarboard/planner/sums"
	"os"
	"testing"
)

func put(t *testing.T, name string, d Drawing, err error) {
	if err != nil {
		t.Error(name, err)
		return
	}
	os.WriteFile("/tmp/draw-samples/"+name+".png", d.PNG, 0o644)
	os.WriteFile("/tmp/draw-samples/"+name+".svg", d.SVG, 0o644)
	t.Log(name, len(d.PNG), len(d.SVG), d.Alt)
}

func c(mm float64) *sums.Length { l := sums.Caliper(mm); return &l }

func TestSamplePrep(t *testing.T) {
	p := Preparation{Height: *c(3.5), Margin: *c(9), Top: c(7.8)}
	d, err := p.Drawing()
	put(t, "prep-ok", d, err)
	toc := sums.Deg(19.5)
	h, m := sums.Caliper(3.5), sums.Caliper(9)
	f, _ := sums.RetentiveForm(&h, &m, &toc, sums.Molar)
	p.Form = &f
	d, err = p.Drawing()
	put(t, "prep-form", d, err)
	d, err = Preparation{Height: *c(3), Margin: *c(10), Top: c(7)}.Drawing()
	put(t, "prep-bad", d, err)
	d, err = Preparation{Height: *c(9), Margin: *c(4.5), Top: c(3.2)}.Drawing()
	put(t, "prep-tall", d, err)
	d, err = Preparation{Height: sums.MM(0.5), Margin: sums.MM(16), Top: c(15.8)}.Drawing()
	put(t, "prep-flat", d, err)
	d, err = Preparation{Height: *c(4), Margin: *c(9), Offsets: &[2]sums.Length{*c(0.3), *c(1.9)}}.Drawing()
	put(t, "prep-uneven", d, err)
	a := sums.Angle{Deg: 23, PlusMinus: 3}
	d, err = Preparation{Height: *c(4), Margin: *c(10), Convergence: &a}.Drawing()
	put(t, "prep-close", d, err)
}

func TestSampleLight(t *testing.T) {
	for name, l := range map[string]Light{
		"light-short": {1000, 20, 1.5, 0}, "light-may": {1200, 40, 1.0, 0}, "light-ok": {1500, 60, 0.5, 16},
		"light-thick": {1000, 60, 4, 16}, "light-clip": {2000, 120, 1.2, 16}, "light-huge": {10000, 1800, 0.1, 0.5}, "light-tiny": {50, 0.5, 5, 200},
	} {
		d, err := l.Drawing()
		put(t, name, d, err)
	}
}

func TestSampleCheck(t *testing.T) {
	psi := &sums.Quantity{60, sums.PSI}
	b3y := Setting{Of: "abrading 3Y with alumina", Low: 1.5, High: 2.8, Unit: sums.Bar, Bound: Between, Basis: "common practice", Standing: Outside}
	gb := Setting{Of: "the nozzle when blasting translucent zirconia with glass beads", Low: 1, High: 4.2, Unit: sums.Bar, Bound: Between, Basis: "from memory", Standing: Within}
	um := &sums.Quantity{52, sums.Micrometre}
	absurd := &sums.Quantity{5000, sums.Bar}
	f := &sums.Quantity{250, sums.Fahrenheit}
	for name, c := range map[string]Check{
		"check-psi": {"pressure", psi, []Setting{b3y, gb}},
		"check-open": {"exposure", &sums.Quantity{14, sums.JoulePerCM2}, []Setting{
			{Of: "resin cement behind zirconia", Low: 12, High: 16, Unit: sums.JoulePerCM2, Bound: AtLeast, Basis: "published", Standing: Unknown},
			{Of: "the tack cure of the excess before it is peeled off", Low: 3, High: 5, Unit: sums.JoulePerCM2, Bound: AtMost, Basis: "common practice", Standing: Outside},
			{Of: "one study's lamp", Low: 18, High: 24, Unit: sums.JoulePerCM2, Bound: Reported, Standing: Unknown}}},
		"check-single": {"particle size", um, []Setting{{Of: "abrading 3Y with alumina", Low: 50, High: 50, Unit: sums.Micrometre, Bound: Between, Slack: 0.1, Basis: "common practice", Standing: Within}}},
		"check-absurd": {"pressure", absurd, []Setting{b3y}},
		"check-value":  {"pressure", nil, []Setting{b3y, gb}},
		"check-never":  {"phosphoric acid", &sums.Quantity{30, sums.Second}, []Setting{{Of: "etching the inside of a zirconia crown", Unit: sums.Second, Bound: AtMost, Basis: "published", Standing: Outside}}},
		"check-temp":   {"temperature", f, []Setting{{Of: "storing primer", Low: 2, High: 25, Unit: sums.Celsius, Bound: Between, Basis: "from memory", Standing: Outside}}},
	} {
		d, err := c.Drawing()
		put(t, name, d, err)
	}
}

func TestSampleBalance(t *testing.T) {
	bond := func(w, l string) Reason { return Reason{Bond, w, l} }
	cem := func(w, l string) Reason { return Reason{Cement, w, l} }
	stop := func(l string) Reason { return Reason{Stop, Decisive, l} }
	long := "The preparation is too short or too tapered to hold a conventionally cemented crown."
	many := []Reason{}
	for i := 0; i < 15; i++ {
		many = append(many, bond([]string{Decisive, Strong, Weak}[i%3], long), cem([]string{Strong, Weak}[i%2], "Excess is easier to remove completely; residue under the gum is what hurts."))
	}
	for name, b := range map[string]Balance{
		"balance-bond":    {Bond, Bond, []Reason{bond(Decisive, long), bond(Weak, "Resin seals a wide margin"), cem(Weak, "Excess easier to remove")}},
		"balance-cement":  {Cement, "", []Reason{cem(Strong, "Margin below the gum, field hard to keep dry"), cem(Weak, "Easier to clean up"), cem(Weak, "Crown can be taken off again")}},
		"balance-depends": {Depends, Bond, []Reason{bond(Strong, "Thin wall of 4Y"), bond(Strong, "Heavy load"), cem(Strong, "Field hard to keep dry")}},
		"balance-either":  {Either, "", []Reason{bond(Weak, "Enamel all round"), cem(Weak, "Quick")}},
		"balance-stop":    {Stop, "", []Reason{stop("The wall is thinner than the grade can bear; it breaks whatever holds it."), bond(Decisive, long), cem(Decisive, "The field cannot be kept dry")}},
		"balance-many":    {Bond, Bond, many},
	} {
		d, err := b.Drawing()
		put(t, name, d, err)
	}
}
