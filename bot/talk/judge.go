package talk

import "slices"

// isJudged reports whether a fact is one of those that are good or bad.
func (x *lexicon) isJudged(fact string) bool { return x.words.Judgements.Facts[fact] != nil }

// A judgement is one word of praise or blame: "spot on", "not great", "nil".
type judgement struct {
	found
	grade string
}

func (x *lexicon) judgements(tokens []token) []judgement {
	var out []judgement
	for i := 0; i < len(tokens); i++ {
		var best judgement
		for _, grade := range x.words.Judgements.Grades {
			if p, ok := x.at("cue:grade-"+grade, tokens, i); ok && len(p.words) > best.to-best.from {
				best = judgement{found{p, i, i + len(p.words)}, grade}
			}
		}
		if best.to == 0 || spent(tokens, best.found) {
			continue
		}
		out = append(out, best)
		i = best.to - 1
	}
	return out
}

// markIdioms marks the "not" of judgements such as "not great", which denies
// nothing that is said behind it.
func (x *lexicon) markIdioms(tokens []token) {
	for _, g := range x.judgements(tokens) {
		for i := g.from; i < g.to && g.to-g.from > 1; i++ {
			tokens[i].idiom = true
		}
	}
}

// judged finds the facts of which the message only says whether they are good or
// bad: "good retention", "isolation not great", "iso hopeless prep fine".
func (x *lexicon) judged(tokens []token, bound map[int]string) []stated {
	abouts := slices.DeleteFunc(x.abouts(tokens), func(f topic) bool {
		return f.said || !x.isJudged(f.sense.name) || x.elsewhere(tokens, f.found) || x.ofMargin(tokens, f.found)
	})
	judgements := x.judgements(tokens)
	grade := map[int]string{} // of an about
	var out []stated
	for j, g := range judgements {
		a := belongs(tokens, abouts, judgements[j+1:], grade, g)
		if a < 0 || x.ofWork(tokens, abouts[a], g) || x.asksWhether(tokens, abouts[a].found, g.found, bound) {
			continue
		}
		grade[a] = g.grade
		if turned := x.words.Judgements.Turned[g.grade]; turned != "" && x.negated(tokens, g.found) {
			x.spendDenial(tokens, g.found)
			grade[a] = turned
		}
		spend(tokens, g.found)
	}
	x.shareGrades(tokens, abouts, grade)
	for a, f := range abouts {
		if grade[a] != "" {
			spend(tokens, f.found)
			s := stated{fact: f.sense.name, values: x.words.Judgements.Facts[f.sense.name][grade[a]], at: f.from}
			out = append(out, x.onOneSide(tokens, f.found, s))
		}
	}
	return out
}

// ofWork reports whether a judgement is one of the work and not of the thing:
// "minimal prep", "hard for enamel".
func (x *lexicon) ofWork(tokens []token, about topic, g judgement) bool {
	thing := slices.Contains(x.words.Judgements.Work, about.sense.name) || x.is("names-the-preparation", about.words[0])
	return thing && x.has("grade-of-work", tokens[g.from:g.to])
}

// judgeReach is how many words may stand between a judgement and what it judges.
const judgeReach = 4

// belongs finds what a judgement is about: the word before or the word behind it.
// Where both are still without one, "retention good isolation poor" is told from
// "retention with good isolation" by the judgements that are yet to come.
func belongs(tokens []token, abouts []topic, later []judgement, grade map[int]string, g judgement) int {
	before, behind, open := -1, -1, 0
	for a, f := range abouts {
		switch {
		case repliedTo(tokens, f.found, g.found) && grade[a] == "":
			return a
		case tokens[f.from].clause != tokens[g.from].clause || grade[a] != "":
		case f.to <= g.from && g.from-f.to <= judgeReach:
			before = a
		case f.from >= g.to:
			if behind < 0 && f.from-g.to <= judgeReach/2 {
				behind = a
			}
			open++
		}
	}
	if before < 0 || behind < 0 {
		return max(before, behind)
	}
	for _, l := range later {
		if tokens[l.from].clause == tokens[g.from].clause {
			open--
		}
	}
	if open <= 0 || abouts[behind].from > g.to {
		return before
	}
	return behind
}

// asksWhether reports whether the judgement is asked for and not given: "is the
// retention good", "3 mm prep ok".
func (x *lexicon) asksWhether(tokens []token, about, g found, bound map[int]string) bool {
	if g.from < about.from {
		return false
	}
	for i, t := range tokens {
		if t.clause != tokens[about.from].clause {
			continue
		}
		if bound[i] != "" && x.isDegree(about) {
			return true
		}
		first := i == 0 || tokens[i-1].clause != t.clause
		if first && (x.is("opens-a-question", t.word) || x.is("asks-for-a-judgement", t.word)) {
			return true
		}
	}
	return false
}

// shareGrades lets "good retention and isolation" speak of both.
func (x *lexicon) shareGrades(tokens []token, abouts []topic, grade map[int]string) {
	for a := range abouts {
		for _, b := range []int{a - 1, a + 1} {
			if grade[a] != "" || b < 0 || b >= len(abouts) || grade[b] == "" {
				continue
			}
			between := tokens[min(abouts[a].to, abouts[b].to):max(abouts[a].from, abouts[b].from)]
			if len(between) == 1 && x.is("joins", between[0].word) {
				grade[a] = grade[b]
			}
		}
	}
}
