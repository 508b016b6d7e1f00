package talk

import (
	"bytes"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mortarboard/planner"
)

// wordFile is words.yaml, the vocabulary that stands beside the planner's facts.
type wordFile struct {
	Facts      map[string]map[string][]string `yaml:"facts"`
	Weak       map[string]map[string][]string `yaml:"weak"`
	About      map[string][]string            `yaml:"about"`
	Measures   map[string][]string            `yaml:"measures"`
	Parameters map[string][]string            `yaml:"parameters"`
	Tasks      map[string][]string            `yaml:"tasks"`
	Settings   map[string]map[string]string   `yaml:"settings"`
	Usual      map[string]string              `yaml:"usual"`
	Measured   map[string]string              `yaml:"measured"`
	Dimensions map[string][]string            `yaml:"dimensions"`
	Cues       map[string][]string            `yaml:"cues"`
	Together   []together                     `yaml:"together"`
	Generic    map[string][]string            `yaml:"generic"`
	Ignore     []string                       `yaml:"ignore"`
	Elsewhere  []string                       `yaml:"elsewhere"`
	Kept       []string                       `yaml:"kept"`
	Aside      []string                       `yaml:"aside"`
	Troubles   []string                       `yaml:"troubles"`
	Benign     map[string][]string            `yaml:"benign"`
	Hedges     []string                       `yaml:"hedges"`
	Topics     map[string][]string            `yaml:"topics"`
	Acids      acidWords                      `yaml:"acids"`
	Emergency  []emergency                    `yaml:"emergencies"`
}

// acidWords tell a question about acid on zirconia from one about the tooth.
type acidWords struct {
	Acid  []string `yaml:"acid"`  // acids and etching
	Inner []string `yaml:"inner"` // the inner surface
	Work  []string `yaml:"work"`  // the restoration
	Tooth []string `yaml:"tooth"` // the tooth
}

// An emergency is what nobody should wait for a bot to answer.
type emergency struct {
	Say   string        `yaml:"say"`
	Basis planner.Basis `yaml:"basis"` // one that needs no source
	When  [][][]string  `yaml:"when"`  // any of these lines; of each of its groups one phrase
}

// together says what facts mean when they stand together.
type together struct {
	When map[string][]string `yaml:"when"`
	Then map[string][]string `yaml:"then"`
}

// A sense is one thing that a phrase can mean.
type sense struct {
	list   string   // facts, weak, about, measures, parameters, tasks, dimensions, ignore, elsewhere, or cue:NAME
	name   string   // the fact, parameter key, task or dimension
	values []string // of a fact
}

// A lexicon finds phrases in tokens. It is never changed once built.
type lexicon struct {
	lists map[string]*phrases // by list, so that a fact and a cue may share words
	known map[string]bool     // every word of every phrase
	byLen map[int][]string    // the known words that spelling may correct to, by length
	kept  map[string]bool     // words that are never taken for a slip
	words wordFile
}

// phrases is one list of phrases, longest first under their first word.
type phrases struct {
	byFirst map[string][]phrase
}

type phrase struct {
	words []string
	sense sense
}

// newLexicon reads words.yaml and checks it against the rules it speaks of. The
// error says what is wrong; it joins nothing, since the file is the program's own.
func newLexicon(fsys fs.FS, book *planner.Rulebook) (*lexicon, error) {
	data, err := fs.ReadFile(fsys, "words.yaml")
	if err != nil {
		return nil, fmt.Errorf("words.yaml: %w", err)
	}
	x := &lexicon{lists: map[string]*phrases{}, known: map[string]bool{}, byLen: map[int][]string{}, kept: map[string]bool{}}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(&x.words); err != nil {
		return nil, fmt.Errorf("words.yaml: %w", err)
	}
	if err := x.check(book); err != nil {
		return nil, fmt.Errorf("words.yaml: %w", err)
	}
	x.fill()
	return x, nil
}

// check refuses words for facts, values and parameters that do not exist.
func (x *lexicon) check(book *planner.Rulebook) error {
	empty := book.NewCase()
	for _, list := range []map[string]map[string][]string{x.words.Facts, x.words.Weak} {
		for fact, values := range list {
			for value := range values {
				if _, err := empty.With(fact, strings.Split(value, "|")...); err != nil {
					return err
				}
			}
		}
	}
	keys := book.Keys()
	for key := range x.words.Parameters {
		if !slices.Contains(keys, key) {
			return fmt.Errorf("no parameter has the key %q", key)
		}
	}
	for task, settings := range x.words.Settings {
		for dimension, key := range settings {
			if !slices.Contains(keys, key) {
				return fmt.Errorf("settings: %s, %s: no parameter has the key %q", task, dimension, key)
			}
		}
	}
	return x.checkEmergencies()
}

// checkEmergencies refuses an emergency that says nothing, that never comes up,
// that always does, or whose basis would need a source.
func (x *lexicon) checkEmergencies() error {
	for n, e := range x.words.Emergency {
		switch empty := func(line [][]string) bool { return len(line) == 0 }; {
		case e.Say == "":
			return fmt.Errorf("emergencies: entry %d: write what to answer under say", n+1)
		case e.Basis != planner.CommonPractice && e.Basis != planner.FromMemory:
			return fmt.Errorf("emergencies: entry %d: basis %q: allowed are %s, %s", n+1, e.Basis, planner.CommonPractice, planner.FromMemory)
		case len(e.When) == 0 || slices.ContainsFunc(e.When, empty):
			return fmt.Errorf("emergencies: entry %d: when needs lines, and each line a group of phrases", n+1)
		}
	}
	return nil
}

func (x *lexicon) fill() {
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
	for list, named := range map[string]map[string][]string{
		"about": x.words.About, "measures": x.words.Measures, "parameters": x.words.Parameters,
		"tasks": x.words.Tasks, "dimensions": x.words.Dimensions,
	} {
		for name, says := range named {
			x.add(list, sense{list: list, name: name}, says)
		}
	}
	for cue, says := range x.words.Cues {
		x.add("cue:"+cue, sense{list: "cue:" + cue, name: cue}, says)
	}
	x.add("facts", sense{list: "ignore"}, x.words.Ignore)
	x.add("elsewhere", sense{list: "elsewhere"}, x.words.Elsewhere)
	for _, word := range x.words.Kept {
		x.kept[word] = true
	}
	for _, e := range x.words.Emergency {
		for _, group := range slices.Concat(e.When...) {
			for _, word := range strings.Fields(strings.Join(group, " ")) {
				x.known[word] = true
			}
		}
	}
	for word := range x.known {
		x.byLen[len(word)] = append(x.byLen[len(word)], word)
	}
	for _, list := range x.byLen {
		slices.Sort(list)
	}
}

func (x *lexicon) add(list string, s sense, says []string) {
	p := x.lists[list]
	if p == nil {
		p = &phrases{byFirst: map[string][]phrase{}}
		x.lists[list] = p
	}
	for _, say := range says {
		var words []string
		for _, t := range tokenize(fold(say)) {
			words = append(words, t.word)
			x.known[t.word] = true
			if t.unit != "" {
				words = append(words, string(t.unit))
			}
		}
		if len(words) == 0 {
			continue
		}
		p.byFirst[words[0]] = append(p.byFirst[words[0]], phrase{words, s})
	}
	for _, list := range p.byFirst {
		slices.SortStableFunc(list, func(a, b phrase) int { return len(b.words) - len(a.words) })
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

func (p phrase) fits(tokens []token) bool {
	if len(tokens) < len(p.words) {
		return false
	}
	for i, w := range p.words {
		if tokens[i].word != w || tokens[i].clause != tokens[0].clause {
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
