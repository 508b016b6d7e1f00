package slack_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// caseForm asks for the margin, and for its level only where that matters.
func caseForm(_ context.Context, filled map[string]string) (slack.Form, error) {
	f := slack.Form{Title: "Describe a case", Fields: []slack.Field{
		{Fact: "margin", Label: "Margin", Options: []talk.Option{{Label: "Enamel", Says: "margin in enamel"}, {Label: "Dentin", Says: "margin in dentin"}}},
		{Fact: "height_mm", Label: "Height", Hint: "in millimetres"},
	}}
	if filled["margin"] == "margin in dentin" {
		f.Fields = append(f.Fields, slack.Field{Fact: "margin_level", Label: "Level of the margin",
			Options: []talk.Option{{Label: "Below the gum", Says: "subgingival"}}})
	}
	if filled["height_mm"] == "tall" {
		f.Fields[1].Error = "give a number of millimetres"
	}
	var says []string
	for _, fact := range []string{"margin", "margin_level", "height_mm"} {
		if filled[fact] != "" {
			says = append(says, filled[fact])
		}
	}
	f.Says = strings.Join(says, ", ")
	return f, nil
}

func withForm(o *slack.Options) { o.Form = caseForm }

func modal(v standin.View) bool { return v.Type == "modal" }

func TestTheCommandAnswersItsUserOnly(t *testing.T) {
	r := start(t, standin.Options{Outside: []string{"C9"}}, withQuestions)
	r.Command("C9", "U1", "a &lt; b")
	first := r.find(func(m standin.Message) bool { return m.Hook && m.For == "U1" })
	if !strings.HasPrefix(first.Text, "Heard a &lt; b") || !strings.Contains(blocksOf(first), caution) {
		t.Errorf("answered %+v", first)
	}
	r.press(first, "U1", "say/0/0")
	second := r.find(func(m standin.Message) bool { return m.Hook && strings.HasPrefix(m.Text, "Heard isolation dry") })
	if second.TS != first.TS || second.Edits != 1 || len(r.Messages()) != 1 {
		t.Errorf("the pressed message was left: %+v", r.Messages())
	}
	r.press(first, "U1", "say/0/1")
	r.find(func(m standin.Message) bool { return m.Hook && strings.Contains(m.Text, "earlier answer") })
	r.press(second, "U1", "say/0/1")
	r.find(func(m standin.Message) bool { return m.Hook && strings.HasPrefix(m.Text, "Heard isolation impossible") })
	r.press(second, "U2", "say/0/0") // another's conversation: it must not join it
	r.await(func() bool { return len(r.heard()) == 4 })
	r.finish("isolation")
	heard := r.heard()
	if heard[0].Thread != heard[1].Thread || heard[1].Thread != heard[2].Thread || heard[3].Thread == heard[0].Thread {
		t.Errorf("heard %+v", heard)
	}
}

func TestPicturesAreGivenInWordsWhereNoneCanBeShown(t *testing.T) {
	reply := talk.Reply{Headline: "See.", Text: "See.", Caution: caution, Pictures: []talk.Picture{{Name: "p", Alt: "A tall crown", PNG: []byte("x")}}}
	r := start(t, standin.Options{}, replying(reply))
	r.Command("C1", "U1", "show")
	if m := r.find(func(m standin.Message) bool { return m.Hook }); !strings.Contains(blocksOf(m), "A tall crown") {
		t.Errorf("shown %s", blocksOf(m))
	}
	r.finish()
}

// TestAnAnswerTooLongForACommandSaysSo gives an answer that needs more messages
// than a response address takes.
func TestAnAnswerTooLongForACommandSaysSo(t *testing.T) {
	reply := longReply()
	for range 3 {
		reply.Sections = append(reply.Sections, reply.Sections[0])
	}
	reply.Choices = []talk.Choice{{Ask: "Kept dry?", Options: []talk.Option{{Label: "Yes", Says: "dry"}}}}
	r := start(t, standin.Options{}, replying(reply))
	r.Command("C1", "U1", "all of it")
	last := r.find(func(m standin.Message) bool { return strings.Contains(blocksOf(m), "Kept dry?") })
	r.find(func(m standin.Message) bool { return strings.Contains(m.Text, "to have it whole") })
	r.finish()
	if n := len(r.Messages()); n != 4 || last.TS != r.Messages()[3].TS {
		t.Errorf("%d messages, want 4, the last with the question", n)
	}
}

func TestAnEmptyCommandAsksForHelp(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	r.Command("C1", "U1", " ")
	r.find(func(m standin.Message) bool { return strings.HasPrefix(m.Text, "You said: help") })
	r.finish()
}

func TestTheFormShowsWhatStillMattersAndIsAnswered(t *testing.T) {
	r := start(t, standin.Options{}, withForm)
	r.Command("C1", "U1", "form")
	v := lastView(r, modal)
	if strings.Contains(string(v.Raw), "margin_level") {
		t.Error("a field is shown that cannot matter yet")
	}
	values := map[string]string{"margin": "margin in dentin"}
	r.Change(v, "U1", "margin", values)
	v = lastView(r, func(v standin.View) bool { return strings.Contains(string(v.Raw), "margin_level") })
	if !strings.Contains(string(v.Raw), `"initial_option":{"text":{"type":"plain_text","text":"Dentin"`) {
		t.Errorf("what was chosen is not kept: %s", v.Raw)
	}
	values["height_mm"] = "tall"
	r.Submit(v, "U1", values)
	r.await(func() bool { return strings.Contains(lastReply(r), "give a number of millimetres") })
	values["height_mm"] = "4 mm"
	r.Submit(v, "U1", values)
	parent := r.find(func(m standin.Message) bool {
		return strings.HasPrefix(m.Text, "Asked: margin in dentin, 4 mm\n") && m.Channel == "C1"
	})
	m := r.answer("C1", parent.TS)
	if !strings.HasPrefix(m.Text, "You said: margin in dentin, 4 mm") {
		t.Errorf("answered %q", m.Text)
	}
	r.finish("dentin")
}

func lastView(r *rig, fits func(standin.View) bool) standin.View {
	r.t.Helper()
	v, err := r.LastView(r.ctx, fits)
	if err != nil {
		r.t.Fatal(err)
	}
	return v
}

// lastReply is what the last acknowledgement carried.
func lastReply(r *rig) string {
	d := r.Deliveries()
	return string(d[len(d)-1].Reply)
}

func TestAnEmptyFormIsNotSentOff(t *testing.T) {
	r := start(t, standin.Options{}, withForm)
	r.FormShortcut("U1")
	r.Submit(lastView(r, modal), "U1", nil)
	r.await(func() bool { return strings.Contains(lastReply(r), "fill in at least one field") })
	r.finish()
}

// TestAFormSentTwiceIsAnsweredOnce gives the surface the same submission again, as
// somebody could who had seen the request.
func TestAFormSentTwiceIsAnsweredOnce(t *testing.T) {
	r := start(t, standin.Options{}, withForm)
	r.FormShortcut("U1")
	r.Submit(lastView(r, modal), "U1", map[string]string{"margin": "margin in enamel"})
	r.find(func(m standin.Message) bool { return m.Channel == "D1" && m.Thread != "" })
	sent := r.Deliveries()
	r.Deliver("interactive", sent[len(sent)-1].Payload)
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish()
	if n := len(r.heard()); n != 1 {
		t.Errorf("answered %d times", n)
	}
}

func TestAFormOpenedAnywhereIsAnsweredInDirectMessages(t *testing.T) {
	r := start(t, standin.Options{}, withForm)
	r.FormShortcut("U1")
	r.Submit(lastView(r, modal), "U1", map[string]string{"margin": "margin in enamel"})
	parent := r.find(func(m standin.Message) bool { return m.Channel == "D1" && m.Thread == "" })
	r.answer("D1", parent.TS)
	r.finish()
}

func TestAFormThatFailsSaysSo(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Form = func(context.Context, map[string]string) (slack.Form, error) { return slack.Form{}, errors.New("molar") }
	})
	r.FormShortcut("U1")
	if v := lastView(r, modal); !strings.Contains(string(v.Raw), "not available") {
		t.Errorf("shown %s", v.Raw)
	}
	r.finish("molar")
}

func TestAPanicInTheHomeTabOrFormEndsAlone(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Home = func(context.Context, string) (slack.Home, error) { panic("molar") }
		o.Form = func(_ context.Context, filled map[string]string) (slack.Form, error) {
			if len(filled) > 0 {
				panic("molar")
			}
			return caseForm(context.Background(), filled)
		}
	})
	r.OpenHome("U1")
	r.FormShortcut("U1")
	r.Submit(lastView(r, modal), "U1", map[string]string{"margin": "margin in enamel"})
	r.answer("C1", r.Mention("C1", "U1", "hi"))
	r.finish("molar")
	if n := strings.Count(r.logs.String(), "panic in"); n != 2 {
		t.Errorf("%d panics logged, want 2", n)
	}
}

func TestTheShortcutAnswersInTheThreadOfTheMessage(t *testing.T) {
	r := start(t, standin.Options{Outside: []string{"C9"}}, withQuestions)
	r.Shortcut("C1", "5.000001", "U3", "is 3 bar all right?", "U1")
	m := r.answer("C1", "5.000001")
	if !strings.HasPrefix(m.Text, "Heard is 3 bar all right?") {
		t.Errorf("answered %q", m.Text)
	}
	r.Shortcut("C9", "5.000002", "U3", "elsewhere", "U1")
	r.find(func(m standin.Message) bool { return m.Hook && strings.HasPrefix(m.Text, "Heard elsewhere") })
	r.find(func(m standin.Message) bool { return m.Hook && strings.Contains(m.Text, "not in that channel") })
	r.Shortcut("C1", m.TS, standin.Bot, m.Text, "U1")
	r.find(func(m standin.Message) bool { return m.Hook && strings.Contains(m.Text, "one of my answers") })
	r.finish()
}

func TestTheHomeTab(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		withForm(o)
		o.Home = func(_ context.Context, user string) (slack.Home, error) {
			return slack.Home{Sections: []talk.Section{{Title: "Runs for " + user, Lines: []string{"<!here> two open"}}},
				Choices: []talk.Choice{{Ask: "Your learning", Options: []talk.Option{{Label: "Next question", Says: "quiz me"}}}}}, nil
		}
	})
	r.OpenHome("U1")
	home := lastView(r, func(v standin.View) bool { return v.Type == "home" })
	if s := string(home.Raw); !strings.Contains(s, "Runs for U1") || strings.Contains(s, "<!here") || home.User != "U1" {
		t.Errorf("shown %s", s)
	}
	if err := r.PressView(home, "U1", "say/0/0"); err != nil {
		t.Fatal(err)
	}
	parent := r.find(func(m standin.Message) bool {
		return m.Channel == "D1" && strings.HasPrefix(m.Text, "Asked: Next question\n")
	})
	if m := r.answer("D1", parent.TS); !strings.HasPrefix(m.Text, "You said: quiz me") {
		t.Errorf("answered %q", m.Text)
	}
	if err := r.PressView(home, "U1", "form/open"); err != nil {
		t.Fatal(err)
	}
	lastView(r, modal)
	r.finish("quiz")
}
