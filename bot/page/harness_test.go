package page

import (
	"bytes"
	"context"
	"html"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"mortarboard/bot/talk"
)

const caution = "The treating dentist decides."

// A rig is a site with a clock, a log and one browser.
type rig struct {
	t    *testing.T
	site *site
	now  time.Time
	logs safeBuffer
	mu   sync.Mutex
	said []talk.Message // what reached the conversation
	browser
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

// newRig makes a site that answers with echo; adjust may change the options.
func newRig(t *testing.T, adjust func(*Options)) *rig {
	t.Helper()
	r := &rig{t: t, now: time.Date(2026, 11, 24, 9, 30, 0, 0, time.UTC)}
	o := Options{
		Answer: echo, Practice: "Wrenfold Dental Rooms",
		Now: func() time.Time { return r.now },
		Log: slog.New(slog.NewTextHandler(&r.logs, &slog.HandlerOptions{Level: slog.LevelDebug})),
	}
	if adjust != nil {
		adjust(&o)
	}
	answer := o.Answer
	o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
		r.mu.Lock()
		r.said = append(r.said, m)
		r.mu.Unlock()
		return answer(ctx, m)
	}
	s, err := newSite(t.Context(), o, 8484)
	if err != nil {
		t.Fatal(err)
	}
	r.site = s
	r.browser = browser{handler: s.handler()}
	return r
}

// echo answers with what was said, and asks one question back.
func echo(_ context.Context, m talk.Message) (talk.Reply, error) {
	return talk.Reply{
		Question: m.Text, Kind: talk.KindHelp, Headline: "You said: " + m.Text, Caution: caution,
		Choices: []talk.Choice{{Fact: "isolation", Ask: "Can it be kept dry?", Options: []talk.Option{{Label: "Yes", Says: "moisture control: dry"}}}},
	}, nil
}

// messages are what reached the conversation so far.
func (r *rig) messages() []talk.Message {
	r.mu.Lock()
	defer r.mu.Unlock()
	return append([]talk.Message(nil), r.said...)
}

// A browser keeps cookies and sends what a browser sends.
type browser struct {
	handler http.Handler
	cookies map[string]*http.Cookie
}

// A page is one response.
type page struct {
	*http.Response
	body string
}

func (b *browser) do(req *http.Request) page {
	for _, c := range b.cookies {
		req.AddCookie(c)
	}
	w := httptest.NewRecorder()
	b.handler.ServeHTTP(w, req)
	res := w.Result()
	for _, c := range res.Cookies() {
		if b.cookies == nil {
			b.cookies = map[string]*http.Cookie{}
		}
		b.cookies[c.Name] = c
	}
	body, _ := io.ReadAll(res.Body)
	return page{res, string(body)}
}

func (b *browser) get(address string) page { return b.do(request("GET", address, "")) }

// request is one as a browser on the page itself sends it.
func request(method, address, body string) *http.Request {
	req := httptest.NewRequest(method, address, strings.NewReader(body))
	req.Host = "127.0.0.1:8484"
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	if method == "POST" {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		req.Header.Set("Origin", "http://127.0.0.1:8484")
	}
	return req
}

func form(token, id, q string) string {
	return url.Values{"token": {token}, "case": {id}, "q": {q}}.Encode()
}

// ask sends a question from the form of a page and follows to the case.
func (b *browser) ask(from page, q string) page {
	got := b.do(request("POST", "/ask", form(from.field("token"), from.field("case"), q)))
	if got.StatusCode == http.StatusSeeOther {
		address, _, _ := strings.Cut(got.Header.Get("Location"), "#")
		return b.get(address)
	}
	return got
}

// field is the value of the first hidden field of a name.
func (p page) field(name string) string {
	m := regexp.MustCompile(`name="` + name + `" value="([^"]*)"`).FindStringSubmatch(p.body)
	if m == nil {
		return ""
	}
	return html.UnescapeString(m[1])
}

// text is what a reader sees, in one line.
func (p page) text() string { return textOf(p.body) }

var tag = regexp.MustCompile(`(?s)<[^>]*>`)

func textOf(body string) string {
	return strings.Join(strings.Fields(html.UnescapeString(tag.ReplaceAllString(body, " "))), " ")
}

// shows fails the test unless a page holds each text, in this order.
func (p page) shows(t *testing.T, texts ...string) {
	t.Helper()
	rest := p.text()
	for _, text := range texts {
		_, after, ok := strings.Cut(rest, text)
		if !ok {
			t.Fatalf("%q is missing or out of order in\n%s", text, p.text())
		}
		rest = after
	}
}
