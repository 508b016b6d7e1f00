package slack

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"time"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// hookMessage is what a response address takes.
type hookMessage struct {
	Text    markup      `json:"text,omitempty"`
	Blocks  []sdk.Block `json:"blocks,omitempty"`
	Type    string      `json:"response_type,omitempty"`
	Replace bool        `json:"replace_original"`
}

// checkHook refuses a response address that is not the service's own: whoever
// could make us post elsewhere could read answers, or reach hosts behind us.
func (a *app) checkHook(address string) error {
	u, err := url.Parse(address)
	if err != nil {
		return fmt.Errorf("response address cannot be read")
	}
	scheme, host := a.o.responseHost()
	if u.Scheme != scheme || u.Host != host || u.User != nil {
		return fmt.Errorf("response address on host %q: only %q is allowed", u.Host, host)
	}
	return nil
}

// deliverHook sends a reply to the asker by the response address, which also
// works in channels that the app is not in.
func (a *app) deliverHook(ctx context.Context, to target, r talk.Reply) error {
	if to.key != "" {
		a.setLive(to.key, to.name)
	}
	for i, m := range withinUses(laySplit(picturesInWords(r), to.name).messages) {
		if err := a.postHook(ctx, to, m, to.replace && i == 0); err != nil {
			return err
		}
	}
	return nil
}

// hookUses is one less than the service allows of a response address: a notice
// may have gone there before.
const hookUses = 4

// withinUses is messages as a response address takes them. Of too many the last,
// which has the questions, is kept, and what is left out is said.
func withinUses(messages []outgoing) []outgoing {
	if len(messages) <= hookUses {
		return messages
	}
	kept := append([]outgoing(nil), messages[:hookUses-2]...)
	return append(kept, note(tooLongText), messages[len(messages)-1])
}

// postHook sends one message to the response address, or with replace puts it in
// place of the message that was pressed.
func (a *app) postHook(ctx context.Context, to target, m outgoing, replace bool) error {
	if err := a.checkHook(to.hook); err != nil {
		return err
	}
	body, err := json.Marshal(hookMessage{Text: m.text, Blocks: m.blocks, Type: "ephemeral", Replace: replace})
	if err != nil {
		return fmt.Errorf("message cannot be written: %w", err)
	}
	return a.paced(ctx, "response address", to.channel, func(ctx context.Context) error { return a.sendHook(ctx, to.hook, body) })
}

// sendHook makes the request. Its errors never quote the address, which lets
// whoever holds it post.
func (a *app) sendHook(ctx context.Context, address string, body []byte) error {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, address, bytes.NewReader(body))
	if err != nil {
		return fmt.Errorf("response address cannot be used")
	}
	req.Header.Set("Content-Type", "application/json; charset=utf-8")
	resp, err := a.hooks.Do(req)
	if err != nil {
		return fmt.Errorf("response address cannot be reached")
	}
	defer resp.Body.Close()
	_, _ = io.Copy(io.Discard, io.LimitReader(resp.Body, 64<<10))
	return hookError(resp)
}

func hookError(resp *http.Response) error {
	switch {
	case resp.StatusCode == http.StatusTooManyRequests:
		seconds, err := strconv.Atoi(resp.Header.Get("Retry-After"))
		if err != nil {
			seconds = 30
		}
		return &sdk.RateLimitedError{RetryAfter: time.Duration(seconds) * time.Second}
	case resp.StatusCode != http.StatusOK:
		return sdk.StatusCodeError{Code: resp.StatusCode, Status: resp.Status}
	}
	return nil
}
