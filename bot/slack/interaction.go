package slack

import (
	"cmp"
	"context"
	"encoding/json"
	"strconv"
	"strings"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// An interaction is the part we need of what a press, a shortcut or a form sends.
type interaction struct {
	Type      string         `json:"type"`
	Callback  string         `json:"callback_id"`
	Trigger   string         `json:"trigger_id"`
	Hook      string         `json:"response_url"`
	Team      named          `json:"team"`
	User      named          `json:"user"`
	Channel   named          `json:"channel"`
	Container container      `json:"container"`
	Message   pressedMessage `json:"message"`
	Actions   []action       `json:"actions"`
	View      view           `json:"view"`
}

type named struct {
	ID string `json:"id"`
}

type container struct {
	Ephemeral bool   `json:"is_ephemeral"`
	Stamp     string `json:"message_ts"`
}

// pressedMessage is the message a button stands in. Its blocks stay as they came,
// so that an edit keeps what it does not touch.
type pressedMessage struct {
	Stamp  string            `json:"ts"`
	Thread string            `json:"thread_ts"`
	User   string            `json:"user"`
	Bot    string            `json:"bot_id"`
	Text   string            `json:"text"`
	Blocks []json.RawMessage `json:"blocks"`
}

func (m pressedMessage) root() string { return cmp.Or(m.Thread, m.Stamp) }

// An action is one press.
type action struct {
	ID       string `json:"action_id"`
	Block    string `json:"block_id"`
	Value    string `json:"value"`
	Text     words  `json:"text"`
	Selected struct {
		Value string `json:"value"`
		Text  words  `json:"text"`
	} `json:"selected_option"`
}

type words struct {
	Text string `json:"text"`
}

// says is the message that the press stands for, and its words on the button.
func (p action) says() (message, shown string) {
	if p.Selected.Value != "" {
		return p.Selected.Value, p.Selected.Text.Text
	}
	return p.Value, p.Text.Text
}

// readInteraction turns an interaction into a delivery.
func (a *app) readInteraction(payload json.RawMessage) delivery {
	var in interaction
	if json.Unmarshal(payload, &in) != nil || in.Team.ID != a.me.Team || in.User.ID == "" {
		return delivery{}
	}
	d := delivery{lane: "user/" + in.User.ID, keys: triggerKeys("press/", in.Trigger)}
	switch {
	case in.Type == "block_actions" && len(in.Actions) > 0:
		return a.readPress(in, d)
	case in.Type == "view_submission" && in.View.Callback == formCallback:
		d.reply = func(ctx context.Context) (any, job) { return a.submitted(ctx, in) }
	case in.Type == "message_action" && in.Callback == shortcutCallback:
		d.lane = a.threadKey(in.Channel.ID, in.Message.root())
		d.owed = Place{Channel: in.Channel.ID, Thread: in.Message.root(), Message: in.Message.Stamp}
		d.do = func(ctx context.Context) { a.askAbout(ctx, in) }
	case in.Type == "shortcut" && in.Callback == formShortcut:
		d.lane = formLane(in.User.ID)
		d.do = func(ctx context.Context) { a.openForm(ctx, in.Trigger, formPlace{}) }
	}
	return d
}

// readPress sorts presses by what their button was made for. The numbers in
// names, and all values, are input like any other: they are parsed, not trusted.
func (a *app) readPress(in interaction, d delivery) delivery {
	press := in.Actions[0]
	kind, _, _ := strings.Cut(press.ID, "/")
	switch {
	case kind == "form":
		d.lane = formLane(in.User.ID)
		d.do = func(ctx context.Context) { a.openForm(ctx, in.Trigger, formPlace{}) }
	case press.ID == fieldAction:
		d.lane = formLane(in.User.ID)
		d.do = func(ctx context.Context) { a.refreshForm(ctx, in) }
	case kind == "say" && in.View.Type == "home":
		message, shown := press.says()
		d.do = func(ctx context.Context) { a.askApart(ctx, in.User.ID, in.User.ID, message, shown) }
	case kind == "say":
		to := a.pressTarget(in, press)
		if to.thread == "" && to.hook == "" {
			return delivery{} // an answer for one person only, and no way to reach them alone
		}
		d.lane = to.key
		if !in.Container.Ephemeral {
			d.owed = Place{Channel: to.channel, Thread: to.thread, Message: in.Message.Stamp}
		}
		d.do = func(ctx context.Context) { a.pressed(ctx, in, press, to) }
	case kind == "fold":
		d.lane = a.threadKey(in.Channel.ID, in.Message.root())
		d.do = func(ctx context.Context) { a.folded(ctx, in, press) }
	}
	return d
}

// pressTarget is where the answer to a press goes: into the thread of its
// message, or for a message that only the asker sees to the conversation that
// its block names.
func (a *app) pressTarget(in interaction, press action) target {
	to := target{channel: in.Channel.ID, user: in.User.ID, thread: in.Message.root()}
	if in.Container.Ephemeral {
		name := press.Block[strings.LastIndexByte(press.Block, '/')+1:]
		if thread, ok := strings.CutPrefix(name, "t"); ok {
			to.thread = thread
		} else {
			to.thread, to.hook, to.name, to.replace = "", in.Hook, name, true
			to.key = a.commandKey(in.Channel.ID, in.User.ID, name)
			return to
		}
	}
	to.key = a.threadKey(to.channel, to.thread)
	return to
}

// pressed handles the press of an answer: the message it belongs to shows what
// was chosen, and the conversation goes on. A press that belongs to an earlier
// answer changes nothing and says so.
func (a *app) pressed(ctx context.Context, in interaction, press action, to target) {
	message, shown := press.says()
	if a.stale(in, to) {
		a.sayStale(ctx, in, to)
		return
	}
	a.setLive(to.key, allPressed)
	a.showChosen(ctx, in, press, to, shown)
	to.name = nextTurn(to.name)
	asked := talk.Message{Thread: to.key, From: in.User.ID, Text: message, At: a.o.Now()}
	a.converse(ctx, asked, to)
}

// showChosen edits the pressed message to what was chosen. One that only the
// asker sees comes without its text: it is replaced, by the next answer where that
// goes the same way, else by what was chosen.
func (a *app) showChosen(ctx context.Context, in interaction, press action, to target, shown string) {
	switch {
	case !in.Container.Ephemeral:
		a.edit(ctx, in, chosen(in.Message.Blocks, press.Block, shown))
	case to.hook == "" && in.Hook != "":
		a.report("edit", a.postHook(ctx, target{channel: in.Channel.ID, hook: in.Hook}, note("Chosen: "+shorten(shown, 75)), true))
	}
}

// allPressed stands for the live message of a conversation whose next answer is
// still being worked out.
const allPressed = "pressed"

// live is the message of a conversation whose buttons count.
func (a *app) live(key string) (message string, known bool) {
	if message, known = a.newest.get(key); !known && a.o.Live != nil {
		message = a.o.Live.Live(key)
	}
	return message, message != ""
}

func (a *app) setLive(key, message string) {
	a.newest.set(key, message)
	if a.o.Live != nil {
		a.o.Live.SetLive(key, message)
	}
}

// stale reports whether a newer answer stands in the conversation, or the
// pressed one is too old.
func (a *app) stale(in interaction, to target) bool {
	newest, known := a.live(to.key)
	if to.hook != "" {
		return known && newest != to.name
	}
	stamp := cmp.Or(in.Message.Stamp, in.Container.Stamp)
	if a.o.Now().Sub(stampTime(stamp)) > a.o.ButtonLife {
		return true
	}
	return known && !in.Container.Ephemeral && (newest == allPressed || earlier(stamp, newest))
}

func (a *app) sayStale(ctx context.Context, in interaction, to target) {
	if to.hook != "" {
		a.report("stale press", a.postHook(ctx, to, note(staleText), false))
		return
	}
	if !in.Container.Ephemeral {
		a.edit(ctx, in, outdated(in.Message.Blocks))
	}
	a.report("stale press", a.whisper(ctx, to.channel, to.thread, to.user, note(staleText)))
}

// nextTurn names the next turn of a conversation outside threads: the number
// after its last dot goes up by one.
func nextTurn(name string) string {
	head, tail, ok := strings.Cut(name, ".")
	n, err := strconv.Atoi(tail)
	if !ok || err != nil {
		return name
	}
	return head + "." + strconv.Itoa(n+1)
}

// folded shows or hides a section in the message that its button stands in.
func (a *app) folded(ctx context.Context, in interaction, press action) {
	f, ok := foldOf(press.ID, press.Value)
	if !ok {
		return
	}
	a.edit(ctx, in, refold(in.Message.Blocks, f))
}

// edit puts blocks in place of those of the pressed message.
func (a *app) edit(ctx context.Context, in interaction, blocks []json.RawMessage) {
	raw := make([]sdk.Block, len(blocks))
	for i, b := range blocks {
		raw[i] = asIs(b)
	}
	err := a.paced(ctx, "chat.update", "edit/"+in.Channel.ID, func(ctx context.Context) error {
		_, _, _, err := a.web.UpdateMessageContext(ctx, in.Channel.ID, in.Message.Stamp,
			sdk.MsgOptionText(in.Message.Text, false), sdk.MsgOptionBlocks(raw...))
		return err
	})
	a.report("edit", err)
}

// report logs what could not be done, by the service's word for it.
func (a *app) report(what string, err error) {
	if err != nil {
		a.o.Log.Warn("slack refused", "what", what, "error", safeError(err))
	}
}
