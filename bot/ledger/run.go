package ledger

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// runTitleMost is the most bytes of a run's title.
const runTitleMost = 200

// A Run is a plan that is being worked through, as the home tab lists it.
type Run struct {
	Place string    `json:"place"` // the thread, as its surface names it, so that the surface can lead there
	Title string    `json:"title"` // what is being seated, in terms of the rules and nobody's words
	Done  int       `json:"done"`  // steps behind it
	Of    int       `json:"of"`    // steps in all
	Begun time.Time `json:"begun"`
}

// SaveRun keeps where a run stands, in place of what was kept for its thread.
func (l *Ledger) SaveRun(r Run) error {
	err := checkName("a thread", r.Place)
	if err == nil && (len(r.Title) > runTitleMost || r.Done < 0 || r.Of < r.Done || r.Begun.IsZero()) {
		err = fmt.Errorf("a title of %d bytes, step %d of %d, begun %v: at most %d bytes, steps from 0 up, and a time are wanted",
			len(r.Title), r.Done, r.Of, r.Begun, runTitleMost)
	}
	if err == nil {
		err = l.update(func(x turn) error { return l.runs.store(x, l.hidden("thread", r.Place), r) })
	}
	return doing("save a run", err)
}

// EndRun forgets the run of a thread.
func (l *Ledger) EndRun(place string) error {
	key := l.hidden("thread", place)
	return doing("end a run", l.update(func(x turn) error { return l.runs.remove(x, key) }))
}

// Runs returns the open runs, the one that began last first.
func (l *Ledger) Runs() (runs []Run, err error) {
	err = l.view(func(x turn) error {
		rows, err := l.runs.live(x, "", "")
		for _, e := range rows {
			var r Run
			if err := json.Unmarshal(e.value, &r); err != nil {
				return err
			}
			runs = append(runs, r)
		}
		return err
	})
	slices.SortFunc(runs, func(a, b Run) int { return cmp.Or(b.Begun.Compare(a.Begun), cmp.Compare(a.Place, b.Place)) })
	return runs, doing("read the runs", err)
}
