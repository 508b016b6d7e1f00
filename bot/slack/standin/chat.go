package standin

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
)

func (w *Workspace) authTest(args) (map[string]any, string) {
	return map[string]any{"url": "http://" + w.host + "/", "team": "Practice", "user": "mortarboard",
		"team_id": Team, "user_id": Bot, "bot_id": BotID}, ""
}

func (w *Workspace) connectionsOpen(args) (map[string]any, string) {
	w.change(func() { w.opened++ })
	return map[string]any{"url": "ws://" + w.host + "/socket"}, ""
}

// checked is a message's blocks if the service would take them.
func (w *Workspace) checked(what string, a args) ([]json.RawMessage, string) {
	if err := CheckMessage(a.str("text"), a["blocks"]); err != nil {
		w.refuse(what, err.Error())
		return nil, "invalid_blocks"
	}
	var blocks []json.RawMessage
	if len(a["blocks"]) > 0 {
		if err := json.Unmarshal(a["blocks"], &blocks); err != nil {
			return nil, "invalid_blocks_format"
		}
	}
	return blocks, ""
}

func (w *Workspace) postMessage(a args) (map[string]any, string) {
	channel := a.str("channel")
	if strings.HasPrefix(channel, "U") {
		channel = "D" + channel[1:]
	}
	if contains(w.o.Outside, channel) {
		return nil, "not_in_channel"
	}
	blocks, code := w.checked("chat.postMessage", a)
	if code != "" {
		return nil, code
	}
	m := &Message{Channel: channel, Thread: a.str("thread_ts"), Text: a.str("text"), Blocks: blocks}
	w.change(func() { w.keep(m) })
	return map[string]any{"channel": channel, "ts": m.TS}, ""
}

func (w *Workspace) postEphemeral(a args) (map[string]any, string) {
	if contains(w.o.Outside, a.str("channel")) {
		return nil, "not_in_channel"
	}
	blocks, code := w.checked("chat.postEphemeral", a)
	if code != "" {
		return nil, code
	}
	m := &Message{Channel: a.str("channel"), Thread: a.str("thread_ts"), Text: a.str("text"), Blocks: blocks, For: a.str("user")}
	w.change(func() { w.keep(m) })
	return map[string]any{"message_ts": m.TS}, ""
}

func (w *Workspace) update(a args) (map[string]any, string) {
	blocks, code := w.checked("chat.update", a)
	if code != "" {
		return nil, code
	}
	code = "message_not_found"
	w.change(func() {
		for _, m := range w.messages {
			if m.Channel == a.str("channel") && m.TS == a.str("ts") && m.For == "" {
				m.Text, m.Blocks, code = a.str("text"), blocks, ""
				m.Edits++
			}
		}
	})
	if code != "" {
		w.refuse("chat.update", code)
	}
	return map[string]any{"channel": a.str("channel"), "ts": a.str("ts"), "text": a.str("text")}, code
}

func (w *Workspace) history(a args) (map[string]any, string) {
	if contains(w.o.Outside, a.str("channel")) {
		return nil, "not_in_channel"
	}
	return map[string]any{"messages": []any{}}, ""
}

// takeView checks and keeps a view. Triggers and hashes are used up as the
// service uses them.
func (w *Workspace) takeView(what string, a args, id, user string) (map[string]any, string) {
	var head struct {
		Type string `json:"type"`
	}
	if err := json.Unmarshal(a["view"], &head); err != nil {
		return nil, "invalid_arguments"
	}
	if err := CheckView(a["view"]); err != nil {
		w.refuse(what, err.Error())
		return nil, "invalid_arguments"
	}
	v := View{ID: id, Type: head.Type, User: user, Raw: a["view"]}
	w.change(func() {
		if v.ID == "" {
			v.ID = w.name("V")
		}
		v.Hash = w.name("hash")
		w.views = append(w.views, v)
	})
	return map[string]any{"view": map[string]any{"id": v.ID, "type": v.Type, "hash": v.Hash, "team_id": Team}}, ""
}

func (w *Workspace) viewsOpen(a args) (map[string]any, string) {
	w.mu.Lock()
	user, ok := w.triggers[a.str("trigger_id")]
	delete(w.triggers, a.str("trigger_id"))
	w.mu.Unlock()
	if !ok {
		return nil, "invalid_trigger_id"
	}
	return w.takeView("views.open", a, "", user)
}

func (w *Workspace) viewsUpdate(a args) (map[string]any, string) {
	last, ok := w.view(a.str("view_id"))
	switch {
	case !ok:
		return nil, "not_found"
	case a.str("hash") != "" && a.str("hash") != last.Hash:
		return nil, "hash_conflict"
	}
	return w.takeView("views.update", a, last.ID, last.User)
}

func (w *Workspace) viewsPublish(a args) (map[string]any, string) {
	user := a.str("user_id")
	return w.takeView("views.publish", a, "VHOME"+user, user)
}

// view is the latest state of a view.
func (w *Workspace) view(id string) (View, bool) {
	views := w.Views()
	for i := len(views) - 1; i >= 0; i-- {
		if views[i].ID == id {
			return views[i], true
		}
	}
	return View{}, false
}

// A hook is a response address: five uses.
type hook struct {
	channel, user string
	pressed       string // time stamp of the message it may replace; empty: none
	uses          int
}

// newHook makes a response address. The lock must be held.
func (w *Workspace) newHook(channel, user, pressed string) string {
	id := w.name("H")
	w.hooks[id] = &hook{channel: channel, user: user, pressed: pressed}
	return "http://" + w.host + "/hook/" + id
}

// takeHook is a response address in use.
func (w *Workspace) takeHook(rw http.ResponseWriter, r *http.Request) {
	if w.faulty(rw, "hook") {
		return
	}
	body, err := io.ReadAll(io.LimitReader(r.Body, 1<<20))
	var a args
	if err == nil {
		err = json.Unmarshal(body, &a)
	}
	if err != nil {
		w.refuse("hook", "body is not an object")
		http.Error(rw, "invalid_payload", http.StatusBadRequest)
		return
	}
	if err := w.keepHook(strings.TrimPrefix(r.URL.Path, "/hook/"), a); err != nil {
		w.refuse("hook", err.Error())
		http.Error(rw, "invalid_payload", http.StatusBadRequest)
		return
	}
	w.note(Call{Method: "hook", Status: http.StatusOK})
	_, _ = io.WriteString(rw, "ok")
}

func (w *Workspace) keepHook(id string, a args) error {
	if key := unknown(a, "text blocks response_type replace_original delete_original"); key != "" {
		return fmt.Errorf("unknown field %s", key)
	}
	blocks, code := w.checked("hook", a)
	if code != "" {
		return fmt.Errorf("%s", code)
	}
	err := fmt.Errorf("unknown response address")
	w.change(func() {
		if h := w.hooks[id]; h != nil {
			m := Message{Channel: h.channel, For: h.user, Text: a.str("text"), Blocks: blocks, Hook: true}
			err = w.useHook(h, m, a.str("replace_original") == "true")
		}
	})
	return err
}

// useHook posts a message by a response address, or puts it in place of the one
// that was pressed. The lock must be held.
func (w *Workspace) useHook(h *hook, m Message, replace bool) error {
	if h.uses++; h.uses > 5 {
		return fmt.Errorf("response address used more than five times")
	}
	if !replace {
		w.keep(&m)
		return nil
	}
	for _, old := range w.messages {
		if old.TS == h.pressed && h.pressed != "" {
			old.Text, old.Blocks = m.Text, m.Blocks
			old.Edits++
			return nil
		}
	}
	return fmt.Errorf("no message to replace")
}
