package talk

import (
	"slices"

	"mortarboard/planner"
)

// marking is the answer with its reasons.
func (t *Talk) marking(c *planner.Card, s planner.Solution, said string, right bool) Reply {
	var r Reply
	short := t.ground(&r, c, s)
	r.Headline = t.say("card marked", map[string]any{"Right": right, "Said": t.label(c, said), "Is": t.label(c, s.Right), "Why": short, "Case": c.Kind() == planner.AsksStrategy})
	r.Entries = c.Articles()
	var titles []string
	for _, id := range c.Articles() {
		if a, ok := t.articles.Base().Article(id); ok {
			titles = append(titles, a.Title)
		}
	}
	r.section(t.say("card read", nil), false, titles...)
	return r
}

// ground fills in what a card's answer rests on, and gives it in one sentence.
func (t *Talk) ground(r *Reply, c *planner.Card, s planner.Solution) string {
	switch {
	case s.Setting != nil:
		return t.groundSetting(r, s.Setting)
	case c.Kind() == planner.AsksOrder:
		return t.groundOrder(r, c, s)
	case c.Rests != nil:
		basis := t.say("rested", map[string]any{"Say": c.Rests.Says, "Basis": string(c.Rests.Basis), "Cite": c.Rests.Cite()})
		r.section(t.say("card why", nil), false, basis)
		return c.Rests.Says
	case c.Article != "":
		return t.groundArticle(r, c.Article)
	}
	return t.groundPlan(r, s.Plan)
}

// groundPlan gives the reasons of a verdict as a plan gives them.
func (t *Talk) groundPlan(r *Reply, p *planner.Plan) string {
	for _, a := range p.Reasons {
		r.Reasons = append(r.Reasons, reason(a))
	}
	t.planNotices(r, p)
	for _, side := range []planner.Strategy{planner.Stop, planner.Bond, planner.Cement} {
		r.section(t.say("side", string(side)), false, t.reasonsFor(p, side)...)
	}
	r.section(t.say("card mend", nil), false, t.mends(p)...)
	r.section(t.say("card settles", nil), false, t.settles(p)...)
	r.section(t.say("card house", nil), false, t.departures(p)...)
	r.section(t.say("card assumed", nil), true, slices.Concat(t.assumed(p))...)
	r.section("Sources", true, sourcesOf(p)...)
	return t.headline(&turn{}, p)
}

func (t *Talk) groundSetting(r *Reply, p *planner.Parameter) string {
	r.Values = []Value{value(p)}
	r.section(t.say("card why", nil), false, t.setting(p))
	r.section(t.say("card below", nil), false, appendNew(nil, p.Below)...)
	r.section(t.say("card above", nil), false, appendNew(nil, p.Above)...)
	r.section("Note", false, appendNew(nil, p.Note)...)
	r.section("Rests on", true, t.rests(p))
	return t.say("card setting", map[string]any{"Of": p.Of, "Name": p.Name, "Is": p.String()})
}

func (t *Talk) groundOrder(r *Reply, c *planner.Card, s planner.Solution) string {
	var labels, lines, cites []string
	for i, step := range s.Steps {
		at := slices.IndexFunc(c.Order, func(o planner.CardStep) bool { return o.Step == step.ID })
		labels = append(labels, c.Order[at].Label)
		lines = append(lines, t.say("card step", map[string]any{"N": i + 1, "Label": c.Order[at].Label, "Do": step.Do, "Basis": string(step.Basis)}))
		cites = appendNew(cites, step.Support())
	}
	r.section(t.say("card order", nil), false, lines...)
	r.section("Sources", true, cites...)
	return t.say("card sequence", labels)
}

func (t *Talk) groundArticle(r *Reply, id string) string {
	a, _ := t.articles.Base().Article(id)
	shown, err := a.Render(t.references())
	if err != nil {
		return t.say("article missing", err.Error())
	}
	r.section(a.Title, false, shown.Answer)
	r.section("Sources", true, shown.Sources...)
	return ""
}
