package slack

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"mortarboard/bot/talk"
)

func TestPaceSpacesCallsOut(t *testing.T) {
	at := time.Unix(1000, 0)
	p := pace{every: time.Second, burst: 3}
	var waits []time.Duration
	for range 5 {
		waits = append(waits, p.take(at))
	}
	if got, want := fmt.Sprint(waits), "[0s 0s 0s 1s 2s]"; got != want {
		t.Errorf("waits %s, want %s", got, want)
	}
	if got := p.take(at.Add(10 * time.Second)); got != 0 {
		t.Errorf("after a rest: wait %s", got)
	}
	p.hold(at.Add(40 * time.Second))
	if got := p.take(at.Add(20 * time.Second)); got != 20*time.Second {
		t.Errorf("held: wait %s, want 20s", got)
	}
}

func TestPacesForgetIdleChannels(t *testing.T) {
	p := newPaces(time.Second, 1)
	at := time.Unix(1000, 0)
	for i := range 10 * idleChannels {
		p.take(fmt.Sprint(i), at)
		at = at.Add(time.Second)
	}
	if n := len(p.of); n > idleChannels {
		t.Errorf("%d channels remembered, at most %d wanted", n, idleChannels)
	}
}

// opens counts what reaches the service.
type opens struct{ n int }

func (o *opens) RoundTrip(*http.Request) (*http.Response, error) {
	o.n++
	return &http.Response{StatusCode: 200, Body: http.NoBody}, nil
}

func TestConnectionsAreNotOpenedInAStorm(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		base := &opens{}
		g := newOpenGuard(Options{HTTPClient: &http.Client{Transport: base}}.withDefaults())
		ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
		defer cancel()
		for ctx.Err() == nil {
			r, err := http.NewRequestWithContext(ctx, http.MethodPost, serviceURL+"apps.connections.open", nil)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := g.RoundTrip(r); err != nil && ctx.Err() == nil {
				t.Fatal(err)
			}
		}
		if base.n > 9 || base.n < 8 {
			t.Errorf("%d opened in a minute, want 3 and one more every 10 s", base.n)
		}
	})
}

func TestRecentForgetsTheOldest(t *testing.T) {
	r := newRecent(2)
	for _, c := range []struct {
		key  string
		want bool
	}{{"a", false}, {"b", false}, {"a", true}, {"c", false}, {"a", false}, {"c", true}} {
		if got := r.seen(c.key); got != c.want {
			t.Errorf("seen(%q) = %t", c.key, got)
		}
	}
	if len(r.values) != 2 {
		t.Errorf("%d keys kept, want 2", len(r.values))
	}
}

func TestLanesKeepOrderAndCount(t *testing.T) {
	l := newLanes(100, nil)
	var mu sync.Mutex
	mu.Lock() // until all jobs wait
	got := map[string][]int{}
	for i := range 100 {
		if !l.reserve() {
			t.Fatalf("no room for job %d", i)
		}
		lane := fmt.Sprint(i % 3)
		l.add(t.Context(), lane, func(context.Context) {
			mu.Lock()
			defer mu.Unlock()
			got[lane] = append(got[lane], i)
		})
	}
	mu.Unlock()
	if !l.drain(t.Context()) {
		t.Fatal("not drained")
	}
	for first := range 3 {
		for k, job := range got[fmt.Sprint(first)] {
			if job != first+3*k {
				t.Fatalf("lane %d ran %v", first, got[fmt.Sprint(first)])
			}
		}
	}
	if n := len(got["0"]) + len(got["1"]) + len(got["2"]); n != 100 {
		t.Errorf("%d of 100 jobs ran", n)
	}
	if l.reserve() || l.room != 100 {
		t.Errorf("after the drain: room %d of 100", l.room)
	}
}

// slowJournal takes its time to record a delivery.
type slowJournal struct {
	Journal
	takes time.Duration
}

func (s slowJournal) Begin([]string, Place) bool { time.Sleep(s.takes); return false }

// TestASlowRecord holds up recording. What the service does not send again is
// acknowledged all the same, once; what it does send again is not acknowledged
// before it is recorded, or a crash would lose it.
func TestASlowRecord(t *testing.T) {
	const takes = 10 * time.Second
	for resent, want := range map[bool]time.Duration{false: recordLimit, true: takes} {
		synctest.Test(t, func(t *testing.T) {
			a := &app{o: Options{Journal: slowJournal{takes: takes}}.withDefaults(), lanes: newLanes(1, nil), work: t.Context()}
			began, acked := time.Now(), make(chan time.Duration, 2)
			done := make(chan bool)
			d := delivery{keys: []string{"k"}, lane: "l", resent: resent, do: func(context.Context) { close(done) }}
			go a.accept(d, func(any) { acked <- time.Since(began) })
			if waited := <-acked; waited != want {
				t.Errorf("sent again %t: acknowledged after %s, want %s", resent, waited, want)
			}
			<-done
			synctest.Wait()
			if len(acked) != 0 {
				t.Error("acknowledged twice")
			}
		})
	}
}

func TestPlainTextIsWhatWasSaid(t *testing.T) {
	for in, want := range map[string]string{
		"<@U0> is 2 &lt; 3 &amp; 4 &gt; 1?":        "is 2 < 3 & 4 > 1?",
		"ask <@U2|jane> in <#C1|lab> <!here>":      "ask someone in #lab",
		"see <https://a.example|the sheet>":        "see the sheet",
		"2.5\u202fbar\u00a0\u2011 \u201cok\u201d?": "2.5 bar - \"ok\"?",
	} {
		if got := plainText(in, "U0"); got != want {
			t.Errorf("plainText(%q) = %q, want %q", in, got, want)
		}
	}
}

// TestWaitingEndsWithTheWork: neither a worker nor a call is waited for when the
// time for the work is over.
func TestWaitingEndsWithTheWork(t *testing.T) {
	over, end := context.WithCancel(t.Context())
	end()
	a := &app{o: Options{Log: slog.New(slog.DiscardHandler)}, workers: make(chan struct{}), calls: make(chan struct{})}
	if got, want := a.answer(over, talk.Message{}).Headline, failed().Headline; got != want {
		t.Errorf("without a free worker it answers %q, wanted %q", got, want)
	}
	err := a.call(over, func(context.Context) error { t.Error("called when the time was over"); return nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("without room for a call it says %v, wanted that the time is over", err)
	}
}
