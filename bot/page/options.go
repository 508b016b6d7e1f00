package page

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"mortarboard/bot/talk"
)

// An Answerer is the conversation: one message in, one reply out.
type Answerer func(ctx context.Context, m talk.Message) (talk.Reply, error)

// An Intro is what a page shows that has no case yet. Its choices are buttons
// that open a new case.
type Intro struct {
	Sections []talk.Section
	Choices  []talk.Choice
}

// Options is everything the surface needs. Only Answer must be set.
type Options struct {
	Answer   Answerer
	Practice string       // name of the practice, shown at the top; empty: none
	Intro    func() Intro // nil: a short standing text

	// Hosts are further names under which the page may be reached, without port.
	// With at least one, it may also listen beyond this machine; put TLS in front.
	Hosts []string

	Log *slog.Logger     // nil: nothing is logged
	Now func() time.Time // nil: time.Now

	AnswerLimit time.Duration // longest wait for one answer; 0: 20 s
	DrainLimit  time.Duration // longest time to finish answers when stopping; 0: 20 s
	Workers     int           // answers worked out at once; 0: 4
	PerMinute   int           // questions a minute from one browser; 0: 30
}

// withDefaults fills in what was left out.
func (o Options) withDefaults() Options {
	o.Log = cmp.Or(o.Log, slog.New(slog.DiscardHandler))
	o.AnswerLimit = cmp.Or(o.AnswerLimit, 20*time.Second)
	o.DrainLimit = cmp.Or(o.DrainLimit, 20*time.Second)
	o.Workers = cmp.Or(o.Workers, 4)
	o.PerMinute = cmp.Or(o.PerMinute, 30)
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Intro == nil {
		o.Intro = standingIntro
	}
	return o
}

// validate says what is missing or out of range, before anything is opened.
func (o Options) validate() error {
	switch {
	case o.Answer == nil:
		return errors.New("page: no answerer given: set Options.Answer")
	case o.AnswerLimit < 0 || o.DrainLimit < 0:
		return fmt.Errorf("page: answer limit %v, drain limit %v: both must be above 0", o.AnswerLimit, o.DrainLimit)
	case o.Workers < 0 || o.PerMinute < 0:
		return fmt.Errorf("page: %d workers, %d questions a minute: both must be above 0", o.Workers, o.PerMinute)
	}
	return nil
}
