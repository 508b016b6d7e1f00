package talk

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"mortarboard/kb"
	"mortarboard/planner"
)

// A shelfName is one way in which staff name a product: the whole name, or a part of
// it that says which one is meant. A part that several products share names them all.
type shelfName struct {
	words []string
	of    []*planner.Product
	tied  bool // another word as well, which counts behind such words as "the" alone: "the Fell"
}

// shelfNames are the names of a practice's products, the longest first.
type shelfNames struct {
	names []shelfName
	words []string // every word of a name that no other use has
}

// A naming is a message with the products that it names.
type naming struct {
	products []*planner.Product
	classes  string // the message with each product's class in place of its name
	plain    string // the message with "it" there
}

// shelfWord matches a word of a name.
var shelfWord = regexp.MustCompile(`[\p{L}\d]+`)

func newShelfNames(p *planner.Practice, x *lexicon) shelfNames {
	var n shelfNames
	if p == nil {
		return n
	}
	for _, product := range p.Shelf {
		words := shelfWord.FindAllString(strings.ToLower(product.Name), -1)
		n.add(shelfName{words: words, of: []*planner.Product{product}})
		for i, word := range words {
			if x.ownWord(word) {
				n.words = append(n.words, word)
			}
			if len(words) > 1 {
				n.part(word, i, product, x)
			}
		}
	}
	n.names = slices.DeleteFunc(n.names, func(s shelfName) bool { return s.tied && len(s.of) > 1 })
	slices.SortStableFunc(n.names, func(a, b shelfName) int { return len(b.words) - len(a.words) })
	return n
}

// part adds one word of a name, unless staff have another use for it by itself, as they
// have for the "Temp" of a name. "The GI" is the one on the shelf.
func (n *shelfNames) part(word string, at int, product *planner.Product, x *lexicon) {
	own := x.ownWord(word)
	if own || at > 0 && (!x.aloneAPhrase(word) || x.namesClass(word, product.Class)) {
		n.add(shelfName{words: []string{word}, of: []*planner.Product{product}, tied: !own})
	}
}

func (n *shelfNames) add(s shelfName) {
	i := slices.IndexFunc(n.names, func(o shelfName) bool { return slices.Equal(o.words, s.words) })
	if i < 0 {
		n.names = append(n.names, s)
	} else if !slices.Contains(n.names[i].of, s.of[0]) {
		n.names[i].of = append(n.names[i].of, s.of...)
	}
}

// ownWord reports whether a word of a name has no other use: it is no English word and
// none of the trade. Of short words no list says so.
func (x *lexicon) ownWord(word string) bool {
	return len(word) >= 5 && !x.known[word] && !x.kept[word] && !kb.English(word)
}

// aloneAPhrase reports whether a word says something of a case or asks for something by itself.
func (x *lexicon) aloneAPhrase(word string) bool {
	for _, list := range x.lists {
		for _, p := range list.byFirst[word] {
			if len(p.words) == 1 {
				return true
			}
		}
	}
	return false
}

// namesClass reports whether a word by itself names a cement that may be of the class.
func (x *lexicon) namesClass(word, class string) bool {
	return slices.ContainsFunc(x.lists["facts"].byFirst[word], func(p phrase) bool {
		return len(p.words) == 1 && p.sense.name == "cement" && slices.Contains(p.sense.values, class)
	})
}

// name finds the products that a message names. A slip in a word of a name is read as
// the name, before it could be taken for a slip of another word: "eddering" is no "ordering".
func (x *lexicon) name(text string) naming {
	n := naming{classes: text, plain: text}
	if len(x.shelfNames.names) == 0 {
		return n
	}
	at := shelfWord.FindAllStringIndex(text, -1)
	var classes, plain strings.Builder
	done := 0
	for i := 0; i < len(at); i++ {
		s, ok := x.nameAt(text, at, i)
		if !ok {
			continue
		}
		class := "product"
		if len(s.of) == 1 {
			class = s.of[0].Class
		}
		classes.WriteString(text[done:at[i][0]] + class)
		plain.WriteString(text[done:at[i][0]] + "it")
		i += len(s.words) - 1
		done = at[i][1]
		for _, p := range s.of {
			if !slices.Contains(n.products, p) {
				n.products = append(n.products, p)
			}
		}
	}
	n.classes, n.plain = classes.String()+text[done:], plain.String()+text[done:]
	return n
}

// nameAt finds the longest name that begins at a word of the text.
func (x *lexicon) nameAt(text string, at [][]int, i int) (shelfName, bool) {
	for _, s := range x.shelfNames.names {
		if x.saysName(text, at, i, s) && (!s.tied || x.tiedTo(text, at, i)) {
			return s, true
		}
	}
	return shelfName{}, false
}

func (x *lexicon) saysName(text string, at [][]int, i int, s shelfName) bool {
	if i+len(s.words) > len(at) {
		return false
	}
	for j, word := range s.words {
		here := at[i+j]
		beside := j == 0 || strings.Trim(text[at[i+j-1][1]:here[0]], " -") == ""
		if !beside || x.nameWord(strings.ToLower(text[here[0]:here[1]])) != word {
			return false
		}
	}
	return true
}

// nameWord is the word of a name that a word is, or is a slip of.
func (x *lexicon) nameWord(word string) string {
	if slices.Contains(x.shelfNames.words, word) || !x.ownWord(word) {
		return word
	}
	allowed := 1
	if len(word) >= 9 {
		allowed = 2
	}
	for _, of := range x.shelfNames.words {
		if of[0] == word[0] && !plural(of, word) && kb.Slips(word, of, allowed) <= allowed {
			return of
		}
	}
	return word
}

// tiedTo reports whether a word stands where a name does: behind "the" or "with", or
// with a capital in the middle of a sentence while no other use of it is known.
func (x *lexicon) tiedTo(text string, at [][]int, i int) bool {
	if i == 0 || strings.TrimSpace(text[at[i-1][1]:at[i][0]]) != "" {
		return false
	}
	word, before := text[at[i][0]:at[i][1]], strings.ToLower(text[at[i-1][0]:at[i-1][1]])
	capital := unicode.IsUpper(rune(word[0])) && word != strings.ToUpper(word) && !x.known[strings.ToLower(word)]
	return capital || slices.Contains(x.words.Shelf.Ties, before) || before == "or" && unicode.IsUpper(rune(word[0]))
}
