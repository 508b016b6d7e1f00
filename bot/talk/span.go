package talk

import (
	"slices"
	"strings"
)

// An archTooth is a tooth by its arch and its place in it, counted from the right
// end of the arch, 1 to 16.
type archTooth struct {
	lower bool
	place int
}

// byFDI is the tooth of two digits: the quadrant and the place from the midline.
func byFDI(n int) archTooth {
	quadrant, from := n/10, n%10
	if quadrant == 1 || quadrant == 4 {
		return archTooth{quadrant == 4, 9 - from}
	}
	return archTooth{quadrant == 3, 8 + from}
}

// byName is the tooth of a quadrant and a place, as in ur6.
func byName(name string) archTooth {
	t := archTooth{lower: name[0] == 'l', place: 8 + int(name[2]-'0')}
	if name[1] == 'r' {
		t.place = 17 - t.place
	}
	return t
}

// unitsSpanned is how many teeth stand from one end of the only row of teeth that a
// message names up to the other, "bridge 14 to 16", or 0. Both notations of a row
// within one arch count alike, so that it does not matter which is meant.
func (x *lexicon) unitsSpanned(tokens []token) float64 {
	var ends []int
	for i, t := range tokens {
		again := slices.ContainsFunc(ends, func(j int) bool { return tokens[j].word == t.word })
		if x.namesEnd(t) && !again && x.toothAt(tokens, i) != nil {
			ends = append(ends, i)
		}
	}
	if len(ends) != 2 {
		return 0
	}
	a, b := ends[0], ends[1]
	row := b == a+1 || b == a+2 && x.is("spans-a-range", tokens[a+1].word) && tokens[a+1].word != "or"
	if !row || tokens[a].isNum != tokens[b].isNum || tokens[a].clause != tokens[b].clause {
		return 0
	}
	from, to := endOf(tokens[a]), endOf(tokens[b])
	if from.lower != to.lower {
		return 0
	}
	return float64(max(from.place-to.place, to.place-from.place) + 1)
}

// namesEnd reports whether a token is a tooth in the FDI notation or by its quadrant.
func (x *lexicon) namesEnd(t token) bool {
	return t.isNum && t.unit == "" && float64(int(t.number)) == t.number && isFDI(int(t.number)) || t.word != "" && len(t.word) == 3 && quadrantTooth.MatchString(t.word)
}

func endOf(t token) archTooth {
	if t.isNum {
		return byFDI(int(t.number))
	}
	return byName(strings.ToLower(t.word))
}
