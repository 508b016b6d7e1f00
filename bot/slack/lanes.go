package slack

import (
	"context"
	"sync"
)

// A job is the work that one delivery asks for.
type job func(ctx context.Context)

// lanes runs jobs: those of one thread in order, threads side by side. It holds
// a fixed number of jobs and refuses more, so that memory is bounded and the
// service, which was not acknowledged, delivers them again.
type lanes struct {
	mu      sync.Mutex
	room    int
	closed  bool
	report  func(panicked any)
	waiting map[string][]job // a key is present while a goroutine works on that lane
	done    sync.WaitGroup
}

func newLanes(room int, report func(panicked any)) *lanes {
	return &lanes{room: room, report: report, waiting: make(map[string][]job)}
}

// reserve takes a place for one job; false means full or closing.
func (l *lanes) reserve() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed || l.room == 0 {
		return false
	}
	l.room--
	l.done.Add(1)
	return true
}

// release gives back a place.
func (l *lanes) release() {
	l.mu.Lock()
	l.room++
	l.mu.Unlock()
	l.done.Done()
}

// add puts a job, whose place is reserved, at the end of its lane.
func (l *lanes) add(ctx context.Context, lane string, j job) {
	l.mu.Lock()
	defer l.mu.Unlock()
	queue, busy := l.waiting[lane]
	l.waiting[lane] = append(queue, j)
	if !busy {
		go l.run(ctx, lane)
	}
}

func (l *lanes) run(ctx context.Context, lane string) {
	for {
		j, ok := l.pop(lane)
		if !ok {
			return
		}
		l.try(ctx, j)
		l.release()
	}
}

// try runs one job. A job that panics ends alone: the other threads go on.
func (l *lanes) try(ctx context.Context, j job) {
	defer func() {
		if p := recover(); p != nil {
			l.report(p)
		}
	}()
	j(ctx)
}

// pop takes the lane's first job; with none left the lane ends.
func (l *lanes) pop(lane string) (job, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	queue := l.waiting[lane]
	if len(queue) == 0 {
		delete(l.waiting, lane)
		return nil, false
	}
	l.waiting[lane] = queue[1:]
	return queue[0], true
}

// drain refuses new jobs and waits for those that are held. It reports whether
// all were done before ctx ended.
func (l *lanes) drain(ctx context.Context) bool {
	l.mu.Lock()
	l.closed = true
	l.mu.Unlock()
	finished := make(chan struct{})
	go func() { l.done.Wait(); close(finished) }()
	select {
	case <-finished:
		return true
	case <-ctx.Done():
		return false
	}
}
