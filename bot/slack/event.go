package slack

import (
	"cmp"
	"context"
	"encoding/json"
	"strings"

	"mortarboard/bot/talk"
)

// eventDelivery is the part we need of the service's event callback. We read it
// ourselves, so that a block which the library does not know loses no question.
type eventDelivery struct {
	EventID string `json:"event_id"`
	TeamID  string `json:"team_id"`
	Shared  bool   `json:"is_ext_shared_channel"`
	Event   event  `json:"event"`
}

// event is a message, a mention or an opened home tab.
type event struct {
	Type        string          `json:"type"`
	SubType     string          `json:"subtype"`
	User        string          `json:"user"`
	Bot         string          `json:"bot_id"`
	Text        string          `json:"text"`
	Stamp       string          `json:"ts"`
	Thread      string          `json:"thread_ts"`
	Channel     string          `json:"channel"`
	ChannelType string          `json:"channel_type"`
	Edited      json.RawMessage `json:"edited"`
	Tab         string          `json:"tab"`
}

// root is the time stamp of the message that opened the event's thread; a
// message outside a thread opens its own.
func (e event) root() string { return cmp.Or(e.Thread, e.Stamp) }

// readEvent turns an event callback into a delivery.
func (a *app) readEvent(payload json.RawMessage) delivery {
	var d eventDelivery
	if json.Unmarshal(payload, &d) != nil || d.TeamID != a.me.Team {
		return delivery{}
	}
	if d.Shared && !a.o.Shared {
		return delivery{}
	}
	if d.Event.Type == "app_home_opened" {
		return a.readHome(d)
	}
	if !a.asksUs(d.Event) {
		return delivery{}
	}
	return a.question(d)
}

// asksUs reports whether an event is something a person said to us. Bots, our own
// words, edits and deletions are not; neither is a thread reply that opens by
// turning to somebody else.
func (a *app) asksUs(e event) bool {
	if e.User == "" || e.Bot != "" || e.User == a.me.User || len(e.Edited) > 0 || e.Stamp == "" {
		return false
	}
	switch e.SubType {
	case "", "file_share", "thread_broadcast":
	default:
		return false
	}
	switch {
	case e.Type == "app_mention":
		return true
	case e.Type != "message":
		return false
	case e.ChannelType == "im":
		return true
	}
	return a.followsUp(e)
}

// followsUp reports whether a channel message continues a thread of ours without
// a new mention. One with a mention arrives as a mention as well.
func (a *app) followsUp(e event) bool {
	if e.Thread == "" || mentions(e.Text, a.me.User) {
		return false
	}
	if strings.HasPrefix(strings.TrimSpace(e.Text), "<@") {
		return false
	}
	return a.isOurs(a.threadKey(e.Channel, e.Thread))
}

// mentions reports whether a text, as the service writes it, calls a user.
func mentions(text, user string) bool {
	return strings.Contains(text, "<@"+user+">") || strings.Contains(text, "<@"+user+"|")
}

func (a *app) isOurs(thread string) bool {
	if _, ok := a.ours.get(thread); ok {
		return true
	}
	return a.o.Known != nil && a.o.Known(thread)
}

// question is the delivery of a message to be answered in its thread. Its second
// key holds for the mention and the message event of the same words.
func (a *app) question(d eventDelivery) delivery {
	e := d.Event
	thread := a.threadKey(e.Channel, e.root())
	asked := talk.Message{Thread: thread, From: e.User, Text: plainText(e.Text, a.me.User), At: stampTime(e.Stamp),
		Overheard: e.Type == "message" && e.ChannelType != "im"}
	a.ours.set(thread, "") // from now on: a follow-up may come before the answer is out
	to := target{channel: e.Channel, thread: e.root(), user: e.User, fresh: e.Thread == "", key: thread}
	return delivery{
		keys:   []string{d.EventID, "at/" + d.TeamID + "/" + e.Channel + "/" + e.Stamp},
		lane:   thread,
		owed:   Place{Channel: e.Channel, Thread: e.root(), Message: e.Stamp},
		resent: true,
		do:     func(ctx context.Context) { a.converse(ctx, asked, to) },
	}
}

// converse answers one message and delivers the answer.
func (a *app) converse(ctx context.Context, m talk.Message, to target) {
	reply := a.answer(ctx, m)
	if err := a.deliver(ctx, to, reply); err != nil {
		a.o.Log.Error("answer not delivered", "channel", to.channel, "error", safeError(err))
		a.apologize(ctx, to)
	}
}

// apologize tells a thread that its answer may be missing. The answer itself is
// not tried again: it may stand there already.
func (a *app) apologize(ctx context.Context, to target) {
	if to.hook != "" || ctx.Err() != nil || a.broken.Load() {
		return
	}
	a.report("apology", a.say(ctx, to.channel, to.thread, note(undeliveredText)))
}
