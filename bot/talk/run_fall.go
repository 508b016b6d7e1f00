package talk

import (
	"slices"

	"mortarboard/planner"
)

// A spokenTelling is a telling whose phrases are taken apart.
type spokenTelling struct {
	when   []urgentLine
	unless []urgentPhrase
}

// readFalls takes the phrases of falls apart.
func (x *lexicon) readFalls() {
	x.never = x.stepsOf(x.words.Falls.Never)
	for _, told := range x.words.Falls.Told {
		x.falls = append(x.falls, spokenTelling{x.linesOf(told.When), x.stepsOf(told.Unless)})
	}
}

// tellsOfFall reports whether a message tells that the restoration fell: "I dropped the
// crown on the tray", and not "it dropped into place".
func (x *lexicon) tellsOfFall(tokens []token) bool {
	phrase := func(p urgentPhrase) bool { return x.said(tokens, p) != nil }
	line := func(l urgentLine) bool { return x.allSaid(tokens, l) }
	return !slices.ContainsFunc(x.never, phrase) && slices.ContainsFunc(x.falls, func(told spokenTelling) bool {
		return slices.ContainsFunc(told.when, line) && !slices.ContainsFunc(told.unless, phrase)
	})
}

// hasFallen takes a fall into the run and its case: it is held, and the inside is no
// longer what it was. It returns the titles of the steps that are open again.
func (t *Talk) hasFallen(turn *turn) []string {
	run := turn.run
	run.pause()
	run.Falls = append(run.Falls, turn.at)
	for fact, values := range t.words.words.Falls.TakesBack {
		if turn.now.Is(fact, values...) {
			turn.now = turn.now.Without(fact)
		}
	}
	return t.reopen(run, func(s *planner.Step, _ Tick) bool {
		return s.Surface == "restoration" && s.Stage != "try-in" || s.Surface == "cement"
	})
}

// onlyTold are the facts of a message that tells of a fall: "crown" in it is the thing at
// hand, whatever it is in the case.
func (t *Talk) onlyTold(facts []stated) []stated {
	return slices.DeleteFunc(slices.Clone(facts), func(s stated) bool { return !slices.Contains(t.words.words.Falls.Tells, s.fact) })
}

// fallen says what to do with what fell, and offers the article about it.
func (t *Talk) fallen(turn *turn, r Reply, p *planner.Plan, again []string) Reply {
	falls := t.words.words.Falls
	r = t.onHold(turn, r, p)
	held := r.Headline
	r.Headline = t.say("emergency", emergency{Say: falls.Say, Basis: falls.Basis})
	r.section(t.say("run open", nil), false, t.say("run fallen", again), held)
	if a, ok := t.articles.Base().Article(falls.Entry); ok {
		c := Choice{Fact: "entry", Ask: t.say("run more", nil), Options: []Option{{Label: a.Title, Says: entryLabel + " " + a.ID}}}
		r.Choices = append(r.Choices, c)
	}
	return r
}
