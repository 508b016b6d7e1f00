package talk

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"gopkg.in/yaml.v3"
)

// A wordSource is one file of the vocabulary, kept to tell where a key stands.
type wordSource struct {
	name string // as in words/tooth.yaml
	root *yaml.Node
}

// readWords reads every file of the folder words as parts of one wordFile. What stands
// under a key in one file may not stand under it in another, so that nothing replaces
// anything unseen. The error joins what is wrong with any of them.
func readWords(fsys fs.FS) (*wordFile, []wordSource, error) {
	names, err := fs.Glob(fsys, "words/*.yaml")
	if err == nil && len(names) == 0 {
		err = errors.New("words: the folder holds no .yaml file: put the vocabulary there")
	}
	if err != nil {
		return nil, nil, err
	}
	var words wordFile
	var sources []wordSource
	var errs []error
	for _, name := range names {
		root, err := readWordSource(fsys, name, &words)
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", name, err))
			continue
		}
		sources = append(sources, wordSource{name, root})
	}
	return &words, sources, errors.Join(append(errs, standTwice(sources)...)...)
}

func readWordSource(fsys fs.FS, name string, words *wordFile) (*yaml.Node, error) {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	strict := yaml.NewDecoder(bytes.NewReader(data))
	strict.KnownFields(true)
	if err := strict.Decode(words); err != nil {
		return nil, err
	}
	var file yaml.Node
	err = yaml.Unmarshal(data, &file)
	return file.Content[0], err
}

// standTwice finds what stands in two files: an entry of a key that has entries, else the
// key itself.
func standTwice(sources []wordSource) []error {
	first := map[string]string{}
	var errs []error
	for _, s := range sources {
		for i := 0; i+1 < len(s.root.Content); i += 2 {
			key, value := s.root.Content[i], s.root.Content[i+1]
			for _, entry := range entriesOf(key, value) {
				name, here := key.Value+": "+entry.Value, fmt.Sprintf("%s:%d", s.name, entry.Line)
				if other := first[name]; other != "" {
					errs = append(errs, fmt.Errorf("%s: %s stands in %s already: put it into one of them", here, name, other))
				}
				first[name] = here
			}
		}
	}
	return errs
}

func entriesOf(key, value *yaml.Node) []*yaml.Node {
	if value.Kind != yaml.MappingNode {
		return []*yaml.Node{key}
	}
	var entries []*yaml.Node
	for i := 0; i < len(value.Content); i += 2 {
		entries = append(entries, value.Content[i])
	}
	return entries
}

// whereIs finds the file and line of a path of keys and list entries, or of as much of
// it as is anywhere.
func whereIs(sources []wordSource, path []string) (name string, line int) {
	deepest := -1
	for _, s := range sources {
		if depth, at := s.find(path); depth > deepest {
			deepest, name, line = depth, s.name, at
		}
	}
	return name, line
}

// find follows a path as far as it goes in this file: how many of its names are there,
// and the line of the last.
func (s wordSource) find(path []string) (depth, line int) {
	node, line := s.root, 1
	for depth, name := range path {
		i := slices.IndexFunc(node.Content, func(n *yaml.Node) bool { return n.Value == name && n.Kind == yaml.ScalarNode })
		if i < 0 {
			return depth, line
		}
		line = node.Content[i].Line
		if node.Kind == yaml.MappingNode && i+1 < len(node.Content) {
			node = node.Content[i+1]
		}
	}
	return len(path), line
}
