package page

import (
	"net/http"
	"strings"
	"testing"
)

func TestEveryAnswerCarriesTheGuard(t *testing.T) {
	r := newRig(t, nil)
	first := r.get("/?q=hello")
	id := first.field("case")
	for _, address := range []string{"/", "/?q=hello", "/case/" + id, "/case/" + id + "/1/sheet", "/case/" + id + "/1/answer.json", "/static/page.css", "/static/page.js", "/nowhere"} {
		h := r.get(address).Header
		for name, want := range map[string]string{
			"Content-Security-Policy": policy, "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY",
			"Referrer-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if got := h.Get(name); got != want {
				t.Errorf("%s: %s is %q, want %q", address, name, got, want)
			}
		}
		if h.Get("Cache-Control") != "no-store" && !strings.HasPrefix(address, "/static/") {
			t.Errorf("%s may be cached: %q", address, h.Get("Cache-Control"))
		}
	}
}

// TestPolicyIsStrict pins what the policy allows: nothing inline, nothing from
// elsewhere.
func TestPolicyIsStrict(t *testing.T) {
	if !strings.HasPrefix(policy, "default-src 'none'; ") {
		t.Errorf("policy does not begin with nothing: %s", policy)
	}
	for _, banned := range []string{"unsafe", "data:", "http:", "https:", "*", "blob:", "nonce"} {
		if strings.Contains(policy, banned) {
			t.Errorf("policy allows %q", banned)
		}
	}
}

func TestHostIsChecked(t *testing.T) {
	r := newRig(t, func(o *Options) { o.Hosts = []string{"cards.example"} })
	for host, want := range map[string]int{
		"127.0.0.1:8484": 200, "127.0.0.1": 200, "localhost:8484": 200, "LOCALHOST": 200, "[::1]:8484": 200, "[::1]": 200,
		"cards.example": 200, "cards.example:443": 200,
		"": 403, "evil.example": 403, "evil.example:8484": 403, "127.0.0.1.evil.example": 403, "localhost.evil.example": 403,
		"0.0.0.0:8484": 403, "192.168.1.4:8484": 403, "[::1].evil": 403, "127.0.0.1@evil.example": 403,
	} {
		req := request("GET", "/?q=moved", "")
		req.Host = host
		if got := r.do(req); got.StatusCode != want {
			t.Errorf("host %q: status %d, want %d", host, got.StatusCode, want)
		} else if want == 403 && (len(got.Cookies()) > 0 || !strings.Contains(got.text(), "127.0.0.1 or localhost")) {
			t.Errorf("host %q: the refusal sets a cookie or does not say the mend: %s", host, got.text())
		}
	}
}

func TestOtherSitesCannotEmbed(t *testing.T) {
	r := newRig(t, nil)
	for _, c := range []struct {
		site, mode, dest string
		want             int
	}{
		{"same-origin", "no-cors", "image", 200},
		{"none", "navigate", "document", 200},
		{"cross-site", "navigate", "document", 200}, // a link that somebody follows
		{"cross-site", "navigate", "iframe", 403},
		{"cross-site", "no-cors", "image", 403},
		{"cross-site", "cors", "empty", 403},
		{"same-site", "no-cors", "script", 403}, // another port of this machine
	} {
		req := request("GET", "/?q=x", "")
		req.Header.Set("Sec-Fetch-Site", c.site)
		req.Header.Set("Sec-Fetch-Mode", c.mode)
		req.Header.Set("Sec-Fetch-Dest", c.dest)
		if got := r.do(req).StatusCode; got != c.want {
			t.Errorf("%s %s %s: status %d, want %d", c.site, c.mode, c.dest, got, c.want)
		}
	}
}

func TestFormsAreSealed(t *testing.T) {
	r := newRig(t, nil)
	start := r.get("/")
	good := start.field("token")
	other := browser{handler: r.handler}
	stranger := other.get("/").field("token")
	for name, c := range map[string]struct {
		token  string
		adjust func(*http.Request)
	}{
		"no token":      {"", nil},
		"wrong token":   {good[1:] + "A", nil},
		"stranger's":    {stranger, nil},
		"no cookie":     {good, func(q *http.Request) { q.Header.Del("Cookie") }},
		"forged cookie": {good, func(q *http.Request) { q.Header.Set("Cookie", "mortarboard-8484=AAAA.BBBB") }},
		"origin":        {good, func(q *http.Request) { q.Header.Del("Sec-Fetch-Site"); q.Header.Set("Origin", "http://evil.example") }},
		"origin null":   {good, func(q *http.Request) { q.Header.Del("Sec-Fetch-Site"); q.Header.Set("Origin", "null") }},
		"cross-site":    {good, func(q *http.Request) { q.Header.Set("Sec-Fetch-Site", "cross-site") }},
		"another port":  {good, func(q *http.Request) { q.Header.Del("Sec-Fetch-Site"); q.Header.Set("Origin", "http://127.0.0.1:9") }},
		"cross-site link": {good, func(q *http.Request) {
			q.Header.Set("Sec-Fetch-Site", "cross-site")
			q.Header.Set("Sec-Fetch-Mode", "navigate")
			q.Header.Set("Sec-Fetch-Dest", "document")
		}},
	} {
		t.Run(name, func(t *testing.T) {
			req := request("POST", "/ask", form(c.token, "", "isolation dry"))
			kept := r.browser
			for _, cookie := range kept.cookies {
				req.AddCookie(cookie)
			}
			if c.adjust != nil {
				c.adjust(req)
			}
			bare := browser{handler: r.handler}
			if got := bare.do(req); got.StatusCode != http.StatusForbidden {
				t.Errorf("status %d, want 403", got.StatusCode)
			}
		})
	}
	if n := len(r.messages()); n != 0 {
		t.Errorf("%d refused questions reached the conversation", n)
	}
	if got := r.ask(start, "isolation dry"); got.StatusCode != 200 || len(r.messages()) != 1 {
		t.Errorf("the sealed form itself is refused: %d", got.StatusCode)
	}
}

// TestStaleFormKeepsTheQuestion: after a restart one more press is enough.
func TestStaleFormKeepsTheQuestion(t *testing.T) {
	old := newRig(t, nil)
	form := old.get("/")
	r := newRig(t, nil)
	r.cookies = old.cookies
	refused := r.ask(form, "3Y crown, short walls")
	refused.shows(t, "Nothing was asked", "Press Ask once more", "3Y crown, short walls")
	r.ask(refused, "3Y crown, short walls").shows(t, "Card 1", "3Y crown, short walls", caution)
}

func TestOneCookieOnly(t *testing.T) {
	r := newRig(t, nil)
	r.ask(r.get("/"), "hello")
	r.get("/?q=again")
	if len(r.cookies) != 1 {
		t.Fatalf("%d cookies: %v", len(r.cookies), r.cookies)
	}
	c := r.cookies["mortarboard-8484"]
	if c == nil || !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.MaxAge != 0 || !c.Expires.IsZero() || c.Domain != "" {
		t.Errorf("cookie %+v", c)
	}
	if again := r.get("/"); len(again.Cookies()) != 0 {
		t.Error("a known browser gets a new session")
	}
	forged := browser{handler: r.handler, cookies: map[string]*http.Cookie{c.Name: {Name: c.Name, Value: "PLANTED.AAAA"}}}
	if got := forged.get("/"); len(got.Cookies()) != 1 || strings.Contains(got.Cookies()[0].Value, "PLANTED") {
		t.Error("a session that we did not seal is taken")
	}
}

func TestMethodsAndPaths(t *testing.T) {
	r := newRig(t, nil)
	for _, c := range []struct {
		method, address string
		want            int
	}{
		{"GET", "/ask", 404}, {"PUT", "/", 405}, {"POST", "/", 405}, {"DELETE", "/case/x", 405}, {"HEAD", "/", 200},
		{"GET", "/static/../guard.go", 404}, {"GET", "/static/templates", 404}, {"GET", "/static/", 404}, {"GET", "/templates/page.html", 404},
		{"GET", "/static/page.css", 200},
	} {
		got := r.do(request(c.method, c.address, ""))
		if got.StatusCode == 307 || got.StatusCode == 301 { // the path was cleaned
			got = r.get(got.Header.Get("Location"))
		}
		if got.StatusCode != c.want {
			t.Errorf("%s %s: status %d, want %d", c.method, c.address, got.StatusCode, c.want)
		}
	}
}

// TestBrokenPageIsLoggedWithoutItsValue holds that what a page stumbled over, which may
// be what somebody asked, is neither logged nor shown.
func TestBrokenPageIsLoggedWithoutItsValue(t *testing.T) {
	r := newRig(t, nil)
	stumbles := http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("SECRET-TEXT") })
	r.browser.handler = r.site.guard(stumbles)
	got := r.get("/")
	if got.StatusCode != http.StatusInternalServerError || strings.Contains(got.text(), "SECRET-TEXT") {
		t.Errorf("status %d, page %s", got.StatusCode, got.text())
	}
	if logs := r.logs.String(); !strings.Contains(logs, `msg="page panicked" sort=string`) || strings.Contains(logs, "SECRET-TEXT") {
		t.Errorf("log: %s", logs)
	}
}
