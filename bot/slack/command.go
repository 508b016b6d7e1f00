package slack

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

const (
	shortcutCallback = "ask_about_message" // names the message shortcut in the app's manifest
	askedLimit       = 2500                // characters of what was asked, where it opens a thread
)

// A command is the part we need of a slash command.
type command struct {
	Team    string `json:"team_id"`
	Channel string `json:"channel_id"`
	User    string `json:"user_id"`
	Command string `json:"command"`
	Text    string `json:"text"`
	Hook    string `json:"response_url"`
	Trigger string `json:"trigger_id"`
}

// readCommand turns a slash command into a delivery. With the word "form" it
// opens the case form; any other text is a question, answered for the asker only.
func (a *app) readCommand(payload json.RawMessage) delivery {
	var c command
	if json.Unmarshal(payload, &c) != nil || c.Team != a.me.Team || c.Command != a.o.Command || c.User == "" {
		return delivery{}
	}
	d := delivery{lane: "user/" + c.User, keys: triggerKeys("command/", c.Trigger)}
	if strings.EqualFold(strings.TrimSpace(c.Text), "form") {
		d.lane = formLane(c.User)
		d.do = func(ctx context.Context) { a.openForm(ctx, c.Trigger, formPlace{Channel: c.Channel}) }
		return d
	}
	to := target{channel: c.Channel, user: c.User, hook: c.Hook, name: conversationName(c.Trigger)}
	to.key = a.commandKey(c.Channel, c.User, to.name)
	asked := talk.Message{Thread: to.key, From: c.User, Text: cmp.Or(plainText(c.Text, a.me.User), "help"), At: a.o.Now()}
	d.lane = to.key
	d.do = func(ctx context.Context) { a.converse(ctx, asked, to) }
	return d
}

// triggerKeys are the keys of what a person did, which the service numbers by triggers.
func triggerKeys(kind, trigger string) []string {
	if trigger == "" {
		return nil
	}
	return []string{kind + trigger}
}

// conversationName names a conversation that has no thread; the number after the
// dot counts its turns. The trigger is hashed, since it lets its holder open a form.
func conversationName(trigger string) string {
	sum := sha256.Sum256([]byte(trigger))
	return "c" + hex.EncodeToString(sum[:8]) + ".1"
}

// commandKey names a conversation outside threads. It holds the asker's id, so
// that nobody can continue another's.
func (a *app) commandKey(channel, user, name string) string {
	head, _, _ := strings.Cut(name, ".")
	return "slack/" + a.me.Team + "/" + channel + "/" + user + "/" + head
}

// askAbout answers the message that a shortcut was used on, in its thread.
func (a *app) askAbout(ctx context.Context, in interaction) {
	to := target{channel: in.Channel.ID, thread: in.Message.root(), user: in.User.ID, fresh: in.Message.Thread == "",
		key: a.threadKey(in.Channel.ID, in.Message.root())}
	text := plainText(in.Message.Text, a.me.User)
	switch {
	case in.Message.User == a.me.User || (in.Message.Bot != "" && in.Message.Bot == a.me.Bot):
		a.tell(ctx, in, ownMessageText)
		return
	case text == "":
		a.tell(ctx, in, nothingSaidText)
		return
	}
	asked := talk.Message{Thread: to.key, From: in.User.ID, Text: text, At: a.o.Now()}
	reply := a.answer(ctx, asked)
	err := a.deliver(ctx, to, reply)
	if notMember(err) {
		a.tell(ctx, in, notMemberText)
		to.hook, to.name = in.Hook, conversationName(in.Trigger)
		to.key = a.commandKey(to.channel, to.user, to.name)
		err = a.deliver(ctx, to, reply)
	}
	a.report("answer to a shortcut", err)
}

// notMember reports whether the service refused because the app is not in the channel.
func notMember(err error) bool {
	code := refusal(err)
	return code == "not_in_channel" || code == "channel_not_found"
}

// tell says something of the surface's own to whoever used a shortcut.
func (a *app) tell(ctx context.Context, in interaction, text string) {
	a.report("notice", a.postHook(ctx, target{channel: in.Channel.ID, hook: in.Hook}, note(text), false))
}

// askApart opens a new thread with what is asked and answers in it. Where the app
// is not in the channel, the thread is opened in the asker's direct messages.
func (a *app) askApart(ctx context.Context, channel, user, message, shown string) {
	channel, stamp, err := a.openThread(ctx, channel, shown)
	if notMember(err) {
		channel, stamp, err = a.openThread(ctx, user, shown)
	}
	if err != nil {
		a.report("new thread", err)
		return
	}
	owed := Place{Channel: channel, Thread: stamp, Message: stamp}
	a.o.Journal.Begin(nil, owed)
	to := target{channel: channel, thread: stamp, user: user, fresh: true, key: a.threadKey(channel, stamp)}
	a.converse(ctx, talk.Message{Thread: to.key, From: user, Text: message, At: a.o.Now()}, to)
	a.settle(ctx, owed)
}

func (a *app) openThread(ctx context.Context, channel, shown string) (id, stamp string, err error) {
	asked := note("Asked: " + shorten(shown, askedLimit))
	err = a.paced(ctx, "chat.postMessage", channel, func(ctx context.Context) error {
		var err error
		id, stamp, err = a.web.PostMessageContext(ctx, channel, options("", asked)...)
		return err
	})
	return id, stamp, err
}

// formButton is the button that opens the case form.
func formButton() sdk.Block {
	return sdk.NewActionBlock("form", sdk.NewButtonBlockElement("form/open", "open", label("Describe a case", 75)))
}
