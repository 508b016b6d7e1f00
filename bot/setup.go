package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"time"

	"mortarboard/bot/talk"
	"mortarboard/kb"
	"mortarboard/planner"
)

// options are the flags that several commands share.
type options struct {
	practice string
	log      *slog.Logger // hears what goes wrong in the practice's folder while the program runs; nil: nobody does
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
	library := kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now, Every: 2 * time.Second, Tell: o.tell}
	if o.practice != "" {
		if h.rules, err = withPractice(h.rules, o.practice); err != nil {
			return h, usage{fmt.Errorf("practice folder %s: %w", o.practice, err)}
		}
		if library.Practice, err = ownArticles(o.practice); err != nil {
			return h, usage{fmt.Errorf("practice folder %s: %w", o.practice, err)}
		}
	}
	if h.articles, err = kb.NewLibrary(library); err != nil {
		return h, err
	}
	if wrong := problems(h.articles.Problems()); wrong != nil {
		return h, usage{fmt.Errorf("practice folder %s: %w", o.practice, wrong)}
	}
	return h, nil
}

// problems is all that is wrong as one error; nil if nothing is.
func problems(found []kb.Problem) error {
	var all []error
	for _, p := range found {
		all = append(all, p)
	}
	return errors.Join(all...)
}

// tell logs what a look at the practice's own articles found wrong, or that it is
// mended.
func (o options) tell(found []kb.Problem, err error) {
	if o.log == nil {
		return
	}
	for _, p := range found {
		o.log.Warn("an article of the practice has a fault; what was good of it keeps serving", "fault", p.String())
	}
	switch {
	case err != nil:
		o.log.Error("the articles could not be put up; the ones before keep serving", "error", err)
	case len(found) == 0:
		o.log.Info("the practice's articles are without a fault again")
	}
}

func withPractice(rules *planner.Rulebook, dir string) (*planner.Rulebook, error) {
	p, err := planner.LoadPractice(os.DirFS(dir))
	if err != nil {
		return nil, err
	}
	return rules.With(p)
}

// ownArticles is the practice's folder of articles, or nothing if it has none.
func ownArticles(dir string) (fs.FS, error) {
	folder := filepath.Join(dir, "articles")
	info, err := os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("the articles cannot be read: %w; let the program read the folder", err)
	case !info.IsDir():
		return nil, fmt.Errorf("%s is a file: make it a folder with an article in each file", folder)
	}
	return kb.Named(folder, os.DirFS(folder)), nil
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
