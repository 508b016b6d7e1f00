package ledger

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
)

// A Vote is what one person thought of one answer.
type Vote struct {
	Answer   string   // names the answer; kept as a hash
	Person   string   // names the person; kept as a hash
	Articles []string // the articles that the answer used, at most ten
	Helpful  bool
}

// Feedback is how many found answers that used an article helpful, and how many
// did not.
type Feedback struct {
	Article   string `json:"-"`
	Helpful   int    `json:"helpful"`
	Unhelpful int    `json:"unhelpful"`
}

// articlesMost is how many articles a vote may name.
const articlesMost = 10

// voteRow is how a vote stands in the ledger.
type voteRow struct {
	Articles []string `json:"articles"`
	Helpful  bool     `json:"helpful"`
}

// CountVote counts a vote for each of its articles. A person's later vote on the
// same answer takes the place of the earlier, for 30 days.
func (l *Ledger) CountVote(v Vote) error {
	articles := slices.Compact(slices.Sorted(slices.Values(v.Articles)))
	err := cmp.Or(checkName("a person", v.Person), checkName("an answer", v.Answer))
	if err == nil && len(articles) > articlesMost {
		err = fmt.Errorf("%d articles: at most %d are allowed", len(articles), articlesMost)
	}
	for _, id := range articles {
		err = cmp.Or(err, checkID("article", id))
	}
	if err == nil {
		key := l.hidden("person", v.Person) + l.hidden("answer", v.Answer)
		err = l.update(func(x turn) error { return l.countVote(x, key, voteRow{articles, v.Helpful}) })
	}
	return doing("count a vote", err)
}

func (l *Ledger) countVote(x turn, key string, v voteRow) error {
	var before voteRow
	if err := l.votes.load(x, key, &before); err != nil {
		return err
	}
	if err := l.addVote(x, before, -1); err != nil {
		return err
	}
	if err := l.addVote(x, v, 1); err != nil {
		return err
	}
	return l.votes.store(x, key, v)
}

// addVote counts a vote, or with -1 takes it back.
func (l *Ledger) addVote(x turn, v voteRow, n int) error {
	for _, id := range v.Articles {
		var f Feedback
		if err := l.feedback.load(x, id, &f); err != nil {
			return err
		}
		if v.Helpful {
			f.Helpful = max(0, f.Helpful+n)
		} else {
			f.Unhelpful = max(0, f.Unhelpful+n)
		}
		if err := l.feedback.store(x, id, f); err != nil {
			return err
		}
	}
	return nil
}

// Feedback returns what was counted, in order of article.
func (l *Ledger) Feedback() (list []Feedback, err error) {
	err = l.view(func(x turn) error {
		rows, err := l.feedback.live(x, "", "")
		for _, e := range rows {
			f := Feedback{Article: e.key}
			if err := json.Unmarshal(e.value, &f); err != nil {
				return err
			}
			list = append(list, f)
		}
		return err
	})
	return list, doing("read the feedback", err)
}
