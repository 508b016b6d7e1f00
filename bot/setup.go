package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"time"

	"mortarboard/bot/talk"
	"mortarboard/kb"
	"mortarboard/planner"
)

// options are the flags that several commands share.
type options struct {
	practice string
}

// flags makes a flag set that reports errors instead of printing them.
func flags(name string, o *options) *flag.FlagSet {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(io.Discard)
	set.StringVar(&o.practice, "practice", "", "folder of the practice: shelf, house rules and own articles")
	return set
}

// parse reads flags; a wrong one, or -h, is a usage error that lists them.
func parse(set *flag.FlagSet, args []string) error {
	err := set.Parse(args)
	if err == nil {
		return nil
	}
	var list []string
	set.VisitAll(func(f *flag.Flag) { list = append(list, "-"+f.Name+": "+f.Usage) })
	what := err.Error()
	if errors.Is(err, flag.ErrHelp) {
		what = set.Name()
	}
	return usage{fmt.Errorf("%s; the flags are %s", what, strings.Join(list, "; "))}
}

// unexpected is the error for words that no flag takes.
func unexpected(set *flag.FlagSet) error {
	return usage{fmt.Errorf("%s takes no %q: put its flag before it, for example -practice %s", set.Name(), set.Arg(0), set.Arg(0))}
}

// house is the rules and articles, with those of a practice if there is one.
type house struct {
	rules    *planner.Rulebook
	articles *kb.Library
}

// open reads the built-in rules and articles and those of the practice folder.
func open(o options) (house, error) {
	var h house
	var err error
	if h.rules, err = planner.Load(planner.Rules()); err != nil {
		return h, err
	}
	library := kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now, Every: 2 * time.Second}
	if o.practice != "" {
		if h.rules, err = withPractice(h.rules, o.practice); err != nil {
			return h, usage{fmt.Errorf("practice folder %s: %w", o.practice, err)}
		}
		library.Practice = ownArticles(o.practice)
	}
	h.articles, err = kb.NewLibrary(library)
	if err == nil && len(h.articles.Problems()) > 0 {
		err = usage{fmt.Errorf("practice folder %s: %w", o.practice, h.articles.Problems()[0])}
	}
	return h, err
}

func withPractice(rules *planner.Rulebook, dir string) (*planner.Rulebook, error) {
	p, err := planner.LoadPractice(os.DirFS(dir))
	if err != nil {
		return nil, err
	}
	return rules.With(p)
}

// ownArticles is the practice's folder of articles, or nothing if it has none.
func ownArticles(dir string) fs.FS {
	folder := dir + "/articles"
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return nil
	}
	return kb.Named(folder, os.DirFS(folder))
}

// conversation makes the talk that every surface shares, over the house's rules
// and articles.
func (h house) conversation(o talk.Options) (*talk.Talk, error) {
	o.Rules, o.Articles = h.rules, h.articles
	return talk.New(o)
}

// oneLine joins the lines of an error, for a reader who wants one.
func oneLine(err error) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(err.Error(), "\n", " · ")), " ")
}
