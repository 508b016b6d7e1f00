package slack

import "sync"

// recent remembers the last so many keys, each with a value.
type recent struct {
	mu     sync.Mutex
	values map[string]string
	order  []string // a ring: the key at next is the oldest
	next   int
}

func newRecent(size int) *recent {
	return &recent{values: make(map[string]string), order: make([]string, size)}
}

// Seen reports whether key was given before, and remembers it.
func (r *recent) Seen(key string) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	_, had := r.values[key]
	r.put(key, "")
	return had
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
