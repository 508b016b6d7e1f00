package page

import (
	"context"
	"fmt"
	"net/http"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"mortarboard/bot/talk"
)

// TestAnswersOfOneCaseComeInTurn: two questions of one case are never worked on
// side by side, since the second builds on the facts of the first.
func TestAnswersOfOneCaseComeInTurn(t *testing.T) {
	var atOnce, most atomic.Int32
	r := newRig(t, func(o *Options) {
		o.PerMinute, o.Workers = 600, 8
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			most.Store(max(most.Load(), atOnce.Add(1)))
			defer atOnce.Add(-1)
			runtime.Gosched() // gives another one the chance to come in
			return echo(ctx, m)
		}
	})
	first := r.ask(r.get("/"), "first")
	id, token := first.field("case"), first.field("token")
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			b := browser{handler: r.handler, cookies: r.cookies}
			if got := b.do(request("POST", "/ask", form(token, id, fmt.Sprint("more ", i)))); got.StatusCode != http.StatusSeeOther {
				t.Errorf("question %d: status %d", i, got.StatusCode)
			}
		})
	}
	all.Wait()
	if most.Load() != 1 {
		t.Errorf("%d answers of one case at once", most.Load())
	}
	r.get("/case/"+id).shows(t, "Card 21", "Card 20", "Card 1", "first")
}

// TestAtMostSoManyAnswersAtOnce: the others wait, and are told if they waited
// too long.
func TestAtMostSoManyAnswersAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) { // the limits pass at once
		goOn := make(chan struct{})
		r := newRig(t, func(o *Options) {
			o.Workers = 2
			o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
				<-goOn
				return echo(ctx, m)
			}
		})
		for _, q := range []string{"one", "two", "three"} {
			if got := r.get("/?q=" + q); got.StatusCode != 503 && got.StatusCode != 504 {
				t.Errorf("%s: status %d", q, got.StatusCode)
			}
		}
		close(goOn)
		synctest.Wait()
		said := r.messages()
		if len(said) != 2 || said[0].Text != "one" || said[1].Text != "two" {
			t.Errorf("worked on %v, want the first two", said)
		}
		r.get("/?q=four").shows(t, "Card 1", "four")
	})
}

func TestRequestsOfAnySortAreBounded(t *testing.T) {
	r := newRig(t, func(o *Options) { o.PerMinute = 1 }) // 10 requests a minute, 3 of them at once
	r.get("/")
	for range 3 {
		if got := r.get("/static/page.css"); got.StatusCode != 200 {
			t.Fatalf("status %d", got.StatusCode)
		}
	}
	got := r.get("/")
	got.shows(t, "too short a time", "Wait 6 seconds")
	if got.StatusCode != 429 || got.Header.Get("Retry-After") != "6" {
		t.Errorf("status %d, retry %q", got.StatusCode, got.Header.Get("Retry-After"))
	}
	r.now = r.now.Add(6 * time.Second)
	if got := r.get("/"); got.StatusCode != 200 {
		t.Errorf("after the wait: status %d", got.StatusCode)
	}
}

// TestNothingThatWasSaidIsLogged walks every way a question can take.
func TestNothingThatWasSaidIsLogged(t *testing.T) {
	const said = "SAID-ALOUD"
	r := newRig(t, func(o *Options) {
		o.PerMinute = 60
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			switch {
			case strings.Contains(m.Text, "panic"):
				panic(m.Text)
			case strings.Contains(m.Text, "error"):
				return talk.Reply{}, fmt.Errorf("cannot read %q", m.Text)
			}
			return echo(ctx, m)
		}
	})
	start := r.get("/")
	for _, q := range []string{said, said + " panic", said + " error", said + strings.Repeat("x", questionLimit)} {
		r.ask(start, q)
		r.get("/?q=" + strings.ReplaceAll(q, " ", "+"))
	}
	strange := request("GET", "/?q="+said, "")
	strange.Host = said + ".example"
	r.do(strange)
	r.do(request("POST", "/ask", form("no", "", said)))
	r.get("/case/" + said)
	r.get("/" + said)
	log := r.logs.String()
	if strings.Contains(log, said) || strings.Contains(log, "?q=") {
		t.Errorf("logged: %s", log)
	}
	for _, want := range []string{"answer panicked", "answer failed", "why=host", "why=token"} {
		if !strings.Contains(log, want) {
			t.Errorf("%q is not logged in %s", want, log)
		}
	}
}
