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
	keys   []string // any of these known means it was handled before
	lane   string
	owed   Place // the thread that is owed an answer; zero: none, or not known yet
	resent bool  // the service sends it again until it is acknowledged
	do     job
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
//
// What the service sends again is not acknowledged before it is recorded: if the
// process stops before that, the next try is new; if after it, the thread is told
// at the next start.
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
	if !d.resent {
		ack = a.atLatest(ack)
	}
	again := a.o.Journal.Begin(d.keys, d.owed)
	ack(nil)
	if again {
		a.lanes.release()
		return true
	}
	a.lanes.add(a.work, d.lane, func(ctx context.Context) {
		d.do(ctx)
		a.settle(ctx, d.owed)
	})
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
		if then == nil || a.o.Journal.Begin(d.keys, Place{}) {
			a.lanes.release()
			return
		}
		a.lanes.add(a.work, d.lane, then)
	}()
}

// atLatest is ack made safe to call twice, and called in any case before the
// service would stop waiting: for what it does not send again, where somebody
// looks at a button or a command that would seem to have failed.
func (a *app) atLatest(ack func(any)) func(any) {
	var once sync.Once
	first := func(payload any) { once.Do(func() { ack(payload) }) }
	timer := time.AfterFunc(recordLimit, func() { first(nil) })
	return func(payload any) {
		timer.Stop()
		first(payload)
	}
}

// settle notes that the answer owed at p was given, unless it may not have gone out.
func (a *app) settle(ctx context.Context, p Place) {
	if p != (Place{}) && ctx.Err() == nil && !a.broken.Load() {
		a.o.Journal.End(p)
	}
}
