package talk

import (
	"slices"
	"strings"
	"testing"
)

// TestLessons tells messages about the cards from questions that hold their words.
func TestLessons(t *testing.T) {
	bot := openSchool(t)
	for message, want := range map[string]string{
		"quiz me":                                 "card",
		"Quiz me, please!":                        "card",
		"teach me":                                "card",
		"next card":                               "card",
		"another card please":                     "card",
		"card for the front desk":                 "card front desk",
		"cards for the lab runner":                "card laboratory runner",
		"a card for everyone":                     "card",
		"I'm the new hygienist, quiz me":          "card hygienist own",
		"i am an assistant and i want to learn":   "card assistant own",
		"my learning":                             "score",
		"show me my learning":                     "score",
		"forget my learning":                      "forget",
		"please delete my cards":                  "forget",
		"card pressure-5y: 1 bar":                 "answer 1 bar",
		"Card Pressure-5Y: 1 BAR":                 "answer 1 bar",
		"card pressure-5y: no idea":               "answer",
		"card retentive-3y: cement":               "answer cement",
		"card retentive-3y: b":                    "answer cement",
		"card no-such-card: b":                    "",
		"teach me about MDP":                      "",
		"teach me how to bond a 5Y crown":         "",
		"next":                                    "",
		"next step":                               "",
		"card":                                    "",
		"cards":                                   "",
		"my":                                      "",
		"learning":                                "",
		"please":                                  "",
		"quiz me on abrasion":                     "",
		"test me a sample, is 60 psi ok":          "",
		"I'm the new hygienist":                   "",
		"im new, what do I set out for bonding":   "",
		"forget my last case":                     "",
		"forget that":                             "",
		"retraction cord for the front tooth":     "",
		"cord for the front desk":                 "",
		"business card for the lab":               "",
		"what does the lab need to know":          "",
		"front desk":                              "",
		"b":                                       "",
		"bond":                                    "",
		"new case":                                "",
		"the crown came off, teach me what to do": "",
		"is a hygienist allowed to polish":        "",
		"give me a card about eugenol":            "",
	} {
		l, ok := bot.lesson(Message{Text: message}, Remembered{})
		got := ""
		if ok {
			got = map[wish]string{wantsCard: "card", wantsMarking: "answer", wantsScore: "score", wantsForgetting: "forget"}[l.wants]
			got = strings.Join(slices.DeleteFunc([]string{got, l.role, l.answer, map[bool]string{true: "own"}[l.says]}, func(s string) bool { return s == "" }), " ")
		}
		if got != want {
			t.Errorf("%q is taken as %q, wanted %q", message, got, want)
		}
	}
}

// TestAsksAreNoLessons holds that nothing that entries and phrases are asked by is
// taken for a message about the cards.
func TestAsksAreNoLessons(t *testing.T) {
	bot := openSchool(t)
	var asks []string
	for _, a := range bot.articles.Base().All() {
		asks = append(append(asks, a.Title), a.Asks...)
	}
	for _, p := range readPhrasings(t) {
		asks = append(asks, p.message)
	}
	if len(asks) < 3000 {
		t.Errorf("only %d asks were found", len(asks))
	}
	for _, ask := range asks {
		if _, ok := bot.lesson(Message{Text: ask}, Remembered{}); ok {
			t.Errorf("%q is taken for a message about the cards", ask)
		}
	}
}

// TestOpenCard takes a bare answer only right behind the card that it answers.
func TestOpenCard(t *testing.T) {
	bot := openSchool(t)
	open := Remembered{Dealt: Dealt{Card: "retentive-3y", Open: true}}
	shut := Remembered{Dealt: open.Dealt.closed()}
	for _, said := range []string{"b", "B)", "cement", "Cement it conventionally.", "bond it"} {
		if l, ok := bot.lesson(Message{Text: said}, open); !ok || l.answer == "" {
			t.Errorf("%q is not taken as an answer", said)
		}
		if _, ok := bot.lesson(Message{Text: said}, shut); ok {
			t.Errorf("%q is taken as an answer, and something else was said in between", said)
		}
	}
	for _, said := range []string{"f", "bond or cement, translucent, margin in dentin", "and if it is wet?", "pressure for 5Y?"} {
		if _, ok := bot.lesson(Message{Text: said}, open); ok {
			t.Errorf("%q is taken as an answer", said)
		}
	}
}
