package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
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
	must := 0
	for _, p := range problems {
		if p.Level == kb.Must {
			must++
		}
		fmt.Fprintln(s.out, p)
	}
	fmt.Fprintf(s.out, "articles: %d, to mend %d, to look at %d\n", len(h.articles.Base().All()), must, len(problems)-must)
	if must+len(report.Findings) > 0 {
		return errors.New("the audit found something to mend, see above")
	}
	return nil
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
