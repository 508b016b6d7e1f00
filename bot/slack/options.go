package slack

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"strings"
	"time"

	"mortarboard/bot/talk"
)

// serviceURL is where the service's web methods live.
const serviceURL = "https://slack.com/api/"

// An Answerer is the conversation: one message in, one reply out. A Reply with
// neither Text nor Headline says nothing, and nothing is posted. It must return
// when ctx ends.
type Answerer func(ctx context.Context, m talk.Message) (talk.Reply, error)

// A Place says where in the workspace a delivery came from. It holds no text
// and no person.
type Place struct {
	Channel string // channel id
	Thread  string // time stamp of the message that opened the thread
	Message string // time stamp of the message to be answered
}

// A Journal outlives the process. It knows which deliveries came in, so that each
// is answered once, and where an answer is still owed, so that none is lost in
// silence: at the next start that thread is told to ask again. It never holds what
// was asked.
type Journal interface {
	// Begin reports whether any of a delivery's keys is known. If none is, it
	// remembers them all, for a day at least, and unless owed is the zero Place
	// that an answer is owed there: durably and in one step. Were they two, a
	// process that stops between them would leave a delivery that is known, so
	// that its retry is dropped, and that nobody owes an answer.
	Begin(keys []string, owed Place) (again bool)
	End(owed Place)
	Unfinished() []Place
}

// Live outlives the process and knows which message of a thread has the buttons
// that count; an older message's are stale.
type Live interface {
	Live(thread string) (message string) // empty: not known
	SetLive(thread, message string)
}

// Options is everything the surface needs. Only the tokens and Answer must be
// set; Run, Serve and Check fill in the rest.
type Options struct {
	BotToken      Secret // xoxb-…: speaks as the app
	AppToken      Secret // xapp-…: opens Socket Mode connections (Run only)
	SigningSecret Secret // proves that a request is the service's (Serve only)
	OldSecret     Secret // also accepted, while the signing secret is being changed

	Answer Answerer
	Form   Former // nil: the case form is not offered
	Home   Homer  // nil: the home tab shows a short standing text

	Journal Journal                    // nil: the newest deliveries, in memory
	Live    Live                       // nil: the newest threads, in memory
	Known   func(thread string) bool   // whether a thread was ours before this process began; nil: no
	Log     *slog.Logger               // nil: nothing is logged
	Now     func() time.Time           // nil: time.Now
	Hello   func(connections int)      // called when a connection is ready to use; may be nil
	Acked   func(waited time.Duration) // called after each acknowledgement is handed over; may be nil

	APIURL     string       // where the web methods live; empty: the service itself
	HTTPClient *http.Client // nil: one with a limit of 30 s
	Command    string       // the slash command; empty: /mortar
	Channels   []string     // channels the app should be in; only Check looks at them
	Shared     bool         // also answer in channels shared with other workspaces

	Connections int           // Socket Mode connections side by side; 0: 2
	Workers     int           // answers worked out at once; 0: 8
	Queue       int           // deliveries held at once; beyond it none is acknowledged; 0: 1,000
	Pace        time.Duration // shortest time between two messages to a channel; 0: 1 s; negative: none
	AnswerLimit time.Duration // longest time for one answer; 0: 20 s
	DrainLimit  time.Duration // longest time to finish what was acknowledged; 0: 20 s
	OpenEvery   time.Duration // shortest time between opened connections, after a first three; 0: 10 s
	PingLimit   time.Duration // silence after which a connection counts as dead; 0: 30 s
	ButtonLife  time.Duration // age after which a button is stale; 0: 7 days
}

// withDefaults fills in what was left out.
func (o Options) withDefaults() Options {
	o.Log = cmp.Or(o.Log, slog.New(slog.DiscardHandler))
	o.HTTPClient = cmp.Or(o.HTTPClient, defaultClient())
	o.APIURL = cmp.Or(o.APIURL, serviceURL)
	o.Command = cmp.Or(o.Command, "/mortar")
	o.Connections = cmp.Or(o.Connections, 2)
	o.Workers = cmp.Or(o.Workers, 8)
	o.Queue = cmp.Or(o.Queue, 1000)
	o.Pace = cmp.Or(o.Pace, time.Second)
	o.AnswerLimit = cmp.Or(o.AnswerLimit, 20*time.Second)
	o.DrainLimit = cmp.Or(o.DrainLimit, 20*time.Second)
	o.OpenEvery = cmp.Or(o.OpenEvery, 10*time.Second)
	o.PingLimit = cmp.Or(o.PingLimit, 30*time.Second)
	o.ButtonLife = cmp.Or(o.ButtonLife, 7*24*time.Hour)
	if o.Journal == nil {
		o.Journal = forgetful{newRecent(remembered)}
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	return o
}

// defaultClient keeps some connections to the one host we talk to, instead of
// the standard library's two, which under load would open a new one per call.
func defaultClient() *http.Client {
	client := &http.Client{Timeout: 30 * time.Second}
	if standard, ok := http.DefaultTransport.(*http.Transport); ok {
		kept := standard.Clone()
		kept.MaxIdleConnsPerHost = callLimit
		client.Transport = kept
	}
	return client
}

// validate says what is missing or malformed, before anything is opened.
func (o Options) validate() error {
	switch {
	case o.Answer == nil:
		return errors.New("no answerer given")
	case !strings.HasPrefix(string(o.BotToken), "xoxb-"):
		return fatal(ReasonToken, "bot token", "does not start with xoxb-: copy the bot user token of the app")
	case !strings.HasPrefix(o.Command, "/"):
		return fmt.Errorf("slash command %q does not start with /", o.Command)
	case !strings.HasSuffix(o.APIURL, "/"):
		return fmt.Errorf("web address %q does not end with /", o.APIURL)
	case o.Connections < 0 || o.Connections > 10:
		return fmt.Errorf("%d connections: 1 to 10 are allowed", o.Connections)
	case o.Workers < 0 || o.Queue < 0:
		return fmt.Errorf("%d workers and room for %d deliveries: both must be above 0", o.Workers, o.Queue)
	}
	return nil
}

// responseHost is the only host that a response address may name.
func (o Options) responseHost() (scheme, host string) {
	if o.APIURL == serviceURL {
		return "https", "hooks.slack.com"
	}
	u, err := url.Parse(o.APIURL)
	if err != nil {
		return "https", ""
	}
	return u.Scheme, u.Host
}
