package talk

import (
	"slices"

	"mortarboard/bot/talk/draw"
	"mortarboard/planner/sums"
)

func lightSums() []sum {
	return []sum{
		{name: "the lamp's output against the stated", of: ofOther, wants: (*question).wantsLamp, read: readLamp, work: (*Talk).lampCheck,
			needs: []need{{role: theStated}, {role: theReading}}},
		{name: "the thickness that light still gets through", of: ofOther, wants: (*question).wantsThickness, read: readLight, work: (*Talk).thicknessWithin,
			needs: []need{{role: theLamp}, {role: theTime}, {role: theDose, optional: true}}},
		{name: "the light behind the zirconia", of: ofOther, wants: (*question).wantsBehind, read: readBehind, work: (*Talk).behind,
			needs: []need{{role: theCeramic}, {role: theLamp, optional: true}, {role: theTime, optional: true}, {role: theDose, optional: true}}},
		{name: "the dose", of: ofOther, wants: (*question).wantsDose, read: readLight, work: (*Talk).dose,
			needs: []need{{role: theLamp}, {role: theTime}}},
		{name: "the exposure time", of: ofOther, wants: (*question).wantsTime, read: readLight, work: (*Talk).exposure,
			needs: []need{{role: theLamp}, {role: theDose, optional: true}}},
	}
}

// onLightPath reports whether the message names something that the light goes
// through.
func (q *question) onLightPath() bool { return q.says("path") }

// walls are the lengths that may be what the light goes through.
func (q *question) walls() []number {
	return q.these(func(n number) bool {
		return !n.tooth && !n.bare && n.unit.Dimension() == sums.Distance && (n.fact == "" || n.fact == "wall_mm")
	})
}

// lamps are the outputs of lamps; one may be written without its unit, "a 1200 lamp", or
// where a meter or a dose is spoken of: "meter says 1000, how long for 12 J".
func (q *question) lamps() []number {
	if written := q.measured(sums.Irradiance); written != nil {
		return written
	}
	ofLight := q.hasWord("names-a-meter") || q.says("joules")
	return q.these(func(n number) bool {
		return n.bare && !n.tooth && n.fact == "" && n.value >= leastOutput && (ofLight || q.nextTo("names-a-lamp", n))
	})
}

func (q *question) wantsLamp() bool {
	outputs := q.outputs()
	return len(outputs) == 2 && len(q.measured(sums.Duration)) == 0 && q.says("role-stated") && q.says("role-reading")
}

// leastOutput is the least number that is taken for a lamp's output without its unit.
const leastOutput = 100

// outputs are the numbers that may be the output of a lamp.
func (q *question) outputs() []number {
	return q.these(func(n number) bool {
		output := n.unit.Dimension() == sums.Irradiance || n.bare && n.fact == "" && n.value >= leastOutput
		return !n.tooth && output
	})
}

// wantsThickness reports whether the wall is asked for that a dose gets through.
func (q *question) wantsThickness() bool {
	return q.says("how-thick") && len(q.lamps()) > 0 && len(q.measured(sums.Duration)) > 0 && len(q.walls()) == 0
}

func (q *question) wantsBehind() bool {
	lamp := len(q.lamps()) > 0 || q.says("light-share")
	return len(q.walls()) > 0 && lamp && (q.onLightPath() || q.says("ceramic"))
}

func (q *question) wantsDose() bool {
	return len(q.lamps()) > 0 && len(q.measured(sums.Duration)) > 0 && !q.onLightPath()
}

func (q *question) wantsTime() bool {
	dose := len(q.measured(sums.Dose)) > 0
	return len(q.lamps()) == 1 && len(q.measured(sums.Duration)) == 0 && (dose || q.says("how-long"))
}

func readLight(q *question, g *given) {
	g.takeAll(theLamp, q.lamps())
	g.takeAll(theTime, q.measured(sums.Duration))
	g.takeAll(theDose, q.measured(sums.Dose))
}

func readBehind(q *question, g *given) {
	readLight(q, g)
	g.takeAll(theCeramic, q.walls())
}

// readLamp tells the stated output from the measured one by the words beside
// them; if only one is told apart, the other number is the other output.
func readLamp(q *question, g *given) {
	outputs := q.outputs()
	mayBe := func(n number) bool {
		return slices.ContainsFunc(outputs, func(o number) bool { return o.at == n.at })
	}
	q.named(g, mayBe, map[string]role{"role-stated": theStated, "role-reading": theReading})
	if g.has(theStated) == g.has(theReading) {
		return
	}
	for _, n := range outputs {
		switch {
		case g.has(theStated) && n.value != g.of(theStated):
			g.take(theReading, n)
		case g.has(theReading) && n.value != g.of(theReading):
			g.take(theStated, n)
		}
	}
}

func (t *Talk) dose(a *answer) *Reply {
	dose, err := sums.LightDose(a.given.of(theLamp), a.given.of(theTime))
	if err != nil {
		return t.failed(a, err)
	}
	limits := t.book.LightLimits()
	means := []string{t.say("calc dose means", map[string]any{
		"Enough": dose.Value >= limits.Dose, "Target": target(limits.Dose), "Source": limits.DoseSource,
	}), t.say("calc instructions", nil)}
	r := t.worked(a, t.say("calc dose", map[string]any{"Dose": told(dose), "Target": target(limits.Dose)}), means, dose.Origin)
	a.figures(r, dose)
	return r
}

func target(dose float64) string {
	return sums.Quantity{Value: dose, Unit: sums.JoulePerCM2}.String()
}

// targetDose is the dose that is aimed for, in J/cm²: the one that was asked for,
// or else the usual one.
func (t *Talk) targetDose(a *answer) float64 {
	if a.given.has(theDose) {
		return a.given.of(theDose)
	}
	return t.book.LightLimits().Dose
}

// tellTarget notices that the usual dose is aimed for, if none was asked for.
func (t *Talk) tellTarget(a *answer) {
	if a.given.has(theDose) {
		return
	}
	limits := t.book.LightLimits()
	a.given.notices = append(a.given.notices, t.say("calc target assumed", map[string]any{"Target": target(limits.Dose), "Source": limits.DoseSource}))
}

func (t *Talk) exposure(a *answer) *Reply {
	t.tellTarget(a)
	time, err := sums.ExposureTime(t.targetDose(a), a.given.of(theLamp))
	if err != nil {
		return t.failed(a, err)
	}
	r := t.worked(a, t.say("calc exposure", told(time)), []string{t.say("calc instructions", nil)}, time.Origin)
	a.figures(r, time)
	return r
}

func (t *Talk) lampCheck(a *answer) *Reply {
	limits := t.book.LightLimits()
	lamp, err := sums.LampCheck(limits, a.given.of(theStated), a.given.of(theReading))
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{"Share": told(lamp.Share), "Pass": lamp.Pass, "Allowed": span(limits.LampLeast, limits.LampMost, sums.Percent)}
	r := t.worked(a, t.say("calc lamp", data), []string{t.say("calc lamp means", lamp.Pass)}, lamp.Share.Origin)
	a.figures(r, lamp.Share)
	return r
}

// Stand-ins for what a question of light leaves out: only the results that do
// not hang on them are shown.
const (
	anyLamp = 1000 // mW/cm²
	anyTime = 20   // s
)

// behind answers with the light behind zirconia, always as a range: the dose if
// lamp and time were given, else the time, else the share that gets through.
func (t *Talk) behind(a *answer) *Reply {
	g := a.given
	lamp, time := float64(anyLamp), float64(anyTime)
	if g.has(theLamp) {
		lamp = g.of(theLamp)
	}
	if g.has(theTime) {
		time = g.of(theTime)
	}
	limits := t.book.LightLimits()
	dose := limits.Dose
	if g.has(theLamp) {
		dose = t.targetDose(a)
		t.tellTarget(a)
	}
	b, err := sums.LightBehindZirconia(limits, lamp, time, g.of(theCeramic), dose)
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{
		"Wall": g.values[theCeramic].String(), "Share": bounds(b.Share),
		"Dose": bounds(b.Dose), "Time": bounds(b.Time), "Target": target(dose),
		"Short": b.Dose.Low < dose, "Never": b.Dose.High < dose,
	}
	if g.has(theLamp, theTime) {
		a.draws(draw.Light{Irradiance: lamp, Seconds: time, WallMM: g.of(theCeramic), Target: dose, Limits: limits})
	}
	means, shown, name := behindMeans(a.given, b)
	r := t.worked(a, t.say(name, data), means, b.Share.Origin)
	a.bands(r, shown...)
	return r
}

// behindMeans chooses what is shown of the light behind zirconia, and the headline.
func behindMeans(g *given, b sums.Behind) (means []string, shown []sums.Band, headline string) {
	switch {
	case !g.has(theLamp):
		headline, shown = "calc behind share", []sums.Band{b.Share}
		means = slices.Clone(b.Time.Notes)
	case !g.has(theTime):
		headline, shown = "calc behind time", []sums.Band{b.Time, b.Share, b.Irradiance}
		means = slices.Clone(b.Time.Notes)
	default:
		headline, shown = "calc behind dose", []sums.Band{b.Dose, b.Share, b.Irradiance, b.Time}
		means = slices.Clone(b.Dose.Notes)
	}
	for _, band := range shown[1:] {
		means = append(means, band.Name+" "+bounds(band))
	}
	return means, shown, headline
}

func (t *Talk) thicknessWithin(a *answer) *Reply {
	t.tellTarget(a)
	dose := t.targetDose(a)
	b, err := sums.ThicknessWithin(t.book.LightLimits(), a.given.of(theLamp), a.given.of(theTime), dose)
	if err != nil {
		return t.failed(a, err)
	}
	data := map[string]any{"Wall": bounds(b), "Target": target(dose)}
	r := t.worked(a, t.say("calc thickness within", data), []string{t.say("calc light alone", sums.Quantity{Value: t.book.LightLimits().AloneMM, Unit: sums.Millimetre}.String())}, b.Origin)
	a.bands(r, b)
	return r
}
