package slack

import "sync"

// recent remembers the last so many keys, each with a value.
type recent struct {
	mu     sync.Mutex
	values map[string]string
	order  []string // a ring: the key at next is the oldest
	next   int
}

// remembered is how many things of one sort are kept in memory, each the newest.
const remembered = 20000

func newRecent(size int) *recent {
	return &recent{values: make(map[string]string), order: make([]string, size)}
}

// seen reports whether any of keys was given before, and remembers them all.
func (r *recent) seen(keys ...string) (again bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, key := range keys {
		if key == "" {
			continue
		}
		_, had := r.values[key]
		again = again || had
		r.put(key, "")
	}
	return again
}

// drop forgets key.
func (r *recent) drop(key string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	delete(r.values, key)
}

// set remembers value under key.
func (r *recent) set(key, value string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.put(key, value)
}

// get returns what was last set under key, if it is still remembered.
func (r *recent) get(key string) (string, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	value, ok := r.values[key]
	return value, ok
}

func (r *recent) put(key, value string) {
	if _, had := r.values[key]; !had {
		if oldest := r.order[r.next]; oldest != "" {
			delete(r.values, oldest)
		}
		r.order[r.next] = key
		r.next = (r.next + 1) % len(r.order)
	}
	r.values[key] = value
}

// forgetful is the journal of a process that keeps none: it knows deliveries
// while it lives.
type forgetful struct{ *recent }

// Begin reports whether any of keys was given before, and remembers them.
func (f forgetful) Begin(keys []string, _ Place) bool { return f.seen(keys...) }

// End does nothing: nothing was noted.
func (forgetful) End(Place) {}

// Unfinished is empty.
func (forgetful) Unfinished() []Place { return nil }
