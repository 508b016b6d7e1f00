package talk

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"mortarboard/planner/sums"
)

// maxRunes bounds a message: what stands beyond is not read, and the reply says so.
const maxRunes = 1000

// A token is one word or number of a message.
type token struct {
	word   string // folded: lower case, without apostrophes
	number float64
	isNum  bool
	unit   sums.Unit // of a number, when one is written right behind it
	clause int       // tokens of one clause share it
	spent  bool      // some reader has taken it

	question bool // its clause ends in a question mark
	ends     bool // of two numbers with "to" between: it is the second
	idiom    bool // a "not" that belongs to a judgement, as in "not great"
}

// marks are characters that are read as others.
var marks = []string{
	"’", "'", "‘", "'", "“", "\"", "”", "\"", "µ", "u", "μ", "u", "–", "-", "—", " - ", "‐", "-", "‑", "-", "−", "-",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "²", "2", "º", "°", "½", "0.5", "&", " and ", "->", " to ", "=>", " to ", "→", " to ",
}

// markFolder is for text of which only the form matters, not the words.
var markFolder = strings.NewReplacer(marks...)

var (
	phosphateMonomer = regexp.MustCompile(`\b10[- ]?mdp\b`)
	decimalComma     = regexp.MustCompile(`(\d),(\d{1,2})(\D|$)`)
	clockTime        = regexp.MustCompile(`\b(?:0?[7-9]|1\d|2[0-2]):[0-5]\d(?: ?(?:am|pm|h|hrs))?\b`) // "the 14:30 patient" names no tooth
	withSlash        = regexp.MustCompile(`\bw/`)
	fraction         = regexp.MustCompile(`\b(\d)/([2-9]|10)(\s*(?:mm|bar|min|of))`)
	half             = regexp.MustCompile(`(\band |\ba )?\bhalf (?:an? )?(mm|mill?s?|millimet(?:er|re)s?|bar|min(?:ute)?)\b`)
	leadingPoint     = regexp.MustCompile(`(^|[^\d.])\.(\d)`)           // .8 mm
	thousands        = regexp.MustCompile(`\b(\d+) ?k( ?(?:mw|rpm)\b)`) // 1k mW
	thousandsComma   = regexp.MustCompile(`(\d),(\d{3})\b`)
	answerFollows    = regexp.MustCompile(`^ *(?:no|none|nope|not|nil|never|n|y|yes|unknown)\b`) // "IDS: no"
	thenFollows      = regexp.MustCompile(`^ *(?:and )?then\b`)                                  // "primed, then saliva got in" is told in one breath
	lexemes          = regexp.MustCompile(`\d+(?:st|nd|rd|th)\b|[+-]?\d+(?:\.\d+)?|\p{L}[\p{L}']*\d*(?:'\p{L}+)?|[°%#<>≥≤=/,;:.!?()+\n-]`)
)

// fold brings a message into the form in which it is compared.
func (f folding) fold(text string) string {
	s := f.marks.Replace(respell(strings.ToLower(text), halves))
	if strings.Contains(s, "not") {
		s = f.denied.ReplaceAllStringFunc(s, f.shortNot)
	}
	if !quantified(s) && !strings.ContainsAny(s, "/,.") {
		return s // nothing below would change it, and most phrases are so
	}
	s = phosphateMonomer.ReplaceAllString(s, "mdp")
	s = thousandsComma.ReplaceAllString(s, "$1$2")
	s = thousands.ReplaceAllString(s, "${1}000$2")
	s = leadingPoint.ReplaceAllString(s, "${1}0.$2")
	s = clockTime.ReplaceAllString(withSlash.ReplaceAllString(s, "with "), "oclock")
	s = tenths.ReplaceAllStringFunc(respell(s, quantities), f.inTenths)
	s = respell(half.ReplaceAllStringFunc(s, halfOf), oneMillimetre)
	s = fraction.ReplaceAllStringFunc(s, decimalFraction)
	return respell(decimalComma.ReplaceAllString(s, "$1.$2$3"), sides)
}

// halfOf writes "half a mm" as "0.5 mm"; "one and a half mm" is read later.
func halfOf(text string) string {
	m := half.FindStringSubmatch(text)
	if m[1] != "" {
		return text
	}
	return "0.5 " + m[2]
}

// decimalFraction writes "1/2 mm" as "0.5 mm".
func decimalFraction(text string) string {
	m := fraction.FindStringSubmatch(text)
	over, _ := strconv.ParseFloat(m[1], 64)
	under, _ := strconv.ParseFloat(m[2], 64)
	return strconv.FormatFloat(over/under, 'g', 3, 64) + m[3]
}

// clip cuts a message at the limit, and reports whether it had to.
func clip(text string) (string, bool) {
	runes := []rune(strings.ToValidUTF8(text, " "))
	if len(runes) <= maxRunes {
		return string(runes), false
	}
	return string(runes[:maxRunes]), true
}

// stops are the marks that begin a new clause, as some words do.
const stops = ",;:.!?()\n"

// breaks reports whether a mark or a word behind the tokens begins a new clause.
func (g grammar) breaks(text string, before []token) bool {
	goesOn := text == "but" && len(before) > 0 && g.is("goes-on-with-but", before[len(before)-1].word)
	return strings.Contains(stops, text) || g.is("begins-a-clause", text) && !goesOn
}

// tokenize cuts a folded message into words and numbers with their units.
func (x *lexicon) tokenize(folded string) []token {
	var out []token
	clause := 0
	marks := lexemes.FindAllStringIndex(folded, -1)
	for i := 0; i < len(marks); i++ {
		text := folded[marks[i][0]:marks[i][1]]
		switch {
		case text == "-" && !spaced(folded, marks, i), text == "-" && x.isLabel(out, clause):
		case text == "," && thenFollows.MatchString(folded[marks[i][1]:]), text == ":" && (x.isLabel(out, clause) || answerFollows.MatchString(folded[marks[i][1]:])):
		case text == "-", x.breaks(text, out):
			if text == "?" {
				markQuestion(out, clause)
			}
			clause++
			if len(text) > 1 {
				out = append(out, token{word: text, clause: clause})
			}
		case isNumeral(text):
			glued := i > 0 && marks[i-1][1] == marks[i][0]
			out = append(out, numeral(text, glued, clause))
		default:
			out = append(out, x.spoken(text, clause)...)
		}
	}
	return joinUnits(x.joinGrades(x.spelledNumbers(out)))
}

// spaced reports whether a dash sets words apart, as a comma does: "UR6 - 3Y crown -
// dry". Between two numbers it spans a range.
func spaced(folded string, marks [][]int, i int) bool {
	from, to := marks[i][0], marks[i][1]
	if from == 0 || to == len(folded) || folded[from-1] != ' ' || folded[to] != ' ' || i == 0 || i+1 == len(marks) {
		return false
	}
	last, next := folded[marks[i-1][1]-1], folded[marks[i+1][0]]
	return !unicode.IsDigit(rune(last)) || !unicode.IsDigit(rune(next))
}

// isLabel reports whether the clause so far is a label, to which a colon ties its
// value: "moisture control: poor". A value itself is none: "dry: bond?"
func (x *lexicon) isLabel(tokens []token, clause int) bool {
	from := len(tokens)
	for from > 0 && tokens[from-1].clause == clause && tokens[from-1].word != "/" {
		if from--; len(tokens)-from > 3 || tokens[from].isNum {
			return false
		}
	}
	if from == len(tokens) {
		return false // "UR6 / : 3Y"
	}
	p, ok := x.at("facts", tokens, from)
	return !ok || len(p.words) != len(tokens)-from
}

// markQuestion notes that a clause ended in a question mark.
func markQuestion(tokens []token, clause int) {
	for i := range tokens {
		if tokens[i].clause == clause {
			tokens[i].question = true
		}
	}
}

// spoken splits a word that ends in a short "is" and drops apostrophes and letters held down.
func (g grammar) spoken(text string, clause int) []token {
	bare, short := strings.CutSuffix(text, "'s")
	switch {
	case !short || g.is("keeps-its-s", text):
		bare, short = text, false
	case g.is("owns", text):
		short = false
	}
	out := []token{{word: twice(strings.ReplaceAll(bare, "'", "")), clause: clause}}
	if short {
		out = append(out, token{word: "is", clause: clause})
	}
	return out
}

// twice cuts a letter that is held down to two: keeep, noooo.
func twice(word string) string {
	kept := []byte{}
	for i := range len(word) {
		if i < 2 || word[i] != word[i-1] || word[i] != word[i-2] || word[i] >= utf8.RuneSelf {
			kept = append(kept, word[i])
		}
	}
	return string(kept)
}

func isNumeral(s string) bool {
	return unicode.IsDigit(rune(s[len(s)-1])) && !unicode.IsLetter(rune(s[0]))
}

// numeral reads a number; a sign glued to a word before it is a hyphen.
func numeral(text string, glued bool, clause int) token {
	if glued {
		text = strings.TrimLeft(text, "+-")
	}
	x, _ := strconv.ParseFloat(text, 64)
	return token{word: text, number: x, isNum: true, clause: clause}
}

// joinGrades makes one word of a yttria grade or a trade name of zirconia that
// begins with a digit: 3y, 4ypsz, 5 y.
func (g grammar) joinGrades(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		t := in[i]
		if i+3 < len(in) && oneDigit(t) && (in[i+1].word == "or" || in[i+1].word == "/") && oneDigit(in[i+2]) && g.is("ends-a-grade", in[i+3].word) {
			t = token{word: t.word + "y", clause: t.clause} // 4 or 5Y
		}
		if oneDigit(t) && g.otherGrade(out, in[i:]) {
			t = token{word: t.word + "y", clause: t.clause}
		}
		if oneDigit(t) && i+1 < len(in) && g.is("ends-a-grade", in[i+1].word) && !g.ages(in[i+2:], t.clause) {
			t = token{word: t.word + "y", clause: t.clause}
			rest := strings.TrimPrefix(in[i+1].word, "y")
			i++
			out = append(out, t)
			if rest != "" && rest != "s" {
				out = append(out, token{word: rest, clause: t.clause})
			}
			continue
		}
		out = append(out, t)
	}
	return out
}

// otherGrade reports whether a bare digit is a second grade that the words before it
// weigh against a first: "its 4Y, might be 5".
func (g grammar) otherGrade(before, in []token) bool {
	if _, unit := unitAt(in[1:]); unit > 0 || wordBehind(in, 0) != "" && g.is("follows-no-tooth-number", in[1].word) {
		return false
	}
	weighed := false
	for back := 1; back <= gradeReach && back <= len(before); back++ {
		t := before[len(before)-back]
		if isGrade(t) {
			return weighed && t.word[:1] != in[0].word
		}
		if g.is("offers-a-choice", t.word) {
			weighed = true
		} else if !g.is("stands-before-a-grade", t.word) {
			return false
		}
	}
	return false
}

// gradeReach is how many words behind a grade another one may be weighed.
const gradeReach = 6

// oneDigit reports whether a number is the bare digit of a yttria grade.
func oneDigit(t token) bool {
	return t.isNum && t.number >= 3 && t.number <= 5 && len(t.word) == 1
}

// ages reports whether years follow rather than a grade: "5 y old", "3y recall".
func (g grammar) ages(next []token, clause int) bool {
	return len(next) > 0 && next[0].clause == clause && g.is("speaks-of-years", next[0].word)
}

// joinUnits gives a number the unit that follows it.
func joinUnits(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		t := in[i]
		if !t.isNum {
			out = append(out, t)
			continue
		}
		unit, used := unitAt(in[i+1:])
		if used > 0 && in[i+1].clause != t.clause {
			unit, used = "", 0 // "46, second time"
		}
		t.unit = unit
		i += used
		out = append(out, t)
	}
	shareUnits(out)
	return out
}

// shareUnits gives a number the unit of the one that it is named beside: "30 or 50
// micron", "10 to 15 s".
func shareUnits(tokens []token) {
	for i := len(tokens) - 3; i >= 0; i-- {
		a, link, b := tokens[i], tokens[i+1], tokens[i+2]
		if a.isNum && a.unit == "" && b.isNum && a.clause == b.clause && (link.word == "or" || link.word == "to") {
			tokens[i].unit = b.unit
		}
	}
}

// unitAt reads a unit at the start of the tokens: mm, psi, mw / cm2, degrees c.
func unitAt(in []token) (sums.Unit, int) {
	for n := min(5, len(in)); n > 0; n-- {
		text := ""
		for _, t := range in[:n] {
			text += t.word
		}
		if in[n-1].clause != in[0].clause {
			continue
		}
		if unit, ok := spelledUnit(text); ok {
			return unit, n
		}
	}
	return "", 0
}

// spelledUnit reads a unit in the spellings of a message. A single letter or a
// word with another use is no unit.
func spelledUnit(text string) (sums.Unit, bool) {
	switch text {
	case "", "c", "f", "m", "h", "in", "to", "k", "n", "/", "unit", "units", "y", "ra":
		return "", false
	case "mw", "milliwatts", "milliwatt":
		return sums.MilliwattPerCM, true // curing lights are given per cm², said or not
	case "joules", "joule", "j":
		return sums.JoulePerCM2, true
	case "mil", "mils", "mill", "mills":
		return sums.Millimetre, true // said of lengths in the mouth; nobody there measures in thousandths of an inch
	}
	unit, err := sums.ParseUnit(text)
	return unit, err == nil
}
