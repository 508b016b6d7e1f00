package page

import (
	"sync"
	"time"
)

const (
	pacedVisitors = 1000 // visitors whose pace is remembered
	togetherTimes = 10   // how many times one visitor's rate all visitors have together
)

// A pace bounds how often each visitor, and all of them together, may do a thing.
type pace struct {
	mu       sync.Mutex
	every    time.Duration // one more each
	burst    int           // so many at once
	visitors map[string]*bucket
	together bucket
}

// A bucket fills with time. It holds what may still be done at once, counted in
// the time it takes to earn it.
type bucket struct {
	saved time.Duration
	at    time.Time
}

// newPace allows so many a minute, a third of them at once.
func newPace(perMinute int) *pace {
	return &pace{
		every:    time.Minute / time.Duration(perMinute),
		burst:    max(1, perMinute/3),
		visitors: map[string]*bucket{},
	}
}

// take allows one more, or says how long to wait for it. A visitor refused takes
// nothing from the others.
func (p *pace) take(id string, now time.Time) (wait time.Duration, ok bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	own := p.bucketOf(id, now)
	own.fill(now, p.full())
	p.together.fill(now, p.full())
	all := p.every / togetherTimes
	wait = max(p.every-own.saved, all-p.together.saved)
	if wait > 0 {
		return wait, false
	}
	own.saved -= p.every
	p.together.saved -= all
	return 0, true
}

func (p *pace) full() time.Duration { return time.Duration(p.burst) * p.every }

// fill adds what time has earned. A bucket never used is full.
func (b *bucket) fill(now time.Time, full time.Duration) {
	if b.at.IsZero() {
		b.saved = full
	} else if now.After(b.at) {
		b.saved = min(full, b.saved+now.Sub(b.at))
	}
	b.at = now
}

// bucketOf finds a visitor's bucket and makes room for a new one by forgetting
// those that have filled up again, or else the one longest unused.
func (p *pace) bucketOf(id string, now time.Time) *bucket {
	if b, ok := p.visitors[id]; ok {
		return b
	}
	if len(p.visitors) >= pacedVisitors {
		p.forget(now)
	}
	b := &bucket{}
	p.visitors[id] = b
	return b
}

func (p *pace) forget(now time.Time) {
	oldest := ""
	for id, b := range p.visitors {
		if now.Sub(b.at) >= p.full() {
			delete(p.visitors, id)
		} else if oldest == "" || b.at.Before(p.visitors[oldest].at) {
			oldest = id
		}
	}
	if len(p.visitors) >= pacedVisitors {
		delete(p.visitors, oldest)
	}
}
