package kb

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// A Level says how much a Problem weighs.
type Level int

// The levels of a problem.
const (
	Must Level = iota // has to be mended
	Look              // a guess by rule of thumb: somebody should look
)

// String names the level as reports print it.
func (l Level) String() string {
	if l == Look {
		return "look"
	}
	return "must"
}

// A Problem is one fault in an article: where it is, what it is, and the mend.
type Problem struct {
	File  string
	Line  int
	Level Level
	What  string
	Mend  string
}

// String writes the problem as "file:line: what; mend".
func (p Problem) String() string {
	return fmt.Sprintf("%s:%d: %s; %s", p.File, p.Line, p.What, p.Mend)
}

// Error makes a Problem usable as an error.
func (p Problem) Error() string { return p.String() }

// joinProblems returns all problems as one error, nil for none.
func joinProblems(problems []Problem) error {
	errs := make([]error, len(problems))
	for i, p := range problems {
		errs[i] = p
	}
	return errors.Join(errs...)
}

// sortProblems orders by file, line and text, so that reports never differ.
func sortProblems(problems []Problem) {
	slices.SortStableFunc(problems, func(a, b Problem) int {
		return cmp.Or(strings.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), strings.Compare(a.What, b.What))
	})
}

// A page collects the problems of one file while it is read.
type page struct {
	file     string
	problems []Problem
}

func (p *page) add(line int, mend, format string, args ...any) {
	p.problems = append(p.problems, Problem{
		File: p.file, Line: line, What: fmt.Sprintf(format, args...), Mend: mend,
	})
}
