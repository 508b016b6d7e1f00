package standin

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
)

// Mention says text to the app in a channel, and returns the message's time stamp.
func (w *Workspace) Mention(channel, user, text string) string {
	return w.say(event{"type": "app_mention", "channel": channel, "user": user, "text": "<@" + Bot + "> " + text})
}

// MentionIn is Mention as a reply in a thread.
func (w *Workspace) MentionIn(channel, thread, user, text string) string {
	return w.say(event{"type": "app_mention", "channel": channel, "user": user, "text": "<@" + Bot + "> " + text, "thread_ts": thread})
}

// Reply says text in a thread of a channel without a mention.
func (w *Workspace) Reply(channel, thread, user, text string) string {
	return w.say(event{"type": "message", "channel_type": "channel", "channel": channel, "user": user, "text": text,
		"thread_ts": thread})
}

// Direct says text to the app in direct messages; their channel is D with the
// rest of the user's id.
func (w *Workspace) Direct(user, text string) string {
	return w.say(event{"type": "message", "channel_type": "im", "channel": "D" + user[1:], "user": user, "text": text})
}

// Event delivers any event; what it leaves out of type, ts and event_ts is filled in.
func (w *Workspace) Event(fields map[string]any) string { return w.say(fields) }

type event = map[string]any

func (w *Workspace) say(e event) string {
	var stamp, id string
	w.change(func() { stamp, id = w.stamp(), w.name("Ev") })
	if _, ok := e["ts"]; !ok {
		e["ts"] = stamp
	}
	e["event_ts"] = e["ts"]
	w.Deliver("events_api", Callback(id, e))
	ts, _ := e["ts"].(string)
	return ts
}

// Callback wraps an event as the service delivers it. The same id twice is a
// second delivery of the same event.
func Callback(id string, e map[string]any) map[string]any {
	return map[string]any{"type": "event_callback", "event_id": id, "team_id": Team, "api_app_id": App, "event": e}
}

// OpenHome opens the app's home tab.
func (w *Workspace) OpenHome(user string) {
	w.say(event{"type": "app_home_opened", "user": user, "tab": "home", "channel": "D" + user[1:]})
}

// Command uses the slash command.
func (w *Workspace) Command(channel, user, text string) {
	var fields map[string]string
	w.change(func() {
		fields = map[string]string{"team_id": Team, "channel_id": channel, "user_id": user, "command": Command, "text": text,
			"response_url": w.newHook(channel, user, ""), "trigger_id": w.trigger(user), "api_app_id": App}
	})
	w.Deliver("slash_commands", fields)
}

// trigger lets one form be opened. The lock must be held.
func (w *Workspace) trigger(user string) string {
	id := w.name("trigger.")
	w.triggers[id] = user
	return id
}

// interact delivers an interaction.
func (w *Workspace) interact(channel, user string, fields map[string]any) {
	w.change(func() {
		fields["team"] = map[string]string{"id": Team}
		fields["user"] = map[string]string{"id": user}
		fields["api_app_id"] = App
		fields["trigger_id"] = w.trigger(user)
		if channel != "" {
			fields["channel"] = map[string]string{"id": channel}
			fields["response_url"] = w.newHook(channel, user, pressedIn(fields))
		}
	})
	w.Deliver("interactive", fields)
}

// pressedIn is the time stamp of the message that an interaction was made in.
func pressedIn(fields map[string]any) string {
	container, _ := fields["container"].(map[string]any)
	stamp, _ := container["message_ts"].(string)
	return stamp
}

// Shortcut uses the message shortcut on a message somebody wrote.
func (w *Workspace) Shortcut(channel, ts, author, text, user string) {
	w.interact(channel, user, map[string]any{"type": "message_action", "callback_id": "ask_about_message",
		"message": map[string]any{"type": "message", "ts": ts, "user": author, "text": text}})
}

// FormShortcut uses the shortcut that opens the case form.
func (w *Workspace) FormShortcut(user string) {
	w.interact("", user, map[string]any{"type": "shortcut", "callback_id": "open_case_form"})
}

// Press presses a button, or chooses the first entry of a list, in a message as
// it stands in m. An error says that m has none of that name.
func (w *Workspace) Press(m Message, user, actionID string) error {
	return w.Choose(m, user, actionID, "")
}

// Choose is Press with the entry of a list chosen by its value.
func (w *Workspace) Choose(m Message, user, actionID, value string) error {
	press, err := findAction(m.Blocks, actionID, value)
	if err != nil {
		return err
	}
	fields := map[string]any{"type": "block_actions", "actions": []any{press},
		"container": map[string]any{"type": "message", "message_ts": m.TS, "channel_id": m.Channel, "is_ephemeral": m.For != ""}}
	if m.For == "" {
		message := map[string]any{"type": "message", "ts": m.TS, "user": Bot, "bot_id": BotID, "text": m.Text, "blocks": m.Blocks}
		if m.Thread != "" {
			message["thread_ts"] = m.Thread
		}
		fields["message"] = message
	}
	w.interact(m.Channel, user, fields)
	return nil
}

// PressView presses a button of a home tab or form.
func (w *Workspace) PressView(v View, user, actionID string) error {
	var body struct{ Blocks []json.RawMessage }
	if err := json.Unmarshal(v.Raw, &body); err != nil {
		return fmt.Errorf("view: %w", err)
	}
	press, err := findAction(body.Blocks, actionID, "")
	if err != nil {
		return err
	}
	w.interact("", user, map[string]any{"type": "block_actions", "actions": []any{press},
		"container": map[string]any{"type": "view", "view_id": v.ID}, "view": w.viewPayload(v, nil)})
	return nil
}

// Change chooses or types a value in a field of a form, with all values so far:
// fact → value.
func (w *Workspace) Change(v View, user, fact string, values map[string]string) {
	w.interact("", user, map[string]any{"type": "block_actions",
		"container": map[string]any{"type": "view", "view_id": v.ID}, "view": w.viewPayload(v, values),
		"actions": []any{map[string]any{"action_id": "value", "block_id": "field/" + fact, "type": "static_select",
			"selected_option": map[string]any{"value": values[fact]}}}})
}

// Submit sends a form off.
func (w *Workspace) Submit(v View, user string, values map[string]string) {
	w.interact("", user, map[string]any{"type": "view_submission", "view": w.viewPayload(v, values)})
}

// LastView waits for a view that fits and returns its latest state.
func (w *Workspace) LastView(ctx context.Context, fits func(View) bool) (View, error) {
	var found View
	err := w.Await(ctx, func() bool {
		ok := false
		for _, v := range w.Views() {
			if fits(v) {
				found, ok = v, true
			}
		}
		return ok
	})
	return found, err
}

// viewPayload is a view as the service sends it back, with what is filled in.
func (w *Workspace) viewPayload(v View, values map[string]string) map[string]any {
	var raw map[string]any
	_ = json.Unmarshal(v.Raw, &raw) // it was checked when it was taken
	state := map[string]any{}
	for fact, value := range values {
		input := map[string]any{"type": "static_select", "selected_option": map[string]any{"value": value}}
		if !strings.Contains(string(v.Raw), `"value":"`+value+`"`) {
			input = map[string]any{"type": "plain_text_input", "value": value}
		}
		state["field/"+fact] = map[string]any{"value": input}
	}
	raw["id"], raw["hash"], raw["state"] = v.ID, v.Hash, map[string]any{"values": state}
	return raw
}

// findAction is the press of the element of that name, as the service sends it.
func findAction(blocks []json.RawMessage, actionID, value string) (map[string]any, error) {
	for _, raw := range blocks {
		var b struct {
			ID       string           `json:"block_id"`
			Elements []map[string]any `json:"elements"`
		}
		if json.Unmarshal(raw, &b) != nil {
			continue
		}
		for _, e := range b.Elements {
			if e["action_id"] == actionID {
				return pressOf(e, b.ID, value)
			}
		}
	}
	return nil, fmt.Errorf("no button or list %q in the message", actionID)
}

func pressOf(e map[string]any, block, value string) (map[string]any, error) {
	press := map[string]any{"action_id": e["action_id"], "block_id": block, "type": e["type"]}
	if e["type"] == "button" {
		press["value"], press["text"] = e["value"], e["text"]
		return press, nil
	}
	options, _ := e["options"].([]any)
	for _, o := range options {
		option, _ := o.(map[string]any)
		if value == "" || option["value"] == value {
			press["selected_option"] = option
			return press, nil
		}
	}
	return nil, fmt.Errorf("no entry %q in list %q", value, e["action_id"])
}
