package talk

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A respelling is one way of writing a quantity that is read as another.
type respelling struct {
	from *regexp.Regexp
	to   string
}

func respellings(pairs ...string) []respelling {
	var out []respelling
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, respelling{regexp.MustCompile(strings.ReplaceAll(pairs[i], "MM", `(mm|mill?s?|millimet(?:er|re)s?)`)), pairs[i+1]})
	}
	return out
}

// Spellings of quantities: quantities before the marks of a message are folded,
// sides behind its decimals are. MM stands for a millimetre, however it is written.
var (
	halves = respellings(
		`(\d) ?½|(\d) 1/2\b`, "$1$2.5", // 3½ mm
	)
	quantities = respellings(
		`,? \(?(?:give or take|plus or minus|plus minus|plus/minus|\+/-|±) (?:half an? |a |\d+(?:\.\d+)? ?)(?:MM|bit|little|°|deg(?:ree)?s?)?\)?`, "", // 4 mm, give or take half a mm
		`\bthree quarters? (?:of an? )?MM\b`, "0.75 $1",
		`\b(?:a )?quarter (?:of an? )?MM\b`, "0.25 $1",
		`\b(?:a|one|1) third (?:of an? )?MM\b`, "0.33 $1",
		`\btwo thirds? (?:of an? )?MM\b`, "0.67 $1",
		`\bhalf of an? MM\b`, "half a $1",
		`(^|[^d] )\ba half (?:an? )?MM\b`, "${1}half a $2", // but "one and a half mm"
		`\ban? (mm|mill?|millimet(?:er|re)) and a half\b`, "1.5 $1",
		`\bhalf (and|to|or) (?:one|an?|1)\b`, "0.5 $1 1",
		`MM squared?\b|MM sq\b`, "mm2",
		`\b(toc|height|hgt|ht|width|walls?|taper|convergence|conv)(\d)`, "$1 $2", // toc12
		`(\d|[a-z]) ?\((?:h|ht|height)\)`, "$1 high", // 3.5 mm (h)
		`(\d|[a-z]) ?\((?:w|wd|width)\)`, "$1 wide",
		`\b([1-4][1-8]),([1-4][1-8]\b|[345] ?y)`, "$1, $2", // 36,37 and 36,5Y are no decimals
		`\b([ul][rl])([1-8]) ?(?:-|to) ?([1-8])\b`, "$1$2 to $1$3", // LR5-7
		`\b([ul][rl])([1-8]) ?[/,] ?([1-8])\b( ?[^ a-z.\d]|$)`, "$1$2 and $1$3$4", // UL4/5
		`(\d ?(?:mm)?)[x×](\d)`, "$1 x $2",
		`(\d\.\d+) ?(?:mm)? ?-+ ?(\d)`, "$1 to $2", // 0.3-0.5
		`(\b\d+) ?(?:mm)? ?-+ ?(\d+\.\d)`, "$1 to $2",
		`\((total|in total|overall|altogether|combined|both (?:sides|walls)|(?:each|per|a) (?:side|wall))\)`, " $1 ",
	)
	oneMillimetre = respellings(
		`(^|[^f] )\ban? (mm|millimet(?:er|re))\b`, "${1}1 $2",
	)
	sides = respellings(
		`\b(?:h|ht|hgt) ?[:=]? ?(\d+(?:\.\d+)?) ?(?:mm)? ?[,;/x]? ?(?:w|wd|wdth) ?[:=]? ?(\d+(?:\.\d+)?)`, "height $1 width $2",
		`\b(?:w|wd|wdth) ?[:=]? ?(\d+(?:\.\d+)?) ?(?:mm)? ?[,;/x]? ?(?:h|ht|hgt) ?[:=]? ?(\d+(?:\.\d+)?)`, "width $1 height $2",
		`\b(?:h|ht|hgt) ?[:=~≈]+ ?(\d)`, "height $1",
		`\b((?:toc|taper|convergence|conv)\b[^;.\n]{0,8}\d+(?:\.\d+)? ?(?:°|deg(?:rees?)?)?[,;]? )h ?(\d)`, "${1}height $2", // toc 12, h 4
		`\b(?:w|wd|wdth) ?[:=~≈]+ ?(\d)`, "width $1",
	)
)

// respell reads a text by a table. What holds no digit and no word of a quantity is
// left as it is, as nearly all phrases of the vocabulary are.
func respell(s string, table []respelling) string {
	if !quantified(s) {
		return s
	}
	for _, r := range table {
		s = r.from.ReplaceAllString(s, r.to)
	}
	return s
}

// quantified reports whether a text may speak of a quantity. It is asked of every
// phrase of the vocabulary, for which a regular expression is too slow.
func quantified(s string) bool {
	return strings.ContainsAny(s, "0123456789½(") || slices.ContainsFunc(quantityWords, func(w string) bool { return strings.Contains(s, w) })
}

var quantityWords = []string{"half", "quarter", "third", "tenth", "mil", "mm"}

// tenths are tenths of a millimetre: "six tenths of a mm", "5 tenths thick".
var tenths = regexp.MustCompile(`\b(\w+) tenths?(?: of an? (?:mm|mill|millimet(?:er|re)))?\b`)

// inTenths writes tenths as millimetres.
func (f folding) inTenths(text string) string {
	m := tenths.FindStringSubmatch(text)
	n, ok := f.numbers[m[1]]
	if digit, err := strconv.ParseFloat(m[1], 64); err == nil {
		n, ok = digit, true
	}
	if !ok || n > 20 {
		return text
	}
	return strconv.FormatFloat(n/10, 'g', 3, 64) + " mm"
}
