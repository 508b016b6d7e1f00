package draw_test

import (
	"mortarboard/bot/talk/draw"
	"mortarboard/planner/sums"
)

// A picture is anything that can be drawn.
type picture interface{ Drawing() (draw.Drawing, error) }

func caliper(mm float64) *sums.Length {
	l := sums.Caliper(mm)
	return &l
}

func quantity(v float64, u sums.Unit) *sums.Quantity { return &sums.Quantity{Value: v, Unit: u} }

// preparation is the question "molar prep 3.5 high, 9 wide at the margin, 7.8
// on top, enough?".
func preparation() draw.Preparation {
	return draw.Preparation{Height: *caliper(3.5), Margin: *caliper(9), Top: caliper(7.8)}
}

// light is the question "20 s at 1000 mW behind 1.5 mm?".
func light() draw.Light {
	return draw.Light{Irradiance: 1000, Seconds: 20, WallMM: 1.5, Limits: sums.LightLimits{Dose: 16, AloneMM: 0.3, Loss: sums.Span{Low: 0.8, High: 2}, MeasuredMM: 2}}
}

// check is the question "60 psi?" with settings of every bound.
func check() draw.Check {
	return draw.Check{Name: "pressure", Asked: quantity(60, sums.PSI), Settings: []draw.Setting{
		{Of: "abrading with one grit", Low: 1.5, High: 2.8, Unit: sums.Bar, Bound: draw.Between, Basis: "common practice", Standing: draw.Outside},
		{Of: "a blasting unit to be of use", Low: 2, High: 2.5, Unit: sums.Bar, Bound: draw.AtLeast, Basis: "from memory", Standing: draw.Within},
		{Of: "a fragile margin", Low: 3, High: 4.5, Unit: sums.Bar, Bound: draw.AtMost, Standing: draw.Unknown},
		{Of: "a nozzle of one size", Low: 4, High: 4, Unit: sums.Bar, Bound: draw.Between, Slack: 0.1, Standing: draw.Within},
		{Of: "one study", Low: 1, High: 2, Unit: sums.Bar, Bound: draw.Reported, Standing: draw.Unknown},
	}}
}

func balance() draw.Balance {
	return draw.Balance{Strategy: draw.Depends, Leaning: draw.Bond, Reasons: []draw.Reason{
		{For: draw.Cement, Weight: draw.Strong, Label: "The field is hard to keep dry"},
		{For: draw.Bond, Weight: draw.Weak, Label: "Resin seals a wide margin"},
		{For: draw.Bond, Weight: draw.Strong, Label: "The wall is thin for its grade"},
	}}
}

// stopped has reasons of every side and weight.
func stopped() draw.Balance {
	return draw.Balance{Strategy: draw.Stop, Reasons: []draw.Reason{
		{For: draw.Stop, Weight: draw.Decisive, Label: "The wall is thinner than the grade can bear"},
		{For: draw.Bond, Weight: draw.Decisive, Label: "The form does not hold a crown"},
		{For: draw.Cement, Weight: draw.Weak, Label: "Excess is easily removed"},
	}}
}
