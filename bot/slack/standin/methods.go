package standin

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"time"
)

// A Fault makes the next uses of a web method go wrong. "hook" stands for the
// response addresses, "upload" for the upload address.
type Fault struct {
	Method     string
	Times      int           // how many uses; 0: one
	Status     int           // the HTTP status; 0: 200
	RetryAfter int           // seconds, with status 429; below 0: the service does not say
	Location   string        // where the answer points, with status 307
	Error      string        // the service's word, with status 200
	Delay      time.Duration // how long it takes; with neither Status nor Error it then works
}

// Fail adds a fault.
func (w *Workspace) Fail(f Fault) {
	if f.Times == 0 {
		f.Times = 1
	}
	w.change(func() { w.faults = append(w.faults, &f) })
}

// fault is the fault that the next use of method meets, if any.
func (w *Workspace) fault(method string) (Fault, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, f := range w.faults {
		if f.Method == method && f.Times > 0 {
			f.Times--
			return *f, true
		}
	}
	return Fault{}, false
}

// args are a method's arguments, from a form or from JSON.
type args map[string]json.RawMessage

func (a args) str(key string) string {
	var s string
	if json.Unmarshal(a[key], &s) != nil {
		return strings.Trim(string(a[key]), `"`)
	}
	return s
}

// a method answers a call with what the service would, or with its word for a refusal.
type method struct {
	scope  string // what the token must allow; empty: nothing
	app    bool   // wants the app token
	fields string // the arguments it takes, in one line
	do     func(a args) (map[string]any, string)
}

func (w *Workspace) methods() map[string]method {
	const post = "token channel text blocks thread_ts unfurl_links unfurl_media mrkdwn "
	return map[string]method{
		"auth.test":                    {fields: "token", do: w.authTest},
		"apps.connections.open":        {app: true, fields: "token", do: w.connectionsOpen},
		"chat.postMessage":             {scope: "chat:write", fields: post, do: w.postMessage},
		"chat.postEphemeral":           {scope: "chat:write", fields: post + "user", do: w.postEphemeral},
		"chat.update":                  {scope: "chat:write", fields: post + "ts", do: w.update},
		"views.open":                   {fields: "trigger_id view", do: w.viewsOpen},
		"views.update":                 {fields: "view view_id hash external_id", do: w.viewsUpdate},
		"views.publish":                {fields: "user_id view hash", do: w.viewsPublish},
		"files.getUploadURLExternal":   {scope: "files:write", fields: "token filename length alt_txt snippet_type", do: w.uploadURL},
		"files.completeUploadExternal": {scope: "files:write", fields: "token files channel_id channels thread_ts initial_comment blocks", do: w.completeUpload},
		"conversations.history":        {scope: "channels:history", fields: "token channel limit cursor inclusive latest oldest include_all_metadata", do: w.history},
	}
}

func (w *Workspace) routes() http.Handler {
	mux := http.NewServeMux()
	for name, m := range w.methods() {
		mux.HandleFunc("/api/"+name, func(rw http.ResponseWriter, r *http.Request) { w.call(rw, r, name, m) })
	}
	mux.HandleFunc("/api/", func(rw http.ResponseWriter, r *http.Request) {
		w.refuse(r.URL.Path, "unknown_method")
		w.answer(rw, r.URL.Path, nil, "unknown_method")
	})
	mux.HandleFunc("/socket", w.serveSocket)
	mux.HandleFunc("/upload/", w.upload)
	mux.HandleFunc("/hook/", w.takeHook)
	return mux
}

// call runs one web method: faults first, then who calls, then what.
func (w *Workspace) call(rw http.ResponseWriter, r *http.Request, name string, m method) {
	time.Sleep(w.o.Latency)
	if w.faulty(rw, name) {
		return
	}
	a, token, err := readArgs(r)
	if err != nil {
		w.refuse(name, err.Error())
		w.answer(rw, name, nil, "invalid_form_data")
		return
	}
	if code := w.allowed(token, m); code != "" {
		w.answer(rw, name, nil, code)
		return
	}
	if code := w.tooSoon(name, a.str("channel")); code {
		w.limited(rw, name, 1)
		return
	}
	if key := unknown(a, m.fields); key != "" {
		w.refuse(name, "unknown argument "+key)
		w.answer(rw, name, nil, "invalid_arguments")
		return
	}
	result, code := m.do(a)
	w.answer(rw, name, result, code)
}

// unknown is an argument that is not among the fields, if there is one.
func unknown(a args, fields string) string {
	for key := range a {
		if !strings.Contains(" "+fields+" ", " "+key+" ") {
			return key
		}
	}
	return ""
}

// faulty meets a fault; it reports whether that was the answer.
func (w *Workspace) faulty(rw http.ResponseWriter, name string) bool {
	f, ok := w.fault(name)
	if !ok {
		return false
	}
	time.Sleep(f.Delay)
	switch {
	case f.Status == http.StatusTooManyRequests:
		w.limited(rw, name, f.RetryAfter)
	case f.Status != 0:
		rw.Header().Set("Location", f.Location)
		w.note(Call{Method: name, Status: f.Status})
		http.Error(rw, "fault", f.Status)
	case f.Error != "":
		w.answer(rw, name, nil, f.Error)
	default:
		return false
	}
	return true
}

func (w *Workspace) limited(rw http.ResponseWriter, name string, seconds int) {
	w.note(Call{Method: name, Status: http.StatusTooManyRequests, Error: "ratelimited"})
	if seconds >= 0 {
		rw.Header().Set("Retry-After", fmt.Sprint(seconds))
	}
	rw.WriteHeader(http.StatusTooManyRequests)
	_, _ = io.WriteString(rw, `{"ok":false,"error":"ratelimited"}`)
}

// tooSoon reports whether a post comes sooner than the channel allows.
func (w *Workspace) tooSoon(name, channel string) bool {
	if w.o.PerChannel == 0 || name != "chat.postMessage" {
		return false
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	now := time.Now()
	if now.Sub(w.lastPost[channel]) < w.o.PerChannel {
		return true
	}
	w.lastPost[channel] = now
	return false
}

// allowed is why the caller may not use the method, or nothing.
func (w *Workspace) allowed(token string, m method) string {
	w.mu.Lock()
	defer w.mu.Unlock()
	want := w.BotToken()
	if m.app {
		want = w.AppToken()
	}
	switch {
	case w.revoked != "":
		return w.revoked
	case token != want:
		return "invalid_auth"
	case m.scope != "" && !contains(w.o.Scopes, m.scope):
		return "missing_scope"
	}
	return ""
}

func contains(list []string, want string) bool {
	for _, s := range list {
		if s == want {
			return true
		}
	}
	return false
}

// readArgs reads a call's arguments and its token.
func readArgs(r *http.Request) (args, string, error) {
	body, err := io.ReadAll(io.LimitReader(r.Body, 4<<20))
	if err != nil {
		return nil, "", err
	}
	a := args{}
	token := strings.TrimPrefix(r.Header.Get("Authorization"), "Bearer ")
	if len(body) == 0 {
		return a, token, nil
	}
	if strings.HasPrefix(r.Header.Get("Content-Type"), "application/json") {
		err := json.Unmarshal(body, &a)
		return a, token, err
	}
	form, err := url.ParseQuery(string(body))
	if err != nil {
		return nil, "", err
	}
	for key := range form {
		a[key] = asJSON(form.Get(key))
	}
	if token == "" {
		token = form.Get("token")
	}
	return a, token, nil
}

// asJSON is a form value as JSON: lists and objects as they are, all else as text.
func asJSON(value string) json.RawMessage {
	if (strings.HasPrefix(value, "[") || strings.HasPrefix(value, "{")) && json.Valid([]byte(value)) {
		return json.RawMessage(value)
	}
	quoted, _ := json.Marshal(value) // a string can always be marshalled
	return quoted
}

// answer writes what the service would.
func (w *Workspace) answer(rw http.ResponseWriter, name string, result map[string]any, code string) {
	if result == nil {
		result = map[string]any{}
	}
	result["ok"] = code == ""
	if code != "" {
		result["error"] = code
	}
	w.note(Call{Method: name, Status: http.StatusOK, Error: code})
	rw.Header().Set("Content-Type", "application/json")
	if name == "auth.test" {
		rw.Header().Set("X-OAuth-Scopes", strings.Join(w.o.Scopes, ","))
	}
	_ = json.NewEncoder(rw).Encode(result)
}

func (w *Workspace) note(c Call) {
	c.At = time.Now()
	if !w.o.Forget {
		w.change(func() { w.calls = append(w.calls, c) })
	}
}

func (w *Workspace) refuse(what, why string) {
	w.change(func() { w.refusals = append(w.refusals, what+": "+why) })
}
