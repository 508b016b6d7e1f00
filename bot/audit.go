package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"mortarboard/bot/talk"
	"mortarboard/kb"
	"mortarboard/planner"
)

// audit proves the rules over their whole domain and lints the articles.
func audit(_ context.Context, args []string, s surroundings) error {
	var o options
	set := flags("audit", &o)
	if err := parse(set, args); err != nil {
		return err
	}
	if set.NArg() > 0 {
		return unexpected(set)
	}
	h, err := open(o)
	if err != nil {
		return err
	}
	report := h.rules.Audit()
	writeReport(s, report)
	problems := h.articles.Base().Check(time.Now(), talk.References(h.rules))
	problems = append(problems, overstated(h.articles.Base().All(), h.rules)...)
	must := 0
	for _, p := range problems {
		if p.Level == kb.Must {
			must++
		}
		fmt.Fprintln(s.out, p)
	}
	fmt.Fprintf(s.out, "articles: %d, to mend %d, to look at %d\n", len(h.articles.Base().All()), must, len(problems)-must)
	if err := auditCards(h, s); err != nil {
		return err
	}
	if must+len(report.Findings) > 0 {
		return errors.New("the audit found something to mend, see above")
	}
	return nil
}

// overstated lists the references of articles whose setting rests on less than
// the tag that covers them claims.
func overstated(articles []*kb.Article, rules *planner.Rulebook) []kb.Problem {
	var problems []kb.Problem
	for _, a := range articles {
		for _, s := range a.Sections {
			for _, b := range s.Blocks {
				problems = append(problems, overstatedIn(a.File, b, rules)...)
			}
		}
	}
	return problems
}

// overstatedIn looks at one block. A tag covers what stands before it, back to
// the tag before; of tags that stand together the weakest counts.
func overstatedIn(file string, b kb.Block, rules *planner.Rulebook) []kb.Problem {
	var problems []kb.Problem
	var refs []kb.Part
	weakest := kb.Basis("")
	settle := func() {
		for _, ref := range refs {
			if weakest == "" || weakest == kb.HouseRule {
				break // the checker of the articles misses a tag; a house rule is the practice's own
			}
			if rests := restsOn(rules, ref.Ref); weight(string(weakest)) > weight(rests) {
				problems = append(problems, kb.Problem{File: file, Line: ref.Line, Level: kb.Look,
					What: fmt.Sprintf("%s rests on %q and is tagged %q", ref.Ref.Written, rests, weakest),
					Mend: fmt.Sprintf("add [%s], and keep the tag for what the text says beside the number", rests)})
			}
		}
		refs, weakest = nil, ""
	}
	for _, part := range b.Parts {
		switch {
		case part.Tag != nil:
			if weakest == "" || weight(string(part.Tag.Basis)) < weight(string(weakest)) {
				weakest = part.Tag.Basis
			}
		case weakest != "" && (part.Ref != nil || strings.Trim(part.Text, " .;") != ""):
			settle()
		}
		if part.Ref != nil {
			refs = append(refs, part)
		}
	}
	settle()
	return problems
}

// restsOn is the weakest basis of the settings that a reference stands for.
func restsOn(rules *planner.Rulebook, ref *kb.Reference) string {
	c := rules.NewCase()
	for fact, value := range ref.Conditions {
		next, err := c.With(fact, value)
		if err != nil {
			return "" // the checker of the articles says so
		}
		c = next
	}
	rests := ""
	for _, p := range rules.Settings(rules.Usual(c), ref.Key) {
		if rests == "" || weight(string(p.Basis)) < weight(rests) {
			rests = string(p.Basis)
		}
	}
	return rests
}

// weight orders the bases by how much they claim. What is computed claims
// nothing for the numbers that went in, and a house rule is the practice's own.
func weight(basis string) int {
	switch basis {
	case string(planner.Published):
		return 3
	case string(planner.Inferred), string(planner.CommonPractice):
		return 2
	case string(planner.FromMemory):
		return 1
	case string(planner.Computed):
		return 0
	}
	return 4 // the practice's own, or nothing known
}

func writeReport(s surroundings, r *planner.Report) {
	for _, f := range r.Findings {
		fmt.Fprintln(s.out, f)
	}
	fmt.Fprintf(s.out, "domain: %s cases over every fact that a rule reads\n", r.Cases)
	var verdicts []planner.Verdict
	for v := range r.Verdicts {
		verdicts = append(verdicts, v)
	}
	slices.SortFunc(verdicts, func(a, b planner.Verdict) int {
		return cmp.Or(cmp.Compare(r.Verdicts[b], r.Verdicts[a]), cmp.Compare(a.Strategy, b.Strategy), cmp.Compare(a.Leaning, b.Leaning))
	})
	for _, v := range verdicts {
		fmt.Fprintf(s.out, "verdict %s %s: %d\n", v.Strategy, v.Leaning, r.Verdicts[v])
	}
	fmt.Fprintf(s.out, "excluded: %d; kinds of case the arguments tell apart: %d\n", r.Excluded, r.Classes)
	fmt.Fprintf(s.out, "safety statements proved: %d; rows checked: %d; findings: %d\n", r.Statements, r.Rows, len(r.Findings))
}
