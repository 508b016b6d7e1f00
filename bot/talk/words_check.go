package talk

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mortarboard/planner"
)

// A checker holds the vocabulary against the rules it speaks of, list by list.
type checker struct {
	words  *wordFile
	book   *planner.Rulebook
	empty  planner.Case
	keys   []string
	faults []fault
}

// checkWords refuses words for facts, values, parameters and units that do not
// exist. The error names the line of every one of them.
func checkWords(words *wordFile, book *planner.Rulebook, sources []wordSource) error {
	c := &checker{words: words, book: book, empty: book.NewCase(), keys: book.Keys()}
	c.phrases()
	c.settings()
	c.factLists()
	c.judgements()
	c.joined()
	c.turns()
	c.measuring()
	c.grammar()
	c.emergencies()
	c.shelf()
	return c.told(sources)
}

// phrases checks what phrases name.
func (c *checker) phrases() {
	for list, facts := range map[string]map[string]map[string][]string{"facts": c.words.Facts, "weak": c.words.Weak, "alone": c.words.Alone} {
		for fact, values := range facts {
			for value := range values {
				c.values(fact, strings.Split(value, "|"), list, fact, value)
			}
		}
	}
	for fact := range c.words.About {
		c.fact(fact, "about", fact)
	}
	for name := range c.words.Measures {
		c.measure(name, "measures", name)
	}
	for i, rule := range c.words.Together {
		for fact, values := range rule.When {
			c.values(fact, values, "together", fmt.Sprint(i), fact)
		}
		for fact, values := range rule.Then {
			c.values(fact, values, "together", fmt.Sprint(i), fact)
		}
	}
}

// settings checks the parameters that are meant.
func (c *checker) settings() {
	for key := range c.words.Parameters {
		c.key(key, "parameters", key)
	}
	for task, settings := range c.words.Settings {
		for dimension, key := range settings {
			c.key(key, "settings", task, dimension)
		}
	}
	for dimension, key := range c.words.Usual {
		c.key(key, "usual", dimension)
	}
	for name, key := range c.words.Measured {
		c.measure(name, "measured", name)
		c.key(key, "measured", name)
	}
	c.key(c.words.Acids.Inside, "acids", "inside")
	c.key(c.words.Acids.Strong, "acids", "strong")
	if c.words.Settings[c.words.Acids.Task] == nil {
		c.refuse(fmt.Sprintf("settings has no task %q", c.words.Acids.Task), "acids", "task")
	}
}

// factLists checks the lists of facts, and of values by fact.
func (c *checker) factLists() {
	for list, facts := range map[string][]string{
		"aside": c.words.Aside, "troubles": c.words.Troubles, "changing": c.words.Changing, "given": c.words.Given,
		"form": c.words.Form, "cut": c.words.Cut, "answers": slices.Concat(c.words.Answers...),
		"degrees": c.words.Degrees, "lasting": c.words.Lasting,
	} {
		for _, fact := range facts {
			c.fact(fact, list, fact)
		}
	}
	for list, values := range map[string]map[string][]string{"generic": c.words.Generic, "benign": c.words.Benign, "common": c.words.Common, "deeds": c.words.Deeds} {
		for fact, of := range values {
			c.values(fact, of, list, fact)
		}
	}
	for _, treated := range []map[string][]string{c.words.Spoiling.Onto, c.words.Spoiling.Deeds} {
		for value := range treated {
			c.values(c.words.Spoiling.Fact, []string{value}, "spoiling")
		}
	}
	for fact, values := range c.words.DoneToWork {
		c.values(fact, values, "done-to-work", fact)
	}
	for _, u := range c.words.Unsettled {
		for fact, values := range u.When {
			c.values(fact, values, "unsettled")
		}
		for _, fact := range u.Doubt {
			c.fact(fact, "unsettled")
		}
	}
	for fact, replies := range c.words.Replies {
		for word, values := range replies {
			c.values(fact, values, "replies", fact, word)
		}
	}
	for fact, inside := range c.words.Inside {
		for _, name := range append(slices.Clone(inside), fact) {
			c.fact(name, "inside", fact, name)
		}
	}
	for fact, also := range c.words.SaysAlso {
		c.fact(fact, "says-also", fact)
		for name, values := range also.Facts {
			c.values(name, values, "says-also", fact, "facts", name)
		}
	}
	for list, topics := range map[string]map[string][]string{"topics": c.words.Topics, "topics-denied": c.words.TopicsDenied, "against": c.words.Against} {
		for fact := range topics {
			c.fact(fact, list, fact)
		}
	}
}

// judgements refuses a grade without words, or that gives a judged fact no value.
func (c *checker) judgements() {
	j := c.words.Judgements
	for _, grade := range j.Grades {
		if c.words.Cues["grade-"+grade] == nil {
			c.refuse(fmt.Sprintf("there is no cue grade-%s", grade), "judgements", "grades", grade)
		}
		for fact, values := range j.Facts {
			if values[grade] == nil {
				c.refuse(fmt.Sprintf("the grade %q gives it no value", grade), "judgements", "facts", fact)
			}
		}
	}
	for fact, grades := range j.Facts {
		for grade, values := range grades {
			c.values(fact, values, "judgements", "facts", fact, grade)
			c.grade(grade, "judgements", "facts", fact, grade)
		}
	}
	for from, to := range j.Turned {
		c.grade(from, "judgements", "turned", from)
		c.grade(to, "judgements", "turned", from)
	}
	for _, fact := range j.Work {
		c.fact(fact, "judgements", "work", fact)
	}
}

func (c *checker) joined() {
	j := c.words.Joined
	for list, facts := range map[string][]string{"several": j.Several, "apart": j.Apart, "passing": j.Passing, "least": j.Least} {
		for _, fact := range facts {
			c.fact(fact, "joined", list, fact)
		}
	}
	for fact, m := range j.Mixtures {
		c.values(fact, append(slices.Clone(m.Of), m.Whole), "joined", "mixtures", fact)
	}
	for list, values := range map[string]map[string]string{"latest": j.Latest, "layered": j.Layered, "cleared": j.Cleared, "worst": j.Worst} {
		for fact, value := range values {
			c.values(fact, []string{value}, "joined", list, fact)
		}
	}
	for fact, explains := range j.Narrower {
		for narrow, wide := range explains {
			c.values(fact, []string{narrow, wide}, "joined", "narrower", fact, narrow)
		}
	}
	for fact, of := range j.Counting {
		c.fact(fact, "joined", "counting", fact)
		for name, values := range of.Values {
			c.values(name, values, "joined", "counting", fact, "values", name)
		}
	}
	for name, then := range j.Implied {
		c.measure(name, "joined", "implied", name)
		for fact, values := range then {
			c.values(fact, values, "joined", "implied", name, fact)
		}
	}
}

func (c *checker) turns() {
	for list, facts := range map[string]map[string]map[string]string{"softened": c.words.Turns.Softened, "out-of-reach": c.words.Turns.OutOfReach} {
		for fact, values := range facts {
			for from, to := range values {
				c.values(fact, []string{from, to}, "turns", list, fact, from)
			}
		}
	}
	for fact, side := range c.words.Turns.OneSide {
		for _, value := range []string{cmp.Or(side.Gone, side.Of), cmp.Or(side.Of, side.Gone), side.Partly} {
			c.values(fact, []string{value}, "turns", "one-side", fact)
		}
		for name, values := range side.On {
			c.values(name, values, "turns", "one-side", fact)
		}
	}
}

func (c *checker) measuring() {
	m := c.words.Measuring
	for _, name := range []string{topWidth, taperUnclear, wallTaper} {
		if m.Units[name] == "" {
			c.refuse(fmt.Sprintf("the calculations need the measure %q", name), "measuring", "units")
		}
	}
	for list, names := range map[string][]string{"row": m.Row, "unit-needed": m.UnitNeeded, "in-micrometres": m.InMicrometres, "connector-side": m.ConnectorSide} {
		for _, name := range names {
			c.measure(name, "measuring", list, name)
		}
	}
	for _, fact := range m.WallBeside {
		c.fact(fact, "measuring", "wall-beside", fact)
	}
	if len(m.Row) != 3 {
		c.refuse(fmt.Sprintf("names %d measures; it is of three", len(m.Row)), "measuring", "row")
	}
	for name, unit := range m.Units {
		c.unit(unit, "measuring", "units", name)
	}
	for unit, fact := range m.Stray {
		c.unit(unit, "measuring", "stray", unit)
		c.fact(fact, "measuring", "stray", unit)
	}
}

// grammar refuses a name without words, and words that no message can hold as
// they are written or that stand twice under one name.
func (c *checker) grammar() {
	for name, words := range c.words.Grammar {
		if len(words) == 0 {
			c.refuse("has no words", "grammar", name)
		}
		for i, word := range words {
			if word == "" || word != strings.ToLower(word) || strings.ContainsAny(word, " \t") {
				c.refuse(fmt.Sprintf("%q: write one word in lower case", word), "grammar", name, word)
			}
			if slices.Contains(words[:i], word) {
				c.refuse(fmt.Sprintf("%q stands twice", word), "grammar", name, word)
			}
		}
	}
	for verb, short := range c.words.Short {
		if short == "" || !plainWord(verb) {
			c.refuse("write a verb and its short form", "short", verb)
		}
	}
}

// plainWord reports whether a word has letters of the alphabet only, so that it
// means itself in a pattern.
func plainWord(word string) bool {
	return word != "" && strings.Trim(word, "abcdefghijklmnopqrstuvwxyz") == ""
}

// emergencies refuses an emergency that says nothing, that never comes up, that
// always does, or whose basis would need a source.
func (c *checker) emergencies() {
	for n, e := range c.words.Emergency {
		switch empty := func(line [][]string) bool { return len(line) == 0 }; {
		case e.Say == "":
			c.refuse(fmt.Sprintf("entry %d: write what to answer under say", n+1), "emergencies")
		case e.Basis != planner.CommonPractice && e.Basis != planner.FromMemory:
			c.refuse(fmt.Sprintf("entry %d: basis %q: allowed are %s, %s", n+1, e.Basis, planner.CommonPractice, planner.FromMemory), "emergencies")
		case len(e.When) == 0 || slices.ContainsFunc(e.When, empty):
			c.refuse(fmt.Sprintf("entry %d: when needs lines, and each line a group of phrases", n+1), "emergencies")
		}
		for _, line := range e.When {
			c.urgent(slices.Concat(line...), fmt.Sprintf("entry %d: ", n+1), "emergencies")
		}
	}
	c.urgent(c.words.Calm, "", "calm")
	c.dangers()
	c.falls()
	c.kin()
}

// urgent refuses phrases that name a family which does not exist.
func (c *checker) urgent(phrases []string, at string, path ...string) {
	for _, phrase := range phrases {
		for _, s := range steps(phrase) {
			if s.kin != "" && c.words.Kin[s.kin] == nil {
				c.refuse(fmt.Sprintf("%s%q: kin has no family %q", at, phrase, s.kin), path...)
			}
		}
	}
}

// dangers refuses a danger that says nothing, that is about nothing, whose settings or
// facts do not exist, or that would leave a "within" as it is.
func (c *checker) dangers() {
	for n, d := range c.words.Dangers {
		at := fmt.Sprintf("entry %d: ", n+1)
		switch {
		case d.Say == "" || len(d.When) == 0 && len(d.Case) == 0:
			c.refuse(at+"write what to answer under say, and when", "dangers")
		case d.Basis != planner.CommonPractice && d.Basis != planner.FromMemory:
			c.refuse(fmt.Sprintf("%sbasis %q: allowed are %s, %s", at, d.Basis, planner.CommonPractice, planner.FromMemory), "dangers")
		case d.Verdict != planner.Outside && d.Verdict != planner.Unknown:
			c.refuse(fmt.Sprintf("%sverdict %q: allowed are %s, %s", at, d.Verdict, planner.Outside, planner.Unknown), "dangers")
		}
		for _, line := range append(d.When, [][]string{d.Unless}) {
			c.urgent(slices.Concat(line...), at, "dangers")
		}
		for fact, values := range d.Case {
			c.values(fact, values, "dangers")
		}
		for _, of := range append(slices.Clone(d.Of), d.Past) {
			if !slices.ContainsFunc(c.keys, func(key string) bool { return strings.HasPrefix(key, of) }) {
				c.refuse(fmt.Sprintf("%sno parameter has a key that begins with %q", at, of), "dangers")
			}
		}
		if d.Shows != "" {
			c.key(d.Shows, "dangers")
		}
	}
}

// falls refuses a fall to which nothing is said, or that is told in no way.
func (c *checker) falls() {
	f := c.words.Falls
	if f.Say == "" || len(f.Told) == 0 {
		c.refuse("write what to answer under say, and how it is told under told", "falls")
	}
	if f.Basis != planner.CommonPractice && f.Basis != planner.FromMemory {
		c.refuse(fmt.Sprintf("basis %q: allowed are %s, %s", f.Basis, planner.CommonPractice, planner.FromMemory), "falls", "basis")
	}
	c.urgent(f.Never, "", "falls", "never")
	for _, told := range f.Told {
		for _, line := range append(told.When, [][]string{told.Unless}) {
			c.urgent(slices.Concat(line...), "", "falls", "told")
		}
	}
	for _, fact := range f.Tells {
		c.fact(fact, "falls", "tells", fact)
	}
	for fact, values := range f.TakesBack {
		c.values(fact, values, "falls", "takes-back", fact)
	}
}

// kin refuses what is not one word: a family stands in the place of one.
func (c *checker) kin() {
	for name, words := range c.words.Kin {
		for _, word := range words {
			if !plainWord(word) {
				c.refuse(fmt.Sprintf("%q: write one word in lower case", word), "kin", name, word)
			}
		}
	}
}
