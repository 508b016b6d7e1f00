package slack_test

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

func TestRateLimitsLoseNothingAndKeepTheOrder(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	ts := r.Mention("C1", "U1", "0")
	r.answer("C1", ts)
	r.Fail(standin.Fault{Method: "chat.postMessage", Status: http.StatusTooManyRequests, RetryAfter: 1})
	r.Fail(standin.Fault{Method: "chat.postMessage", Status: http.StatusServiceUnavailable})
	for i := 1; i < 4; i++ {
		r.Reply("C1", ts, "U1", fmt.Sprint(i))
	}
	r.await(func() bool { return len(r.Messages()) == 4 })
	for i, m := range r.Messages() {
		if !strings.HasPrefix(m.Text, fmt.Sprintf("You said: %d\n", i)) {
			t.Errorf("message %d is %q", i, m.Text)
		}
	}
	r.finish()
}

// TestRetryAfterIsObeyed lets the service refuse one post and wants none to any
// channel before the time it gave; without a time, some wait of our own.
func TestRetryAfterIsObeyed(t *testing.T) {
	for _, seconds := range []int{2, -1} {
		r := start(t, standin.Options{}, nil)
		r.Fail(standin.Fault{Method: "chat.postMessage", Status: http.StatusTooManyRequests, RetryAfter: seconds})
		r.Mention("C1", "U1", "one")
		r.until(func() bool { return strings.Contains(r.logs.String(), "asks to wait") })
		r.Mention("C2", "U1", "two")
		r.Mention("C1", "U1", "three")
		r.await(func() bool { return len(r.Messages()) == 3 })
		r.finish()
		limited := false
		var at time.Time
		for _, c := range r.Calls() {
			if limited && c.Method == "chat.postMessage" && c.At.Sub(at) < time.Duration(max(seconds, 1))*time.Second-20*time.Millisecond {
				t.Errorf("told to wait %d s: called after %s", seconds, c.At.Sub(at))
			}
			if c.Status == http.StatusTooManyRequests {
				limited, at = true, c.At
			}
		}
	}
}

func TestPostsToAChannelKeepItsPace(t *testing.T) {
	r := start(t, standin.Options{PerChannel: 50 * time.Millisecond}, func(o *slack.Options) { o.Pace = 250 * time.Millisecond })
	for i := range 4 {
		r.Mention("C1", "U1", fmt.Sprint(i))
		r.Mention("C2", "U1", fmt.Sprint(i))
	}
	r.await(func() bool { return len(r.Messages()) == 8 })
	r.finish()
	for _, c := range r.Calls() {
		if c.Status == http.StatusTooManyRequests {
			t.Error("a post came too soon")
		}
	}
}

func TestAnAnswerThatCouldNotGoOutStaysInTheJournal(t *testing.T) {
	journal := &notes{open: map[slack.Place]bool{}}
	r := start(t, standin.Options{}, func(o *slack.Options) { o.Journal = journal })
	r.Revoke("token_revoked")
	ts := r.Mention("C1", "U1", "hi")
	var fatal *slack.FatalError
	if err := r.ended(); !errors.As(err, &fatal) {
		t.Errorf("ended with %v", err)
	}
	if left := journal.Unfinished(); len(left) != 1 || left[0] != (slack.Place{Channel: "C1", Thread: ts, Message: ts}) {
		t.Errorf("still open: %v", left)
	}
}

func TestAPostThatMayHaveBeenMadeIsNotRepeated(t *testing.T) {
	r := start(t, standin.Options{}, nil)
	r.Fail(standin.Fault{Method: "chat.postMessage", Status: http.StatusInternalServerError})
	ts := r.Mention("C1", "U1", "first")
	if m := r.answer("C1", ts); !strings.Contains(m.Text, "may not have arrived") {
		t.Errorf("said %q", m.Text)
	}
	r.answer("C1", r.Mention("C1", "U1", "second"))
	r.finish()
	if n := posts(r); n != 3 || !strings.Contains(r.logs.String(), "answer not delivered") {
		t.Errorf("%d posts, want the first answer, that it may be missing, and the second; log %s", n, r.logs)
	}
}

// posts counts the uses of chat.postMessage.
func posts(r *rig) int {
	n := 0
	for _, c := range r.Calls() {
		if c.Method == "chat.postMessage" {
			n++
		}
	}
	return n
}

func TestResponseAddressesElsewhereAreNotUsed(t *testing.T) {
	other, err := standin.New(standin.Options{}) // would take whatever reaches it
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	elsewhere := strings.TrimPrefix(strings.TrimSuffix(other.URL(), "/api/"), "http://")
	r := start(t, standin.Options{}, nil)
	own := strings.TrimPrefix(strings.TrimSuffix(r.URL(), "/api/"), "http://")
	addresses := []string{"http://" + elsewhere + "/hook/H1", "https://hooks.slack.com/x", "http://u@" + own + "/hook/H1",
		"https://" + own + "/hook/H1", "file:///etc/passwd", "%zz"}
	for i, address := range addresses {
		r.Deliver("slash_commands", map[string]string{"team_id": standin.Team, "channel_id": "C1", "user_id": "U1", "command": "/mortar",
			"text": "hi", "response_url": address, "trigger_id": fmt.Sprint(i)})
	}
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish("hook/H1", "passwd")
	if n := strings.Count(r.logs.String(), "answer not delivered"); n != len(addresses) || len(r.Messages()) != 0 {
		t.Errorf("%d of %d refused, %d messages", n, len(addresses), len(r.Messages()))
	}
	if reached := other.Refusals(); len(reached) != 0 {
		t.Errorf("another host was reached: %q", reached)
	}
}

// TestARedirectedResponseAddressIsNotFollowed: the service's own host must not
// send an answer on.
func TestARedirectedResponseAddressIsNotFollowed(t *testing.T) {
	other, err := standin.New(standin.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	r := start(t, standin.Options{}, nil)
	r.Fail(standin.Fault{Method: "hook", Status: http.StatusTemporaryRedirect, Location: strings.TrimSuffix(other.URL(), "/api/") + "/hook/H1"})
	r.Command("C1", "U1", "hi")
	r.await(func() bool { return len(r.Calls()) > 2 })
	r.finish()
	if reached := other.Refusals(); len(reached) != 0 || len(r.Messages()) != 0 {
		t.Errorf("another host was reached: %q", reached)
	}
}

func TestAStartWaitsForTheService(t *testing.T) {
	r := newRig(t, standin.Options{})
	r.Fail(standin.Fault{Method: "auth.test", Status: http.StatusServiceUnavailable})
	ctx, done := r.ctx0(), r.done
	go func() { done <- slack.Run(ctx, r.options(nil)) }()
	if err := r.Ready(r.ctx); err != nil {
		t.Fatal(err)
	}
	r.answer("C1", r.Mention("C1", "U1", "hi"))
	r.finish()
}

func TestConnectionsComeBack(t *testing.T) {
	for name, cut := range map[string]func(*rig){
		"refresh": func(r *rig) { r.Disconnect("refresh_requested") },
		"warning": func(r *rig) { r.Disconnect("warning") },
		"dropped": func(r *rig) { r.Drop() },
		"frozen":  func(r *rig) { r.Freeze() },
		"refused for a while": func(r *rig) {
			r.Fail(standin.Fault{Method: "apps.connections.open", Status: http.StatusServiceUnavailable, Times: 2})
			r.Drop()
		},
	} {
		t.Run(name, func(t *testing.T) {
			r := start(t, standin.Options{PingEvery: 50 * time.Millisecond, RedeliverAfter: 300 * time.Millisecond}, func(o *slack.Options) { o.PingLimit = 300 * time.Millisecond })
			cut(r)
			r.await(func() bool { return r.Opened() >= 2 && r.Connections() == 1 })
			r.answer("C1", r.Mention("C1", "U1", "still there?"))
			r.finish()
		})
	}
}

func TestACutInMidAnswerLosesNothing(t *testing.T) {
	begun, release := make(chan struct{}, 9), make(chan struct{})
	r := start(t, standin.Options{RedeliverAfter: 500 * time.Millisecond}, func(o *slack.Options) {
		o.Connections = 2
		inner := o.Answer
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			begun <- struct{}{}
			<-release
			return inner(ctx, m)
		}
	})
	r.await(func() bool { return r.Connections() == 2 })
	ts := r.Mention("C1", "U1", "hi")
	<-begun
	r.Drop()
	r.await(func() bool { return r.Opened() >= 4 && r.Connections() == 2 })
	close(release)
	r.answer("C1", ts)
	r.finish()
	if n := len(r.heard()); n != 1 {
		t.Errorf("worked out %d times", n)
	}
}

func TestWhatNoWaitingMendsEndsTheRun(t *testing.T) {
	for _, c := range []struct {
		name   string
		before func(*rig)
		adjust func(*slack.Options)
		after  func(*rig)
		reason slack.Reason
	}{
		{name: "bot token refused", before: func(r *rig) { r.Revoke("invalid_auth") }, reason: slack.ReasonToken},
		{name: "app token refused", adjust: func(o *slack.Options) { o.AppToken = "xapp-other" }, reason: slack.ReasonToken},
		{name: "app token without its permission", reason: slack.ReasonScope,
			before: func(r *rig) {
				r.Fail(standin.Fault{Method: "apps.connections.open", Error: "missing_scope", Times: 99})
			}},
		{name: "wrong kind of token", reason: slack.ReasonToken,
			before: func(r *rig) {
				r.Fail(standin.Fault{Method: "apps.connections.open", Error: "not_allowed_token_type", Times: 99})
			}},
		{name: "revoked while running", reason: slack.ReasonToken,
			after: func(r *rig) { r.Revoke("token_revoked"); r.Mention("C1", "U1", "hi") }},
		{name: "switched off while running", reason: slack.ReasonApp,
			after: func(r *rig) { r.Revoke("account_inactive"); r.Drop() }},
		{name: "expired while running", reason: slack.ReasonToken,
			after: func(r *rig) { r.Revoke("token_expired"); r.Mention("C1", "U1", "hi") }},
		{name: "socket mode switched off while running", reason: slack.ReasonApp,
			after: func(r *rig) {
				r.Fail(standin.Fault{Method: "apps.connections.open", Error: "link_disabled", Times: 99})
				r.Disconnect("link_disabled")
			}},
		{name: "malformed bot token", adjust: func(o *slack.Options) { o.BotToken = "xoxp-1" }, reason: slack.ReasonToken},
		{name: "malformed app token", adjust: func(o *slack.Options) { o.AppToken = "xoxb-1" }, reason: slack.ReasonToken},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newRig(t, standin.Options{})
			if c.before != nil {
				c.before(r)
			}
			go func() { r.done <- slack.Run(r.ctx0(), r.options(c.adjust)) }()
			if c.after != nil {
				if err := r.Ready(r.ctx); err != nil {
					t.Fatal(err)
				}
				c.after(r)
			}
			err := r.ended()
			var fatal *slack.FatalError
			if !errors.As(err, &fatal) || fatal.Reason != c.reason {
				t.Errorf("ended with %v, want reason %s", err, c.reason)
			}
		})
	}
}
