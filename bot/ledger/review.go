package ledger

import (
	"cmp"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"time"
)

const (
	dayFormat   = "2006-01-02"
	nearestMost = 3  // articles counted for one question
	idsMost     = 40 // different articles counted for a reason in a day
)

// Declined counts the questions of one day that were declined for one reason.
// The questions themselves are not kept.
type Declined struct {
	Day     string // 2006-01-02, in the clock's time zone
	Reason  string
	Count   int
	Nearest []Tally // the articles that came nearest, the most frequent first
}

// A Tally is how often an article was counted.
type Tally struct {
	Article string
	Count   int
}

// declinedRow is how a Declined stands in the ledger.
type declinedRow struct {
	Count   int            `json:"count"`
	Nearest map[string]int `json:"nearest,omitempty"`
}

// CountDeclined counts a question that was declined today: for what reason, an
// id such as out-of-scope, and which articles came nearest, the nearest first.
// Three of them are counted.
func (l *Ledger) CountDeclined(reason string, nearest ...string) error {
	nearest = nearest[:min(len(nearest), nearestMost)]
	err := checkID("reason", reason)
	for _, id := range nearest {
		err = cmp.Or(err, checkID("article", id))
	}
	if err == nil {
		err = l.update(func(x turn) error { return l.countDeclined(x, reason, nearest) })
	}
	return doing("count a declined question", err)
}

func (l *Ledger) countDeclined(x turn, reason string, nearest []string) error {
	key := x.now.Format(dayFormat) + " " + reason
	var r declinedRow
	if err := l.declined.load(x, key, &r); err != nil {
		return err
	}
	r.Count++
	if r.Nearest == nil {
		r.Nearest = make(map[string]int)
	}
	for _, id := range nearest {
		if _, had := r.Nearest[id]; had || len(r.Nearest) < idsMost {
			r.Nearest[id]++
		}
	}
	return l.declined.store(x, key, r)
}

// Declined returns what was counted since a day, that day included, in order of
// day and reason.
func (l *Ledger) Declined(since time.Time) (list []Declined, err error) {
	err = l.view(func(x turn) error {
		rows, err := l.declined.live(x, since.Format(dayFormat), "")
		for _, e := range rows {
			var r declinedRow
			if err := json.Unmarshal(e.value, &r); err != nil {
				return err
			}
			day, reason, _ := strings.Cut(e.key, " ")
			list = append(list, Declined{day, reason, r.Count, tallies(r.Nearest)})
		}
		return err
	})
	return list, doing("read the review list", err)
}

// tallies orders counts, the greatest first.
func tallies(counts map[string]int) (list []Tally) {
	for _, id := range slices.Sorted(maps.Keys(counts)) {
		list = append(list, Tally{id, counts[id]})
	}
	slices.SortStableFunc(list, func(a, b Tally) int { return b.Count - a.Count })
	return list
}

// load reads a row of JSON; without such a row it leaves value as it is.
func (t table) load(x turn, key string, value any) error {
	e, err := t.get(x, key)
	if err != nil || e.value == nil {
		return err
	}
	return json.Unmarshal(e.value, value)
}

// store writes a row of JSON.
func (t table) store(x turn, key string, value any) error {
	raw, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return t.put(x, key, raw)
}
