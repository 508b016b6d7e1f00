package talk

import (
	"slices"

	"mortarboard/planner/sums"
)

// refusedSums are what people ask for and what is never computed, each with its
// reason.
func refusedSums() []sum {
	var out []sum
	for _, r := range []struct {
		topic sums.Topic
		wants func(q *question) bool
	}{
		{sums.GritSize, (*question).asksGrit},
		{sums.DiamondBand, (*question).asksBand},
		{sums.TaperRetention, (*question).asksRetention},
		{sums.LightAtDistance, (*question).asksDistance},
		{sums.SettingAtWarmth, (*question).asksWarmth},
		{sums.BlueLightBudget, func(q *question) bool { return q.says("stare") && q.says("how-long", "amount") }},
		{sums.CrownColour, func(q *question) bool { return q.says("crown-colour") && q.says("backing") }},
		{sums.CrownLoad, (*question).asksCrownLoad},
		{sums.GroovedForm, func(q *question) bool { return q.says("groove-gain") }},
		{sums.BondFromStrength, (*question).asksBondStrength},
	} {
		topic := r.topic
		out = append(out, sum{name: string(topic), of: ofOther, wants: r.wants, work: func(t *Talk, a *answer) *Reply {
			return t.failed(a, sums.Refused(topic))
		}})
	}
	return out
}

// refused says why something is not computed and what to do instead.
func (t *Talk) refused(why *sums.Refusal) *Reply {
	r := &Reply{Headline: t.say("calc refused", map[string]any{"Topic": string(why.Topic), "Why": upper(why.Why)})}
	instead := []string{upper(why.Instead) + "."}
	if why.Topic == sums.TaperRetention {
		instead = append(instead, t.say("calc advised convergence", t.book.FormLimits()))
	}
	r.section("Instead", false, instead...)
	return r
}

// leastMesh is the least number that is taken for a mesh or grit number.
const leastMesh = 20

// asksGrit reports whether a size is wanted of a mesh or grit number. Mesh is
// never a size; "grit" may be said loosely of µm, so there a conversion has to
// be asked for.
func (q *question) asksGrit() bool {
	return slices.ContainsFunc(q.numbers, func(n number) bool {
		return n.bare && n.value >= leastMesh && (q.nextTo("names-a-mesh", n) || q.nextTo("names-a-grit", n) && q.says("in-microns"))
	})
}

// nextTo reports whether a word that does what the name of the grammar says
// stands before or behind a number.
func (q *question) nextTo(name string, n number) bool {
	return q.words.is(name, q.word(n.at-1)) || q.words.is(name, q.word(n.at+1))
}

// asksBand reports whether a size is wanted of the colour band of a diamond.
func (q *question) asksBand() bool {
	if !q.says("in-microns") {
		return false
	}
	for i, t := range q.tokens {
		colour := q.words.is("colour-of-a-band", t.word)
		for next := i + 1; colour && next <= i+2; next++ {
			if q.words.is("carries-a-band", q.word(next)) {
				return true
			}
		}
	}
	return false
}

func (q *question) asksRetention() bool {
	return q.says("retention-lost") && (q.says("angle") || len(q.angles())+len(q.bound(taperUnclear)) > 0)
}

// asksDistance reports whether the light at a distance from the tip is wanted;
// how far the lamp may be is a setting.
func (q *question) asksDistance() bool {
	left := q.says("light-share", "joules", "light-left") || len(q.lamps()) > 0 && q.says("amount")
	return left && q.says("away") && len(q.measured(sums.Distance)) > 0 && !q.onLightPath()
}

func (q *question) asksWarmth() bool {
	warmth := len(q.measured(sums.Temperature)) > 0 || q.says("warmth")
	return warmth && q.says("sets") && len(q.measured(sums.Duration)) > 0
}

func (q *question) asksCrownLoad() bool {
	other := q.says("disc", "three-point", "four-point", "weibull", "pull", "bite") || q.wantsWalls()
	return q.says("crown-load") && !other
}

func (q *question) asksBondStrength() bool {
	return q.says("bond-strength") && q.says("holds") && len(q.measured(sums.Pressure)) > 0
}
