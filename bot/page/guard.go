package page

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"strings"
)

// policy lets a page load its own style, script and pictures and send its own
// forms, and nothing else. Inline script and inline style are not among it.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; form-action 'self'; " +
	"base-uri 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'"

// picturePolicy is for a drawing opened by itself: it may carry its own style and
// fonts, but no script.
const picturePolicy = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; frame-ancestors 'none'; sandbox"

// guard stands before every address: headers, host, foreign pages, pace, panics.
func (s *site) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		setHeaders(w.Header())
		defer s.catch(w, r)
		switch {
		case !s.knowsHost(r.Host):
			s.refuse(w, r, "host", strangeHost())
		case foreign(r.Header):
			s.refuse(w, r, "embedded elsewhere", foreignPage())
		default:
			s.admit(w, r, next)
		}
	})
}

// admit lets a request through unless its browser sends too many.
func (s *site) admit(w http.ResponseWriter, r *http.Request, next http.Handler) {
	if wait, ok := s.visits.take(s.visitor(r).id, s.o.Now()); !ok {
		s.refuse(w, r, "request rate", tooFast(wait))
		return
	}
	next.ServeHTTP(w, r)
}

func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "same-origin") // no-referrer would blank the origin of our own forms
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
	h.Set("Cache-Control", "no-store")
}

// catch turns a panic into a page; its value may hold what was asked, so only
// its sort is logged.
func (s *site) catch(w http.ResponseWriter, r *http.Request) {
	if p := recover(); p != nil {
		s.o.Log.Error("page panicked", "sort", fmt.Sprintf("%T", p))
		s.fail(w, r, broken())
	}
}

// refuse shows a trouble and logs why, without address or text.
func (s *site) refuse(w http.ResponseWriter, r *http.Request, why string, t *trouble) {
	s.o.Log.Warn("request refused", "why", why, "status", t.Status)
	s.fail(w, r, t)
}

// knowsHost reports whether a Host header names this machine or an allowed
// name. Any other name means that a page elsewhere had its own name point here.
func (s *site) knowsHost(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.TrimSuffix(strings.TrimPrefix(name, "["), "]")
	if ip := net.ParseIP(name); ip != nil && ip.IsLoopback() {
		return true
	}
	same := func(allowed string) bool { return strings.EqualFold(allowed, name) }
	return same("localhost") || slices.ContainsFunc(s.o.Hosts, same)
}

// foreign reports whether another site's page wants this as a part of itself
// (picture, frame, script, fetch). Following a link from there is no such thing.
// Browsers send these headers to loopback; what sends none is no browser.
func foreign(h http.Header) bool {
	switch h.Get("Sec-Fetch-Site") {
	case "", "none", "same-origin":
		return false
	}
	return h.Get("Sec-Fetch-Mode") != "navigate" || h.Get("Sec-Fetch-Dest") != "document"
}

// A visitor is one browser, known by its session cookie.
type visitor struct {
	id    string
	fresh bool // has no cookie of ours yet
}

// visitor reads the session cookie. One that we did not seal does not count, so
// nobody can plant a session.
func (s *site) visitor(r *http.Request) visitor {
	if c, err := r.Cookie(s.cookie); err == nil {
		id, seal, _ := strings.Cut(c.Value, ".")
		if hmac.Equal([]byte(seal), []byte(s.seal("session", id))) {
			return visitor{id: id}
		}
	}
	return visitor{id: rand.Text(), fresh: true}
}

// greet gives a fresh visitor the session cookie. It ends with the browser.
func (s *site) greet(w http.ResponseWriter, r *http.Request, v visitor) {
	if !v.fresh {
		return
	}
	http.SetCookie(w, &http.Cookie{
		Name: s.cookie, Value: v.id + "." + s.seal("session", v.id), Path: "/",
		HttpOnly: true, Secure: r.TLS != nil, SameSite: http.SameSiteLaxMode,
	})
}

// token seals the forms of a visitor: only a page that we made for this visitor
// holds it.
func (s *site) token(v visitor) string { return s.seal("form", v.id) }

func (s *site) sealed(v visitor, token string) bool {
	return hmac.Equal([]byte(token), []byte(s.token(v)))
}

func (s *site) seal(purpose, id string) string {
	h := hmac.New(sha256.New, s.key)
	_, _ = io.WriteString(h, purpose+"\x00"+id) // a hash takes all
	return base64.RawURLEncoding.EncodeToString(h.Sum(nil))
}
