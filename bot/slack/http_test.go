package slack_test

import (
	"bytes"
	"context"
	"encoding/json"
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

func TestHTTPTakesTheSamePath(t *testing.T) {
	r, _ := startHTTP(t, func(o *slack.Options) { withQuestions(o); withForm(o) })
	ts := r.Mention("C1", "U1", "crown")
	first := r.answer("C1", ts)
	r.press(first, "U1", "say/0/0")
	r.find(func(m standin.Message) bool {
		return m.Thread == ts && strings.HasPrefix(m.Text, "Heard isolation dry")
	})
	r.Command("C1", "U1", "more")
	r.find(func(m standin.Message) bool { return m.Hook && strings.HasPrefix(m.Text, "Heard more") })
	r.FormShortcut("U1")
	r.Submit(lastView(r, modal), "U1", nil)
	r.await(func() bool { return strings.Contains(lastReply(r), "fill in at least one field") })
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish("crown")
}

func TestHTTPRefusesWhatIsNotGenuine(t *testing.T) {
	r, address := startHTTP(t, nil)
	body, err := json.Marshal(standin.Callback("Ev1", map[string]any{"type": "message", "channel_type": "im", "channel": "D1",
		"user": "U1", "text": "hi", "ts": "1.1"}))
	if err != nil {
		t.Fatal(err)
	}
	now := time.Now()
	stamp := fmt.Sprint(now.Unix())
	good := standin.Sign(r.SigningSecret(), stamp, body)
	late := fmt.Sprint(now.Add(-6 * time.Minute).Unix())
	early := fmt.Sprint(now.Add(6 * time.Minute).Unix())
	const form = "application/x-www-form-urlencoded"
	for _, c := range []struct {
		name, contentType, stamp, signature string
		body                                []byte
		want                                int
	}{
		{"no signature", "application/json", stamp, "", body, 401},
		{"another secret", "application/json", stamp, standin.Sign("x", stamp, body), body, 401},
		{"another body", "application/json", stamp, good, append([]byte(" "), body...), 401},
		{"too old", "application/json", late, standin.Sign(r.SigningSecret(), late, body), body, 401},
		{"from the future", "application/json", early, standin.Sign(r.SigningSecret(), early, body), body, 401},
		{"too large", "application/json", stamp, good, bytes.Repeat([]byte("x"), 1<<20+1), 413},
		{"unknown type", "text/plain", stamp, standin.Sign(r.SigningSecret(), stamp, []byte("text")), []byte("text"), 415},
		{"not JSON", "application/json", stamp, standin.Sign(r.SigningSecret(), stamp, []byte("{")), []byte("{"), 415},
		{"empty form", form, stamp, standin.Sign(r.SigningSecret(), stamp, []byte("a=b")), []byte("a=b"), 415},
		{"genuine", "application/json", stamp, good, body, 200},
		{"replayed", "application/json", stamp, good, body, 409},
	} {
		if got := send(t, address, c.contentType, c.stamp, c.signature, c.body); got != c.want {
			t.Errorf("%s: status %d, want %d", c.name, got, c.want)
		}
	}
	r.answer("D1", "1.1")
	r.finish()
	if n := len(r.heard()); n != 1 {
		t.Errorf("%d requests reached the conversation, want 1", n)
	}
}

// TestHTTPRetriesAreAnsweredOnce sends an event again as the service does: signed
// anew, while the answer is worked out and afterwards.
func TestHTTPRetriesAreAnsweredOnce(t *testing.T) {
	r, _ := startHTTP(t, nil)
	again := standin.Callback("Ev1", map[string]any{"type": "app_mention", "channel": "C1", "user": "U1", "text": "<@" + standin.Bot + "> hi", "ts": "5.1"})
	r.Deliver("events_api", again)
	r.answer("C1", "5.1")
	time.Sleep(time.Second) // the next signature is of another second
	r.Deliver("events_api", again)
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish()
	if n := len(r.heard()); n != 1 {
		t.Errorf("answered %d times", n)
	}
}

// TestHTTPTakesAgainWhatItHadNoRoomFor sends the very same request twice: the
// first was not taken, so the second is no replay.
func TestHTTPTakesAgainWhatItHadNoRoomFor(t *testing.T) {
	release := make(chan struct{})
	r, address := startHTTP(t, func(o *slack.Options) {
		o.Queue = 1
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			<-release
			return echo(ctx, m)
		}
	})
	r.Mention("C1", "U1", "first")
	r.await(func() bool { return r.Unacknowledged() == 0 })
	body, err := json.Marshal(standin.Callback("Ev1", map[string]any{"type": "message", "channel_type": "im", "channel": "D1",
		"user": "U1", "text": "hi", "ts": "1.1"}))
	if err != nil {
		t.Fatal(err)
	}
	stamp := fmt.Sprint(time.Now().Unix())
	try := func() int {
		return send(t, address, "application/json", stamp, standin.Sign(r.SigningSecret(), stamp, body), body)
	}
	if got := try(); got != http.StatusServiceUnavailable {
		t.Errorf("without room: status %d", got)
	}
	close(release)
	r.await(func() bool { return len(r.Messages()) == 1 })
	for got := try(); got != http.StatusOK; got = try() {
		if got != http.StatusServiceUnavailable || r.ctx.Err() != nil {
			t.Fatalf("the second time: status %d", got)
		}
	}
	r.answer("D1", "1.1")
	r.finish()
}

// TestHTTPAnswersEvenAFormThatFallsOver: a request never hangs.
func TestHTTPAnswersEvenAFormThatFallsOver(t *testing.T) {
	r, _ := startHTTP(t, func(o *slack.Options) {
		o.Form = func(_ context.Context, filled map[string]string) (slack.Form, error) {
			if len(filled) > 0 {
				panic("molar")
			}
			return caseForm(context.Background(), filled)
		}
	})
	r.FormShortcut("U1")
	r.Submit(lastView(r, modal), "U1", map[string]string{"margin": "margin in enamel"})
	r.await(func() bool {
		d := r.Deliveries()
		return d[len(d)-1].Status == http.StatusServiceUnavailable
	})
	r.finish("molar")
}

func TestHTTPStopFinishesWhatWasAcknowledged(t *testing.T) {
	release := make(chan struct{})
	r, _ := startHTTP(t, func(o *slack.Options) {
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			<-release
			return echo(ctx, m)
		}
	})
	ts := r.Mention("C1", "U1", "hi")
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.stop()
	time.AfterFunc(300*time.Millisecond, func() { close(release) })
	r.finish()
	if m := r.Messages(); len(m) != 1 || m[0].Thread != ts {
		t.Errorf("after the stop: %+v", m)
	}
}

func TestHTTPEndsWithARevokedToken(t *testing.T) {
	r, _ := startHTTP(t, nil)
	r.Revoke("token_revoked")
	r.Mention("C1", "U1", "hi")
	var fatal *slack.FatalError
	if err := r.ended(); !errors.As(err, &fatal) || fatal.Reason != slack.ReasonToken {
		t.Errorf("ended with %v", err)
	}
}

func send(t *testing.T, address, contentType, stamp, signature string, body []byte) int {
	t.Helper()
	req, err := http.NewRequest(http.MethodPost, address, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", contentType)
	req.Header.Set("X-Slack-Request-Timestamp", stamp)
	req.Header.Set("X-Slack-Signature", signature)
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	if err := resp.Body.Close(); err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode
}

func TestHTTPAnswersTheChallenge(t *testing.T) {
	r, address := startHTTP(t, nil)
	status, body, err := r.PostSigned(address, "application/json", []byte(`{"type":"url_verification","challenge":"c4"}`), time.Now())
	if err != nil || status != 200 || string(body) != "c4" {
		t.Errorf("status %d, body %q, %v", status, body, err)
	}
	resp, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	if err := resp.Body.Close(); err != nil || resp.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("GET: status %d, %v", resp.StatusCode, err)
	}
	r.finish()
}

func TestHTTPTakesTwoSecretsDuringAChange(t *testing.T) {
	r, _ := startHTTP(t, func(o *slack.Options) { o.OldSecret, o.SigningSecret = o.SigningSecret, "the-new-one" })
	r.answer("C1", r.Mention("C1", "U1", "hi"))
	r.finish("the-new-one")
}
