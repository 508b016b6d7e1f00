package slack

import (
	"context"
	"encoding/json"
	"sync"
	"time"
)

// recordLimit is how long recording a delivery may hold up its acknowledgement.
// The service waits 3 s in all.
const recordLimit = time.Second

// A delivery is what one thing Slack sent asks of us. The zero delivery asks
// nothing and is only acknowledged.
type delivery struct {
	keys  []string // any of these seen before means it was handled before
	lane  string
	place Place // for the journal; only where an answer is owed in a thread
	do    job
	// reply, if set, works out what the acknowledgement carries; it must be quick.
	reply func(ctx context.Context) (payload any, then job)
}

// read turns what came in, by either transport, into a delivery. What cannot be
// read or is none of ours asks nothing.
func (a *app) read(kind string, payload json.RawMessage) delivery {
	switch kind {
	case "events_api":
		return a.readEvent(payload)
	case "interactive":
		return a.readInteraction(payload)
	case "slash_commands":
		return a.readCommand(payload)
	}
	return delivery{}
}

// accept records a delivery, acknowledges it by ack, and queues its work. With
// no room it does neither, and reports false: the service will deliver again.
func (a *app) accept(d delivery, ack func(payload any)) bool {
	if d.do == nil && d.reply == nil {
		ack(nil)
		return true
	}
	if !a.lanes.reserve() {
		a.o.Log.Warn("no room for a delivery; left for redelivery")
		return false
	}
	if d.reply != nil {
		a.acceptForm(d, ack)
		return true
	}
	ack = a.atLatest(ack)
	again := a.seen(d.keys)
	if !again {
		a.begin(d.place)
	}
	ack(nil)
	if again {
		a.lanes.release()
		return true
	}
	a.lanes.add(a.work, d.lane, a.journalled(d))
	return true
}

// acceptForm answers a delivery whose acknowledgement carries an answer. If that
// cannot be worked out nothing is acknowledged, and Slack tells the person.
func (a *app) acceptForm(d delivery, ack func(payload any)) {
	go func() {
		var then job
		a.lanes.try(a.work, func(work context.Context) {
			ctx, cancel := context.WithTimeout(work, 2*time.Second)
			defer cancel()
			var payload any
			payload, then = d.reply(ctx)
			ack(payload)
		})
		if then == nil {
			a.lanes.release()
			return
		}
		a.lanes.add(a.work, d.lane, then)
	}()
}

// atLatest is ack made safe to call twice, and called in any case before the
// service would stop waiting.
func (a *app) atLatest(ack func(any)) func(any) {
	var once sync.Once
	first := func(payload any) { once.Do(func() { ack(payload) }) }
	timer := time.AfterFunc(recordLimit, func() { first(nil) })
	return func(payload any) {
		timer.Stop()
		first(payload)
	}
}

// seen records all keys and reports whether any was recorded before.
func (a *app) seen(keys []string) bool {
	again := false
	for _, key := range keys {
		again = a.o.Dedupe.Seen(key) || again
	}
	return again
}

func (a *app) begin(p Place) {
	if a.o.Journal != nil && p != (Place{}) {
		a.o.Journal.Begin(p)
	}
}

// journalled is the delivery's work, with its end noted unless the answer may not
// have gone out.
func (a *app) journalled(d delivery) job {
	if a.o.Journal == nil || d.place == (Place{}) {
		return d.do
	}
	return func(ctx context.Context) {
		d.do(ctx)
		if ctx.Err() == nil && !a.broken.Load() {
			a.o.Journal.End(d.place)
		}
	}
}
