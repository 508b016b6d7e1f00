package talk

import (
	"io/fs"
	"slices"
	"strings"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// A sense is one thing that a phrase can mean.
type sense struct {
	list   string   // facts, weak, about, measures, parameters, tasks, dimensions, ignore, elsewhere, or cue:NAME
	name   string   // the fact, parameter key, task or dimension
	values []string // of a fact
}

// A lexicon finds phrases in tokens. It is never changed once built.
type lexicon struct {
	lists   map[string]*phrases // by list, so that a fact and a cue may share words
	known   map[string]bool     // every word of every phrase
	byLen   map[int][]string    // the known words that spelling may correct to, by length
	kept    map[string]bool     // words that are never taken for a slip
	words   wordFile
	urgent  [][]urgentLine // of each emergency
	dangers []spokenDanger
	calm    []urgentPhrase // phrases that only sound like one
	falls   []spokenTelling
	never   []urgentPhrase // beside which no fall counts
	grammar
	folding folding
	units   map[string]sums.Unit // measure → the unit in which it is kept

	ofOtherFact, notTold, denials usages[found]
	mistrust                      usages[stated]
	joinings                      []joining

	shelfNames shelfNames
}

// phrases is one list of phrases, longest first under their first word.
type phrases struct {
	byFirst map[string][]phrase
}

type phrase struct {
	words []string
	sense sense
}

// newLexicon reads the vocabulary and checks it against the rules it speaks of. The
// error says of every fault where it stands.
func newLexicon(fsys fs.FS, book *planner.Rulebook) (*lexicon, error) {
	words, sources, err := readWords(fsys)
	if err != nil {
		return nil, err
	}
	if err := checkWords(words, book, sources); err != nil {
		return nil, err
	}
	x := &lexicon{words: *words, lists: map[string]*phrases{}, known: map[string]bool{}, byLen: map[int][]string{}, kept: map[string]bool{}}
	x.grammar = readGrammar(x.words.Grammar)
	x.folding = newFolding(x.words.ReadAs, x.words.Short, x.words.Numbers)
	x.units = unitsMeasured(book, x.words.Measuring.Units)
	x.ofOtherFact, x.notTold, x.denials, x.mistrust, x.joinings = ofOtherFact, notTold, denials, mistrust, joinings
	x.fill(book)
	x.longestFirst()
	x.shelfNames = newShelfNames(book.Practice, x)
	return x, nil
}

func (x *lexicon) fill(book *planner.Rulebook) {
	for fact, values := range x.words.Facts {
		for value, says := range values {
			x.add("facts", sense{"facts", fact, strings.Split(value, "|")}, says)
		}
	}
	for fact, values := range x.words.Weak {
		for value, says := range values {
			x.add("weak:"+fact, sense{"weak", fact, strings.Split(value, "|")}, says)
		}
	}
	for fact, values := range x.words.Alone {
		for value, says := range values {
			x.add("alone", sense{"alone", fact, strings.Split(value, "|")}, says)
		}
	}
	for list, named := range map[string]map[string][]string{
		"about": x.words.About, "measures": x.words.Measures, "parameters": x.words.Parameters,
		"tasks": x.words.Tasks, "dimensions": x.words.Dimensions,
	} {
		for name, says := range named {
			x.add(list, sense{list: list, name: name}, says)
		}
	}
	for _, role := range book.Roles {
		x.enter("role", sense{list: "role", name: role.Name}, role.Says)
	}
	for cue, says := range x.words.Cues {
		if strings.HasPrefix(cue, "learn-") {
			x.enter("cue:"+cue, sense{list: "cue:" + cue, name: cue}, says)
			continue
		}
		x.add("cue:"+cue, sense{list: "cue:" + cue, name: cue}, says)
	}
	x.fillShelf()
	spoiling := x.words.Spoiling
	x.add("spoils", sense{list: "spoils"}, spoiling.By)
	for list, treated := range map[string]map[string][]string{"onto": spoiling.Onto, "deeds": spoiling.Deeds} {
		for value, says := range treated {
			x.add(list, sense{list, spoiling.Fact, []string{value}}, says)
		}
	}
	for fact, says := range x.words.Topics {
		x.enter("topic:"+fact, sense{list: "topic", name: fact}, says)
	}
	x.add("facts", sense{list: "ignore"}, x.words.Ignore)
	x.add("elsewhere", sense{list: "elsewhere"}, x.words.Elsewhere)
	for _, word := range x.words.Kept {
		x.kept[word] = true
	}
	x.urgency()
	x.readDangers()
	x.readFalls()
	for word := range x.known {
		x.byLen[len(word)] = append(x.byLen[len(word)], word)
	}
	for _, list := range x.byLen {
		slices.Sort(list)
	}
}

// add enters phrases whose words spelling may correct to.
func (x *lexicon) add(list string, s sense, says []string) {
	for _, t := range x.enter(list, s, says) {
		x.known[t.word] = true
	}
}

// enter puts phrases into a list and returns their words. Those of the cards are
// looked for before spelling is corrected, and draw no slip towards them.
func (x *lexicon) enter(list string, s sense, says []string) (all []token) {
	p := x.lists[list]
	if p == nil {
		p = &phrases{byFirst: map[string][]phrase{}}
		x.lists[list] = p
	}
	for _, say := range says {
		for _, one := range family(say) {
			all = append(all, x.addOne(p, s, one)...)
		}
	}
	return all
}

// addOne adds one phrase, as a message that says it is read, and returns its words.
func (x *lexicon) addOne(p *phrases, s sense, say string) []token {
	tokens := x.tokenize(x.folding.fold(say))
	if len(tokens) == 0 {
		return nil
	}
	var words []string
	for _, t := range tokens {
		words = append(words, t.word+string(t.unit))
	}
	first := tokens[0].word
	p.byFirst[first] = append(p.byFirst[first], phrase{words, s})
	return tokens
}

// longestFirst puts the phrases of every list into the order in which they are tried.
func (x *lexicon) longestFirst() {
	for _, p := range x.lists {
		for _, list := range p.byFirst {
			slices.SortStableFunc(list, func(a, b phrase) int { return len(b.words) - len(a.words) })
		}
	}
}

// at finds the longest phrase of a list that begins at token i.
func (x *lexicon) at(list string, tokens []token, i int) (phrase, bool) {
	p := x.lists[list]
	if p == nil {
		return phrase{}, false
	}
	for _, candidate := range p.byFirst[tokens[i].word] {
		if candidate.fits(tokens[i:]) {
			return candidate, true
		}
	}
	return phrase{}, false
}

// measures reports whether a number and its unit are a word of a phrase: the 80% of
// "80% enamel".
func (t token) measures(word string) bool {
	return t.unit != "" && word == t.word+string(t.unit)
}

func (p phrase) fits(tokens []token) bool {
	if len(tokens) < len(p.words) {
		return false
	}
	for i, w := range p.words {
		if tokens[i].word != w && !tokens[i].measures(w) || tokens[i].clause != tokens[0].clause {
			return false
		}
	}
	return true
}

// A found phrase with where it stands.
type found struct {
	phrase
	from, to int // tokens [from, to)
}

// all finds every phrase of a list, the longest first where they overlap.
func (x *lexicon) all(list string, tokens []token) []found {
	var out []found
	for i := 0; i < len(tokens); {
		p, ok := x.at(list, tokens, i)
		if !ok {
			i++
			continue
		}
		out = append(out, found{p, i, i + len(p.words)})
		i += len(p.words)
	}
	return out
}

// has reports whether the tokens hold a cue of the name.
func (x *lexicon) has(cue string, tokens []token) bool {
	return len(x.all("cue:"+cue, tokens)) > 0
}
