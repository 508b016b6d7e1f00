package talk

import (
	"slices"
	"strconv"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// never are the settings that are nought because the thing is not done at all.
func (t *Talk) never(key string) (*planner.Parameter, bool) {
	for _, p := range t.book.Parameters {
		if p.Key == key && p.High == 0 && p.Bound() == planner.AtMost {
			return p, true
		}
	}
	return nil, false
}

// checks reports whether the message asks if something is all right: a quantity
// with a word that asks or with nothing else to do with it, or a thing that is
// never done.
func (t *Talk) checks(turn *turn, cue, explains bool) bool {
	for _, key := range turn.keys {
		if _, never := t.never(key); never && !t.asksWhy(turn) {
			return true
		}
	}
	return cue && t.fitsAsked(turn) || !explains && t.idle(turn)
}

// asksWhy reports whether the message asks for a reason: it opens with "why".
func (t *Talk) asksWhy(turn *turn) bool {
	return slices.ContainsFunc(t.words.all("cue:why", turn.tokens), func(f found) bool { return f.from == 0 })
}

// asksWhetherOK reports whether a word such as "ok" asks about something, rather
// than answering people ("ok now what"), praising a fact of the case ("good walls")
// or asking for something else: "how do we seat it".
func (t *Talk) asksWhetherOK(turn *turn) bool {
	return t.asksYesOrNo(turn) || slices.ContainsFunc(t.asksOK(turn), func(f found) bool { return !turn.ofCement(f) })
}

// asksOK finds the words such as "ok" that ask about something.
func (t *Talk) asksOK(turn *turn) []found {
	return slices.DeleteFunc(t.words.all("cue:check", turn.tokens), func(f found) bool {
		return t.words.opens(turn.tokens, f) || t.words.ofQuadrant(turn.tokens, f) || t.assures(turn, f) || turn.praised(f) ||
			t.words.is("asks-for-a-thing", wordBefore(turn.tokens, f.from))
	})
}

// asksYesOrNo reports whether a clause that opens like a question to be answered by
// yes or no holds a number to be judged, and does not ask how to seat: "would 3.5
// bar crack it".
func (t *Talk) asksYesOrNo(turn *turn) bool {
	seats := slices.Concat(t.words.all("cue:plan", turn.tokens), t.words.all("cue:plan-word", turn.tokens), t.words.all("cue:ask", turn.tokens))
	return slices.ContainsFunc(t.held(turn), func(m measure) bool {
		if m.at < 0 {
			return false
		}
		clause := turn.tokens[m.at].clause
		first := slices.IndexFunc(turn.tokens, func(w token) bool { return w.clause == clause })
		return t.words.is("asks-yes-or-no", turn.tokens[first].word) &&
			!slices.ContainsFunc(seats, func(f found) bool { return turn.tokens[f.from].clause == clause })
	})
}

// ofCement reports whether a word such as "ok" stands in a clause that names a cement
// and no number: that asks what to seat with, wherever the message has a number.
func (turn *turn) ofCement(f found) bool {
	clause := turn.tokens[f.from].clause
	in := func(at int) bool { return at >= 0 && turn.tokens[at].clause == clause }
	return slices.ContainsFunc(turn.facts, func(s stated) bool { return s.fact == "cement" && in(s.at) }) &&
		!slices.ContainsFunc(turn.measures, func(m measure) bool { return in(m.at) })
}

// assures reports whether a word such as "fine" tells in a clause without a number
// how something is that belongs to a described case: "gums fine".
func (t *Talk) assures(turn *turn, f found) bool {
	numbered := slices.ContainsFunc(turn.measures, func(m measure) bool {
		return m.at >= 0 && turn.tokens[m.at].clause == turn.tokens[f.from].clause
	})
	return turn.describes() && !numbered && f.to-f.from == 1 && t.words.is("acknowledges", turn.tokens[f.from].word)
}

// ofQuadrant reports whether a word is the "right" of "upper right".
func (x *lexicon) ofQuadrant(tokens []token, f found) bool {
	side := f.to-f.from == 1 && x.is("left-or-right", tokens[f.from].word)
	return side && (x.is("names-an-arch", wordBefore(tokens, f.from)) || x.is("names-an-arch", wordBehind(tokens, f.from)))
}

// opens reports whether a word only opens the clause, "ok" before "now what".
func (x *lexicon) opens(tokens []token, f found) bool {
	first := opens(tokens, f.from)
	goesOn := f.to < len(tokens) && tokens[f.to].clause == tokens[f.from].clause && !x.is("leads-to-a-deed", tokens[f.to].word)
	return first && goesOn && f.to-f.from == 1 && x.is("acknowledges", tokens[f.from].word)
}

// assumeUnit gives the lone number of a check the unit that the message leaves no
// doubt of: that of the one setting it asks about, seconds where it asks "too
// long", bar where it blasts, or the millimetres of a wall beside a grade.
func (t *Talk) assumeUnit(turn *turn) {
	if len(turn.measures) != 1 || turn.measures[0].fact != "" || turn.measures[0].quantity.Unit != "" {
		return
	}
	m := &turn.measures[0]
	key := ""
	tasks := t.words.tasks(turn.tokens)
	switch task := func(dim string) string { return t.words.words.Settings[tasks[0].sense.name][dim] }; {
	case len(turn.keys) == 1:
		key = turn.keys[0]
	case len(tasks) > 0 && m.quantity.Value >= leastOutput && task(string(sums.Irradiance)) != "":
		key = task(string(sums.Irradiance))
	case len(tasks) > 0 && t.words.has("asks-of-time", turn.tokens):
		key = task(string(sums.Duration))
	case len(tasks) > 0 && m.quantity.Value <= mostBar:
		key = task(string(sums.Pressure))
	case len(tasks) == 0 && m.quantity.Value < 1 && turn.now.Known("zirconia"):
		m.fact = "wall_mm"
		key = t.words.words.Measured[m.fact]
	}
	if p := t.first(key); p != nil {
		m.quantity.Unit = sums.Unit(p.Unit)
		turn.notices = append(turn.notices, t.say("unit assumed", map[string]any{"Numbers": strconv.FormatFloat(m.quantity.Value, 'g', -1, 64), "Unit": p.Unit}))
	}
}

// mostBar is the greatest bare number that is taken for a pressure in bar.
const mostBar = 8

// praised reports whether a word is the value of a fact, or stands in a clause that
// states one and has no number.
func (turn *turn) praised(f found) bool {
	if spent(turn.tokens, f) && !turn.tokens[f.from].question && wordBehind(turn.tokens, f.from) != "" {
		return true // "prep five mm isolation good gum healthy"
	}
	clause := turn.tokens[f.from].clause
	in := func(at int) bool { return at >= 0 && turn.tokens[at].clause == clause }
	if turn.tokens[f.from].question || slices.ContainsFunc(turn.measures, func(m measure) bool { return in(m.at) }) {
		return false
	}
	return slices.ContainsFunc(turn.facts, func(s stated) bool { return in(s.at) && !slices.Contains([]string{"zirconia", "restoration"}, s.fact) })
}

// fitsAsked reports whether a quantity can be held against something, and against
// what was asked for if something was: "how hard do I blast with 50 micron" asks
// for a pressure and judges no grit.
func (t *Talk) fitsAsked(turn *turn) bool {
	held := t.held(turn)
	if len(turn.keys) == 0 || !t.words.has("ask", turn.tokens) && len(t.words.tasks(turn.tokens)) > 0 {
		return len(held) > 0
	}
	return slices.ContainsFunc(held, func(m measure) bool {
		return slices.ContainsFunc(turn.keys, func(key string) bool { return t.takes(key, m) })
	})
}

// idle reports whether a message is a setting and nothing else, as in "110
// micron at 3 bar on translucent": then the question is whether it is all right.
func (t *Talk) idle(turn *turn) bool {
	if len(turn.keys) > 0 || t.words.has("plan", turn.tokens) {
		return false
	}
	short := len(content(turn.tokens, t.words)) <= 1 // "crown blasted 1 min"
	for _, s := range turn.facts {
		if s.fact != "zirconia" && t.book.Argues(s.fact) && !(short && s.fact == "restoration") {
			return false
		}
	}
	tasked := len(t.words.tasks(turn.tokens)) > 0
	return slices.ContainsFunc(t.held(turn), func(m measure) bool {
		blasting := m.quantity.Unit.Dimension() == sums.Pressure || m.quantity.Unit == sums.Micrometre
		return m.fact == "" && (tasked || blasting)
	})
}

// held are the quantities of a message that can be held against a setting.
func (t *Talk) held(turn *turn) []measure {
	var out []measure
	for _, m := range turn.measures {
		if m.quantity.Unit == "" && m.assumed && m.fact != "" {
			m.quantity.Unit = t.words.unitOf(m.fact)
		}
		if m.quantity.Unit != "" && m.fact != topWidth && t.settingFor(turn, m) != "" {
			out = append(out, m)
		}
	}
	return out
}

// check answers whether a quantity is all right.
func (t *Talk) check(turn *turn) Reply {
	r := Reply{Kind: KindCheck}
	t.checkNever(&r, turn)
	if r.Verdict == "" {
		t.checkQuantities(&r, turn)
		t.withheldYes(&r, turn)
	}
	return r
}

func (t *Talk) checkNever(r *Reply, turn *turn) {
	for _, key := range turn.keys {
		p, never := t.never(key)
		if !never {
			continue
		}
		r.Verdict = string(planner.Outside)
		r.Headline = t.say("check never", p.Above)
		r.Values = append(r.Values, value(p))
		r.section("Why", false, slices.DeleteFunc([]string{p.Note}, func(s string) bool { return s == "" })...)
		r.section("Instead", false, t.say("safer", strings.TrimSuffix(p.Safer, ".")))
		r.section("Rests on", false, t.rests(p))
		return
	}
}

// A checked quantity, and how it stands to the settings of the key that it was
// held against.
type checked struct {
	measure
	key string
	planner.Verification
}

// verify holds every quantity of the message against its setting. Those that no
// setting takes are left.
func (t *Talk) verify(turn *turn) (found []checked, left []measure) {
	for _, m := range t.distinct(turn) {
		key := t.settingFor(turn, m)
		v, err := t.book.Check(t.book.Usual(turn.now), key, m.quantity)
		if err != nil || len(v.Rows) == 0 {
			left = append(left, m)
			continue
		}
		found = append(found, checked{m, key, v})
	}
	return found, left
}

// checkQuantities tells how every quantity of the message stands to its setting;
// the first one that is not within gives the headline.
func (t *Talk) checkQuantities(r *Reply, turn *turn) {
	t.unitSlip(r, turn)
	found, left := t.verify(turn)
	t.headVerdict(r, found)
	turn.keys = nil
	var judged []int
	for _, c := range found {
		t.judged(r, c.quantity, c.Verification)
		turn.said, turn.keys = append(turn.said, c.quantity), appendNew(turn.keys, c.key)
		judged = append(judged, c.at)
	}
	t.notJudged(r, turn, judged, left)
	if r.Verdict == "" {
		r.Verdict = string(planner.Unknown)
		r.Headline = t.say("no such setting", t.quantities(turn))
	}
}

// notJudged names the numbers that were held against nothing: those that measure
// nothing known, and those left that no setting takes. A "yes" that left one out
// would be taken for an answer to all of them.
func (t *Talk) notJudged(r *Reply, turn *turn, judged []int, left []measure) {
	again := func(m measure) bool { // the same quantity in another unit
		return slices.ContainsFunc(turn.said, func(q sums.Quantity) bool {
			agrees, err := q.Agrees(m.quantity)
			return err == nil && agrees
		})
	}
	var unknown, unset []string
	for _, m := range turn.measures {
		switch {
		case slices.Contains(judged, m.at) || again(m):
		case m.fact == "":
			unknown = append(unknown, m.quantity.String())
		case slices.ContainsFunc(left, func(l measure) bool { return l.at == m.at }):
			unset = append(unset, m.quantity.String())
		}
	}
	if unknown != nil {
		r.Notices = append(r.Notices, t.say("not judged", strings.Join(unknown, ", ")))
	}
	if unset != nil && judged != nil {
		r.Notices = append(r.Notices, t.say("not set", strings.Join(unset, ", ")))
	}
	if unknown == nil && unset == nil {
		return
	}
	if r.Verdict == string(planner.Within) {
		r.Verdict = string(planner.Unknown)
		r.Headline = t.say("judged in part", r.Headline)
	}
}

func (t *Talk) quantities(turn *turn) string {
	var parts []string
	for _, m := range turn.measures {
		parts = append(parts, m.quantity.String())
	}
	return strings.Join(parts, ", ")
}

// distinct are the quantities to check, one for each setting: a pressure given
// in bar and in psi is one pressure.
func (t *Talk) distinct(turn *turn) []measure {
	var out []measure
	for _, m := range t.held(turn) {
		key := t.settingFor(turn, m)
		same := func(o measure) bool {
			agrees, err := o.quantity.Agrees(m.quantity)
			return err == nil && agrees && t.settingFor(turn, o) == key
		}
		if !slices.ContainsFunc(out, same) {
			out = append(out, m)
		}
	}
	return out
}

// judged writes how a quantity stands to each setting that may apply.
func (t *Talk) judged(r *Reply, q sums.Quantity, v planner.Verification) {
	var lines, notes, safer []string
	for _, j := range v.Rows {
		r.Values = append(r.Values, value(j.Parameter))
		lines = append(lines, t.say("judged", map[string]any{
			"Setting": t.setting(j.Parameter), "Asked": asked(q, j), "Standing": string(j.Standing), "By": t.farOff(j),
		}))
		notes = appendNew(notes, consequence(j))
		notes = appendNew(notes, j.Note)
		if j.Standing != planner.Within {
			safer = appendNew(safer, t.say("safer", strings.TrimSuffix(j.Safer, ".")))
		}
		if far(j) {
			r.Notices = appendNew(r.Notices, t.say("absurd", q.String()))
		}
	}
	r.section("Held against", false, lines...)
	r.section("Why", false, notes...)
	r.section("Instead", false, safer...)
	var rests []string
	for _, j := range v.Rows {
		rests = appendNew(rests, t.rests(j.Parameter))
	}
	r.section("Rests on", true, rests...)
}

// asked writes the quantity, and in the setting's unit where that is another.
func asked(q sums.Quantity, j planner.Judged) string {
	if string(q.Unit) == j.Unit {
		return q.String()
	}
	return q.String() + " = " + sums.Quantity{Value: j.Value, Unit: sums.Unit(j.Unit)}.String()
}

// far reports whether a value is so far off that the number or its unit must be wrong.
func far(j planner.Judged) bool {
	return j.High > 0 && (j.Value > 5*j.High || j.Value < 0) && j.Bound() != planner.AtLeast
}

// consequence says what happens on the side on which the value lies.
func consequence(j planner.Judged) string {
	switch {
	case j.Standing == planner.Outside && j.Value > j.High:
		return j.Above
	case j.Standing == planner.Outside:
		return j.Below
	}
	return ""
}

// unitSlip notices two figures of one setting that do not agree: 2 bar (60 psi).
func (t *Talk) unitSlip(r *Reply, turn *turn) {
	held := t.held(turn)
	for i, a := range held {
		for _, b := range held[i+1:] {
			agrees, err := a.quantity.Agrees(b.quantity)
			if err == nil && !agrees && a.quantity.Unit != b.quantity.Unit && a.quantity.Unit.Dimension() == sums.Pressure {
				in, _ := b.quantity.In(a.quantity.Unit)
				r.Notices = append(r.Notices, t.say("unit slip", map[string]any{"A": a.quantity.String(), "B": b.quantity.String(), "In": in.String()}))
			}
		}
	}
}
