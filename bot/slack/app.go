package slack

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
	"time"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// An app is the surface while it runs.
type app struct {
	o       Options
	web     *sdk.Client
	hooks   *http.Client // for response addresses: follows no redirect
	me      self
	work    context.Context // ends when draining has taken too long
	lanes   *lanes
	workers chan struct{}
	calls   chan struct{} // web calls under way: no more than connections are kept for
	paces   *paces
	ours    *recent // threads the app has answered in
	newest  *recent // thread → time stamp of the message whose buttons are live
	own     bool    // the HTTP client is ours alone
	stop    context.CancelCauseFunc
	broken  atomic.Bool // no waiting mends what is wrong: answers may not have gone out
}

// self is who the token speaks as.
type self struct{ Team, User, Bot string }

// newApp checks the options and makes ready; nothing is opened yet.
func newApp(o Options) (*app, error) {
	own := o.HTTPClient == nil
	o = o.withDefaults()
	if err := o.validate(); err != nil {
		return nil, err
	}
	hooks := *o.HTTPClient
	hooks.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	return &app{
		o:       o,
		web:     newClient(o, newOpenGuard(o)),
		hooks:   &hooks,
		lanes:   newLanes(o.Queue, o.logPanic),
		workers: make(chan struct{}, o.Workers),
		calls:   make(chan struct{}, callLimit),
		paces:   newPaces(o.Pace, 1),
		ours:    newRecent(remembered),
		newest:  newRecent(remembered),
		own:     own,
	}, nil
}

// life runs the app around one transport: who am I, then carry until ctx ends or
// a person must mend something, then finish what was acknowledged. carry gets a
// context of its own, ended only when the work is finished, so that an
// acknowledgement still under way goes out.
func (a *app) life(ctx context.Context, carry func(ctx context.Context) error) error {
	running, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	a.stop = stop
	work, endWork := context.WithCancel(context.WithoutCancel(ctx))
	defer endWork()
	a.work = work
	if err := a.identify(running); err != nil {
		return ending(running, err)
	}
	a.tellUnfinished()
	carrying, endCarry := context.WithCancel(context.WithoutCancel(ctx))
	defer endCarry()
	ended := make(chan error, 1)
	go func() { ended <- carry(carrying) }()
	select {
	case <-running.Done():
	case err := <-ended:
		stop(err)
		ended <- nil
	}
	a.drain()
	endCarry()
	<-ended
	if a.own {
		a.o.HTTPClient.CloseIdleConnections()
	}
	return ending(running, nil)
}

// ending is why the app stopped: nil if it was asked to.
func ending(running context.Context, err error) error {
	if cause := context.Cause(running); cause != nil {
		err = cause
	}
	if errors.Is(err, context.Canceled) {
		return nil
	}
	return err
}

// identify asks who the token speaks as, and tries again while the network is down.
func (a *app) identify(ctx context.Context) error {
	for wait := time.Second; ; wait = min(2*wait, time.Minute) {
		who, err := a.web.AuthTestContext(ctx)
		if err == nil {
			a.me = self{Team: who.TeamID, User: who.UserID, Bot: who.BotID}
			return nil
		}
		if mendable := asFatal("bot token", err); mendable != nil {
			return mendable
		}
		a.o.Log.Warn("slack cannot be reached; trying again", "wait", wait, "error", safeError(err))
		if err := sleep(ctx, wait); err != nil {
			return fmt.Errorf("slack cannot be reached: %w", err)
		}
	}
}

// drain finishes what was acknowledged, then lets the last acknowledgements out.
func (a *app) drain() {
	limit, cancel := context.WithTimeout(a.work, a.o.DrainLimit)
	defer cancel()
	if !a.lanes.drain(limit) {
		a.o.Log.Error("stopped with work unfinished", "limit", a.o.DrainLimit)
	}
	_ = sleep(a.work, 200*time.Millisecond)
}

// tellUnfinished tells the threads of an earlier process that their question
// went down with it.
func (a *app) tellUnfinished() {
	for _, p := range a.o.Journal.Unfinished() {
		if !a.lanes.reserve() {
			return
		}
		a.lanes.add(a.work, a.threadKey(p.Channel, p.Thread), func(ctx context.Context) {
			if err := a.say(ctx, p.Channel, p.Thread, note(interruptedText)); err == nil || notMember(err) {
				a.o.Journal.End(p)
			}
		})
	}
}

// threadKey names a thread for the conversation.
func (a *app) threadKey(channel, thread string) string {
	return "slack/" + a.me.Team + "/" + channel + "/" + thread
}

// channelOf is the channel of a thread that threadKey named; empty for any other.
func (a *app) channelOf(key string) string {
	rest, ours := strings.CutPrefix(key, "slack/"+a.me.Team+"/")
	channel, thread, whole := strings.Cut(rest, "/")
	if !ours || !whole || strings.Contains(thread, "/") {
		return ""
	}
	return channel
}

// answer asks the conversation; a failure or a panic becomes a Reply that says so.
func (a *app) answer(ctx context.Context, m talk.Message) (reply talk.Reply) {
	select {
	case a.workers <- struct{}{}:
		defer func() { <-a.workers }()
	case <-ctx.Done(): // every worker is held by an answer that does not return
		a.o.Log.Error("answer failed", "kind", "no worker was free", "late", true)
		return failed()
	}
	ctx, cancel := context.WithTimeout(ctx, a.o.AnswerLimit)
	defer cancel()
	defer func() {
		if p := recover(); p != nil {
			a.o.logPanic(p)
			reply = failed()
		}
	}()
	reply, err := a.o.Answer(ctx, m)
	if err != nil {
		a.o.Log.Error("answer failed", "kind", fmt.Sprintf("%T", err), "late", ctx.Err() != nil)
		return failed()
	}
	return reply
}

// logPanic logs the sort of what was panicked with; its text may quote a message.
func (o Options) logPanic(p any) {
	o.Log.Error("panic in an answer, a form or the home tab", "kind", fmt.Sprintf("%T", p))
}

// giveUp stops the app if err is one that no waiting mends.
func (a *app) giveUp(what string, err error) {
	switch refusal(err) {
	case "missing_scope", "no_permission":
		return // one method lacks a permission; the others may still work
	}
	if mendable := asFatal(what, err); mendable != nil {
		a.broken.Store(true)
		a.stop(mendable)
	}
}

// safeError is what may be logged of an error: the service's own word for a
// refusal, or else only its sort, since an error may quote a request.
func safeError(err error) string {
	if code := refusal(err); code != "" {
		return code
	}
	return fmt.Sprintf("%T", err)
}
