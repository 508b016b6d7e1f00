package slack

import (
	"context"
	"sync"
	"time"
)

// A pace spaces out calls: a first few at once, then one per interval. It is
// pure arithmetic on the times it is given.
type pace struct {
	every time.Duration
	burst int
	free  time.Time // when the next call could go, were there no burst
}

// take books one call and returns how long to wait before making it.
func (p *pace) take(now time.Time) time.Duration {
	if p.every <= 0 && !p.free.After(now) {
		return 0
	}
	credit := now.Add(-time.Duration(p.burst-1) * p.every)
	at := later(p.free, credit)
	p.free = at.Add(max(p.every, 0))
	return max(at.Sub(now), 0)
}

// hold lets nothing go before until.
func (p *pace) hold(until time.Time) { p.free = later(p.free, until) }

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// paces holds one pace per channel, forgetting those that have run out, and which
// methods the service holds back: it counts those over all channels.
type paces struct {
	mu    sync.Mutex
	every time.Duration
	burst int
	of    map[string]*pace
	until map[string]time.Time // method → when the service takes it again
}

// idleChannels is how many channels may be remembered before the idle are forgotten.
const idleChannels = 1024

func newPaces(every time.Duration, burst int) *paces {
	return &paces{every: every, burst: burst, of: make(map[string]*pace), until: make(map[string]time.Time)}
}

func (p *paces) take(channel string, now time.Time) time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.channel(channel, now).take(now)
}

// hold lets no call of the method go before wait is over, in whatever channel.
func (p *paces) hold(method, channel string, now time.Time, wait time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.until[method] = later(p.until[method], now.Add(wait))
	p.channel(channel, now).hold(now.Add(wait))
}

// held is how long the method is still held back.
func (p *paces) held(method string, now time.Time) time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.until[method].Sub(now)
}

func (p *paces) channel(name string, now time.Time) *pace {
	c, ok := p.of[name]
	if !ok {
		if len(p.of) >= idleChannels {
			p.forgetIdle(now)
		}
		c = &pace{every: p.every, burst: p.burst}
		p.of[name] = c
	}
	return c
}

func (p *paces) forgetIdle(now time.Time) {
	for name, c := range p.of {
		if c.free.Before(now.Add(-time.Duration(p.burst) * max(p.every, 0))) {
			delete(p.of, name)
		}
	}
}

// sleep waits, or returns why it did not.
func sleep(ctx context.Context, d time.Duration) error {
	if d <= 0 {
		return ctx.Err()
	}
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
