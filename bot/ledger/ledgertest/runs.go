package ledgertest

import (
	"fmt"
	"strings"
	"time"

	"mortarboard/bot/ledger"
)

// runs keeps where runs stand, the last begun first, until they end or two days have
// passed without a step.
func runs(d *desk) {
	now := d.clock.Now()
	save := func(place string, done int, begun time.Time) {
		d.t.Helper()
		d.must(d.SaveRun(ledger.Run{Place: place, Title: "crown, molar: bonding", Done: done, Of: 20, Begun: begun}))
	}
	d.runs("")
	save("slack/T1/C1/1.1", 0, now)
	save("slack/T1/C2/2.2", 3, now.Add(time.Minute))
	save("slack/T1/C1/1.1", 1, now)
	d.reopen()
	d.runs("slack/T1/C2/2.2 3/20, slack/T1/C1/1.1 1/20")
	d.must(d.EndRun("slack/T1/C2/2.2"))
	d.must(d.EndRun("slack/T1/C2/2.2"))
	d.runs("slack/T1/C1/1.1 1/20")
	d.clock.Move(2*Day - time.Second)
	d.runs("slack/T1/C1/1.1 1/20")
	d.clock.Move(time.Second)
	d.runs("")
	for _, r := range []ledger.Run{{Begun: now}, {Place: "T"}, {Place: "T", Begun: now, Done: 2, Of: 1}, {Place: "T", Begun: now, Done: -1}, {Place: "T", Begun: now, Title: strings.Repeat("x", 201)}} {
		if d.SaveRun(r) == nil {
			d.t.Errorf("kept %+v", r)
		}
	}
}

func (d *desk) runs(want string) {
	d.t.Helper()
	list, err := d.Runs()
	d.must(err)
	var got []string
	for _, r := range list {
		got = append(got, fmt.Sprintf("%s %d/%d", r.Place, r.Done, r.Of))
	}
	if strings.Join(got, ", ") != want {
		d.t.Errorf("open runs\n got %s\nwant %s", strings.Join(got, ", "), want)
	}
}
