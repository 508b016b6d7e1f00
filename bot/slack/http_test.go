package slack_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
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
