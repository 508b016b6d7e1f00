package talk

import (
	"os"
	"strings"
	"testing"
)

// TestDangers holds that no number is called in order where the sentence around it,
// or the thread, is not; and that the same number alone still is.
func TestDangers(t *testing.T) {
	data, err := os.ReadFile("../../testdata/questions/dangers.tsv")
	if err != nil {
		t.Fatal(err)
	}
	bot := testTalk(t)
	for n, line := range strings.Split(string(data), "\n") {
		cells := strings.Split(line, "\t")
		if len(cells) != 3 || cells[0] == "message" {
			continue
		}
		var r Reply
		for _, text := range strings.Split(cells[0], " // ") {
			r = saidIn(t, bot, "danger"+line, text)
		}
		led := len(r.Headline) > 0 && beginsWithDanger(bot, r.Headline)
		if r.Verdict != cells[1] || cells[2] == "-" && led || cells[2] != "-" && !strings.HasPrefix(r.Headline, cells[2]) {
			t.Errorf("dangers.tsv:%d: %q: %s %q, wanted %s %q", n+1, cells[0], r.Verdict, r.Headline, cells[1], cells[2])
		}
	}
}

func beginsWithDanger(bot *Talk, headline string) bool {
	for _, d := range bot.words.dangers {
		if strings.HasPrefix(headline, d.Say) {
			return true
		}
	}
	return false
}

// TestDangersAreChecked breaks a danger and wants it refused.
func TestDangersAreChecked(t *testing.T) {
	oneByOne(t)
	words := testTalk(t).words.words
	for says, d := range map[string]danger{
		"write what to answer":     {Basis: "common practice", Verdict: "outside", When: [][][]string{{{"x"}}}},
		"basis":                    {Say: "x", Basis: "published", Verdict: "outside", When: [][][]string{{{"x"}}}},
		"verdict":                  {Say: "x", Basis: "common practice", Verdict: "within", When: [][][]string{{{"x"}}}},
		"no family":                {Say: "x", Basis: "common practice", Verdict: "outside", When: [][][]string{{{"<nobody>"}}}},
		"no parameter has a key":   {Say: "x", Basis: "common practice", Verdict: "outside", When: [][][]string{{{"x"}}}, Of: []string{"nothing"}},
		"no parameter has the key": {Say: "x", Basis: "common practice", Verdict: "outside", When: [][][]string{{{"x"}}}, Shows: "nothing"},
		"intaglio has no value":    {Say: "x", Basis: "common practice", Verdict: "outside", Case: map[string][]string{"intaglio": {"mud"}}},
	} {
		broken := words
		broken.Dangers = []danger{d}
		if err := checkWords(&broken, testTalk(t).book, nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: told %v", says, err)
		}
	}
}
