package talk

import (
	"mortarboard/bot/talk/draw"
	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A drawer is something that can be drawn.
type drawer interface {
	Drawing() (draw.Drawing, error)
}

// illustrate adds pictures to an answer, if they are wanted: of a plan the
// reasons on a balance, of a check the setting with the asked value, of a
// calculation what it worked out. What cannot be drawn is logged and told in
// words only.
func (t *Talk) illustrate(r *Reply, turn *turn) {
	if !t.pictures {
		return
	}
	var drawers []drawer
	switch {
	case r.Kind == KindPlan && len(r.Reasons) > 0:
		drawers = append(drawers, balance(r))
	case r.Kind == KindCheck:
		drawers = append(drawers, t.envelope(turn)...)
	}
	for _, d := range append(drawers, turn.drawings...) {
		r.Pictures = append(r.Pictures, t.picture(d, r.Headline))
	}
}

// picture draws. If that fails the picture stays without an image, and the
// given words stand in its place.
func (t *Talk) picture(d drawer, words string) Picture {
	drawing, err := d.Drawing()
	if err != nil {
		t.log.Warn("a picture could not be drawn", "error", err)
		return Picture{Name: "answer", Alt: words}
	}
	return Picture{Name: drawing.Name, Alt: drawing.Alt, PNG: drawing.PNG, SVG: drawing.SVG}
}

// balance is the picture of a plan's reasons.
func balance(r *Reply) drawer {
	b := draw.Balance{Strategy: r.Strategy, Leaning: r.Leaning}
	for _, reason := range r.Reasons {
		b.Reasons = append(b.Reasons, draw.Reason{For: reason.For, Weight: reason.Weight, Label: reason.Because})
	}
	return b
}

// envelope is the picture of the first quantity that the message asks about,
// held against its settings.
func (t *Talk) envelope(turn *turn) []drawer {
	held := t.distinct(turn)
	if len(held) == 0 {
		return nil
	}
	asked := held[0].quantity
	v, err := t.book.Check(t.book.Usual(turn.now), t.settingFor(turn, held[0]), asked)
	if err != nil || len(v.Rows) == 0 {
		return nil
	}
	first := v.Rows[0].Parameter
	check := draw.Check{Name: first.Name, Asked: &asked}
	for _, j := range v.Rows {
		if j.Unit == first.Unit {
			check.Settings = append(check.Settings, setting(j))
		}
	}
	return []drawer{check}
}

// setting is one judged envelope as the picture takes it.
func setting(j planner.Judged) draw.Setting {
	bounds := map[planner.Bound]draw.Bound{
		planner.Reported: draw.Reported, planner.AtLeast: draw.AtLeast, planner.AtMost: draw.AtMost, planner.Between: draw.Between,
	}
	return draw.Setting{
		Of: j.Of, Low: j.Low, High: j.High, Unit: sums.Unit(j.Unit), Bound: bounds[j.Bound()],
		Slack: planner.Nominal, Basis: string(j.Basis), Standing: string(j.Standing),
	}
}
