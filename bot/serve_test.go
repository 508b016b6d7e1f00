package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"mortarboard/bot/slack/standin"
)

// mainEnv makes the test binary be the program: TestMain runs main in a child
// process, so that the end-to-end tests start the real thing.
const mainEnv = "MORTARBOARD_TEST_RUN_MAIN"

func TestMain(m *testing.M) {
	if os.Getenv(mainEnv) != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

// oneByOne skips a test that brings the program up and has nothing run beside it: under
// the race detector, which has nothing to find there, that takes a quarter of a minute.
func oneByOne(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("the program is brought up and nothing runs beside it: run without -short")
	}
}

// A process is the program under test with what it printed.
type process struct {
	*exec.Cmd
	out syncBuffer
}

type syncBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (b *syncBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

func (b *syncBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}

// start runs the program as a process against a stand-in workspace.
func start(t *testing.T, w *standin.Workspace, ledger string, args ...string) *process {
	t.Helper()
	p := &process{Cmd: exec.Command(os.Args[0], append([]string{"serve", "-ledger", ledger}, args...)...)}
	p.Env = append(os.Environ(), mainEnv+"=1", envBotToken+"="+w.BotToken(), envAppToken+"="+w.AppToken(), envAPI+"="+w.URL())
	p.Stdout, p.Stderr = &p.out, &p.out
	if err := p.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = p.Process.Kill() })
	return p
}

// stop asks the process to stop and returns its exit status.
func (p *process) stop(t *testing.T) int {
	t.Helper()
	if err := p.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	return p.status(t)
}

func (p *process) status(t *testing.T) int {
	t.Helper()
	var exit *exec.ExitError
	switch err := p.Wait(); {
	case err == nil:
		return exitOK
	case errors.As(err, &exit):
		return exit.ExitCode()
	default:
		t.Fatal(err)
		return -1
	}
}

// hung is when a test gives up on the program. It says nothing about speed: under the
// race detector the program takes half a minute to come up.
const hung = 8 * time.Minute

func workspace(t *testing.T) (*standin.Workspace, context.Context) {
	t.Helper()
	w, err := standin.New(standin.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(w.Close)
	ctx, cancel := context.WithTimeout(context.Background(), hung)
	t.Cleanup(cancel)
	return w, ctx
}

// TestServe asks the real program in a channel, presses a button, restarts it
// and goes on in the same thread, and stops it.
func TestServe(t *testing.T) {
	w, ctx := workspace(t)
	ledger := filepath.Join(t.TempDir(), "ledger")
	p := start(t, w, ledger, "-practice", "../testdata/practice")
	if err := w.Ready(ctx); err != nil {
		t.Fatalf("not connected: %v\n%s", err, p.out.String())
	}
	root := w.Mention("C1", "U1", "bond or cement, translucent, margin in dentin")
	m, err := w.Answer(ctx, "C1", root)
	if err != nil {
		t.Fatalf("no answer: %v\n%s", err, p.out.String())
	}
	if !strings.Contains(m.Text, "It depends") || !strings.Contains(m.Text, "licensed clinical judgment") {
		t.Errorf("the answer is %q, wanted the conflict named and the caution", m.Text)
	}
	if code := p.stop(t); code != exitOK {
		t.Errorf("stopped with %d, wanted %d\n%s", code, exitOK, p.out.String())
	}

	p = start(t, w, ledger, "-practice", "../testdata/practice")
	if err := w.Ready(ctx); err != nil {
		t.Fatal(err)
	}
	w.MentionIn("C1", root, "U2", "what if it's 3Y?")
	again, err := w.Find(ctx, func(m standin.Message) bool {
		return m.Thread == root && strings.Contains(m.Text, "Supposing")
	})
	if err != nil {
		t.Fatalf("the thread was forgotten: %v\n%s", err, p.out.String())
	}
	if !strings.Contains(again.Text, "Cement it conventionally") {
		t.Errorf("the what-if says %q, wanted cement", again.Text)
	}
	if code := p.stop(t); code != exitOK {
		t.Errorf("stopped with %d, wanted %d", code, exitOK)
	}
	if log := p.out.String(); strings.Contains(log, "what if") || strings.Contains(log, w.BotToken()) {
		t.Errorf("the log holds a message's text or a token:\n%s", log)
	}
	if refused := w.Refusals(); len(refused) > 0 {
		t.Errorf("the service would have refused: %v", refused)
	}
}

// TestServeRevoked starts the program with a revoked token: it says so on a line
// and leaves with the status that keeps a supervisor from trying again.
func TestServeRevoked(t *testing.T) {
	oneByOne(t)
	w, _ := workspace(t)
	w.Revoke("token_revoked")
	p := start(t, w, filepath.Join(t.TempDir(), "ledger"))
	if code := p.status(t); code != exitMend {
		t.Errorf("left with %d, wanted %d", code, exitMend)
	}
	if !strings.Contains(p.out.String(), "token") || strings.Contains(p.out.String(), w.BotToken()) {
		t.Errorf("printed %q, wanted a word about the token and not the token", p.out.String())
	}
}

// TestServeRevokedMeanwhile revokes the token while the program runs.
func TestServeRevokedMeanwhile(t *testing.T) {
	w, ctx := workspace(t)
	p := start(t, w, filepath.Join(t.TempDir(), "ledger"))
	if err := w.Ready(ctx); err != nil {
		t.Fatalf("not connected: %v\n%s", err, p.out.String())
	}
	w.Revoke("token_revoked")
	w.Mention("C1", "U1", "pressure for 5Y?")
	if code := p.status(t); code != exitMend {
		t.Errorf("left with %d, wanted %d\n%s", code, exitMend, p.out.String())
	}
	if out := p.out.String(); !strings.Contains(out, "token_revoked: make a new token") {
		t.Errorf("printed %q", out)
	}
}

// TestServeHomeAndForm looks at the home tab as the lead and as somebody else, and
// builds a case in the form, which drops the fields that can no longer matter.
func TestServeHomeAndForm(t *testing.T) {
	w, ctx := workspace(t)
	p := start(t, w, filepath.Join(t.TempDir(), "ledger"), "-lead", "U9")
	root := w.Mention("C1", "U1", "what does a crown cost?")
	if _, err := w.Answer(ctx, "C1", root); err != nil {
		t.Fatalf("no answer: %v\n%s", err, p.out.String())
	}
	const review = "questions not answered in the last 30 days"
	for user, want := range map[string]bool{"U9": true, "U1": false} {
		w.OpenHome(user)
		home := view(t, ctx, w, func(v standin.View) bool { return v.Type == "home" && v.User == user })
		if got := strings.Contains(home, review) && strings.Contains(home, ": not covered, 1"); got != want || !strings.Contains(home, "Bond or cement") {
			t.Errorf("%s sees the review list: %t, wanted %t\n%s", user, got, want, home)
		}
	}
	seating := w.Mention("C1", "U1", "3Y crown UR6, dry, good prep")
	for _, says := range []struct{ text, answer string }{{"", "Cement it"}, {"start the run", "Step 1 of"}, {"done 1", "Step 2 of"}} {
		if says.text != "" {
			w.Reply("C1", seating, "U1", says.text) // once the answer before it is out: two connections keep no order
		}
		if _, err := w.Find(ctx, func(m standin.Message) bool { return m.Thread == seating && strings.Contains(m.Text, says.answer) }); err != nil {
			t.Fatalf("%q is not answered with %q: %v\n%s", says.text, says.answer, err, p.out.String())
		}
	}
	w.OpenHome("U2")
	home := view(t, ctx, w, func(v standin.View) bool { return v.Type == "home" && v.User == "U2" })
	if !strings.Contains(home, `Open seating runs`) || !strings.Contains(home, `\u003c#C1\u003e crown, molar, 3Y: cementing, 1 of `) {
		t.Errorf("the home tab does not name the open run: %s", home)
	}
	w.FormShortcut("U1")
	if form := view(t, ctx, w, isForm); !strings.Contains(form, "field/margin") {
		t.Errorf("the form does not ask for the margin: %s", form)
	}
	values := map[string]string{"restoration": "veneer"}
	w.Change(latest(t, ctx, w, isForm), "U1", "restoration", values)
	view(t, ctx, w, func(v standin.View) bool {
		return isForm(v) && !strings.Contains(string(v.Raw), "field/margin") && strings.Contains(string(v.Raw), "field/isolation")
	})
	w.Submit(latest(t, ctx, w, isForm), "U1", values)
	if _, err := w.Find(ctx, func(m standin.Message) bool { return m.Thread != "" && strings.Contains(m.Text, "veneer") }); err != nil {
		t.Errorf("the form is not answered: %v\n%s", err, p.out.String())
	}
	if code := p.stop(t); code != exitOK || len(w.Refusals()) > 0 {
		t.Errorf("stopped with %d; refused: %v", code, w.Refusals())
	}
}

func isForm(v standin.View) bool { return v.Type == "modal" }

// latest waits for a view that fits.
func latest(t *testing.T, ctx context.Context, w *standin.Workspace, fits func(standin.View) bool) standin.View {
	t.Helper()
	v, err := w.LastView(ctx, fits)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func view(t *testing.T, ctx context.Context, w *standin.Workspace, fits func(standin.View) bool) string {
	t.Helper()
	return string(latest(t, ctx, w, fits).Raw)
}

// TestServeTokens asks for what is missing, and where to get it.
func TestServeTokens(t *testing.T) {
	for name, env := range map[string]map[string]string{
		envBotToken: {},
		envAppToken: {envBotToken: "xoxb-1"},
	} {
		var out, errs bytes.Buffer
		code := run(t.Context(), []string{"serve"}, surroundings{strings.NewReader(""), &out, &errs, func(k string) string { return env[k] }})
		if code != exitUsage || !strings.Contains(errs.String(), name) {
			t.Errorf("without %s: status %d, printed %q", name, code, errs.String())
		}
	}
}

// TestServeCheck looks at a good set-up and at one that lacks something.
func TestServeCheck(t *testing.T) {
	oneByOne(t)
	w, _ := workspace(t)
	env := map[string]string{envBotToken: w.BotToken(), envAppToken: w.AppToken(), envAPI: w.URL()}
	var out, errs bytes.Buffer
	s := surroundings{strings.NewReader(""), &out, &errs, func(k string) string { return env[k] }}
	if code := run(t.Context(), []string{"serve", "-check", "-practice", "../testdata/practice"}, s); code != exitOK {
		t.Errorf("a good set-up gives %d: %s%s", code, out.String(), errs.String())
	}
	if !strings.Contains(out.String(), "articles load") || !strings.Contains(out.String(), "give -lead") {
		t.Errorf("printed %q, wanted a word on rules and articles, and that no lead is named", out.String())
	}
	w.Revoke("invalid_auth")
	if code := run(t.Context(), []string{"serve", "-check"}, s); code != exitUsage {
		t.Errorf("a revoked token gives %d: %s", code, errs.String())
	}
}
