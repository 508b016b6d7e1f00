package slack

import (
	"net/http"
	"strings"
	"sync"

	sdk "github.com/slack-go/slack"
)

// callLimit is how many web calls are under way at once. The client keeps as
// many connections open, so that load opens no new one per call.
const callLimit = 32

// newClient is the library's client with our guard on its requests.
func newClient(o Options, guard http.RoundTripper) *sdk.Client {
	guarded := *o.HTTPClient
	guarded.Transport = guard
	return sdk.New(string(o.BotToken),
		sdk.OptionAppLevelToken(string(o.AppToken)),
		sdk.OptionHTTPClient(&guarded),
		sdk.OptionAPIURL(o.APIURL))
}

// openGuard spaces out the opening of Socket Mode connections. The library opens
// the next connection at once after one that closed, thousands a second if the
// service keeps closing them.
type openGuard struct {
	base http.RoundTripper
	o    Options
	mu   sync.Mutex
	pace pace
}

func newOpenGuard(o Options) *openGuard {
	base := o.HTTPClient.Transport
	if base == nil {
		base = http.DefaultTransport
	}
	return &openGuard{base: base, o: o, pace: pace{every: o.OpenEvery, burst: 3}}
}

// RoundTrip waits before apps.connections.open and passes all else on.
func (g *openGuard) RoundTrip(r *http.Request) (*http.Response, error) {
	if strings.HasSuffix(r.URL.Path, "/apps.connections.open") {
		g.mu.Lock()
		wait := g.pace.take(g.o.Now())
		g.mu.Unlock()
		if err := sleep(r.Context(), wait); err != nil {
			g.giveBack()
			return nil, err
		}
	}
	return g.base.RoundTrip(r)
}

// giveBack undoes a booking that was not used, so that requests which gave up
// waiting do not push the later ones ever further away.
func (g *openGuard) giveBack() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.pace.free = g.pace.free.Add(-g.pace.every)
}
