package slack_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

func TestMentionIsAnsweredInItsThread(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	ts := r.Mention("C1", "U1", "how long &amp; how hot?")
	m := r.answer("C1", ts)
	if !strings.Contains(m.Text, "You said: how long &amp; how hot?") || !strings.Contains(m.Text, caution) {
		t.Errorf("plain text %q", m.Text)
	}
	if !strings.Contains(blocksOf(m), caution) {
		t.Error("no caution in the blocks")
	}
	heard := r.heard()
	want := talk.Message{Thread: "slack/" + standin.Team + "/C1/" + ts, From: "U1", Text: "how long & how hot?", At: heard[0].At}
	if len(heard) != 1 || heard[0] != want || time.Since(want.At) > time.Minute {
		t.Errorf("heard %+v, want %+v", heard, want)
	}
	r.finish("how long")
}

func TestDirectMessagesOpenOneThreadEach(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	first, second := r.Direct("U1", "one"), r.Direct("U1", "two")
	r.answer("D1", first)
	r.answer("D1", second)
	heard := r.heard()
	if len(heard) != 2 || heard[0].Thread == heard[1].Thread {
		t.Errorf("heard %+v, want two threads", heard)
	}
	r.finish()
}

func TestThreadRepliesNeedNoMentionWhereTheAppTookPart(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Known = func(thread string) bool { return strings.HasSuffix(thread, "/C1/99.000001") }
	})
	ts := r.Mention("C1", "U1", "first")
	r.answer("C1", ts)
	r.Reply("C1", "77.000001", "U1", "in a thread of others")
	r.Reply("C1", ts, "U1", "<@U2> what do you think?")
	r.Reply("C1", ts, "U1", "hello <@"+standin.Bot+"|mortar>") // comes as a mention, too
	r.Reply("C1", ts, "U1", "and then?")
	r.Reply("C1", "99.000001", "U1", "after a restart")
	r.await(func() bool { return len(r.Messages()) == 3 })
	r.finish()
	var texts []string
	for _, m := range r.heard() {
		texts = append(texts, m.Text)
	}
	if got := strings.Join(texts, "|"); got != "first|and then?|after a restart" && got != "first|after a restart|and then?" {
		t.Errorf("heard %s", got)
	}
}

func TestWhatNobodySaidToUsIsOnlyAcknowledged(t *testing.T) {
	im := func(more map[string]any) map[string]any {
		e := map[string]any{"type": "message", "channel_type": "im", "channel": "D1", "user": "U1", "text": "no"}
		for k, v := range more {
			e[k] = v
		}
		return e
	}
	thread := func(more map[string]any) map[string]any {
		more["channel_type"], more["channel"], more["thread_ts"] = "channel", "C1", "4.1"
		return im(more)
	}
	r := start(t, standin.Options{}, func(o *slack.Options) { o.Known = func(string) bool { return true } })
	for _, e := range []map[string]any{
		im(map[string]any{"bot_id": "B9"}),
		im(map[string]any{"user": standin.Bot}),
		im(map[string]any{"subtype": "message_changed"}),
		im(map[string]any{"subtype": "message_deleted"}),
		im(map[string]any{"subtype": "bot_message"}),
		im(map[string]any{"edited": map[string]string{"user": "U1"}}),
		im(map[string]any{"channel_type": "channel", "channel": "C1"}),
		im(map[string]any{"type": "reaction_added"}),
		thread(map[string]any{"bot_id": "B9"}),
		thread(map[string]any{"user": standin.Bot, "bot_id": standin.BotID}),
		thread(map[string]any{"subtype": "message_changed", "message": map[string]any{"user": "U1", "text": "no"}}),
		thread(map[string]any{"subtype": "message_deleted", "deleted_ts": "4.2"}),
		thread(map[string]any{"edited": map[string]string{"user": "U1"}}),
		{"type": "app_mention", "channel": "C1", "user": "U9", "text": "<@" + standin.Bot + "> hi", "edited": map[string]string{"user": "U9"}},
		{"type": "app_mention", "channel": "C1", "bot_id": "B9", "user": "U9", "text": "<@" + standin.Bot + "> hi"},
	} {
		r.Event(e)
	}
	other := standin.Callback("Ev9", im(map[string]any{"ts": "1.1"}))
	other["team_id"] = "T9"
	r.Deliver("events_api", other)
	shared := standin.Callback("Ev8", im(map[string]any{"ts": "1.2"}))
	shared["is_ext_shared_channel"] = true
	r.Deliver("events_api", shared)
	last := r.Direct("U1", "yes")
	r.answer("D1", last)
	r.await(func() bool { return r.Unacknowledged() == 0 })
	if heard := r.heard(); len(heard) != 1 || heard[0].Text != "yes" {
		t.Errorf("heard %+v", heard)
	}
	r.finish()
}

func TestEventsAreAnsweredOnce(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	mention := map[string]any{"type": "app_mention", "channel": "C1", "user": "U1", "text": "<@" + standin.Bot + "> hi", "ts": "5.1"}
	asMessage := map[string]any{"type": "message", "channel_type": "im", "channel": "C1", "user": "U1", "text": "hi", "ts": "5.1"}
	r.Deliver("events_api", standin.Callback("Ev1", mention))
	r.Deliver("events_api", standin.Callback("Ev1", mention))
	r.Deliver("events_api", standin.Callback("Ev2", asMessage))
	r.answer("C1", r.Mention("C1", "U1", "last"))
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish()
	if n := len(r.Messages()); n != 2 {
		t.Errorf("%d messages, want 2", n)
	}
}

func TestAnEnvelopeTheLibraryCannotReadIsAnsweredAllTheSame(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	ts := r.Event(map[string]any{"type": "app_mention", "channel": "C1", "user": "U1", "text": "<@" + standin.Bot + "> hi",
		"blocks": []any{map[string]any{"type": "section", "block_id": 7}}})
	r.answer("C1", ts)
	r.Event(map[string]any{"type": "invented_yesterday"})
	r.Deliver("invented_envelope", map[string]any{})
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish()
}

func TestAcknowledgedWhileAnswersAreStillWorkedOut(t *testing.T) {
	release := make(chan struct{})
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Workers = 1
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			<-release
			return echo(ctx, m)
		}
	})
	for i := range 20 {
		r.Mention("C1", "U1", fmt.Sprint(i))
	}
	r.await(func() bool { return r.Unacknowledged() == 0 })
	if n := len(r.Messages()); n != 0 {
		t.Errorf("%d answers before any was worked out", n)
	}
	close(release)
	r.await(func() bool { return len(r.Messages()) == 20 })
	r.finish()
}

// TestASlowServiceHoldsUpNoAcknowledgement gives every web method a second: all is
// acknowledged before the first answer is out.
func TestASlowServiceHoldsUpNoAcknowledgement(t *testing.T) {
	r := start(t, standin.Options{Latency: time.Second}, nil)
	for i := range 5 {
		r.Mention("C1", "U1", fmt.Sprint(i))
	}
	r.await(func() bool { return r.Unacknowledged() == 0 })
	if n := len(r.Messages()); n != 0 {
		t.Errorf("%d answers were out before all was acknowledged", n)
	}
	r.await(func() bool { return len(r.Messages()) == 5 })
	r.finish()
}

func TestBeyondItsRoomNothingIsAcknowledgedAndNothingLost(t *testing.T) {
	release := make(chan struct{})
	r := start(t, standin.Options{RedeliverAfter: 300 * time.Millisecond}, func(o *slack.Options) {
		o.Queue = 3
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			<-release
			return echo(ctx, m)
		}
	})
	for i := range 6 {
		r.Mention("C1", "U1", fmt.Sprint(i))
	}
	r.await(func() bool { return r.Unacknowledged() == 3 })
	close(release)
	r.await(func() bool { return len(r.Messages()) == 6 })
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish()
	if n := len(r.heard()); n != 6 {
		t.Errorf("worked out %d answers, want 6", n)
	}
}

func TestOneThreadKeepsItsOrder(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	ts := r.Mention("C1", "U1", "0")
	r.answer("C1", ts)
	for i := 1; i < 30; i++ {
		r.Reply("C1", ts, "U1", fmt.Sprint(i))
	}
	r.await(func() bool { return len(r.Messages()) == 30 })
	for i, m := range r.Messages() {
		if !strings.HasPrefix(m.Text, fmt.Sprintf("You said: %d\n", i)) {
			t.Fatalf("message %d is %q", i, m.Text)
		}
	}
	r.finish()
}

func TestStopFinishesWhatWasAcknowledged(t *testing.T) {
	begun, release := make(chan struct{}), make(chan struct{})
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			close(begun)
			<-release
			return echo(ctx, m)
		}
	})
	r.Mention("C1", "U1", "hi")
	<-begun
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.stop()
	time.AfterFunc(500*time.Millisecond, func() { close(release) }) // the stop must wait for it, however long it takes
	r.finish()
	if n := len(r.Messages()); n != 1 {
		t.Errorf("%d messages after the stop, want 1", n)
	}
}

func TestFailuresAndPanicsAreSaidPlainly(t *testing.T) {
	for name, answer := range map[string]slack.Answerer{
		"error": func(context.Context, talk.Message) (talk.Reply, error) { return talk.Reply{}, errors.New("molar 36") },
		"panic": func(context.Context, talk.Message) (talk.Reply, error) { panic("molar 36") },
	} {
		t.Run(name, func(t *testing.T) {
			r := start(t, standin.Options{}, func(o *slack.Options) { o.Answer = answer })
			m := r.answer("C1", r.Mention("C1", "U1", "hi"))
			if !strings.Contains(m.Text, "Nothing was decided") {
				t.Errorf("said %q", m.Text)
			}
			r.finish("molar")
		})
	}
}

func TestAReplyThatSaysNothingIsNotPosted(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			if m.Text == "thanks" {
				return talk.Reply{}, nil
			}
			return echo(ctx, m)
		}
	})
	r.Mention("C1", "U1", "thanks")
	r.answer("C1", r.Mention("C1", "U1", "hi"))
	r.finish()
	if n := len(r.Messages()); n != 1 {
		t.Errorf("%d messages, want 1", n)
	}
}
