package kb

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

var (
	//go:embed synonyms.yaml
	synonymsFile []byte
	//go:embed outofscope.yaml
	outsideFile []byte
	//go:embed common.txt
	commonFile string
)

// A lexicon is what the normaliser knows of language: embedded data, read once
// a Load and never changed after.
type lexicon struct {
	stop      map[string]bool
	turns     map[string]bool // stems that turn the meaning of a deed round
	marks     map[string]bool // stop words that count in a deed
	beside    map[string]bool // canonical tokens that add nothing to a deed
	irregular map[string]string
	units     map[string]unit // by spelling
	phrases   *phraseTree
	meaning   *phraseTree       // words, not stems: ways to ask what a word means
	leadIns   *phraseTree       // words, not stems: ways to begin, which say nothing of the subject
	near      map[string][]near // canonical token to weaker substitutes
	never     map[[2]string]bool
	common    map[string]bool // stems of everyday words that carry no subject
	known     map[string]bool // all words of the data: not to be corrected
	outside   *outside
	stems     map[string]string // memory of stem, filled while loading only
}

type unit struct {
	name  string
	means []string // stems
}

// A near token stands in for another one at a reduced weight.
type near struct {
	token  string
	weight float64
}

// synonymData is the shape of synonyms.yaml, described at its head.
type synonymData struct {
	Stop   string
	Turns  string
	Marks  string
	Beside string
	Forms  map[string]string
	Units  []struct {
		Unit  string
		Spelt []string
		Means []string
	}
	Never [][]string
	Means []string
	Leads []string `yaml:"lead-ins"`
	Same  []struct {
		To   string
		From []string
	}
	Real string
	Near []struct {
		Words  []string
		Weight float64
	}
}

func embeddedLexicon() (*lexicon, error) {
	return newLexicon(synonymsFile, outsideFile, commonFile)
}

func newLexicon(synonyms, outsideWords []byte, common string) (*lexicon, error) {
	var data synonymData
	if err := strictYAML("synonyms.yaml", synonyms, &data); err != nil {
		return nil, err
	}
	x := &lexicon{
		stop: map[string]bool{}, turns: map[string]bool{}, marks: map[string]bool{}, beside: map[string]bool{}, irregular: data.Forms, units: map[string]unit{}, phrases: &phraseTree{}, meaning: &phraseTree{}, leadIns: &phraseTree{},
		near: map[string][]near{}, never: map[[2]string]bool{}, common: map[string]bool{}, known: map[string]bool{},
		stems: map[string]string{},
	}
	x.addCommon(common)
	x.addUnits(&data)
	if err := x.addPhrases(&data); err != nil {
		return nil, err
	}
	if err := x.addNear(&data); err != nil {
		return nil, err
	}
	var err error
	x.outside, err = x.newOutside(outsideWords)
	return x, err
}

// strictYAML decodes one document and refuses unknown keys.
func strictYAML(file string, data []byte, into any) error {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(into); err != nil && err != io.EOF {
		line, what := yamlError(err)
		return fmt.Errorf("kb/%s:%d: %s", file, line, what)
	}
	return nil
}

// stem is the package's stem with a memory of the words met while loading.
func (x *lexicon) stem(word string) string {
	if s, ok := x.stems[word]; ok {
		return s
	}
	return stem(word)
}

// learn keeps the stem of a word; only to be called while loading.
func (x *lexicon) learn(word string) string {
	s := x.stem(word)
	x.stems[word] = s
	return s
}

func (x *lexicon) addCommon(text string) {
	for line := range strings.Lines(text) {
		line, _, _ = strings.Cut(line, "#")
		for _, w := range strings.Fields(line) {
			w = x.foldWord(w)
			x.known[w] = true
			x.common[x.learn(w)] = true
		}
	}
}

func (x *lexicon) addUnits(data *synonymData) {
	for _, w := range strings.Fields(data.Stop) {
		x.stop[x.foldWord(w)] = true
		x.known[x.foldWord(w)] = true
	}
	for _, w := range strings.Fields(data.Turns) {
		x.turns[x.learn(x.foldWord(w))] = true
	}
	for _, w := range strings.Fields(data.Marks) {
		x.marks[x.foldWord(w)] = true
	}
	for _, t := range x.tokens(x.words(data.Beside)) {
		x.beside[t.text] = true
	}
	for _, w := range strings.Fields(data.Real) {
		x.known[x.foldWord(w)] = true
	}
	for _, u := range data.Units {
		entry := unit{name: u.Unit}
		for _, w := range u.Means {
			entry.means = append(entry.means, x.learn(w))
		}
		for _, s := range append(u.Spelt, u.Unit) {
			x.units[s] = entry
			x.known[s] = true
		}
	}
	for _, m := range data.Means {
		x.meaning.add(x.words(m), nil)
	}
	for _, l := range data.Leads {
		x.leadIns.add(x.words(l), nil)
	}
	for _, p := range data.Never {
		for i, a := range p {
			for _, b := range p[:i] {
				x.never[pair(a, b)] = true
			}
		}
	}
}

// addPhrases fills the phrase table. A surface form may lead to one place only.
func (x *lexicon) addPhrases(data *synonymData) error {
	for _, s := range data.Same {
		to := x.stemsOf(s.To)
		if len(to) == 0 {
			return fmt.Errorf("kb/synonyms.yaml: an entry of same has no `to`; name the canonical word")
		}
		for _, from := range s.From {
			key := x.stemsOf(from)
			if old, taken := x.phrases.exactly(key); len(key) == 0 || taken && !slices.Equal(old, to) {
				return fmt.Errorf("kb/synonyms.yaml: %q under %q is empty or stands in another entry; keep it in one", from, s.To)
			}
			x.phrases.add(key, to)
		}
	}
	return nil
}

// stemsOf cuts a phrase of the data into stems and remembers its words.
func (x *lexicon) stemsOf(phrase string) []string {
	words := x.words(phrase)
	stems := make([]string, len(words))
	for i, w := range words {
		x.known[w] = true
		stems[i] = x.learn(w)
	}
	return stems
}

func (x *lexicon) addNear(data *synonymData) error {
	for _, n := range data.Near {
		if n.Weight <= 0 || n.Weight >= 1 || len(n.Words) < 2 {
			return fmt.Errorf("kb/synonyms.yaml: near group %v needs two words and a weight between 0 and 1", n.Words)
		}
		var tokens []string
		for _, w := range n.Words {
			x.stemsOf(w)
			for _, t := range x.analyse(w) {
				tokens = append(tokens, t.text)
			}
		}
		x.joinNear(tokens, n.Weight)
	}
	return nil
}

func (x *lexicon) joinNear(tokens []string, weight float64) {
	for _, a := range tokens {
		for _, b := range tokens {
			same := func(n near) bool { return n.token == b }
			if a != b && !slices.ContainsFunc(x.near[a], same) {
				x.near[a] = append(x.near[a], near{b, weight})
			}
		}
	}
}
