package slack

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"log"
	"strings"
	"sync"
	"time"

	sdk "github.com/slack-go/slack"
	"github.com/slack-go/slack/socketmode"
)

// Run answers over Socket Mode until ctx ends, then finishes what it has
// acknowledged and returns nil. It returns a [*FatalError] when a person must
// mend something, such as a revoked token. It needs no public address.
func Run(ctx context.Context, o Options) error {
	a, err := newApp(o)
	if err != nil {
		return err
	}
	if !strings.HasPrefix(string(o.AppToken), "xapp-") {
		return fatal(ReasonToken, "app token", "does not start with xapp-: make an app-level token with connections:write")
	}
	return a.life(ctx, a.connect)
}

// connect keeps the wanted number of connections until ctx ends, and leaves
// nothing of them running.
func (a *app) connect(ctx context.Context) error {
	var all sync.WaitGroup
	ended := make(chan error, a.o.Connections)
	for range a.o.Connections {
		c := a.newConnection()
		all.Go(func() { c.read(ctx) })
		all.Go(func() { c.handle(ctx) })
		all.Go(func() { c.acknowledge(ctx) })
		all.Go(func() { ended <- c.client.RunContext(ctx) })
	}
	a.stop(connectionEnd(<-ended))
	<-ctx.Done() // meanwhile what was acknowledged is finished, over the other connections
	all.Wait()
	return nil
}

// connectionEnd is why the library gave up a connection for good.
func connectionEnd(err error) error {
	if mendable := asFatal("app token", err); mendable != nil {
		return mendable
	}
	if err != nil && fatalCodes()[err.Error()] != "" { // the library's own list comes as bare text
		code := err.Error()
		return fatal(fatalCodes()[code], "app token", code+mend(fatalCodes()[code]))
	}
	return err
}

// A connection is one Socket Mode client with what it still has to handle.
type connection struct {
	app    *app
	client *socketmode.Client
	inbox  chan arrival
	acks   chan pendingAck
}

// An arrival is an envelope and when it came.
type arrival struct {
	*socketmode.Request
	at time.Time
}

type pendingAck struct {
	envelope string
	payload  any
	since    time.Time
}

func (a *app) newConnection() *connection {
	return &connection{
		app: a,
		client: socketmode.New(a.web,
			socketmode.OptionPingInterval(a.o.PingLimit),
			socketmode.OptionReadLimit(1<<20),
			// the library's own log may quote messages
			socketmode.OptionLog(log.New(io.Discard, "", 0))),
		inbox: make(chan arrival, a.o.Queue),
		acks:  make(chan pendingAck, a.o.Queue),
	}
}

// read takes what the library hands over and never waits: a reader that stands
// still stops the library from seeing pings, and the connection hangs for good.
func (c *connection) read(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case event := <-c.client.Events:
			c.take(event)
		}
	}
}

func (c *connection) take(event socketmode.Event) {
	switch event.Type {
	case socketmode.EventTypeEventsAPI, socketmode.EventTypeInteractive, socketmode.EventTypeSlashCommand:
		c.enqueue(event.Request)
	case socketmode.EventTypeErrorBadMessage:
		c.enqueue(unparsed(event.Data))
	case socketmode.EventTypeHello:
		c.hello(event.Request)
	case socketmode.EventTypeConnectionError:
		c.failed(event.Data)
	case socketmode.EventTypeIncomingError, socketmode.EventTypeErrorWriteFailed:
		c.app.o.Log.Debug("slack connection trouble", "kind", string(event.Type))
	}
}

// unparsed is an envelope that the library could not read whole, such as one
// with a block newer than the library. We read what we need of it ourselves,
// and it must be acknowledged or it comes again.
func unparsed(data any) *socketmode.Request {
	bad, ok := data.(*socketmode.ErrorBadMessage)
	if !ok {
		return nil
	}
	var r socketmode.Request
	if json.Unmarshal(bad.Message, &r) != nil {
		return nil
	}
	return &r
}

func (c *connection) enqueue(r *socketmode.Request) {
	if r == nil || r.EnvelopeID == "" {
		return
	}
	select {
	case c.inbox <- arrival{r, c.app.o.Now()}:
	default:
		c.app.o.Log.Warn("inbox full; a delivery is left for redelivery")
	}
}

// handle records and acknowledges in the order of arrival.
func (c *connection) handle(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case r := <-c.inbox:
			c.app.accept(c.app.read(r.Type, r.Payload), func(payload any) {
				c.queueAck(pendingAck{r.EnvelopeID, payload, r.at})
			})
		}
	}
}

func (c *connection) queueAck(p pendingAck) {
	select {
	case c.acks <- p:
	default: // not acknowledged: it comes again and is known by its key
		c.app.o.Log.Warn("too many acknowledgements waiting; one is left out")
	}
}

// acknowledge sends acknowledgements one after the other. With no connection
// the library's queue fills and would block, hence the limit.
func (c *connection) acknowledge(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case p := <-c.acks:
			limit, cancel := context.WithTimeout(ctx, 2*time.Second)
			err := c.client.AckCtx(limit, p.envelope, p.payload)
			cancel()
			if err != nil {
				c.app.o.Log.Warn("acknowledgement not sent", "error", safeError(err))
			} else if c.app.o.Acked != nil {
				c.app.o.Acked(c.app.o.Now().Sub(p.since))
			}
		}
	}
}

// hello means that the connection is ready. More connections than we hold means
// that the service still counts dead ones and sends them their share.
func (c *connection) hello(r *socketmode.Request) {
	if r == nil {
		return
	}
	c.app.o.Log.Info("slack connection ready", "connections", r.NumConnections)
	if r.NumConnections > c.app.o.Connections {
		c.app.o.Log.Warn("slack counts more connections than this program holds", "counted", r.NumConnections,
			"held", c.app.o.Connections)
	}
	if c.app.o.Hello != nil {
		c.app.o.Hello(r.NumConnections)
	}
}

// failed looks at a refused connection: the library would try some of them for ever.
func (c *connection) failed(data any) {
	trouble, ok := data.(*sdk.ConnectionErrorEvent)
	if !ok {
		return
	}
	if mendable := asFatal("app token", trouble.ErrorObj); mendable != nil {
		c.app.stop(mendable)
		return
	}
	if errors.Is(trouble.ErrorObj, context.Canceled) {
		return
	}
	c.app.o.Log.Warn("slack connection not opened; trying again", "wait", trouble.Backoff,
		"error", safeError(trouble.ErrorObj))
}
