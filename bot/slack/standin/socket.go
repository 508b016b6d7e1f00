package standin

import (
	"encoding/json"
	"net/http"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// A socket is one open Socket Mode connection.
type socket struct {
	w      *Workspace
	conn   *websocket.Conn
	write  sync.Mutex
	frozen bool // guarded by write: nothing goes out any more
}

// Connections is how many connections are open.
func (w *Workspace) Connections() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return len(w.sockets)
}

// Opened is how often a connection was asked for and granted.
func (w *Workspace) Opened() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.opened
}

// serveSocket is the far end of a connection.
func (w *Workspace) serveSocket(rw http.ResponseWriter, r *http.Request) {
	upgrader := websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}
	conn, err := upgrader.Upgrade(rw, r, nil)
	if err != nil {
		return
	}
	s := &socket{w: w, conn: conn}
	var count int
	w.mu.Lock()
	count = len(w.sockets) + 1
	w.mu.Unlock()
	s.send(map[string]any{"type": "hello", "num_connections": count,
		"connection_info": map[string]string{"app_id": App}, "debug_info": map[string]any{"approximate_connection_time": 3600}})
	w.change(func() { w.sockets = append(w.sockets, s) })
	w.flush()
	stop := make(chan struct{})
	go s.ping(w.o.PingEvery, stop)
	s.read()
	close(stop)
	w.change(func() { w.remove(s) })
	_ = conn.Close()
}

func (w *Workspace) remove(s *socket) {
	for i, other := range w.sockets {
		if other == s {
			w.sockets = append(w.sockets[:i:i], w.sockets[i+1:]...)
			return
		}
	}
}

// read takes acknowledgements until the connection ends.
func (s *socket) read() {
	for {
		_, body, err := s.conn.ReadMessage()
		if err != nil {
			return
		}
		var ack struct {
			Envelope string          `json:"envelope_id"`
			Payload  json.RawMessage `json:"payload"`
		}
		if json.Unmarshal(body, &ack) != nil || ack.Envelope == "" {
			s.w.refuse("socket", "acknowledgement without envelope_id")
			continue
		}
		s.w.acked(ack.Envelope, ack.Payload)
	}
}

func (s *socket) ping(every time.Duration, stop chan struct{}) {
	ticker := time.NewTicker(every)
	defer ticker.Stop()
	for {
		select {
		case <-stop:
			return
		case <-ticker.C:
			s.write.Lock()
			if !s.frozen {
				_ = s.conn.WriteControl(websocket.PingMessage, []byte("p"), time.Now().Add(time.Second))
			}
			s.write.Unlock()
		}
	}
}

func (s *socket) send(v any) bool {
	s.write.Lock()
	defer s.write.Unlock()
	if s.frozen {
		return true // a half-open connection takes what is written and loses it
	}
	return s.conn.WriteJSON(v) == nil
}

// Disconnect asks every connection to close and open anew, as the service does
// about hourly; reason is "warning", "refresh_requested" or "link_disabled".
func (w *Workspace) Disconnect(reason string) {
	for _, s := range w.open() {
		s.send(map[string]any{"type": "disconnect", "reason": reason, "debug_info": map[string]any{}})
	}
}

// Drop cuts every connection without a word.
func (w *Workspace) Drop() {
	for _, s := range w.open() {
		_ = s.conn.Close()
	}
}

// Freeze makes every connection half open: it stays up and nothing comes any
// more, not even pings.
func (w *Workspace) Freeze() {
	for _, s := range w.open() {
		s.write.Lock()
		s.frozen = true
		s.write.Unlock()
	}
}

func (w *Workspace) open() []*socket {
	w.mu.Lock()
	defer w.mu.Unlock()
	return append([]*socket(nil), w.sockets...)
}

// Revoke makes every web method refuse with code, e.g. "token_revoked"; empty
// makes them work again.
func (w *Workspace) Revoke(code string) {
	w.change(func() { w.revoked = code })
}
