package draw_test

import (
	"fmt"
	"os"

	"mortarboard/bot/talk/draw"
	"mortarboard/planner/sums"
)

// A setting asked in the asker's own unit: the picture as PNG for a channel,
// and the words for who cannot see it.
func ExampleCheck_Drawing() {
	picture, err := draw.Check{
		Name:  "pressure",
		Asked: &sums.Quantity{Value: 60, Unit: sums.PSI},
		Settings: []draw.Setting{{
			Of: "abrading 3Y with alumina", Low: 1.5, High: 2.8, Unit: sums.Bar,
			Bound: draw.Between, Basis: "common practice", Standing: draw.Outside,
		}},
	}.Drawing()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return
	}
	fmt.Println(picture.Name, len(picture.PNG) > 0, len(picture.SVG) > 0)
	fmt.Println(picture.Alt)
	// Output:
	// check true true
	// Pressure, one setting on one axis in bar, with the asked value of 60 psi (60 psi is 4.14 bar). Abrading 3Y with alumina: 1.5 to 2.8 bar; asked value outside, 1.34 bar too much.
}

// A preparation measured with a caliper; the picture shows what the
// uncertainty of a tenth of a millimetre leaves open.
func ExamplePreparation_Drawing() {
	top := sums.Caliper(7.8)
	picture, err := draw.Preparation{Height: sums.Caliper(4.5), Margin: sums.Caliper(9), Top: &top}.Drawing()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return
	}
	fmt.Println(picture.Alt)
	// Output:
	// Cross-section of the preparation, to scale: 4.5 ± 0.1 mm high, 9 ± 0.1 mm wide at the margin and 7.8 ± 0.1 mm on top; both walls lean 7.59° (6.2 to 9.04°). The upper 74 % of the wall resists tipping, from 1.18 mm above the margin up (68 to 79 % within the uncertainty of the measures): the limit is that it begins no higher than half of the wall, 2.25 mm. Half-wall rule: it resists tipping.
}

// The reasons of a plan on a balance.
func ExampleBalance_Drawing() {
	picture, err := draw.Balance{Strategy: draw.Bond, Reasons: []draw.Reason{
		{For: draw.Bond, Weight: draw.Decisive, Label: "Too short to hold by its form"},
		{For: draw.Cement, Weight: draw.Weak, Label: "Excess is easier to remove"},
	}}.Drawing()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return
	}
	fmt.Println(picture.Alt)
	// Output:
	// A balance of the reasons. The reasons tip to bonding. For bonding: Too short to hold by its form (decisive). For cementing: Excess is easier to remove (weak).
}
