package kb

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"
	"golang.org/x/text/unicode/norm"
)

// Articles and questions go through the same normaliser:
//
//	text → fold → words (units joined, British spelling folded) → [spelling,
//	questions only] → stems → phrases (longest match) → stop words out
//
// What comes out are the tokens that are indexed and looked up.

var (
	decimalComma  = regexp.MustCompile(`(\d),(\d{1,2})\b`)
	thousandComma = regexp.MustCompile(`(\d),(\d{3})\b`)
	perArea       = regexp.MustCompile(`\b(mw|w|j)\s*/\s*(cm|mm)\s*\^?2\b`)
	without       = regexp.MustCompile(`\bw/o\b`)
	joinedPrefix  = regexp.MustCompile(`\b(re|pre|non|un|anti|over|under|sub|de|micro)-([a-z]{3,})`)
	numberUnit    = regexp.MustCompile(`^(\d+(?:\.\d+)?)([a-z%°]+\d?)$`)
	symbols       = strings.NewReplacer("º", "°", "’", "'", "‘", "'", "´", "'", "×", " x ", "½", "0.5")
	plainNumber   = regexp.MustCompile(`^\d+(?:\.\d+)?$`)
)

// foldText brings typography to plain lower-case ASCII as far as it can.
func foldText(text string) string {
	text = symbols.Replace(text)
	if !isPlain(text) {
		text = strings.Map(foldRune, norm.NFKD.String(text))
	}
	text = strings.ToLower(text)
	if strings.Contains(text, ",") {
		text = thousandComma.ReplaceAllString(text, "$1$2")
		text = decimalComma.ReplaceAllString(text, "$1.$2")
	}
	if strings.Contains(text, "/") {
		text = perArea.ReplaceAllString(text, "${1}per${2}2")
		text = without.ReplaceAllString(text, "without")
	}
	if strings.Contains(text, "-") {
		text = joinedPrefix.ReplaceAllString(text, "$1$2")
	}
	return text
}

func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

func foldRune(r rune) rune {
	switch {
	case r == 'μ':
		return 'u'
	case r == 'ß':
		return 's'
	case unicode.Is(unicode.Pd, r) || r == '−':
		return '-'
	case unicode.Is(unicode.Mn, r):
		return -1
	}
	return r
}

// words cuts text into folded words; a number and its unit are one word.
func (x *lexicon) words(text string) []string {
	raw := strings.FieldsFunc(foldText(text), notInWord)
	words := make([]string, 0, len(raw))
	for i := 0; i < len(raw); i++ {
		word := trimWord(raw[i])
		if word == "" {
			continue
		}
		if i+1 < len(raw) && isDigit(word[0]) && plainNumber.MatchString(word) {
			if unit, ok := x.units[trimWord(raw[i+1])]; ok {
				words, i = append(words, word+unit.name), i+1
				continue
			}
		}
		words = append(words, x.foldWord(word))
	}
	return words
}

func notInWord(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' && r != '\'' && r != '%' && r != '°'
}

// trimWord takes away full stops that end a sentence, possessives and
// apostrophes ("don't" and "dont" are one word).
func trimWord(word string) string {
	word = strings.Trim(word, ".'")
	word = strings.TrimSuffix(word, "'s")
	return strings.ReplaceAll(word, "'", "")
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// splitUnit cuts "50um" into the whole, the number and the unit.
func splitUnit(word string) []string {
	if word == "" || !isDigit(word[0]) {
		return nil
	}
	return numberUnit.FindStringSubmatch(word)
}

// foldWord canonises a number glued to its unit, British and irregular forms.
func (x *lexicon) foldWord(word string) string {
	if m := splitUnit(word); m != nil {
		if unit, ok := x.units[m[2]]; ok {
			return m[1] + unit.name
		}
		return word
	}
	if base, ok := x.irregular[word]; ok {
		word = base
	}
	return foldBritish(word)
}

// foldBritish maps British to American spelling by pattern. What it does to
// other words ("otherwise") is harmless, for both sides are folded alike.
func foldBritish(word string) string {
	if len(word) < 5 {
		return word
	}
	word = britishStems.Replace(word)
	for _, s := range britishEndings {
		if stem, ok := strings.CutSuffix(word, s.british); ok && len(stem) >= s.least {
			return stem + s.american
		}
	}
	return word
}

type ending struct {
	british, american string
	least             int // shortest stem the rule touches: "hour" and "four" stay
}

// britishStems and britishEndings are read only.
var (
	britishStems   = strings.NewReplacer("sulph", "sulf", "haem", "hem", "anaes", "anes", "anaem", "anem", "aesth", "esth", "paed", "ped")
	britishEndings = []ending{
		{"isation", "ization", 3}, {"isations", "izations", 3}, {"ise", "ize", 4}, {"ised", "ized", 4},
		{"ising", "izing", 4}, {"ises", "izes", 4}, {"yse", "yze", 3}, {"ysed", "yzed", 3},
		{"our", "or", 3}, {"ours", "ors", 3}, {"oured", "ored", 3}, {"ouring", "oring", 3},
		{"tre", "ter", 2}, {"tres", "ters", 2}, {"bre", "ber", 2}, {"bres", "bers", 2},
	}
)

// longestStemmed is the length beyond which a word is none of a language: the
// stemmer takes a time that grows with the square of it.
const longestStemmed = 40

// stem cuts a word to its stem; words with digits stay as they are.
func stem(word string) string {
	if len(word) < 4 || len(word) > longestStemmed || strings.ContainsAny(word, "0123456789") {
		return word
	}
	env := snowballstem.NewEnv(word)
	english.Stem(env)
	s := env.Current()
	if len(s) > 4 && strings.HasSuffix(s, "ll") {
		s = s[:len(s)-1] // modelling, modeling
	}
	return s
}

// A token is one canonical term of an article or a question.
type token struct {
	text    string
	word    string  // the folded word it came from, the first one of a phrase
	certain float64 // 1 as written; less for a corrected word or a unit's meaning
}

// unitMeaning is what a quantity's unit counts for beside the quantity: "30
// psi" also speaks of pressure, but less plainly than the word would.
const unitMeaning = 0.5

// tokens turns words into canonical tokens, stop words left out.
func (x *lexicon) tokens(words []string) []token {
	stems := make([]string, len(words))
	for i, w := range words {
		stems[i] = x.stem(w)
	}
	var out []token
	for i := 0; i < len(words); {
		if to, n := x.phrases.longest(stems[i:]); n > 0 {
			for _, t := range to {
				out = append(out, token{text: t, word: words[i], certain: 1})
			}
			i += n
			continue
		}
		out = x.appendWord(out, words[i], stems[i])
		i++
	}
	return out
}

func (x *lexicon) appendWord(out []token, word, stem string) []token {
	if x.stop[word] {
		return out
	}
	out = append(out, token{text: stem, word: word, certain: 1})
	if m := splitUnit(word); m != nil {
		for _, t := range x.units[m[2]].means {
			out = append(out, token{text: t, word: word, certain: unitMeaning})
		}
	}
	return out
}

// analyse is the whole way for an article's text.
func (x *lexicon) analyse(text string) []token { return x.tokens(x.words(text)) }

// stemList lists the stems of all words, stop words too.
func (x *lexicon) stemList(words []string) []string {
	stems := make([]string, len(words))
	for i, w := range words {
		stems[i] = x.stem(w)
	}
	return stems
}
