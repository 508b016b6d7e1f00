package draw_test

import (
	"math"
	"testing"

	"mortarboard/bot/talk/draw"
	"mortarboard/planner/sums"
)

func TestBadPreparations(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(p *draw.Preparation)
		want  string
	}{
		"no lean":  {func(p *draw.Preparation) { p.Top = nil }, "lean of the walls: got 0 of top width, convergence and offsets, allowed exactly one"},
		"two":      {func(p *draw.Preparation) { p.Convergence = &sums.Angle{Deg: 10} }, "lean of the walls: got 2 of top width, convergence and offsets, allowed exactly one"},
		"undercut": {func(p *draw.Preparation) { p.Top = caliper(9.5) }, "width on top: got 9.5 mm, allowed at most the width at the margin, 9 mm: either the two widths are swapped, or there is an undercut that no crown can pass"},
		"negative": {func(p *draw.Preparation) { p.Height.MM = -3 }, "height: got -3 mm, allowed 0.5 to 15 mm: measure from the margin to the top, in mm"},
		"no number": {func(p *draw.Preparation) { p.Margin.MM = math.NaN() },
			"measure of the preparation: got NaN, allowed a finite number"},
		"pointed": {func(p *draw.Preparation) { p.Top, p.Convergence = nil, &sums.Angle{Deg: 89}; p.Height.MM = 10 },
			"walls: got a top of 0 mm, allowed walls that do not meet below the top: check the height, the width and the lean"},
		"endless angle": {func(p *draw.Preparation) { p.Top, p.Convergence = nil, &sums.Angle{Deg: 10, PlusMinus: math.Inf(1)} },
			"convergence: got +Inf, allowed a finite number"},
		"undercut wall": {func(p *draw.Preparation) { p.Top, p.Offsets = nil, &[2]sums.Length{sums.MM(-1), sums.MM(1)} },
			"inward offset of a wall: got -1 mm, allowed 0 to 8 mm: a negative offset is an undercut"},
	} {
		p := preparation()
		c.spoil(&p)
		refused(t, name, p, c.want)
		if _, err := p.Resistance(); err == nil || err.Error() != c.want {
			t.Errorf("%s: resistance: got %v, want %s", name, err, c.want)
		}
	}
}

func TestBadLights(t *testing.T) {
	for name, c := range map[string]struct {
		draw.Light
		want string
	}{
		"dark":      {draw.Light{Irradiance: 0, Seconds: 20, WallMM: 1}, "irradiance: got 0 mW/cm², allowed 50 to 10,000 mW/cm²: give the lamp's output in mW/cm²; 1 W/cm² is 1000 mW/cm²"},
		"no number": {draw.Light{Irradiance: 1000, Seconds: math.NaN(), WallMM: 1}, "exposure time: got no number s, allowed 0.5 to 1800 s: give the time in seconds"},
		"thick":     {draw.Light{Irradiance: 1000, Seconds: 20, WallMM: 50}, "thickness of zirconia: got 50 mm, allowed 0.1 to 5 mm: give the wall in mm"},
		"target":    {draw.Light{Irradiance: 1000, Seconds: 20, WallMM: 1, Target: -1}, "dose: got -1 J/cm², allowed 0.5 to 200 J/cm²: give the dose in J/cm²"},
	} {
		refused(t, name, c.Light, c.want)
	}
}

func TestBadChecks(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(c *draw.Check)
		want  string
	}{
		"no name":     {func(c *draw.Check) { c.Name = "" }, "name of the parameter: got none, allowed the name that the trade gives it"},
		"no setting":  {func(c *draw.Check) { c.Settings = nil }, "settings of pressure: got none, allowed at least one"},
		"no words":    {func(c *draw.Check) { c.Settings[0].Of = "" }, "setting: got no words for what it is of, allowed any"},
		"swapped":     {func(c *draw.Check) { c.Settings[0].Low = 3 }, "setting of abrading with one grit: got low 3 above high 2.8, allowed low up to high"},
		"mixed units": {func(c *draw.Check) { c.Settings[1].Unit = sums.PSI }, `unit of a blasting unit to be of use: got "psi" beside "bar", allowed one unit in a picture`},
		"bound":       {func(c *draw.Check) { c.Settings[0].Bound = 7 }, "bound of abrading with one grit: got 7, allowed 0 to 3"},
		"slack":       {func(c *draw.Check) { c.Settings[0].Slack = 2 }, "slack of abrading with one grit: got 2, allowed 0 to 0.5"},
		"no standing": {func(c *draw.Check) { c.Settings[0].Standing = "" }, `standing to abrading with one grit: got "", allowed within, outside, unknown`},
		"endless":     {func(c *draw.Check) { c.Settings[0].High = math.Inf(1) }, "setting of abrading with one grit: got +Inf, allowed a finite number"},
		"no number":   {func(c *draw.Check) { c.Asked.Value = math.NaN() }, "asked pressure: got NaN, allowed a finite number"},
		"other thing": {func(c *draw.Check) { c.Asked.Unit = sums.Second }, "asked pressure: s does not convert to bar: one is a time, the other a pressure"},
		"denied within": {func(c *draw.Check) { c.Settings[0].Standing = draw.Within },
			`standing of 60 psi to abrading with one grit: got "within", which the values 1.5 to 2.8 bar deny: judge it again`},
		"denied outside": {func(c *draw.Check) { c.Settings[1].Standing = draw.Outside },
			`standing of 60 psi to a blasting unit to be of use: got "outside", which the values at least 2.5 bar; sources or products differ from 2 to 2.5 bar deny: judge it again`},
		"judged reference": {func(c *draw.Check) { c.Settings[4].Standing = draw.Within },
			`standing of 60 psi to one study: got "within", which the values 1 to 2 bar, for reference deny: judge it again`},
	} {
		p := check()
		c.spoil(&p)
		refused(t, name, p, c.want)
	}
}

func TestBadBalances(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(b *draw.Balance)
		want  string
	}{
		"strategy":   {func(b *draw.Balance) { b.Strategy = "glue" }, `strategy: got "glue", allowed bond, cement, either, depends, stop`},
		"leaning":    {func(b *draw.Balance) { b.Leaning = "stop" }, `leaning: got "stop", allowed bond, cement or none`},
		"crossed":    {func(b *draw.Balance) { b.Strategy, b.Leaning = draw.Bond, draw.Cement }, `leaning: got "cement" with the strategy "bond", allowed the same or none`},
		"empty":      {func(b *draw.Balance) { b.Reasons = nil }, "reasons: got none, allowed at least one"},
		"side":       {func(b *draw.Balance) { b.Reasons[1].For = "either" }, `reason 2: for: got "either", allowed bond, cement, stop`},
		"weight":     {func(b *draw.Balance) { b.Reasons[0].Weight = "heavy" }, `reason 1: weight: got "heavy", allowed decisive, strong, weak`},
		"no label":   {func(b *draw.Balance) { b.Reasons[2].Label = " " }, "reason 3: label: got none, allowed a few words"},
		"unstopped":  {func(b *draw.Balance) { b.Reasons[0].For = draw.Stop }, `strategy: got "depends" with a reason to stop, allowed stop`},
		"no stop":    {func(b *draw.Balance) { b.Strategy, b.Leaning = draw.Stop, "" }, "strategy: got stop without a reason to stop or decisive reasons on both sides, allowed another"},
		"stop leans": {func(b *draw.Balance) { b.Strategy = draw.Stop }, `leaning: got "bond" with the strategy stop, allowed none`},
		"against": {func(b *draw.Balance) { b.Strategy, b.Leaning, b.Reasons[0].Weight = draw.Bond, "", draw.Decisive },
			`strategy: got "bond" against the only decisive reason, allowed the side of that reason`},
	} {
		b := balance()
		c.spoil(&b)
		refused(t, name, b, c.want)
	}
}

// refused holds that a picture is not drawn, and why.
func refused(t *testing.T, name string, p picture, want string) {
	t.Helper()
	d, err := p.Drawing()
	if err == nil || err.Error() != want {
		t.Errorf("%s:\ngot  %v\nwant %s", name, err, want)
	}
	if d.PNG != nil || d.SVG != nil || d.Alt != "" {
		t.Errorf("%s: got a drawing with the error", name)
	}
}
