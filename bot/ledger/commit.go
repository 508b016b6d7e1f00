package ledger

import "sync"

// commitMost is how many waiting writes go into one commit.
const commitMost = 256

// A write waits to be committed.
type write struct {
	do   func(Tx) error
	done chan error // has room for one
}

// commits gathers the writes that come in while a commit is under way into the
// next one: most of a commit is waiting for the disk, however little it holds. A
// write that comes alone is committed at once.
type commits struct {
	run func(func(Tx) error) error // one transaction, durable when it returns

	mu      sync.Mutex
	waiting []write
	busy    bool
}

// add commits do, together with what else is waiting.
func (c *commits) add(do func(Tx) error) error {
	w := write{do: do, done: make(chan error, 1)}
	c.mu.Lock()
	c.waiting = append(c.waiting, w)
	lead := !c.busy
	c.busy = true
	c.mu.Unlock()
	if lead {
		c.lead()
	}
	return <-w.done
}

// lead commits what is waiting. What has come in meanwhile is left to another
// goroutine, so that the caller gets its own answer.
func (c *commits) lead() {
	if c.commit(c.take()); c.more() {
		go c.lead()
	}
}

func (c *commits) take() []write {
	c.mu.Lock()
	defer c.mu.Unlock()
	n := min(len(c.waiting), commitMost)
	batch := c.waiting[:n:n]
	c.waiting = c.waiting[n:]
	return batch
}

// more reports whether somebody waits; if not, the next to come leads.
func (c *commits) more() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.busy = len(c.waiting) > 0
	return c.busy
}

// commit runs a batch in one transaction. If one of it fails nothing is kept,
// and each is run again on its own, so that it answers for itself only.
func (c *commits) commit(batch []write) {
	err := c.run(func(tx Tx) error {
		for _, w := range batch {
			if err := w.do(tx); err != nil {
				return err
			}
		}
		return nil
	})
	for _, w := range batch {
		if err != nil && len(batch) > 1 {
			w.done <- c.run(w.do)
			continue
		}
		w.done <- err
	}
}
