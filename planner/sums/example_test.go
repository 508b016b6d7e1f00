package sums_test

import (
	"fmt"

	"mortarboard/planner/sums"
)

func ExampleParse() {
	q, _ := sums.Parse("2,8 bar")
	psi, _ := q.In(sums.PSI)
	fmt.Println(q, "is", psi)
	_, err := sums.Parse("120 mesh")
	fmt.Println(err)
	// Output:
	// 2.8 bar is 40.6 psi
	// mesh or grit number to micrometres is not computed: the scales (mesh, FEPA F and P, and others) are not interchangeable, and each grit holds a range of sizes that public tables give differently; read the micrometres on the pack
}

func ExampleTotalConvergence() {
	toc, _ := sums.TotalConvergence(sums.Caliper(9), sums.Caliper(7.8), sums.Caliper(3.5))
	fmt.Println(toc)
	_, err := sums.TotalConvergence(sums.MM(7.8), sums.MM(9), sums.MM(3.5))
	fmt.Println(err)
	// Output:
	// total convergence 19.5° (15.8 to 23.3°)
	// width on top: got 9 mm, allowed at most the width at the margin, 7.8 mm: either the two widths are swapped, or there is an undercut that no crown can pass
}

func ExampleResistanceForm() {
	r, _ := sums.ResistanceForm(sums.Caliper(3.5), sums.Caliper(9), sums.Deg(19.5))
	fmt.Println(r.Fraction)
	fmt.Println("half-wall:", r.HalfWall.Verdict, "-", sums.HalfWall.Meaning())
	fmt.Println(r.HalfWall.Limit)
	fmt.Println(r.HalfWall.Minimum)
	// Output:
	// part of the wall that resists 0.571 (0.553 to 0.587)
	// half-wall: resists - at least the upper half of the wall has to block the crown when it tips about the opposite margin
	// largest total convergence, half-wall 22.9° (21.9 to 23.9°)
	// least height, half-wall 3 mm (2.97 to 3.04 mm)
}

func ExampleRetentiveForm() {
	limits := sums.FormLimits{MolarHeightMM: 4, OtherHeightMM: 3, LeastTOC: 10, MostTOC: 20, LeastProportion: 0.4} // Goodacre, Campagni, Aquilino 2001
	height, width, toc := sums.MM(3.5), sums.MM(9), sums.Deg(19.5)
	f, _ := sums.RetentiveForm(limits, &height, &width, &toc, sums.Molar)
	fmt.Println(f.Verdict)
	for _, c := range f.Criteria {
		fmt.Printf("%s: %s, wanted %s, %s\n", c.Name, c.Got, c.Wanted, c.State)
	}
	// Output:
	// inadequate
	// height: 3.5 mm, wanted at least 4 mm on a molar, missed
	// total convergence: 19.5°, wanted 10 to 20°, met
	// height to width: 0.389, wanted at least 0.4, missed
	// half-wall rule: the upper 57 % of the wall resists, wanted the upper half of the wall resists tipping, met
}

func ExampleLightBehindZirconia() {
	limits := sums.LightLimits{Dose: 16, AloneMM: 0.3, Loss: sums.Span{Low: 0.8, High: 2}, MeasuredMM: 2}
	b, _ := sums.LightBehindZirconia(limits, 1000, 20, 1.5, limits.Dose)
	fmt.Println(b.Dose)
	fmt.Println(b.Time)
	for _, n := range b.Dose.Notes {
		fmt.Println("-", n)
	}
	// Output:
	// dose behind the zirconia 0.996 to 6.02 J/cm²
	// time for the dose 53.1 to 321 s
	// - behind more than 0.3 mm do not rely on light: the cement must set by itself too, cure from every side, and longer
	// - the dose falls short even in the best case
}

func ExampleCIEDE2000() {
	d, _ := sums.CIEDE2000(sums.Lab{L: 71, A: 2, B: 18}, sums.Lab{L: 72.5, A: 1.5, B: 19})
	seen, _, _ := sums.JudgeDifference([]sums.Threshold{{Unit: sums.DeltaE00, Perceptible: 0.8, Acceptable: 1.8}}, d.Value, d.Unit)
	fmt.Println(d, "-", seen)
	// Output: colour difference 1.41 ΔE00 - visible, and acceptable to half of the observers
}

func ExampleRetentionForce() {
	b, _ := sums.RetentionForce(sums.ForceLimits{Retention: sums.Span{Low: 1.4, High: 5.1}}, 118)
	fmt.Println(b)
	// Output: force to pull the crown off, order of magnitude 100 to 700 N
}

func ExampleCheckBlastPressure() {
	fmt.Println(sums.CheckBlastPressure(sums.Span{Low: 0.5, High: 6}, sums.Quantity{Value: 2, Unit: sums.MPa}))
	// Output: blasting pressure: got 2 MPa (20 bar), allowed 0.5 to 6 bar (0.05 to 0.6 MPa): was 0.2 MPa meant?
}
