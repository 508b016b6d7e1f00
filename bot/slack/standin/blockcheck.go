package standin

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Limits as the service documents them; the last as measured by others, since it
// is documented nowhere.
const (
	messageBlocks = 50
	viewBlocks    = 100
	sectionText   = 3000
	messageText   = 40000
	blocksSize    = 13200 // characters of a message's blocks
)

// CheckMessage says what the service would refuse in a message, or nil.
func CheckMessage(text string, blocks json.RawMessage) error {
	c := &checker{}
	c.max("text", text, messageText)
	if text == "" {
		c.add("text", "missing: notifications and screen readers have nothing to say")
	}
	if len(blocks) > 0 {
		if n := utf8.RuneCount(blocks); n > blocksSize {
			c.add("blocks", "msg_blocks_too_long: %d characters, at most %d", n, blocksSize)
		}
		c.blocks(blocks, messageBlocks, false)
	}
	return errors.Join(c.errs...)
}

// CheckView says what the service would refuse in a form or a home tab, or nil.
func CheckView(raw json.RawMessage) error {
	c := &checker{}
	v := c.object("view", raw, "type title blocks close submit private_metadata callback_id clear_on_close notify_on_close external_id")
	switch str(v["type"]) {
	case "modal":
		c.text("view.title", v["title"], "plain_text", 24)
		c.optionalText("view.submit", v["submit"], 24)
		c.optionalText("view.close", v["close"], 24)
	case "home":
		if v["title"] != nil || v["submit"] != nil {
			c.add("view", "a home tab has neither title nor submit")
		}
	default:
		c.add("view.type", "%q: modal or home is allowed", str(v["type"]))
	}
	c.max("view.private_metadata", str(v["private_metadata"]), 3000)
	c.max("view.callback_id", str(v["callback_id"]), 255)
	c.blocks(v["blocks"], viewBlocks, true)
	if strings.Contains(string(v["blocks"]), `"type":"input"`) && v["submit"] == nil {
		c.add("view.submit", "needed where there are inputs")
	}
	return errors.Join(c.errs...)
}

// A checker collects all that is wrong, each with where.
type checker struct {
	errs   []error
	names  map[string]bool // block_ids so far
	within map[string]bool // action_ids so far, in this block
	inView bool
}

func (c *checker) add(where, format string, a ...any) {
	c.errs = append(c.errs, fmt.Errorf("%s: %s", where, fmt.Sprintf(format, a...)))
}

func (c *checker) max(where, text string, limit int) {
	if n := utf8.RuneCountInString(text); n > limit {
		c.add(where, "%d characters, at most %d", n, limit)
	}
}

// object reads an object that may hold the named fields only.
func (c *checker) object(where string, raw json.RawMessage, fields string) map[string]json.RawMessage {
	var o map[string]json.RawMessage
	if err := json.Unmarshal(raw, &o); err != nil {
		c.add(where, "is not an object")
		return map[string]json.RawMessage{}
	}
	for key := range o {
		if !strings.Contains(" "+fields+" ", " "+key+" ") {
			c.add(where, "unknown field %s", key)
		}
	}
	return o
}

// list reads a list of low to high entries.
func (c *checker) list(where string, raw json.RawMessage, low, high int) []json.RawMessage {
	var all []json.RawMessage
	if err := json.Unmarshal(raw, &all); err != nil {
		c.add(where, "is not a list")
		return nil
	}
	if len(all) < low || len(all) > high {
		c.add(where, "%d entries: %d to %d are allowed", len(all), low, high)
	}
	return all
}

func str(raw json.RawMessage) string {
	var s string
	_ = json.Unmarshal(raw, &s) // what is no text reads as none
	return s
}

func typeOf(raw json.RawMessage) string {
	var o struct {
		Type string `json:"type"`
	}
	_ = json.Unmarshal(raw, &o)
	return o.Type
}

// text checks a text object. kind is plain_text, mrkdwn or any.
func (c *checker) text(where string, raw json.RawMessage, kind string, limit int) {
	o := c.object(where, raw, "type text emoji verbatim")
	t := str(o["type"])
	switch {
	case t != "plain_text" && t != "mrkdwn", kind != "any" && t != kind:
		c.add(where, "text of type %q: %s is allowed", t, kind)
	case t == "mrkdwn" && o["emoji"] != nil:
		c.add(where, "emoji does not belong to mrkdwn")
	case t == "plain_text" && o["verbatim"] != nil:
		c.add(where, "verbatim does not belong to plain_text")
	}
	if str(o["text"]) == "" {
		c.add(where, "empty text")
	}
	c.max(where, str(o["text"]), limit)
}

func (c *checker) optionalText(where string, raw json.RawMessage, limit int) {
	if raw != nil {
		c.text(where, raw, "plain_text", limit)
	}
}

func (c *checker) blocks(raw json.RawMessage, limit int, view bool) {
	c.names, c.inView = map[string]bool{}, view
	for i, b := range c.list("blocks", raw, 1, limit) {
		c.within = map[string]bool{}
		c.block(fmt.Sprintf("blocks[%d]", i), b)
	}
}

func (c *checker) block(where string, raw json.RawMessage) {
	var o map[string]json.RawMessage
	switch t := typeOf(raw); t {
	case "section":
		o = c.section(where, raw)
	case "header":
		o = c.object(where, raw, "type block_id text level")
		c.text(where+".text", o["text"], "plain_text", 150)
	case "divider":
		o = c.object(where, raw, "type block_id")
	case "context":
		o = c.context(where, raw)
	case "actions":
		o = c.actions(where, raw)
	case "input":
		o = c.input(where, raw)
	case "image":
		o = c.image(where, raw)
	default:
		c.add(where, "block of type %q is not known here", t)
	}
	c.name(where, str(o["block_id"]))
}

func (c *checker) name(where, id string) {
	if id == "" {
		return
	}
	c.max(where+".block_id", id, 255)
	if c.names[id] {
		c.add(where, "block_id %q is used twice", id)
	}
	c.names[id] = true
}

func (c *checker) section(where string, raw json.RawMessage) map[string]json.RawMessage {
	o := c.object(where, raw, "type block_id text fields accessory expand")
	if o["text"] == nil && o["fields"] == nil {
		c.add(where, "section without text and fields")
	}
	if o["text"] != nil {
		c.text(where+".text", o["text"], "any", sectionText)
	}
	if o["fields"] != nil {
		for i, f := range c.list(where+".fields", o["fields"], 1, 10) {
			c.text(fmt.Sprintf("%s.fields[%d]", where, i), f, "any", 2000)
		}
	}
	if o["accessory"] != nil {
		c.element(where+".accessory", o["accessory"])
	}
	return o
}

func (c *checker) context(where string, raw json.RawMessage) map[string]json.RawMessage {
	o := c.object(where, raw, "type block_id elements")
	for i, e := range c.list(where+".elements", o["elements"], 1, 10) {
		at := fmt.Sprintf("%s.elements[%d]", where, i)
		if typeOf(e) == "image" {
			c.image(at, e)
			continue
		}
		c.text(at, e, "any", sectionText)
	}
	return o
}

func (c *checker) image(where string, raw json.RawMessage) map[string]json.RawMessage {
	o := c.object(where, raw, "type block_id image_url slack_file alt_text title")
	if str(o["alt_text"]) == "" {
		c.add(where, "picture without alternative text")
	}
	c.max(where+".alt_text", str(o["alt_text"]), 2000)
	c.max(where+".image_url", str(o["image_url"]), 3000)
	c.optionalText(where+".title", o["title"], 2000)
	return o
}

func (c *checker) actions(where string, raw json.RawMessage) map[string]json.RawMessage {
	o := c.object(where, raw, "type block_id elements")
	for i, e := range c.list(where+".elements", o["elements"], 1, 25) {
		c.element(fmt.Sprintf("%s.elements[%d]", where, i), e)
	}
	return o
}

func (c *checker) input(where string, raw json.RawMessage) map[string]json.RawMessage {
	o := c.object(where, raw, "type block_id label element hint optional dispatch_action")
	if !c.inView {
		c.add(where, "inputs belong to forms")
	}
	c.text(where+".label", o["label"], "plain_text", 2000)
	c.optionalText(where+".hint", o["hint"], 2000)
	c.element(where+".element", o["element"])
	return o
}

// element checks a button, a list or a line to type in.
func (c *checker) element(where string, raw json.RawMessage) {
	var o map[string]json.RawMessage
	switch t := typeOf(raw); t {
	case "button":
		o = c.object(where, raw, "type text action_id url value style confirm accessibility_label")
		c.text(where+".text", o["text"], "plain_text", 75)
		c.max(where+".value", str(o["value"]), 2000)
		c.max(where+".url", str(o["url"]), 3000)
		if s := str(o["style"]); s != "" && s != "primary" && s != "danger" {
			c.add(where+".style", "%q: primary or danger is allowed", s)
		}
	case "static_select":
		o = c.object(where, raw, "type action_id placeholder options initial_option confirm focus_on_load")
		c.optionalText(where+".placeholder", o["placeholder"], 150)
		c.options(where, o)
	case "plain_text_input":
		o = c.object(where, raw, "type action_id initial_value multiline min_length max_length placeholder focus_on_load dispatch_action_config")
		c.optionalText(where+".placeholder", o["placeholder"], 150)
		c.max(where+".initial_value", str(o["initial_value"]), 3000)
	default:
		c.add(where, "element of type %q is not known here", t)
	}
	c.action(where, str(o["action_id"]))
}

func (c *checker) action(where, id string) {
	c.max(where+".action_id", id, 255)
	switch {
	case id == "":
		c.add(where, "no action_id: a press could not be told apart")
	case c.within[id]:
		c.add(where, "action_id %q is used twice in this block", id)
	}
	c.within[id] = true
}

func (c *checker) options(where string, o map[string]json.RawMessage) {
	chosen := o["initial_option"] == nil
	for i, raw := range c.list(where+".options", o["options"], 1, 100) {
		at := fmt.Sprintf("%s.options[%d]", where, i)
		entry := c.object(at, raw, "text value description url")
		c.text(at+".text", entry["text"], "plain_text", 75)
		c.max(at+".value", str(entry["value"]), 150)
		c.optionalText(at+".description", entry["description"], 75)
		if str(entry["value"]) == "" {
			c.add(at, "empty value")
		}
		chosen = chosen || string(raw) == string(o["initial_option"])
	}
	if !chosen {
		c.add(where+".initial_option", "is none of the options")
	}
}
