package slack

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net"
	"net/http"
	"net/url"
	"time"

	sdk "github.com/slack-go/slack"
)

// bodyLimit is the largest request taken, in bytes.
const bodyLimit = 1 << 20

// Serve answers over the HTTP Events API on l until ctx ends, then finishes what
// it has acknowledged and returns nil. Events, presses and commands may all be
// sent to the same path, /. It needs SigningSecret, and TLS in front of it.
func Serve(ctx context.Context, o Options, l net.Listener) error {
	a, err := newApp(o)
	if err != nil {
		return err
	}
	if o.SigningSecret == "" {
		return fatal(ReasonToken, "signing secret", "not given: copy it from the app's basic information")
	}
	return a.life(ctx, func(ctx context.Context) error { return a.serve(ctx, l) })
}

func (a *app) serve(ctx context.Context, l net.Listener) error {
	server := &http.Server{
		Handler:           a.handler(),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      10 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
	closed := make(chan struct{})
	go func() {
		defer close(closed)
		<-ctx.Done()
		_ = server.Close()
	}()
	if a.o.Hello != nil {
		a.o.Hello(1)
	}
	err := server.Serve(l)
	if errors.Is(err, http.ErrServerClosed) {
		<-closed
		return nil
	}
	return err
}

// handler verifies requests and turns them into deliveries.
func (a *app) handler() http.Handler {
	replays := newRecent(remembered)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodPost {
			w.Header().Set("Allow", http.MethodPost)
			http.Error(w, "only POST is taken", http.StatusMethodNotAllowed)
			return
		}
		body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, bodyLimit))
		if err != nil {
			http.Error(w, "body too large or broken off", http.StatusRequestEntityTooLarge)
			return
		}
		if !a.genuine(r.Header, body) {
			http.Error(w, "signature not accepted", http.StatusUnauthorized)
			return
		}
		a.takeRequest(w, r, body, replays)
	})
}

// genuine checks the signature over the raw body, in constant time, and that it
// is no older than five minutes. While the secret is being changed two are good.
func (a *app) genuine(h http.Header, body []byte) bool {
	good := false
	for _, secret := range []Secret{a.o.SigningSecret, a.o.OldSecret} {
		if secret == "" {
			continue
		}
		v, err := sdk.NewSecretsVerifier(h, string(secret))
		if err != nil {
			continue
		}
		if _, err := v.Write(body); err == nil && v.Ensure() == nil {
			good = true
		}
	}
	return good
}

// takeRequest handles a genuine request. The same one a second time is refused:
// within its five minutes anybody who saw it could send it again. The service's
// own retries are signed anew, most often: one that comes within the second is
// not, so a request that was not taken is not remembered.
func (a *app) takeRequest(w http.ResponseWriter, r *http.Request, body []byte, replays *recent) {
	if replays.seen(r.Header.Get("X-Slack-Signature")) {
		http.Error(w, "request was taken before", http.StatusConflict)
		return
	}
	kind, payload, ok := requestPayload(r.Header.Get("Content-Type"), body)
	if !ok {
		http.Error(w, "content type or body not understood", http.StatusUnsupportedMediaType)
		return
	}
	if challenge := challengeIn(kind, payload); challenge != "" {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		_, _ = io.WriteString(w, challenge)
		return
	}
	if !a.acceptRequest(w, a.read(kind, payload)) {
		replays.drop(r.Header.Get("X-Slack-Signature"))
		http.Error(w, "not taken; send again", http.StatusServiceUnavailable)
	}
}

// ackLimit is how long the service waits for an answer to a request.
const ackLimit = 3 * time.Second

// acceptRequest answers the request when its delivery is acknowledged; it reports
// false if there is no room, or if the service has stopped waiting.
func (a *app) acceptRequest(w http.ResponseWriter, d delivery) bool {
	acks := make(chan any, 2)
	full := make(chan struct{})
	began, late := a.o.Now(), time.After(ackLimit)
	go func() {
		if !a.accept(d, func(payload any) { acks <- payload }) {
			close(full)
		}
	}()
	select {
	case payload := <-acks:
		writeAck(w, payload)
		if a.o.Acked != nil {
			a.o.Acked(a.o.Now().Sub(began))
		}
		return true
	case <-full:
	case <-late:
	}
	return false
}

func writeAck(w http.ResponseWriter, payload any) {
	if payload == nil {
		w.WriteHeader(http.StatusOK)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(payload) // the other side hung up: it will send again
}

// requestPayload tells what kind of delivery a body is, and gives its JSON.
func requestPayload(contentType string, body []byte) (kind string, payload json.RawMessage, ok bool) {
	media, _, err := mime.ParseMediaType(contentType)
	switch {
	case err != nil:
		return "", nil, false
	case media == "application/json":
		return "events_api", body, json.Valid(body)
	case media != "application/x-www-form-urlencoded":
		return "", nil, false
	}
	form, err := url.ParseQuery(string(body))
	if err != nil {
		return "", nil, false
	}
	if form.Has("payload") {
		return "interactive", json.RawMessage(form.Get("payload")), true
	}
	fields := make(map[string]string)
	for key := range form {
		fields[key] = form.Get(key)
	}
	payload, err = json.Marshal(fields)
	return "slash_commands", payload, err == nil && form.Has("command")
}

// challengeIn is what the service wants repeated when the address is first set.
func challengeIn(kind string, payload json.RawMessage) string {
	var v struct {
		Type      string `json:"type"`
		Challenge string `json:"challenge"`
	}
	if kind != "events_api" || json.Unmarshal(payload, &v) != nil || v.Type != "url_verification" {
		return ""
	}
	return v.Challenge
}
