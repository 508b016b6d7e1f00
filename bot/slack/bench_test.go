package slack_test

import (
	"context"
	"fmt"
	"net/http"
	"runtime"
	"sort"
	"testing"
	"time"

	sdk "github.com/slack-go/slack"
	"github.com/slack-go/slack/slackevents"
	"github.com/slack-go/slack/socketmode"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// BenchmarkThroughput sends mentions through socket, acknowledgement, answer and
// post, and through a bare echo bot on the same library, in turn. It reports
// events per second of both, their ratio, and our latencies in milliseconds.
func BenchmarkThroughput(b *testing.B) {
	client := benchClient()
	ours := benchWorkspace(b, standin.Options{})
	runOurs(b, ours, client)
	echoes := benchWorkspace(b, standin.Options{})
	runEcho(b, echoes, client)
	drive(b, ours, 200)
	drive(b, echoes, 200)
	n := max(b.N, 1000)
	b.ResetTimer()
	var oursTook, echoTook time.Duration
	for range 4 { // in turn, so that a busy machine is unfair to neither
		oursTook += drive(b, ours, n/4)
		echoTook += drive(b, echoes, n/4)
	}
	b.StopTimer()
	rate := func(d time.Duration) float64 { return float64(n/4*4) / d.Seconds() }
	b.ReportMetric(rate(oursTook), "events/s")
	b.ReportMetric(rate(echoTook), "echo-events/s")
	b.ReportMetric(rate(oursTook)/rate(echoTook), "ratio")
	acks, answers := latencies(ours)
	b.ReportMetric(percentile(acks, 50), "ack-p50-ms")
	b.ReportMetric(percentile(acks, 99), "ack-p99-ms")
	b.ReportMetric(percentile(acks, 100), "ack-max-ms")
	b.ReportMetric(percentile(answers, 50), "answer-p50-ms")
	b.ReportMetric(percentile(answers, 99), "answer-p99-ms")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkOpenThreads opens 10,000 threads and reports what each keeps in memory.
func BenchmarkOpenThreads(b *testing.B) {
	const threads = 10000
	for range b.N {
		w := benchWorkspace(b, standin.Options{Forget: true})
		runOurs(b, w, benchClient())
		drive(b, w, 1000)
		before := liveHeap()
		drive(b, w, threads)
		b.ReportMetric(float64(int64(liveHeap()-before))/threads, "bytes/thread")
	}
}

func liveHeap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

func benchClient() *http.Client {
	return &http.Client{Timeout: 30 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
}

func benchWorkspace(b *testing.B, o standin.Options) *standin.Workspace {
	b.Helper()
	w, err := standin.New(o)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(w.Close)
	return w
}

func runOurs(b *testing.B, w *standin.Workspace, client *http.Client) {
	b.Helper()
	o := base(w)
	o.HTTPClient = client
	o.Answer = func(_ context.Context, m talk.Message) (talk.Reply, error) {
		return talk.Reply{Headline: m.Text, Text: m.Text, Caution: caution}, nil
	}
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		if err := slack.Run(ctx, o); err != nil {
			b.Error(err)
		}
	}()
	b.Cleanup(func() { cancel(); <-done })
	ready(b, w)
}

// runEcho is the least a bot can do: acknowledge, and post what was said.
func runEcho(b *testing.B, w *standin.Workspace, client *http.Client) {
	b.Helper()
	api := sdk.New(w.BotToken(), sdk.OptionAppLevelToken(w.AppToken()), sdk.OptionHTTPClient(client), sdk.OptionAPIURL(w.URL()))
	smc := socketmode.New(api)
	ctx, cancel := context.WithCancel(context.Background())
	b.Cleanup(cancel)
	go func() { _ = smc.RunContext(ctx) }()
	go func() {
		for event := range smc.Events {
			if event.Type != socketmode.EventTypeEventsAPI {
				continue
			}
			if err := smc.Ack(*event.Request); err != nil {
				b.Error(err)
			}
			go echoEvent(b, ctx, api, event)
		}
	}()
	ready(b, w)
}

func echoEvent(b *testing.B, ctx context.Context, api *sdk.Client, event socketmode.Event) {
	outer, ok := event.Data.(slackevents.EventsAPIEvent)
	if !ok {
		return
	}
	if e, ok := outer.InnerEvent.Data.(*slackevents.AppMentionEvent); ok {
		if _, _, err := api.PostMessageContext(ctx, e.Channel, sdk.MsgOptionText(e.Text, false), sdk.MsgOptionTS(e.TimeStamp)); err != nil && ctx.Err() == nil {
			b.Error(err)
		}
	}
}

func ready(b *testing.B, w *standin.Workspace) {
	b.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), hung)
	defer cancel()
	if err := w.Ready(ctx); err != nil {
		b.Fatal(err)
	}
}

// drive sends n mentions, 200 unanswered at most, and waits for all answers.
func drive(b *testing.B, w *standin.Workspace, n int) time.Duration {
	b.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	_, before := w.Counts()
	began := time.Now()
	for i := range n {
		if i%20 == 0 {
			await(b, ctx, w, before+i-200)
		}
		w.Mention(fmt.Sprintf("C%d", i%200), "U1", "what pressure for the abrasion of a crown?")
	}
	await(b, ctx, w, before+n)
	return time.Since(began)
}

func await(b *testing.B, ctx context.Context, w *standin.Workspace, posts int) {
	b.Helper()
	err := w.Await(ctx, func() bool { _, posted := w.Counts(); return posted >= posts })
	if err != nil {
		b.Fatal(err)
	}
}

// latencies are our waits from sending an event to its acknowledgement and to
// its answer, in milliseconds, sorted.
func latencies(w *standin.Workspace) (acks, answers []float64) {
	answered := map[string]time.Time{}
	for _, m := range w.Messages() {
		answered[m.Thread] = m.At
	}
	for _, d := range w.Deliveries() {
		payload, _ := d.Payload.(map[string]any)
		e, _ := payload["event"].(map[string]any)
		ts, _ := e["ts"].(string)
		acks = append(acks, d.Acked.Sub(d.Sent).Seconds()*1000)
		answers = append(answers, answered[ts].Sub(d.Sent).Seconds()*1000)
	}
	sort.Float64s(acks)
	sort.Float64s(answers)
	return acks, answers
}

func percentile(sorted []float64, p int) float64 {
	return sorted[min(len(sorted)*p/100, len(sorted)-1)]
}
