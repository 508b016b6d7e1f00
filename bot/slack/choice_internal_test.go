package slack

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// optionsOf are options that differ, with labels and messages of so many characters.
func optionsOf(n, label, says int) []talk.Option {
	list := make([]talk.Option, n)
	for i := range list {
		list[i] = talk.Option{Label: wide(i, label), Says: wide(i, says)}
	}
	return list
}

// wide is a number written in so many characters, in words of four.
func wide(i, n int) string {
	return strings.Repeat("abc ", n/4+1)[:max(n-4, 0)] + fmt.Sprintf("%04d", i)[4-min(n, 4):]
}

// An element is a button or list as the service gets it.
type element struct {
	Type, Value string
	ID          string `json:"action_id"`
	Text        words
	Options     []struct {
		Text, Description words
		Value             string
	}
}

// pressables are the buttons and lists of messages, in order.
func pressables(t *testing.T, messages []outgoing) []element {
	t.Helper()
	var all []element
	for _, m := range messages {
		for _, raw := range raws(t, m) {
			var row struct{ Elements []element }
			if headOf(raw).Type != "actions" || kindOf(raw) != "choice" {
				continue
			}
			if err := json.Unmarshal(raw, &row); err != nil {
				t.Fatal(err)
			}
			all = append(all, row.Elements...)
		}
	}
	return all
}

// offered is what a press can say, and how it is laid out: "5 buttons", "list of 6".
func offered(t *testing.T, messages []outgoing) (says []string, look string) {
	t.Helper()
	var parts []string
	buttons := 0
	for _, e := range pressables(t, messages) {
		if e.Type == "button" {
			says = append(says, e.Value)
			buttons++
			continue
		}
		parts = append(parts, fmt.Sprintf("list of %d", len(e.Options)))
		for _, o := range e.Options {
			says = append(says, o.Value)
		}
	}
	if buttons > 0 {
		parts = append(parts, fmt.Sprintf("%d buttons", buttons))
	}
	return says, strings.Join(parts, ", ")
}

// TestEveryAnswerIsOffered tries numbers and lengths at the edges of what the
// service takes: each answer can be pressed, once, in messages that it takes.
func TestEveryAnswerIsOffered(t *testing.T) {
	for _, c := range []struct {
		n, label, says int
		want           string
	}{
		{1, 9, 9, "1 buttons"},
		{5, 75, 2000, "5 buttons"},
		{5, 76, 150, "list of 5"}, // a button would cut the label
		{5, 76, 151, "5 buttons"}, // a list does not take the message
		{6, 75, 150, "list of 6"},
		{6, 75, 151, "6 buttons"},
		{26, 4, 151, "26 buttons"},
		{32, 40, 60, "list of 32"},
		{100, 4, 4, "list of 100"},
		{101, 4, 4, "list of 100, list of 1"},
		{100, 75, 150, "list of 29, list of 29, list of 29, list of 13"},
	} {
		reply := plan()
		reply.Choices = []talk.Choice{{Fact: "f", Ask: "Which?", Options: optionsOf(c.n, c.label, c.says)}}
		for _, messages := range [][]outgoing{lay(reply).messages, laySplit(reply, "c1.1").messages} {
			check(t, messages)
			says, look := offered(t, messages)
			if look != c.want {
				t.Errorf("%d of %d and %d characters: %s, want %s", c.n, c.label, c.says, look, c.want)
			}
			allOnce(t, says, reply.Choices[0].Options)
		}
	}
}

func allOnce(t *testing.T, says []string, options []talk.Option) {
	t.Helper()
	met := map[string]int{}
	for _, s := range says {
		met[s]++
	}
	for _, o := range options {
		if met[o.Says] != 1 {
			t.Fatalf("%q is offered %d times among %d", o.Says, met[o.Says], len(says))
		}
	}
}

// TestALongLabelIsReadWhole wants what does not fit on a list entry's first line
// on its second.
func TestALongLabelIsReadWhole(t *testing.T) {
	for _, n := range []int{75, 76, 140, 150} {
		o := talk.Option{Label: wide(7, n), Says: "x"}
		l := pressables(t, lay(talk.Reply{Headline: "h", Choices: []talk.Choice{{Ask: "?", Options: []talk.Option{o, {Label: wide(8, 80), Says: "y"}}}}}).messages)
		first := l[0].Options[0]
		if got := strings.TrimSpace(first.Text.Text + " " + first.Description.Text); got != o.Label {
			t.Errorf("%d characters are shown as %q", n, got)
		}
	}
}

// TestWhatCannotBeOfferedIsSaid gives more answers, and longer ones, than even
// several messages hold: their number is told.
func TestWhatCannotBeOfferedIsSaid(t *testing.T) {
	more := regexp.MustCompile(`(\d+) more answers do not fit`)
	for name, options := range map[string][]talk.Option{
		"many": optionsOf(400, 75, 150),
		"long": append(optionsOf(3, 9, 9), talk.Option{Label: "x", Says: wide(1, 2001)}, talk.Option{Label: "y", Says: strings.Repeat("<", 2000)}),
	} {
		reply := talk.Reply{Headline: "h", Text: "h", Caution: "c", Choices: []talk.Choice{{Ask: "?", Options: options}, {Ask: "Next?", Options: optionsOf(2, 4, 4)}}}
		messages := lay(reply).messages
		check(t, messages)
		said := more.FindStringSubmatch(shown(t, messages))
		if said == nil {
			t.Errorf("%s: what is left out is not said", name)
			continue
		}
		left, _ := strconv.Atoi(said[1])
		asked := len(options)
		if name == "long" {
			asked += 2 // the next question has room
		}
		if says, _ := offered(t, messages); len(says)+left != asked {
			t.Errorf("%s: %d offered and %d left of %d", name, len(says), left, asked)
		}
	}
}

// TestManyQuestionsStandInMessagesOfTheirOwn wants a question with many answers
// to push nothing out of the answer, and its buttons to count from its first message on.
func TestManyQuestionsStandInMessagesOfTheirOwn(t *testing.T) {
	reply := plan()
	reply.Choices = []talk.Choice{{Ask: "Which?", Options: optionsOf(100, 75, 150)}}
	l := lay(reply)
	if l.rest != "" || l.messages[0].live || !l.messages[1].live || l.messages[2].live {
		t.Errorf("%d messages, rest of %d", len(l.messages), len(l.rest))
	}
	if text := string(mustJSON(t, l.messages[0].blocks)); !strings.Contains(text, "More: Steps") {
		t.Errorf("the answer lost a part: %s", text)
	}
	after := chosen(raws(t, l.messages[1]), "choice/0/", "this one")
	if text := string(mustJSON(t, after)); strings.Contains(text, `"say/`) || !strings.Contains(text, "Which?") || !strings.Contains(text, "this one") {
		t.Errorf("after a press: %s", text)
	}
	if err := standin.CheckMessage("x", mustJSON(t, after)); err != nil {
		t.Error(err)
	}
}

func TestFormFieldsAtTheirEdges(t *testing.T) {
	for _, c := range []struct {
		n, says int
		want    string
	}{{100, 150, "static_select"}, {101, 150, "plain_text_input"}, {100, 151, "plain_text_input"}, {0, 0, "plain_text_input"}} {
		form := Form{Title: strings.Repeat("t", 30), Fields: []Field{{Fact: strings.Repeat("f", 200), Label: wide(1, 2100), Hint: wide(1, 2100), Options: optionsOf(c.n, 160, c.says)}}}
		v, err := formView(form, map[string]string{form.Fields[0].Fact: wide(99, 150)}, "{}")
		if err != nil {
			t.Fatal(err)
		}
		raw := string(mustJSON(t, v))
		if err := standin.CheckView(json.RawMessage(raw)); err != nil || !strings.Contains(raw, `"type":"`+c.want+`"`) {
			t.Errorf("%d options that say %d characters: %v in %.300s", c.n, c.says, err, raw)
		}
	}
}
