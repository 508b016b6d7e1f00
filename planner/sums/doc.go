// Package sums does the arithmetic of seating a zirconia restoration: the form
// of a preparation, cement volume, light, strength, colour and units.
//
// Its nouns:
//
//   - A [Quantity] is a number with a [Unit]. [Parse] reads one as people write
//     it, and refuses what it would have to guess.
//   - A [Length] and an [Angle] are measures with their uncertainty.
//   - A [Figure] is a computed value with the span that the uncertainty of the
//     measures leaves open. A [Band] is known only within bounds and has no
//     single value, on purpose.
//   - An [Origin] goes with each: the formula, where it comes from, and what
//     the figure cannot say.
//   - An [InputError] tells what was wrong with a measure and the mend; a
//     [Refusal] tells why something is not computed at all.
//
// All functions are pure. Units stand in the names: MM, Deg, MPa, N. The check
// tables and their sources are in the tests; the largest deviation of each
// calculation is written to testdata/published/deviations.txt.
//
// A worked example: a molar preparation 3.5 mm high, 9 mm wide at the margin
// and 7.8 mm on top, read with a caliper good to 0.1 mm.
//
//	toc, _ := sums.TotalConvergence(sums.Caliper(9), sums.Caliper(7.8), sums.Caliper(3.5))
//	fmt.Println(toc) // total convergence 19.5° (15.8 to 23.3°)
package sums
