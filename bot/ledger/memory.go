package ledger

import (
	"slices"
	"sync"
	"sync/atomic"
)

// A Memory is a place in memory where ledgers are kept: for tests, and for a
// terminal that need not remember. It lasts as long as the program holds it, so
// a test can close a ledger and open it again as after a restart.
type Memory struct {
	mu     sync.RWMutex
	keys   sorted
	values map[string][]byte
}

// NewMemory returns an empty place.
func NewMemory() *Memory { return &Memory{values: make(map[string][]byte)} }

// InMemory opens a ledger in a new place in memory, with the behaviour of one in
// a file but for outliving the process.
func InMemory(o Options) (*Ledger, error) { return NewMemory().Open(o) }

// Open opens the ledger that is kept in this place. Several may be open at once.
func (m *Memory) Open(o Options) (*Ledger, error) { return New(m.Store(), o) }

// Store returns the rows of this place. Closing it leaves them there.
func (m *Memory) Store() Store { return &memoryStore{m: m} }

type memoryStore struct {
	m      *Memory
	closed atomic.Bool
}

func (s *memoryStore) Close() error {
	s.closed.Store(true)
	return nil
}

func (s *memoryStore) View(read func(Tx) error) error {
	if s.closed.Load() {
		return ErrClosed
	}
	s.m.mu.RLock()
	defer s.m.mu.RUnlock()
	return read(&memoryTx{m: s.m})
}

func (s *memoryStore) Update(write func(Tx) error) error {
	if s.closed.Load() {
		return ErrClosed
	}
	s.m.mu.Lock()
	defer s.m.mu.Unlock()
	tx := &memoryTx{m: s.m, writable: true}
	kept := false
	defer func() { // also when write panics
		if !kept {
			tx.rollback()
		}
	}()
	err := write(tx)
	kept = err == nil
	return err
}

// A memoryTx writes at once and remembers how to take it back.
type memoryTx struct {
	m        *Memory
	writable bool
	before   []row // what each write replaced; a nil value: there was none
}

func (tx *memoryTx) Get(key string) ([]byte, error) { return tx.m.values[key], nil }

func (tx *memoryTx) Put(key string, value []byte) error {
	switch {
	case !tx.writable:
		return errReadOnly
	case key == "":
		return errNoKey
	}
	tx.before = append(tx.before, row{key, tx.m.values[key]})
	tx.m.set(key, append(make([]byte, 0, len(value)), value...))
	return nil
}

func (tx *memoryTx) Delete(key string) error {
	if !tx.writable {
		return errReadOnly
	}
	tx.before = append(tx.before, row{key, tx.m.values[key]})
	tx.m.set(key, nil)
	return nil
}

func (tx *memoryTx) Scan(from string, each func(key string, value []byte) bool) error {
	for key := range tx.m.keys.from(from) {
		if !each(key, tx.m.values[key]) {
			break
		}
	}
	return nil
}

func (tx *memoryTx) rollback() {
	for _, r := range slices.Backward(tx.before) {
		tx.m.set(r.key, r.value)
	}
}

// set puts value under key; nil removes the row.
func (m *Memory) set(key string, value []byte) {
	if value == nil {
		m.keys.remove(key)
		delete(m.values, key)
		return
	}
	m.keys.add(key)
	m.values[key] = value
}
