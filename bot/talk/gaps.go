package talk

import "slices"

// gap stands in a phrase for up to gapReach words of any kind: "cant keep X dry".
const (
	gap      = "x"
	gapReach = 5
)

// spread finds the phrases of a list like all does, and besides those that leave
// gaps. Such a phrase is found where its first part stands; its other parts are
// spent, and what stands in its gaps is read for itself.
func (x *lexicon) spread(list string, tokens []token) []found {
	var out []found
	taken := make([]bool, len(tokens)) // by a later part of a phrase
	for i := 0; i < len(tokens); {
		end := i
		for end < len(tokens) && !taken[end] {
			end++
		}
		if end == i {
			i++
			continue
		}
		p, ok := x.at(list, tokens[:end], i)
		f, rest := found{p, i, i + len(p.words)}, []found(nil)
		if wide, parts := x.apart(list, tokens[:end], i); len(parts) > 0 && ownWords(wide) >= len(p.words) {
			f, rest, ok = found{wide, i, parts[0].to}, parts[1:], true
		}
		if !ok {
			i++
			continue
		}
		out = append(append(out, f), x.named(list, tokens, f.phrase, f)...)
		for _, part := range rest {
			spend(tokens, part)
			out = append(out, x.named(list, tokens, f.phrase, found{from: max(f.to, part.from-2), to: part.to})...)
			for j := part.from; j < part.to; j++ {
				taken[j] = true
			}
		}
		i = f.to
	}
	return out
}

// wide finds the phrases of a list with and without gaps, as spread does, and
// spends nothing: what asks for a setting may state a fact as well.
func (x *lexicon) wide(list string, tokens []token) []found {
	return x.spread(list, slices.Clone(tokens))
}

// ownWords counts the words of a phrase without its gaps.
func ownWords(p phrase) int {
	n := 0
	for _, w := range p.words {
		if w != gap {
			n++
		}
	}
	return n
}

// apart finds the longest phrase with gaps that begins at token i, as the places
// where its parts stand.
func (x *lexicon) apart(list string, tokens []token, i int) (phrase, []found) {
	if x.lists[list] == nil {
		return phrase{}, nil
	}
	for _, p := range x.lists[list].byFirst[tokens[i].word] {
		if !slices.Contains(p.words, gap) {
			continue
		}
		if parts := x.partsAt(p.words, tokens, i, 0); parts != nil {
			return p, parts
		}
	}
	return phrase{}, nil
}

// partsAt places the words of a phrase, up to its next gap, at the first of the
// tokens from i to i+room where the rest of the phrase can follow.
func (x *lexicon) partsAt(words []string, tokens []token, i, room int) []found {
	head := slices.Index(words, gap)
	if head < 0 {
		head = len(words)
	}
	for from := i; from <= i+room && from < len(tokens); from++ {
		here := found{from: from, to: from + head}
		if (phrase{words: words[:head]}).fits(tokens[from:]) {
			if head == len(words) {
				return []found{here}
			}
			if rest := x.partsAt(words[head+1:], tokens, here.to, gapReach); rest != nil && tokens[rest[0].from].clause == tokens[from].clause {
				return append([]found{here}, rest...)
			}
		}
		if x.turnsRound(tokens[from].word) {
			return nil // what stands behind a "not" is another matter
		}
	}
	return nil
}

// named finds what a phrase of one fact says of another: in "saliva in the crown"
// it is a crown, and what keeps coming off has come off.
func (x *lexicon) named(list string, tokens []token, p phrase, in found) []found {
	also := x.words.Inside[p.sense.name]
	var out []found
	for i := in.from; i < in.to && list == "facts"; i++ {
		for _, q := range x.lists[list].byFirst[tokens[i].word] {
			if slices.Contains(also, q.sense.name) && q.fits(tokens[i:in.to]) {
				out = append(out, found{q, i, i + len(q.words)})
				break
			}
		}
	}
	return out
}
