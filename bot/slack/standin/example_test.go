package standin_test

import (
	"context"
	"fmt"
	"time"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// A question, its answer in the thread, and a button pressed.
func ExampleWorkspace() {
	w, err := standin.New(standin.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer w.Close()
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Second)
	defer stop()
	go func() {
		_ = slack.Run(ctx, slack.Options{BotToken: slack.Secret(w.BotToken()), AppToken: slack.Secret(w.AppToken()),
			APIURL: w.URL(), Answer: askBack, Pace: -1})
	}()
	ts := w.Mention("C1", "U1", "bond or cement?")
	m, err := w.Answer(ctx, "C1", ts)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(m.Text)
	if err := w.Press(m, "U1", "say/0/0"); err != nil {
		fmt.Println(err)
		return
	}
	_, err = w.Find(ctx, func(m standin.Message) bool {
		return m.Thread == ts && m.Text == "Heard: it can be kept dry\nAsk the dentist."
	})
	fmt.Println(err, w.Refusals())
	// Output:
	// Heard: bond or cement?
	// Ask the dentist.
	// <nil> []
}

func askBack(_ context.Context, m talk.Message) (talk.Reply, error) {
	heard := "Heard: " + m.Text
	return talk.Reply{Headline: heard, Text: heard, Caution: "Ask the dentist.",
		Choices: []talk.Choice{{Ask: "Can it be kept dry?", Options: []talk.Option{{Label: "Yes", Says: "it can be kept dry"}}}}}, nil
}
