package talk

import (
	"slices"

	"mortarboard/planner"
)

// shelfInCase finds what is asked of products beside a case, once that is known: which
// one its plan takes, and whether one that is named serves.
func (t *Talk) shelfInCase(turn *turn) {
	q := &turn.shelf
	if q.answersItself() && t.askedBeside(turn) {
		q.about = "" // what is asked by its own name comes first
	}
	switch {
	case turn.deed != "" || turn.entry != nil:
		*q = shelfQuestion{}
	case q.about == shelfList && q.job != "" && q.cure == "" && turn.inCase(),
		q.about == "" && t.choiceAsked(turn):
		q.about = shelfChoice
	case q.about == "" && t.useAsked(turn):
		q.about = shelfUse
	}
}

// inCase reports whether there is a case to hold a product against.
func (turn *turn) inCase() bool { return turn.now.Known("restoration") || turn.now.Known("zirconia") }

// allergic reports whether a resin allergy was told.
func (turn *turn) allergic() bool { return turn.now.Is("resin_allergy", "yes") }

// askedBeside reports whether a setting, a sum, a check or a plan is asked for by its own
// name beside the question: "what lot is Fennick Prime, and which pressure for 5Y".
func (t *Talk) askedBeside(turn *turn) bool {
	var asked []found
	for _, d := range shelfDetails {
		asked = append(asked, t.words.wide("cue:"+d.cue, turn.plain)...)
	}
	named := slices.ContainsFunc(t.words.wide("parameters", turn.plain), func(f found) bool {
		within := slices.ContainsFunc(asked, func(a found) bool { return overlap(a, f) }) // the "light cure" of "is it light cure"
		return slices.Contains(turn.keys, f.sense.name) && !within
	})
	counted := turn.wants.calculation || turn.wants.check && len(turn.measures) > 0
	told := t.words.has("plan", turn.plain) || !t.asksAnything(turn)
	return named || counted || turn.wants.plan && t.deciding(turn) > 0 && told
}

// choiceAsked reports whether a message asks which product, or which class, of a job a
// case takes: "which cement", "name of the product".
func (t *Talk) choiceAsked(turn *turn) bool {
	q, w := &turn.shelf, turn.wants
	if !turn.inCase() || w.help || w.check || w.calculation || w.value && len(turn.keys) > 0 || turn.whatIf || len(turn.named) > 0 {
		return false
	}
	if t.deniesStock(turn) {
		return false
	}
	rest := len(content(turn.tokens, t.words))
	if !w.plan && rest > 2 {
		return false
	}
	if turn.cued(t.words, "shelf-which") {
		if q.job == "" {
			q.job = "cement"
		}
		return true
	}
	return slices.ContainsFunc(t.words.all("shelf:jobs", turn.plain), func(f found) bool { return t.asksWhich(turn, f) })
}

// deniesStock reports whether a message tells that something is not there: "we have no
// primer left" asks for no list of primers.
func (t *Talk) deniesStock(turn *turn) bool {
	return t.words.holds("says-none", turn.plain) || t.words.holds("denies", turn.plain)
}

// whichReach is how many words may stand between "which" and the job: "which of our cements".
const whichReach = 3

// asksWhich reports whether "which" or "what" stands close before the word for a job, and
// nothing behind it that makes another question of it: "which cement colour".
func (t *Talk) asksWhich(turn *turn, job found) bool {
	if job.to < len(turn.plain) && slices.Contains(t.words.words.Shelf.Other, turn.plain[job.to].word) && turn.plain[job.to].clause == turn.plain[job.from].clause {
		return false
	}
	for i := job.from - 1; i >= max(0, job.from-whichReach); i-- {
		if turn.plain[i].clause != turn.plain[job.from].clause {
			return false
		}
		if word := turn.plain[i].word; word == "which" || word == "what" {
			turn.shelf.job = job.sense.name
			return true
		} else if !slices.Contains(t.words.words.Shelf.Between, word) {
			return false
		}
	}
	return false
}

// asksSetting reports whether the words beside the names ask for a setting. The last
// setting asked for in the thread is none of these.
func (t *Talk) asksSetting(asked *turn) bool {
	bare := turn{reading: reading{tokens: asked.plain, measures: asked.measures}}
	if len(asked.named) == 0 {
		return len(asked.keys) > 0
	}
	return len(t.asked(&bare)) > 0
}

// elsewhereUsed reports whether a product is to be used where no step takes it: acid inside
// the crown, a primer for the inside on the tooth. That is a question of the deed, which
// rules and entries answer.
func (t *Talk) elsewhereUsed(turn *turn) bool {
	a := t.words.words.Acids
	at := slices.IndexFunc(turn.plain, func(w token) bool { return w.word == "it" })
	says := func(words []string, anywhere bool) bool {
		return slices.ContainsFunc(turn.plain, func(w token) bool {
			return slices.Contains(words, w.word) && (anywhere || at >= 0 && w.clause == turn.plain[at].clause)
		})
	}
	inside := says(a.Inner, true) || says(a.Work, false) && !says(a.Tooth, false)
	if len(turn.named) > 1 && says(t.words.words.Shelf.Meet, true) {
		return true
	}
	tooth := says(a.Tooth, false) || says(t.words.words.Shelf.Mouth, true)
	return slices.ContainsFunc(turn.named, func(p *planner.Product) bool {
		inner, onTooth := t.surfacesOf(p.Class)
		return inside && onTooth && !inner || tooth && inner && !onTooth
	})
}

// surfacesOf tells whether steps take a class onto the restoration, and onto the tooth.
func (t *Talk) surfacesOf(class string) (restoration, tooth bool) {
	for _, s := range t.book.Steps {
		if slices.Contains(s.Needs, class) {
			restoration = restoration || s.Surface == "restoration"
			tooth = tooth || s.Surface == "tooth"
		}
	}
	return restoration, tooth
}

// shortUse is how many words a question of use may have that only names its product: "and
// the Fell?"
const shortUse = 3

// useRest is how many words a question of use may hold that nothing was made of: more
// are a question of something else, as in "can I use Fennick Prime as a disinfectant".
const useRest = 2

// useAsked reports whether a message asks whether a product, or with an allergy in the
// case a class, serves: "can I use the Fell instead", "and Fennick Prime?"
func (t *Talk) useAsked(turn *turn) bool {
	w := turn.wants
	for _, list := range []string{"cue:shelf-use", "cue:shelf-asks", "shelf:jobs"} {
		for _, f := range t.words.all(list, turn.plain) {
			spend(turn.plain, f)
		}
	}
	if w.help || w.calculation || slices.ContainsFunc(turn.measures, func(m measure) bool { return m.fact == "" && m.quantity.Unit != "" }) || t.asksSetting(turn) || t.elsewhereUsed(turn) || len(t.materialsAsked(turn)) == 0 || t.words.is("asks-for-a-thing", turn.first()) && !turn.opensWith(turn.plain, "what", "how") {
		return false
	}
	cue := turn.cued(t.words, "shelf-use") || turn.cued(t.words, "shelf-which")
	bare := len(turn.plain) <= shortUse
	if turn.opensWith(turn.plain, "how", "what") && !turn.cued(t.words, "shelf-about") {
		return false
	}
	asks := t.opensWithYesOrNo(turn) || slices.ContainsFunc(turn.plain, func(w token) bool { return w.question }) || turn.cued(t.words, "shelf-asks")
	return (cue && asks || bare && (asks || cue)) && t.useLeft(turn) <= useRest
}

// useLeft counts the words of which nothing was made, but for those of the materials and
// of the question itself. In the clause of a product every word counts.
func (t *Talk) useLeft(turn *turn) int {
	n := 0
	for _, word := range t.wordsOfUse(turn) {
		if !slices.Contains(t.words.words.Shelf.Use, word) {
			n += useRest + 1
		}
	}
	for _, word := range content(turn.tokens, t.words) {
		if !t.wordOfMaterial(turn, word) && !slices.ContainsFunc(turn.plain, func(w token) bool { return w.word == word && w.spent }) {
			n++
		}
	}
	return n
}

// wordOfMaterial reports whether a word belongs to the class of a material.
func (t *Talk) wordOfMaterial(turn *turn, word string) bool {
	return slices.ContainsFunc(t.materialsAsked(turn), func(p *planner.Product) bool {
		return slices.Contains(shelfWord.FindAllString(p.Class, -1), word)
	})
}

// wordsOfUse are the words in the clauses of the materials that told no fact and belong
// neither to the question nor to the names.
func (t *Talk) wordsOfUse(turn *turn) []string {
	var out []string
	for _, w := range turn.tokens {
		asks := slices.ContainsFunc(turn.plain, func(p token) bool { return p.word == w.word && p.spent })
		here := len(turn.named) == 0 || slices.ContainsFunc(turn.tokens, func(o token) bool { return o.clause == w.clause && t.wordOfMaterial(turn, o.word) })
		if here && !w.spent && !w.isNum && !asks && !t.wordOfMaterial(turn, w.word) && w.word != "/" {
			out = append(out, w.word)
		}
	}
	return out
}

// opensWith reports whether the first word is one of these.
func (turn *turn) opensWith(tokens []token, words ...string) bool {
	return len(tokens) > 0 && slices.Contains(words, tokens[0].word)
}

// materialsAsked are the products that a message names, or goes on with; in a thread that
// has a case also the classes, each as a product without a name. What no step of any plan
// takes is none.
func (t *Talk) materialsAsked(turn *turn) []*planner.Product {
	named := turn.named
	if len(named) == 0 && len(turn.facts) == 0 && len(turn.plain) <= bareQuestion && t.words.holds("stands-for-the-thing", turn.plain) {
		named = t.shelfKept(turn)
	}
	if len(named) > 0 {
		return slices.DeleteFunc(slices.Clone(named), func(p *planner.Product) bool { return !t.everTaken(p.Class) })
	}
	return t.classesAsked(turn)
}

// classesAsked are the classes of cement that a message names; with an allergy in the case
// those of other jobs as well, which it must not forget.
func (t *Talk) classesAsked(turn *turn) []*planner.Product {
	if !turn.allergic() && len(turn.past.Facts) == 0 {
		return nil
	}
	for _, s := range turn.facts {
		if s.fact == "cement" && !t.plansApart(turn, s) {
			return classes(s.values)
		}
	}
	if job := turn.shelf.job; turn.allergic() && job != "" && job != "cement" && t.everTaken(turn.shelf.classes[0]) {
		return classes(turn.shelf.classes[:1])
	}
	return nil
}

// classes are products without a name, one a class.
func classes(names []string) []*planner.Product {
	var out []*planner.Product
	for _, class := range names {
		out = append(out, &planner.Product{Class: class})
	}
	return out
}

func (t *Talk) everTaken(class string) bool {
	return slices.ContainsFunc(t.book.Steps, func(s *planner.Step) bool { return slices.Contains(s.Needs, class) })
}
