package slack_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"net"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// A rig is the surface running against a stand-in workspace.
type rig struct {
	*standin.Workspace
	t    *testing.T
	ctx  context.Context // bounds every wait of the test
	stop context.CancelFunc
	done chan error
	logs *safeBuffer
	mu   sync.Mutex
	said []talk.Message // what reached the conversation
}

type safeBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

func (b *safeBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}

// base are options for a workspace, quick enough for tests.
func base(w *standin.Workspace) slack.Options {
	return slack.Options{
		BotToken: slack.Secret(w.BotToken()), AppToken: slack.Secret(w.AppToken()),
		SigningSecret: slack.Secret(w.SigningSecret()), APIURL: w.URL(),
		Answer:      echo,
		Connections: 1, Pace: -1, OpenEvery: time.Millisecond,
	}
}

const (
	caution  = "The treating dentist decides."
	cautious = "reating dentist" // stands in it and in each of the surface's own cautions
)

// echo answers with what was said.
func echo(_ context.Context, m talk.Message) (talk.Reply, error) {
	return talk.Reply{Kind: talk.KindHelp, Headline: "You said: " + m.Text, Text: "You said: " + m.Text, Caution: caution}, nil
}

// start runs the surface over Socket Mode; adjust may change the options.
func start(t *testing.T, o standin.Options, adjust func(*slack.Options)) *rig {
	t.Helper()
	r := newRig(t, o)
	options := r.options(adjust)
	go func() { r.done <- slack.Run(r.ctx0(), options) }()
	if err := r.Ready(r.ctx); err != nil {
		t.Fatal(err)
	}
	return r
}

// startHTTP runs the surface over HTTP.
func startHTTP(t *testing.T, adjust func(*slack.Options)) (*rig, string) {
	t.Helper()
	r := newRig(t, standin.Options{})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ready := make(chan struct{})
	options := r.options(adjust)
	options.Hello = func(int) { close(ready) }
	go func() { r.done <- slack.Serve(r.ctx0(), options, l) }()
	select {
	case <-ready:
	case <-r.ctx.Done():
		t.Fatal("did not come up")
	}
	address := "http://" + l.Addr().String() + "/"
	r.DeliverTo(address)
	return r, address
}

// hung is when a test gives up waiting. It says nothing about speed.
const hung = 2 * time.Minute

func newRig(t *testing.T, o standin.Options) *rig {
	t.Helper()
	w, err := standin.New(o)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), hung)
	r := &rig{Workspace: w, t: t, ctx: ctx, done: make(chan error, 1), logs: &safeBuffer{}}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("log:\n%s\ncalls: %+v\nrefused: %q\n%d connections, %d opened", r.logs, w.Calls(), w.Refusals(), w.Connections(), w.Opened())
		}
		cancel()
		w.Close()
	})
	return r
}

func (r *rig) options(adjust func(*slack.Options)) slack.Options {
	o := base(r.Workspace)
	o.Log = slog.New(slog.NewTextHandler(r.logs, &slog.HandlerOptions{Level: slog.LevelDebug}))
	if adjust != nil {
		adjust(&o)
	}
	inner := o.Answer
	o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
		r.mu.Lock()
		r.said = append(r.said, m)
		r.mu.Unlock()
		return inner(ctx, m)
	}
	return o
}

// ctx0 is the context the surface runs under, ended by stop.
func (r *rig) ctx0() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	r.mu.Lock()
	r.stop = cancel
	r.mu.Unlock()
	r.t.Cleanup(cancel)
	return ctx
}

// finish stops the surface and checks that it ended well, that the workspace
// refused nothing, and that nothing said or secret was logged.
func (r *rig) finish(secrets ...string) {
	r.t.Helper()
	r.mu.Lock()
	r.stop()
	r.mu.Unlock()
	if err := r.ended(); err != nil {
		r.t.Errorf("ended with %v", err)
	}
	r.nothingLeft()
	for _, refusal := range r.Refusals() {
		r.t.Errorf("the workspace refused: %s", refusal)
	}
	r.nothingHarmful()
	logged := r.logs.String()
	for _, s := range append(secrets, r.BotToken(), r.AppToken(), r.SigningSecret()) {
		if strings.Contains(logged, s) {
			r.t.Errorf("log holds %q", s)
		}
	}
}

// nothingHarmful checks all that went out: every message carries a caution, in its
// blocks and its plain text, and nothing holds an angle bracket, without which no
// channel and no person can be called.
func (r *rig) nothingHarmful() {
	r.t.Helper()
	for _, m := range r.Messages() {
		blocks := blocksOf(m)
		if !strings.Contains(m.Text, cautious) || !strings.Contains(blocks, cautious) {
			r.t.Errorf("without a caution: %s\n%s", m.Text, blocks)
		}
		r.powerless(m.Text, blocks)
	}
	for _, f := range r.Files() {
		if !strings.Contains(f.Comment, cautious) {
			r.t.Errorf("file %s comes without a caution", f.Name)
		}
		r.powerless(f.Comment, f.Title)
	}
	for _, v := range r.Views() {
		r.powerless(plainJSON(v.Raw))
	}
}

func (r *rig) powerless(texts ...string) {
	r.t.Helper()
	for _, text := range texts {
		if strings.Contains(text, "<") {
			r.t.Errorf("an angle bracket went out in %s", text)
		}
	}
}

// nothingLeft waits for the last goroutines of the surface to end.
func (r *rig) nothingLeft() {
	r.t.Helper()
	stacks := make([]byte, 1<<20)
	for {
		text := string(stacks[:runtime.Stack(stacks, true)])
		if !strings.Contains(text, "slack.(*app)") && !strings.Contains(text, "slack.(*connection)") && !strings.Contains(text, "slack.(*lanes)") {
			return
		}
		select {
		case <-r.ctx.Done():
			r.t.Fatalf("goroutines are left running:\n%s", text)
		case <-time.After(time.Millisecond):
		}
	}
}

func (r *rig) ended() error {
	r.t.Helper()
	select {
	case err := <-r.done:
		return err
	case <-r.ctx.Done():
		return errors.New("did not end")
	}
}

// heard is what reached the conversation so far.
func (r *rig) heard() []talk.Message {
	r.mu.Lock()
	defer r.mu.Unlock()
	return append([]talk.Message(nil), r.said...)
}

func (r *rig) answer(channel, thread string) standin.Message {
	r.t.Helper()
	m, err := r.Answer(r.ctx, channel, thread)
	if err != nil {
		r.t.Fatal(err)
	}
	return m
}

func (r *rig) find(fits func(standin.Message) bool) standin.Message {
	r.t.Helper()
	m, err := r.Find(r.ctx, fits)
	if err != nil {
		r.t.Fatal(err)
	}
	return m
}

func (r *rig) await(done func() bool) {
	r.t.Helper()
	if err := r.Await(r.ctx, done); err != nil {
		r.t.Fatal(err)
	}
}

// until waits for what the workspace does not see.
func (r *rig) until(done func() bool) {
	r.t.Helper()
	for !done() {
		if r.ctx.Err() != nil {
			r.t.Fatal("what was awaited did not come")
		}
		time.Sleep(time.Millisecond)
	}
}

func (r *rig) press(m standin.Message, user, action string) {
	r.t.Helper()
	if err := r.Press(m, user, action); err != nil {
		r.t.Fatal(err)
	}
}

// replying answers everything with one reply.
func replying(reply talk.Reply) func(*slack.Options) {
	return func(o *slack.Options) {
		o.Answer = func(context.Context, talk.Message) (talk.Reply, error) { return reply, nil }
	}
}

// blocksOf is a message's blocks, one a line, with all characters as they are read.
func blocksOf(m standin.Message) string {
	var all []string
	for _, b := range m.Blocks {
		all = append(all, plainJSON(b))
	}
	return strings.Join(all, "\n")
}

// plainJSON is JSON without escapes for the characters of HTML, so that a test
// which looks for one finds it.
func plainJSON(raw json.RawMessage) string {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	var tree any
	if err := json.Unmarshal(raw, &tree); err != nil {
		return string(raw)
	}
	if err := e.Encode(tree); err != nil {
		return string(raw)
	}
	return strings.TrimSpace(out.String())
}
