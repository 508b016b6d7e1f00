package standin

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"time"
)

// A Delivery is one thing sent to the app.
type Delivery struct {
	Envelope string
	Kind     string // events_api, interactive or slash_commands
	Payload  any
	Tries    int
	Sent     time.Time       // when it was first sent
	Acked    time.Time       // when it was acknowledged; zero: not yet
	Reply    json.RawMessage // what the acknowledgement carried
	Status   int             // the HTTP status, for one sent by HTTP
}

// Deliver sends a payload to the app as the service would, and returns its envelope.
func (w *Workspace) Deliver(kind string, payload any) string {
	var d *Delivery
	w.change(func() {
		d = &Delivery{Envelope: w.name("E"), Kind: kind, Payload: payload}
		w.awaited[d.Envelope] = d
		if !w.o.Forget {
			w.sent = append(w.sent, d)
		}
		w.pending = append(w.pending, d)
	})
	w.flush()
	return d.Envelope
}

// Unacknowledged is how many deliveries have not been acknowledged.
func (w *Workspace) Unacknowledged() int {
	n := 0
	for _, d := range w.Deliveries() {
		if d.Acked.IsZero() {
			n++
		}
	}
	return n
}

// flush sends what is pending, if there is anywhere to send it.
func (w *Workspace) flush() {
	for {
		d, s, target := w.take()
		switch {
		case d == nil:
			return
		case target != "":
			go w.post(target, d)
		case !s.send(w.envelope(d)):
			w.change(func() { w.pending = append(w.pending, d) })
			return
		}
	}
}

// take is the next pending delivery and where it goes.
func (w *Workspace) take() (*Delivery, *socket, string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.pending) == 0 || (w.target == "" && len(w.sockets) == 0) {
		return nil, nil, ""
	}
	d := w.pending[0]
	w.pending = w.pending[1:]
	d.Tries++
	if d.Sent.IsZero() {
		d.Sent = time.Now()
	}
	w.watch(d)
	if w.target != "" {
		return d, nil, w.target
	}
	w.next++
	return d, w.sockets[w.next%len(w.sockets)], ""
}

// watch sends an event again if it is not acknowledged in time. The lock must be held.
func (w *Workspace) watch(d *Delivery) {
	if w.o.RedeliverAfter == 0 || d.Kind != "events_api" || d.Tries > 3 {
		return
	}
	time.AfterFunc(w.o.RedeliverAfter, func() {
		w.change(func() {
			if d.Acked.IsZero() {
				w.pending = append(w.pending, d)
			}
		})
		w.flush()
	})
}

func (w *Workspace) envelope(d *Delivery) map[string]any {
	w.mu.Lock()
	defer w.mu.Unlock()
	return map[string]any{"type": d.Kind, "envelope_id": d.Envelope, "payload": d.Payload,
		"accepts_response_payload": d.Kind != "events_api", "retry_attempt": d.Tries - 1}
}

func (w *Workspace) acked(envelope string, payload json.RawMessage) {
	w.change(func() {
		d := w.awaited[envelope]
		switch {
		case d == nil:
			w.refusals = append(w.refusals, "socket: acknowledgement of unknown envelope")
			return
		case d.Acked.IsZero():
			d.Acked, d.Reply = time.Now(), payload
			w.acks++
		}
		if w.o.Forget {
			delete(w.awaited, envelope)
		}
	})
}

// post sends a delivery to an HTTP address, signed.
func (w *Workspace) post(target string, d *Delivery) {
	body, contentType, err := encode(d.Kind, d.Payload)
	if err != nil {
		w.refuse("http", err.Error())
		return
	}
	status, reply, err := w.PostSigned(target, contentType, body, time.Now())
	w.change(func() {
		d.Status = status
		if err == nil && status == http.StatusOK {
			d.Acked, d.Reply = time.Now(), reply
			w.acks++
		}
	})
}

// encode is a payload as the service writes it over HTTP.
func encode(kind string, payload any) (body []byte, contentType string, err error) {
	body, err = json.Marshal(payload)
	if err != nil || kind == "events_api" {
		return body, "application/json", err
	}
	if kind == "interactive" {
		return []byte(url.Values{"payload": {string(body)}}.Encode()), "application/x-www-form-urlencoded", nil
	}
	fields := map[string]string{}
	if err := json.Unmarshal(body, &fields); err != nil {
		return nil, "", fmt.Errorf("slash command: %w", err)
	}
	form := url.Values{}
	for key, value := range fields {
		form.Set(key, value)
	}
	return []byte(form.Encode()), "application/x-www-form-urlencoded", nil
}

// PostSigned sends body to an HTTP address, signed as of the time at, and returns
// the status and body of the answer.
func (w *Workspace) PostSigned(target, contentType string, body []byte, at time.Time) (int, []byte, error) {
	req, err := http.NewRequest(http.MethodPost, target, bytes.NewReader(body))
	if err != nil {
		return 0, nil, err
	}
	stamp := fmt.Sprint(at.Unix())
	req.Header.Set("Content-Type", contentType)
	req.Header.Set("X-Slack-Request-Timestamp", stamp)
	req.Header.Set("X-Slack-Signature", Sign(w.SigningSecret(), stamp, body))
	resp, err := w.client.Do(req)
	if err != nil {
		return 0, nil, err
	}
	defer resp.Body.Close()
	reply, err := io.ReadAll(resp.Body)
	return resp.StatusCode, reply, err
}

// Sign is the service's signature of a request body, version 0.
func Sign(secret, stamp string, body []byte) string {
	mac := hmac.New(sha256.New, []byte(secret))
	fmt.Fprintf(mac, "v0:%s:%s", stamp, body)
	return "v0=" + hex.EncodeToString(mac.Sum(nil))
}
