package slack

import (
	"cmp"
	"context"
	"errors"
	"net"
	"time"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// A target is where an answer goes.
type target struct {
	channel string
	thread  string // time stamp of the thread's first message; empty: outside any thread
	user    string // who asked
	fresh   bool   // the thread has no reply yet: what is private is not shown inside it
	key     string // the thread's name for the conversation
	hook    string // a response address: the answer goes there, for the asker only
	name    string // the conversation's name, where no thread carries it
	replace bool   // the answer takes the place of the message that was pressed
}

// paced makes one call of a method for a channel: not sooner than its pace allows,
// and again when the service says it came too soon or could not be reached. The
// calls of one thread keep their order, since its lane waits here.
func (a *app) paced(ctx context.Context, method, channel string, call func(ctx context.Context) error) error {
	for again := time.Second; ; again = min(2*again, 30*time.Second) {
		if err := a.turn(ctx, method, channel); err != nil {
			return err
		}
		err := a.call(ctx, call)
		wait, retry := retryIn(err, again)
		if !retry {
			if err != nil {
				a.giveUp("bot token", err)
			}
			return err
		}
		a.o.Log.Info("slack asks to wait", "method", method, "wait", wait)
		a.paces.hold(method, channel, a.o.Now(), wait)
	}
}

// turn waits until a call may go: its channel's pace first, then as long as the
// service holds its method back, which it may come to do meanwhile.
func (a *app) turn(ctx context.Context, method, channel string) error {
	err := sleep(ctx, a.paces.take(channel, a.o.Now()))
	for err == nil {
		wait := a.paces.held(method, a.o.Now())
		if wait <= 0 {
			return nil
		}
		err = sleep(ctx, wait)
	}
	return err
}

// call makes one call when fewer than callLimit are under way, unless ctx ends first.
func (a *app) call(ctx context.Context, call func(ctx context.Context) error) error {
	select {
	case a.calls <- struct{}{}:
		defer func() { <-a.calls }()
		return call(ctx)
	case <-ctx.Done():
		return ctx.Err()
	}
}

// retryIn is how long to wait before the same call again. Only what surely was
// not carried out is tried again, so that no answer is posted twice.
func retryIn(err error, again time.Duration) (time.Duration, bool) {
	var limited *sdk.RateLimitedError
	var status sdk.StatusCodeError
	var network *net.OpError
	switch {
	case err == nil:
		return 0, false
	case errors.As(err, &limited):
		return max(limited.RetryAfter, time.Millisecond), true
	case refusal(err) == "ratelimited", refusal(err) == "rate_limited":
		return again, true
	case errors.As(err, &status) && (status.Code == 503 || status.Code == 429): // 429 without Retry-After
		return again, true
	case errors.As(err, &network) && network.Op == "dial":
		return again, true
	}
	return 0, false
}

// deliver lays out a reply and sends it where it belongs.
func (a *app) deliver(ctx context.Context, to target, r talk.Reply) error {
	r.Caution = cmp.Or(r.Caution, standingCaution)
	switch {
	case r.Headline == "" && r.Text == "":
		return nil
	case to.hook != "":
		return a.deliverHook(ctx, to, r)
	case r.Private:
		return a.deliverPrivate(ctx, to, r)
	}
	l := lay(r)
	for _, m := range l.messages {
		if err := a.post(ctx, to, m); err != nil {
			return err
		}
	}
	if err := a.attach(ctx, to, r, l.rest); err != nil {
		return err
	}
	return a.showPictures(ctx, to, r)
}

// post sends one message into the target's thread, and makes its buttons the
// live ones there.
func (a *app) post(ctx context.Context, to target, m outgoing) error {
	var stamp string
	err := a.paced(ctx, "chat.postMessage", to.channel, func(ctx context.Context) error {
		var err error
		_, stamp, err = a.web.PostMessageContext(ctx, to.channel, options(to.thread, m)...)
		return err
	})
	if err != nil || to.key == "" {
		return err
	}
	a.ours.set(to.key, "")
	if m.live {
		a.setLive(to.key, stamp)
	}
	return nil
}

// options are a message as the library wants it.
func options(thread string, m outgoing) []sdk.MsgOption {
	o := []sdk.MsgOption{
		sdk.MsgOptionText(string(m.text), false),
		sdk.MsgOptionBlocks(m.blocks...),
		sdk.MsgOptionDisableLinkUnfurl(),
		sdk.MsgOptionDisableMediaUnfurl(),
	}
	if thread != "" {
		o = append(o, sdk.MsgOptionTS(thread))
	}
	return o
}

// say posts a message of the surface's own, which outdates no buttons.
func (a *app) say(ctx context.Context, channel, thread string, m outgoing) error {
	return a.post(ctx, target{channel: channel, thread: thread}, m)
}

// deliverPrivate shows a reply to the asker only. Slack shows such a message in
// a thread only if the thread has replies already, and does not promise to show
// it at all: it is for warnings, not for answers of record.
func (a *app) deliverPrivate(ctx context.Context, to target, r talk.Reply) error {
	thread := to.thread
	if to.fresh {
		thread = ""
	}
	for _, m := range laySplit(picturesInWords(r), "t"+to.thread).messages {
		if err := a.whisper(ctx, to.channel, thread, to.user, m); err != nil {
			return err
		}
	}
	return nil
}

func (a *app) whisper(ctx context.Context, channel, thread, user string, m outgoing) error {
	return a.paced(ctx, "chat.postEphemeral", channel, func(ctx context.Context) error {
		_, err := a.web.PostEphemeralContext(ctx, channel, user, options(thread, m)...)
		return err
	})
}

// attach adds the whole answer as a text file. If the service takes no file the
// answer follows as messages instead: nothing of it is lost.
func (a *app) attach(ctx context.Context, to target, r talk.Reply, whole string) error {
	if whole == "" {
		return nil
	}
	err := a.upload(ctx, to, sdk.UploadFileParameters{Filename: "answer.txt", Title: "The whole answer",
		Content: whole, FileSize: len(whole), SnippetType: "text", InitialComment: string(escape(r.Caution))})
	if err == nil {
		return nil
	}
	a.o.Log.Warn("answer not attached; posted as messages instead", "error", safeError(err))
	for _, m := range laySplit(r, to.name).messages {
		if err := a.post(ctx, to, m); err != nil {
			return err
		}
	}
	return nil
}

// showPictures uploads pictures with what they show in words. A picture that
// cannot be uploaded is given in words alone.
func (a *app) showPictures(ctx context.Context, to target, r talk.Reply) error {
	for _, p := range r.Pictures {
		if len(p.PNG) == 0 {
			continue
		}
		err := a.upload(ctx, to, pictureFile(p, r.Caution))
		if err == nil {
			continue
		}
		a.o.Log.Warn("picture not uploaded", "error", safeError(err))
		if err := a.say(ctx, to.channel, to.thread, cautioned("Picture: "+p.Alt, r.Caution)); err != nil {
			return err
		}
	}
	return nil
}

// altLimit is the characters of alternative text that the service takes.
const altLimit = 1000

// pictureFile is a picture as an upload, with its alternative text and, as the
// words of the message it comes in, the caution.
func pictureFile(p talk.Picture, caution string) sdk.UploadFileParameters {
	return sdk.UploadFileParameters{Filename: p.Name + ".png", Title: label(p.Alt, 250).Text, InitialComment: string(escape(caution)),
		Content: string(p.PNG), FileSize: len(p.PNG), AltTxt: firstPiece(clean(p.Alt), altLimit)}
}

// firstPiece is as many whole sentences of a text as fit.
func firstPiece(text string, limit int) string {
	for _, piece := range splitMarkup(markup(text), limit) {
		return string(piece)
	}
	return ""
}

// picturesInWords is a reply with its pictures as words, for where none can be shown.
func picturesInWords(r talk.Reply) talk.Reply {
	for _, p := range r.Pictures {
		r.Sections = append(r.Sections[:len(r.Sections):len(r.Sections)], talk.Section{Title: "Picture", Lines: []string{p.Alt}})
	}
	return r
}

func (a *app) upload(ctx context.Context, to target, file sdk.UploadFileParameters) error {
	file.Channel, file.ThreadTimestamp = to.channel, to.thread
	return a.paced(ctx, "files.completeUploadExternal", to.channel, func(ctx context.Context) error {
		_, err := a.web.UploadFileContext(ctx, file)
		return err
	})
}
