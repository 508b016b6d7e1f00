package talk

import (
	"slices"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A danger is what a sentence may name beside its number, or its thread hold, that
// makes an answer to the number alone a wrong one.
type danger struct {
	Say     string              `yaml:"say"`
	Basis   planner.Basis       `yaml:"basis"`
	When    [][][]string        `yaml:"when"`    // any of these lines, written like those of an emergency; none: always
	Unless  []string            `yaml:"unless"`  // phrases that take it back
	Case    map[string][]string `yaml:"case"`    // facts that have to be known so
	Past    string              `yaml:"past"`    // the settings of the last answer have to begin so
	Of      []string            `yaml:"of"`      // which judged settings it concerns, by the beginning of their keys; none: any answer
	Verdict planner.Standing    `yaml:"verdict"` // what it makes of a "within"
	Shows   string              `yaml:"shows"`   // the setting that counts in its place
	Told    []string            `yaml:"told"`    // articles that begin with it themselves
}

// spokenDanger is a danger whose phrases are taken apart.
type spokenDanger struct {
	danger
	when   []urgentLine
	unless []urgentPhrase
}

// readDangers takes the phrases of the dangers apart.
func (x *lexicon) readDangers() {
	for _, d := range x.words.Dangers {
		x.dangers = append(x.dangers, spokenDanger{danger: d, when: x.linesOf(d.When), unless: x.stepsOf(d.Unless)})
	}
}

// threatens reports whether a danger stands in the message or its thread.
func (t *Talk) threatens(turn *turn, d spokenDanger) bool {
	for fact, values := range d.Case {
		known := turn.now.Values(fact)
		if !turn.now.Known(fact) || slices.ContainsFunc(known, func(v string) bool { return !slices.Contains(values, v) }) {
			return false
		}
	}
	before := func(key string) bool { return strings.HasPrefix(key, d.Past) }
	said := func(line urgentLine) bool { return t.words.allSaid(turn.tokens, line) }
	takenBack := slices.ContainsFunc(d.unless, func(p urgentPhrase) bool { return t.words.said(turn.tokens, p) != nil })
	return !takenBack && (len(d.when) == 0 || slices.ContainsFunc(d.when, said)) && (d.Past == "" || slices.ContainsFunc(turn.past.Keys, before))
}

// concerns reports whether a danger speaks of one of the settings.
func (d danger) concerns(keys []string) bool {
	return slices.ContainsFunc(keys, func(key string) bool {
		return slices.ContainsFunc(d.Of, func(of string) bool { return strings.HasPrefix(key, of) })
	})
}

// withheldYes takes a "within" back where the message names what forbids it, or where
// the case of the message stops whatever the number is.
func (t *Talk) withheldYes(r *Reply, turn *turn) {
	if r.Verdict != string(planner.Within) {
		return
	}
	for _, d := range t.words.dangers {
		if d.concerns(turn.keys) && t.threatens(turn, d) {
			r.Verdict, r.Headline = string(d.Verdict), t.say("emergency", d)
			if d.Shows != "" {
				t.listSettings(r, t.settings(turn, []string{d.Shows}))
			}
			return
		}
	}
	if t.farLonger(turn) {
		r.Verdict, r.Headline = string(planner.Unknown), t.say("far longer", r.Headline)
		return
	}
	if p := t.book.Plan(turn.now); p.Strategy == planner.Stop {
		r.Verdict = string(planner.Unknown)
		r.Headline = t.say("within but stop", map[string]any{"Text": r.Headline, "Because": grounds(p)[0].Because})
	}
}

// timesLonger is from how many times the least time on a wait is no longer the deed: ten
// minutes with the adhesive on are not ten minutes of rubbing.
const timesLonger = 10

// farLonger reports whether a time that was checked lies so far above a setting without
// an upper end that something else must be meant.
func (t *Talk) farLonger(turn *turn) bool {
	found, _ := t.verify(turn)
	return slices.ContainsFunc(found, func(c checked) bool {
		return slices.ContainsFunc(c.Rows, func(j planner.Judged) bool {
			time := sums.Unit(j.Unit).Dimension() == sums.Duration
			return time && j.Bound() == planner.AtLeast && j.Value > timesLonger*j.High
		})
	})
}

// warn puts a danger that concerns any answer before the answer.
func (t *Talk) warn(r *Reply, turn *turn) {
	for _, d := range t.words.dangers {
		told := len(r.Entries) > 0 && slices.Contains(d.Told, r.Entries[0])
		if len(d.Of) > 0 || told || !t.threatens(turn, d) {
			continue
		}
		say := t.say("emergency", d)
		if r.Verdict == string(planner.Within) || r.Kind == KindDeclined {
			r.Verdict, r.Headline = string(d.Verdict), say
		} else {
			r.Headline = say + " " + r.Headline
		}
		if r.Kind == KindDeclined {
			r.Verdict = ""
		}
		r.Notices = append([]string{say}, r.Notices...)
		return
	}
}
