package talk

import (
	"slices"
	"strings"

	"mortarboard/planner"
)

// wants is what kinds of answer a message asks for.
type wants struct {
	help, plan, value, check, calculation, article, steps, why bool
}

// decide settles what kinds of answer the message asks for. They are tried from the most
// particular to the least: help, a sum, a check, a setting, a plan; what is none of them
// is for the knowledge base. Only a plan may stand beside one of the others.
func (t *Talk) decide(turn *turn) {
	tokens, w := turn.tokens, &turn.wants
	cue := func(name string) bool { return t.words.has(name, tokens) }
	turn.keys = t.asked(turn)
	w.steps, w.why = cue("steps"), cue("why")
	explains := t.leads("article", tokens) && !t.asksNumber(turn) || (len(turn.keys) == 0 || t.asksMeaning(turn)) && t.leads("what", tokens)
	tells := t.onlyTells(turn)

	w.help = cue("help") && len(turn.facts) == 0 && len(turn.keys) == 0 && len(content(tokens, t.words)) <= 1
	w.calculation = t.calculates(turn)
	whether := t.asksWhetherOK(turn)
	if whether && !w.calculation {
		t.assumeUnit(turn)
	}
	w.check = !w.calculation && !tells && (t.checks(turn, whether, explains) || t.rechecks(turn, cue("check")))
	if t.again(turn) {
		turn.keys = turn.past.Keys
	}
	w.value = !w.check && !w.calculation && !tells && !explains && len(turn.keys) > 0 && !t.asksForNoNumber(turn)
	w.plan = t.plans(turn, explains)
	w.article = !w.help && !w.check && !w.value && !w.calculation && !w.plan
}

// first is the first word of the message; what is written as "fact: value" leaves none.
func (turn *turn) first() string {
	if len(turn.tokens) == 0 {
		return ""
	}
	return turn.tokens[0].word
}

// asksNumber reports whether the message asks for a setting by "how long" or the like,
// whatever else it opens with: "when do I flick it off, how many seconds". A "why" asks
// for no number.
func (t *Talk) asksNumber(turn *turn) bool {
	return len(turn.keys) > 0 && !t.asksWhy(turn) && slices.ContainsFunc(t.words.all("dimensions", turn.tokens), func(f found) bool {
		return t.words.is("asks-for-a-thing", f.words[0])
	})
}

// asksForNoNumber reports whether the message opens like a question to be answered with
// yes or no and names no dimension: "do I light cure the primer" asks for no seconds.
func (t *Talk) asksForNoNumber(turn *turn) bool {
	asks := t.words.is("asks-yes-or-no", turn.first()) || t.words.is("opens-a-question", turn.first()) && t.words.is("does-it", wordBehind(turn.tokens, 0))
	if !asks || len(t.dimensionsAsked(turn, nil)) > 0 {
		return false
	}
	return !t.words.has("ask", turn.tokens) && !t.words.has("value", turn.tokens)
}

// asksMeaning reports whether the message asks what the name of a setting means,
// and for no setting: "what is convergence" against "what is the convergence".
func (t *Talk) asksMeaning(turn *turn) bool {
	what := t.words.all("cue:what", turn.tokens)
	if len(what) == 0 || what[0].from > 0 || what[0].to == len(turn.tokens) {
		return false
	}
	asked, ok := t.words.at("parameters", turn.tokens[what[0].to:], 0)
	return ok && what[0].to+len(asked.words) == len(turn.tokens)
}

// leads reports whether a cue stands among the first words of the message. Words that
// ask for a setting by themselves ask for nothing to be explained: "when do I clean up".
func (t *Talk) leads(cue string, tokens []token) bool {
	named := t.words.wide("parameters", tokens)
	for _, f := range t.words.all("cue:"+cue, tokens) {
		within := func(p found) bool { return cue == "article" && p.from <= f.from && f.to <= p.to }
		corrects := slices.ContainsFunc(t.words.all("cue:correct", tokens), within) // "veneer, I mean onlay"
		if f.from <= 2 && !corrects && !slices.ContainsFunc(named, within) {
			return true
		}
	}
	return false
}

// plans reports whether the message asks for a plan: it goes on with the plan of the
// thread, changes its case, says so, or tells a case of its own.
func (t *Talk) plans(turn *turn, explains bool) bool {
	w, inCase := turn.wants, turn.past.Planned && !turn.fresh
	deciding, said := t.deciding(turn), t.words.has("plan", turn.tokens)
	switch other := w.check || w.value || w.calculation; {
	case w.help:
		return false
	case turn.goesOn, turn.kept, inCase && w.steps, inCase && w.why && !other:
		return true
	case other:
		return t.plansBeside(turn, said)
	case t.decision(turn) != "", t.unsaysDecision(turn):
		return true
	case t.findingTold(turn):
		return true // news that speaks against seating is no question
	case turn.whatIf, inCase && !explains:
		return deciding > 0 || said || t.onlyFacts(turn)
	case t.words.has("to-seat", turn.tokens) && t.tellsStop(turn):
		return true
	case said:
		return deciding > 0 || len(content(turn.tokens, t.words)) == 0
	case explains:
		return t.toldOf(turn) >= clearCase && t.words.has("act", turn.tokens) && len(turn.facts) > clearCase
	}
	return t.tellsCase(turn, deciding) || t.tellsAlone(turn)
}

// findingTold reports whether a message tells of something found, or that it is
// mended, in a planned case that stops for it or did so.
func (t *Talk) findingTold(turn *turn) bool {
	told := slices.ContainsFunc(turn.facts, func(s stated) bool { return t.fact(s.fact).Told })
	stops := func(c planner.Case) bool { return t.book.Plan(c).Strategy == planner.Stop }
	return told && turn.past.Planned && (stops(turn.now) || stops(turn.before))
}

// onlyFacts reports whether the message holds facts and nothing else, and none of them
// tells of something that went wrong: "one of them came loose" asks what to do.
func (t *Talk) onlyFacts(turn *turn) bool {
	return len(turn.facts) > 0 && len(content(turn.tokens, t.words)) == 0 && !t.asksAnything(turn) && !t.troubled(turn)
}

// plansBeside reports whether a plan is asked for beside a sum, a check or a setting.
func (t *Talk) plansBeside(turn *turn, said bool) bool {
	if turn.wants.calculation {
		return said && slices.ContainsFunc(turn.facts, func(s stated) bool { return s.within == nil && t.decides(s) })
	}
	word, told := t.words.has("plan-word", turn.tokens), t.toldOf(turn) >= clearCase
	cement := slices.ContainsFunc(turn.facts, func(s stated) bool { return s.fact == "cement" })
	switch {
	case t.deciding(turn) > 0 && (said || told && t.words.has("act", turn.tokens) || word && t.apart(turn)):
		return true
	case turn.wants.check && t.ofCase(turn):
		return told || cement
	}
	return turn.wants.check && told && word
}

// tellsCase reports whether a message that asks for nothing else tells a case to plan.
func (t *Talk) tellsCase(turn *turn, deciding int) bool {
	if t.troubled(turn) && deciding < clearCase {
		return false // "crown came off, what now" asks what to do, not how to seat
	}
	word := t.words.has("plan-word", turn.tokens)
	thing := t.words.is("asks-for-a-thing", turn.first()) // "how to remove a bonded crown", "how dry is dry"
	rest := len(content(turn.tokens, t.words))
	alone := rest == 0 && (word || !thing) || word && rest <= 1 && !thing
	stated := !t.asksAnything(turn) && rest <= 2 && t.described(turn) || !thing && turn.describes() // "implant crown on a titanium base"
	return deciding >= clearCase || deciding == 1 && (alone || stated) || turn.wants.steps && word
}

// wholeCase is how many facts describe a case although few of them can change a verdict.
const wholeCase = 3

// describes reports whether a message tells of a whole case and puts no question mark.
func (turn *turn) describes() bool {
	asks := slices.ContainsFunc(turn.tokens, func(t token) bool { return t.question })
	return !asks && len(turn.facts) >= wholeCase
}

// tellsWhole reports whether a message tells of a whole case, more of it than its name.
func (t *Talk) tellsWhole(turn *turn) bool {
	return turn.describes() && slices.ContainsFunc(turn.facts, func(s stated) bool {
		return !slices.Contains(t.words.words.Given, s.fact) && !t.isSelector(s)
	})
}

// described reports whether the message says of a restoration more than where it is.
func (t *Talk) described(turn *turn) bool {
	n := 0
	for _, s := range turn.facts {
		if s.fact != "position" {
			n++
		}
	}
	return n >= clearCase
}

// asksAnything reports whether some word or mark of the message asks.
func (t *Talk) asksAnything(turn *turn) bool {
	asks := slices.ContainsFunc(turn.tokens, func(w token) bool { return w.question || t.words.is("asks-for-a-thing", w.word) })
	return asks || t.words.has("ask", turn.tokens) || t.opensWithYesOrNo(turn)
}

// onlyTells reports whether the message tells a case and asks for nothing by name: in
// "3Y crown, tall prep, dry, pressure was low" the pressure is no question.
func (t *Talk) onlyTells(turn *turn) bool {
	if t.toldOf(turn) < clearCase && !t.tellsWhole(turn) || t.asksAnything(turn) {
		return false
	}
	alone := func(f found) bool { // "…, dry, pressure" asks for it
		opens := f.from == 0 || turn.tokens[f.from-1].clause != turn.tokens[f.from].clause
		return opens && (f.to == len(turn.tokens) || turn.tokens[f.to].clause != turn.tokens[f.from].clause)
	}
	named := append(t.words.wide("parameters", turn.tokens), t.words.all("cue:check", turn.tokens)...)
	return !slices.ContainsFunc(named, alone)
}

// troubled reports whether the message tells of something that went wrong.
func (t *Talk) troubled(turn *turn) bool {
	return slices.ContainsFunc(turn.facts, func(s stated) bool { return slices.Contains(t.words.words.Troubles, s.fact) })
}

// deciding counts the facts of a message that can change a verdict, by
// themselves or through the form that they measure, and that make a case of a
// message: a tooth number alone does not.
func (t *Talk) deciding(turn *turn) int {
	n := 0
	for _, s := range turn.facts {
		if t.decides(s) {
			n++
		}
	}
	return n
}

// decides reports whether what is said of a fact can change a verdict.
func (t *Talk) decides(s stated) bool {
	_, form := t.words.words.Measured[s.fact]
	return !slices.Contains(t.words.words.Aside, s.fact) && (form || t.book.Argues(s.fact))
}

// ofCase reports whether all numbers that could be judged are measures of the case.
func (t *Talk) ofCase(turn *turn) bool {
	return !slices.ContainsFunc(t.held(turn), func(m measure) bool { return m.fact == "" })
}

// toldOf counts the facts, in words, that make a case of a message: what its
// restoration, grade and place are, a question about one number may name as well.
func (t *Talk) toldOf(turn *turn) int {
	n := 0
	for _, s := range turn.facts {
		if s.within == nil && t.decides(s) && !slices.Contains(t.words.words.Given, s.fact) {
			n++
		}
	}
	return n
}

// apart reports whether a word such as "bond" stands in a clause of its own,
// away from what else is asked: "translucent premolar crown: bond? what pressure?"
func (t *Talk) apart(turn *turn) bool {
	for _, f := range t.words.all("cue:plan-word", turn.tokens) {
		alone := !t.words.is("says-when", wordBefore(turn.tokens, f.from))
		for _, list := range []string{"parameters", "tasks", "cue:too"} {
			for _, k := range t.words.wide(list, turn.tokens) {
				alone = alone && turn.tokens[k.from].clause != turn.tokens[f.from].clause
			}
		}
		if alone {
			return true
		}
	}
	return false
}

// content lists the words that no phrase took and that carry meaning.
func content(tokens []token, x *lexicon) []string {
	taken := make([]bool, len(tokens))
	for _, list := range []string{"cue:plan", "cue:plan-word", "cue:check", "cue:value", "cue:help", "cue:steps", "cue:what-if", "cue:correct", "cue:new", "cue:keep", "about", "cue:enough", "cue:run-begin"} {
		for _, f := range x.all(list, tokens) {
			for i := f.from; i < f.to; i++ {
				taken[i] = true
			}
		}
	}
	var out []string
	for i, t := range tokens {
		short := len(t.word) < 3 || strings.Trim(t.word, "#/-") == ""
		if !short && !t.spent && !t.isNum && !taken[i] && !x.is("carries-nothing", t.word) && !x.is("names-zirconia", t.word) {
			out = append(out, t.word)
		}
	}
	return out
}
