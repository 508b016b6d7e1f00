package ledgertest

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"mortarboard/bot/ledger"
)

func (d *desk) declined(since time.Time, want string) {
	d.t.Helper()
	list, err := d.Declined(since)
	d.must(err)
	if got := fmt.Sprint(list); got != want {
		d.t.Errorf("declined\n got %s\nwant %s", got, want)
	}
}

func declined(d *desk) {
	first := d.clock.Now()
	d.declined(time.Time{}, "[]")
	d.must(d.CountDeclined("out-of-scope", "bond-5y", "cement-3y"))
	d.must(d.CountDeclined("out-of-scope", "cement-3y", "light", "abrasion", "a-fourth"))
	d.must(d.CountDeclined("no-article"))
	d.clock.Move(Day)
	d.must(d.CountDeclined("out-of-scope", "light"))
	d.reopen()
	const today = "{2031-04-03 out-of-scope 1 [{light 1}]}"
	d.declined(first, "[{2031-04-02 no-article 1 []} {2031-04-02 out-of-scope 2 "+
		"[{cement-3y 2} {abrasion 1} {bond-5y 1} {light 1}]} "+today+"]")
	d.declined(first.Add(Day), "["+today+"]")
	d.declined(first.Add(2*Day), "[]")
	d.clock.Move(399 * Day)
	d.declined(first, "["+today+"]")
	d.clock.Move(Day)
	d.declined(first, "[]")
}

func declinedBounded(d *desk) {
	for i := range 50 {
		d.must(d.CountDeclined("no-article", fmt.Sprintf("a%02d", i)))
	}
	d.must(d.CountDeclined("no-article", "a00"))
	list, err := d.Declined(time.Time{})
	d.must(err)
	if len(list) != 1 || list[0].Count != 51 || len(list[0].Nearest) != 40 || list[0].Nearest[0] != (ledger.Tally{Article: "a00", Count: 2}) {
		d.t.Errorf("got %v", list)
	}
}

func declinedRefuses(d *desk) {
	d.refused(d.CountDeclined("how do I bond"), "ledger: count a declined question: reason holds the byte ' ': allowed are a to z, 0 to 9 and - . _ /")
	d.refused(d.CountDeclined(""), "ledger: count a declined question: reason of 0 bytes: 1 to 80 are allowed")
	d.refused(d.CountDeclined("other", "Crown"), "ledger: count a declined question: article holds the byte 'C': allowed are a to z, 0 to 9 and - . _ /")
	d.refused(d.CountDeclined("other", "fine", strings.Repeat("x", 81)), "ledger: count a declined question: article of 81 bytes: 1 to 80 are allowed")
	d.declined(time.Time{}, "[]")
}

func (d *desk) votes(want string) {
	d.t.Helper()
	list, err := d.Feedback()
	d.must(err)
	if got := fmt.Sprint(list); got != want {
		d.t.Errorf("feedback\n got %s\nwant %s", got, want)
	}
}

func feedback(d *desk) {
	vote := func(answer, person string, helpful bool, articles ...string) {
		d.t.Helper()
		d.must(d.CountVote(ledger.Vote{Answer: answer, Person: person, Articles: articles, Helpful: helpful}))
	}
	d.votes("[]")
	vote("A1", "U1", true, "bond", "abrasion", "bond")
	d.votes("[{abrasion 1 0} {bond 1 0}]")
	vote("A1", "U1", true, "bond", "abrasion")
	d.votes("[{abrasion 1 0} {bond 1 0}]")
	vote("A1", "U2", false, "bond", "abrasion")
	vote("A2", "U1", false, "bond")
	d.votes("[{abrasion 1 1} {bond 1 2}]")
	vote("A1", "U1", false, "bond", "abrasion")
	d.reopen()
	d.votes("[{abrasion 0 2} {bond 0 3}]")
	vote("A2", "U1", true, "bond")
	d.votes("[{abrasion 0 2} {bond 1 2}]")
	d.clock.Move(1000 * Day)
	d.votes("[{abrasion 0 2} {bond 1 2}]")
	vote("A2", "U1", true, "bond") // so long after, a new vote
	d.votes("[{abrasion 0 2} {bond 2 2}]")
}

func feedbackRefuses(d *desk) {
	good := ledger.Vote{Answer: "A", Person: "U", Articles: []string{"bond"}}
	for want, spoil := range map[string]func(*ledger.Vote){
		"the name of a person is empty":                                      func(v *ledger.Vote) { v.Person = "" },
		"the name of an answer is empty":                                     func(v *ledger.Vote) { v.Answer = "" },
		"article holds the byte ' ': allowed are a to z, 0 to 9 and - . _ /": func(v *ledger.Vote) { v.Articles = []string{"bond", "it was wrong"} },
		"11 articles: at most 10 are allowed":                                func(v *ledger.Vote) { v.Articles = strings.Split("a b c d e f g h i j k", " ") },
	} {
		bad := good
		spoil(&bad)
		d.refused(d.CountVote(bad), "ledger: count a vote: "+want)
	}
	d.votes("[]")
}

func (d *desk) cards(person, want string) {
	d.t.Helper()
	list, err := d.Cards(person)
	d.must(err)
	var got []string
	for _, c := range list {
		got = append(got, fmt.Sprintf("%s:%d:%s", c.Item, c.Box, c.Due.UTC().Format("0102T15")))
	}
	if strings.Join(got, " ") != want {
		d.t.Errorf("cards of %s\n got %s\nwant %s", person, strings.Join(got, " "), want)
	}
}

func (d *desk) card(person, item string, box int, due time.Time) {
	d.t.Helper()
	d.must(d.SaveCard(person, ledger.Card{Item: item, Box: box, Due: due}))
}

func learning(d *desk) {
	now := d.clock.Now()
	d.cards("U1", "")
	d.card("U1", "late", 1, now.Add(3*Day))
	d.card("U1", "soon/2", 2, now)
	d.card("U1", "soon/1", 0, now.In(time.FixedZone("elsewhere", 3600)))
	d.card("U2", "late", 7, now.Add(Day))
	d.reopen()
	d.cards("U1", "soon/1:0:0402T12 soon/2:2:0402T12 late:1:0405T12")
	d.cards("U2", "late:7:0403T12")
	d.card("U1", "soon/2", 3, now.Add(9*Day))
	d.cards("U1", "soon/1:0:0402T12 late:1:0405T12 soon/2:3:0411T12")
	d.clock.Move(399 * Day)
	d.card("U1", "late", 2, now)
	d.clock.Move(Day)
	d.cards("U1", "late:2:0402T12")
}

func missed(d *desk) {
	now := d.clock.Now()
	for i, who := range []string{"U1", "U2", "U3", "U4"} {
		d.card(who, "hard", 0, now)
		d.card(who, "easy", 1, now)
		d.card(who, "half", i/2, now) // two of them
		d.card(who, "hm", min(1, i/3), now)
	}
	d.reopen()
	d.missed("[{hard 4} {hm 3}]")
	d.must(d.ForgetCards("U1"))
	d.card("U2", "hm", 4, now)
	d.missed("[{hard 3}]")
	d.clock.Move(400 * Day)
	d.missed("[]")
}

func (d *desk) missed(want string) {
	d.t.Helper()
	list, err := d.Missed()
	d.must(err)
	if got := fmt.Sprint(list); got != want {
		d.t.Errorf("missed cards\n got %s\nwant %s", got, want)
	}
}

func learningRefuses(d *desk) {
	now := d.clock.Now()
	good := ledger.Card{Item: "i", Due: now}
	d.refused(d.SaveCard("", good), "ledger: save a card: the name of a person is empty")
	d.refused(d.SaveCard("U", ledger.Card{Due: now}), "ledger: save a card: item of 0 bytes: 1 to 80 are allowed")
	d.refused(d.SaveCard("U", ledger.Card{Item: "i", Box: 101, Due: now}),
		"ledger: save a card: box 101, due 2031-04-02 12:00:00 +0000 UTC: boxes are 0 to 100, and a time must be given")
	for _, c := range []ledger.Card{{Item: "i", Box: -1, Due: now}, {Item: "i"}} {
		if d.SaveCard("U", c) == nil {
			d.t.Errorf("%v was taken", c)
		}
	}
	d.cards("U", "")
}

func forget(d *desk) {
	now := d.clock.Now()
	for _, who := range []string{"U1", "U2"} {
		d.card(who, "one", 1, now)
		d.card(who, "two", 1, now)
		d.must(d.CountVote(ledger.Vote{Answer: "A", Person: who, Articles: []string{"bond"}}))
	}
	d.must(d.ForgetCards("nobody"))
	d.must(d.ForgetCards("U1"))
	d.cards("U1", "")
	d.wantRows("vote", 2)
	d.wantRows("learning", 2)
	d.card("U1", "one", 1, now)
	d.must(d.Forget("U1"))
	d.must(d.Forget("nobody"))
	d.cards("U1", "")
	d.cards("U2", "one:1:0402T12 two:1:0402T12")
	d.votes("[{bond 0 2}]")
	d.wantRows("vote", 1)
	d.wantRows("learning", 2)
}

func (d *desk) wantRows(table string, want int) {
	d.t.Helper()
	rows, err := d.Rows()
	d.must(err)
	if rows[table] != want {
		d.t.Errorf("table %s has %d rows, want %d", table, rows[table], want)
	}
}

// full fills the smallest table, ten articles a vote, and one vote more.
func full(d *desk) {
	const most = 5000
	for i := 0; i <= most; i += 10 {
		v := ledger.Vote{Answer: fmt.Sprint(i), Person: "U", Helpful: true}
		for n := range 10 {
			v.Articles = append(v.Articles, fmt.Sprintf("a%04d", i+n))
		}
		d.must(d.CountVote(v))
		d.clock.Move(time.Second)
	}
	list, err := d.Feedback()
	d.must(err)
	d.wantRows("feedback", most)
	if len(list) != most || list[0].Article != "a0010" || list[most-1].Article != "a5009" {
		d.t.Errorf("%d articles from %v", len(list), slices.MinFunc(list, func(a, b ledger.Feedback) int { return strings.Compare(a.Article, b.Article) }))
	}
}
