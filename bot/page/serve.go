package page

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"time"
)

// Serve shows the page on l until ctx ends, then finishes the answers under way
// and returns nil. It closes l in every case. A listener beyond this machine is
// refused unless Options.Hosts says under which names it may be reached.
func Serve(ctx context.Context, l net.Listener, o Options) error {
	defer l.Close()
	port, err := checkListener(l, o.Hosts)
	if err != nil {
		return err
	}
	work, stopWork := context.WithCancel(context.WithoutCancel(ctx))
	defer stopWork()
	s, err := newSite(work, o, port)
	if err != nil {
		return err
	}
	server := s.server()
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	s.o.Log.Info("page is ready", "address", l.Addr().String())
	select {
	case err := <-ended:
		return fmt.Errorf("page: %w", err)
	case <-ctx.Done():
		return shut(server, s.o.DrainLimit)
	}
}

// checkListener refuses what other machines could reach, and gives the port.
func checkListener(l net.Listener, hosts []string) (port int, err error) {
	at, ok := l.Addr().(*net.TCPAddr)
	switch {
	case !ok:
		return 0, fmt.Errorf("page: listener on %s %s: only tcp is allowed, e.g. 127.0.0.1:8484", l.Addr().Network(), l.Addr())
	case !at.IP.IsLoopback() && len(hosts) == 0:
		return 0, fmt.Errorf("page: address %s can be reached from other machines: listen on 127.0.0.1, or name the allowed hosts", at)
	}
	return at.Port, nil
}

func (s *site) server() *http.Server {
	return &http.Server{
		Handler:           s.handler(),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      s.o.AnswerLimit + 10*time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		// What the server would log of its own may quote a request.
		ErrorLog: log.New(io.Discard, "", 0),
	}
}

// shut lets answers under way finish, then closes what is left.
func shut(server *http.Server, limit time.Duration) error {
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	err := server.Shutdown(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		return errors.Join(fmt.Errorf("page: stopped with answers unfinished after %v", limit), server.Close())
	}
	return err
}
