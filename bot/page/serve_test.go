package page

import (
	"context"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// A fakeListener only has an address.
type fakeListener struct {
	net.Listener
	addr   net.Addr
	closed bool
}

func (l *fakeListener) Addr() net.Addr { return l.addr }
func (l *fakeListener) Close() error   { l.closed = true; return nil }

func TestServeRefusesWhatOthersCouldReach(t *testing.T) {
	for _, c := range []struct {
		addr net.Addr
		want string
	}{
		{&net.TCPAddr{IP: net.IPv4zero, Port: 8484}, "page: address 0.0.0.0:8484 can be reached from other machines: listen on 127.0.0.1, or name the allowed hosts"},
		{&net.TCPAddr{IP: net.IPv6unspecified, Port: 8484}, "page: address [::]:8484 can be reached from other machines: listen on 127.0.0.1, or name the allowed hosts"},
		{&net.TCPAddr{IP: net.IPv4(10, 0, 0, 7), Port: 80}, "page: address 10.0.0.7:80 can be reached from other machines: listen on 127.0.0.1, or name the allowed hosts"},
		{&net.UnixAddr{Name: "/run/x", Net: "unix"}, "page: listener on unix /run/x: only tcp is allowed, e.g. 127.0.0.1:8484"},
	} {
		l := &fakeListener{addr: c.addr}
		err := Serve(t.Context(), l, Options{Answer: echo})
		if err == nil || err.Error() != c.want || !l.closed {
			t.Errorf("%v: error %v, closed %v; want %q", c.addr, err, l.closed, c.want)
		}
	}
	port, err := checkListener(&fakeListener{addr: &net.TCPAddr{IP: net.IPv4zero, Port: 8484}}, []string{"cards.example"})
	if err != nil || port != 8484 {
		t.Errorf("with hosts named: port %d, error %v", port, err)
	}
}

func TestOptionsAreChecked(t *testing.T) {
	for name, c := range map[string]struct {
		o    Options
		want string
	}{
		"no answerer": {Options{}, "page: no answerer given: set Options.Answer"},
		"limit":       {Options{Answer: echo, AnswerLimit: -1}, "page: answer limit -1ns, drain limit 20s: both must be above 0"},
		"workers":     {Options{Answer: echo, Workers: -2}, "page: -2 workers, 30 questions a minute: both must be above 0"},
	} {
		if _, err := newSite(t.Context(), c.o, 0); err == nil || err.Error() != c.want {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
}

func TestServeAnswersAndStops(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, Options{Answer: echo}) }()
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	res, err := client.Get("http://" + l.Addr().String() + "/?q=hello")
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(res.Body)
	_ = res.Body.Close()
	if err != nil || res.StatusCode != 200 || !strings.Contains(string(body), "You said: hello") {
		t.Errorf("status %d, error %v, body %s", res.StatusCode, err, body)
	}
	stop()
	if err := <-done; err != nil {
		t.Errorf("stopped with %v", err)
	}
	if _, err := net.DialTimeout("tcp", l.Addr().String(), time.Second); err == nil {
		t.Error("still listening")
	}
}
