package kb

import (
	"fmt"
	"strings"
)

// outside knows words that belong to subjects the articles leave to others.
type outside struct {
	tree   *phraseTree // base forms to one group name
	groups map[string]outsideGroup
}

// An outsideGroup is one subject that is not ours, see outofscope.yaml.
type outsideGroup struct {
	Name  string
	Says  string // how a sentence names the subject
	Words []string
}

func (x *lexicon) newOutside(data []byte) (*outside, error) {
	var file struct{ Groups []outsideGroup }
	if err := strictYAML("outofscope.yaml", data, &file); err != nil {
		return nil, err
	}
	o := &outside{tree: &phraseTree{}, groups: map[string]outsideGroup{}}
	for _, g := range file.Groups {
		if g.Name == "" || g.Says == "" || len(g.Words) == 0 {
			return nil, fmt.Errorf("kb/outofscope.yaml: group %q lacks name, says or words", g.Name)
		}
		o.groups[g.Name] = g
		for _, w := range g.Words {
			x.stemsOf(w) // remembers its words
			key := baseForms(x.words(w))
			if old, taken := o.tree.exactly(key); len(key) == 0 || taken && old[0] != g.Name {
				return nil, fmt.Errorf("kb/outofscope.yaml: %q in group %q is empty or stands in another group too", w, g.Name)
			}
			o.tree.add(key, []string{g.Name})
		}
	}
	return o, nil
}

// An outsideWord is a word, or a few, of a text that are not ours.
type outsideWord struct {
	words []string // as written, folded
	key   string   // its base forms
	group outsideGroup
}

// find returns the words of a text that belong elsewhere.
func (o *outside) find(words []string) []outsideWord {
	var found []outsideWord
	bases := baseForms(words)
	for i := 0; i < len(words); {
		to, n := o.tree.longest(bases[i:])
		if n == 0 {
			i++
			continue
		}
		found = append(found, outsideWord{words[i : i+n], strings.Join(bases[i:i+n], " "), o.groups[to[0]]})
		i += n
	}
	return found
}

// outsideOf returns the words of a text that belong elsewhere.
func (x *lexicon) outsideOf(words []string) []outsideWord {
	return x.outside.find(words)
}

// baseForms takes inflections away and nothing else: to the stemmer, a
// university and a universal adhesive are one word.
func baseForms(words []string) []string {
	bases := make([]string, len(words))
	for i, w := range words {
		bases[i] = baseForm(w)
	}
	return bases
}

func baseForm(word string) string {
	for _, ending := range []string{"ing", "ed", "es", "s", "e"} {
		base, ok := strings.CutSuffix(word, ending)
		if !ok || ending == "s" && strings.HasSuffix(base, "s") {
			continue
		}
		if n := len(base); ending != "s" && ending != "e" && n > 4 && base[n-1] == base[n-2] {
			base = base[:n-1] // dotted, dotting
		}
		if len(base) >= 4 || ending == "s" && len(base) == 3 {
			return base
		}
	}
	return word
}
