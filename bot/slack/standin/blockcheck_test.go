package standin

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

func mrkdwn(n int) string {
	return fmt.Sprintf(`{"type":"mrkdwn","text":%q}`, strings.Repeat("x", n))
}

func plain(n int) string {
	return fmt.Sprintf(`{"type":"plain_text","text":%q}`, strings.Repeat("x", n))
}

func section(text string) string { return `{"type":"section","text":` + text + `}` }

func button(id string, label, value int) string {
	return fmt.Sprintf(`{"type":"button","action_id":%q,"text":%s,"value":%q}`, id, plain(label), strings.Repeat("v", value))
}

func row(elements ...string) string {
	return `{"type":"actions","elements":[` + strings.Join(elements, ",") + `]}`
}

func list(options int, value int) string {
	var all []string
	for i := range options {
		all = append(all, fmt.Sprintf(`{"text":%s,"value":%q}`, plain(1), fmt.Sprintf("%0*d", value, i)))
	}
	return `{"type":"static_select","action_id":"a","options":[` + strings.Join(all, ",") + `]}`
}

func labelled(label, second int) string {
	entry := `{"text":` + plain(label) + `,"value":"v"}`
	if second > 0 {
		entry = `{"text":` + plain(label) + `,"value":"v","description":` + plain(second) + `}`
	}
	return `{"type":"static_select","action_id":"a","options":[` + entry + `]}`
}

func many(n int, block string) string {
	return strings.TrimSuffix(strings.Repeat(block+",", n), ",")
}

func buttons(n int) string {
	var all []string
	for i := range n {
		all = append(all, button(fmt.Sprint(i), 1, 1))
	}
	return row(all...)
}

// TestLimitsAtTheirEdges tries each limit at its last allowed and first refused value.
func TestLimitsAtTheirEdges(t *testing.T) {
	for _, c := range []struct{ name, good, bad, says string }{
		{"blocks", many(50, section(mrkdwn(1))), many(51, section(mrkdwn(1))), "51 entries"},
		{"section text", section(mrkdwn(3000)), section(mrkdwn(3001)), "3001 characters, at most 3000"},
		{"button text", row(button("a", 75, 1)), row(button("a", 76, 1)), "76 characters, at most 75"},
		{"button value", row(button("a", 1, 2000)), row(button("a", 1, 2001)), "2001 characters, at most 2000"},
		{"buttons in a row", buttons(25), buttons(26), "26 entries"},
		{"options", row(list(100, 3)), row(list(101, 3)), "101 entries"},
		{"option label", row(labelled(75, 0)), row(labelled(76, 0)), "76 characters, at most 75"},
		{"option's second line", row(labelled(1, 75)), row(labelled(1, 76)), "76 characters, at most 75"},
		{"option value", row(list(1, 150)), row(list(1, 151)), "151 characters, at most 150"},
		{"action name", row(button(strings.Repeat("a", 255), 1, 1)), row(button(strings.Repeat("a", 256), 1, 1)), "256 characters, at most 255"},
		{"action named twice", row(button("a", 1, 1), button("b", 1, 1)), row(button("a", 1, 1), button("a", 1, 1)), `"a" is used twice`},
		{"block named twice", `{"type":"divider","block_id":"d"}`, many(2, `{"type":"divider","block_id":"d"}`), `"d" is used twice`},
		{"unknown field", section(mrkdwn(1)), `{"type":"section","text":` + mrkdwn(1) + `,"colour":"red"}`, "unknown field colour"},
		{"unknown block", `{"type":"divider"}`, `{"type":"banner"}`, `type "banner"`},
		{"emoji in mrkdwn", section(mrkdwn(1)), section(`{"type":"mrkdwn","text":"x","emoji":false}`), "emoji does not belong"},
		{"empty text", section(mrkdwn(1)), section(mrkdwn(0)), "empty text"},
		{"header", `{"type":"header","text":` + plain(150) + `}`, `{"type":"header","text":` + plain(151) + `}`, "151 characters, at most 150"},
		{"context", `{"type":"context","elements":[` + many(10, mrkdwn(1)) + `]}`, `{"type":"context","elements":[` + many(11, mrkdwn(1)) + `]}`, "11 entries"},
		{"input in a message", `{"type":"divider"}`, `{"type":"input","label":` + plain(1) + `,"element":{"type":"plain_text_input","action_id":"a"}}`, "inputs belong to forms"},
		{"picture", `{"type":"image","image_url":"https://a","alt_text":"x"}`, `{"type":"image","image_url":"https://a","alt_text":""}`, "without alternative text"},
		{"whole size", many(4, section(mrkdwn(3000))), many(5, section(mrkdwn(3000))), "msg_blocks_too_long"},
	} {
		if err := CheckMessage("x", json.RawMessage("["+c.good+"]")); err != nil {
			t.Errorf("%s: the last allowed is refused: %v", c.name, err)
		}
		if err := CheckMessage("x", json.RawMessage("["+c.bad+"]")); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.says)
		}
	}
	if err := CheckMessage(strings.Repeat("x", 40001), nil); err == nil {
		t.Error("a text of 40,001 characters is taken")
	}
	if err := CheckMessage("", json.RawMessage("["+section(mrkdwn(1))+"]")); err == nil {
		t.Error("a message without plain text is taken")
	}
}

func TestViewsAreCheckedToo(t *testing.T) {
	field := `{"type":"input","block_id":"b","label":` + plain(1) + `,"element":{"type":"plain_text_input","action_id":"a"}}`
	modal := func(title int, rest string) json.RawMessage {
		return json.RawMessage(`{"type":"modal","title":` + plain(title) + `,"blocks":[` + field + `]` + rest + `}`)
	}
	submit := `,"submit":` + plain(3)
	if err := CheckView(modal(24, submit)); err != nil {
		t.Errorf("refused: %v", err)
	}
	for says, raw := range map[string]json.RawMessage{
		"25 characters, at most 24": modal(25, submit),
		"needed where there are":    modal(1, ""),
		"unknown field colour":      modal(1, submit+`,"colour":1`),
		"modal or home":             json.RawMessage(`{"type":"page","blocks":[` + section(mrkdwn(1)) + `]}`),
		"neither title nor submit":  json.RawMessage(`{"type":"home","title":` + plain(1) + `,"blocks":[` + section(mrkdwn(1)) + `]}`),
		"101 entries":               json.RawMessage(`{"type":"home","blocks":[` + many(101, section(mrkdwn(1))) + `]}`),
	} {
		if err := CheckView(raw); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("got %v, want %q", err, says)
		}
	}
}

// TestSignatureIsTheDocumentedOne checks against the worked example in the
// service's public documentation on verifying requests.
func TestSignatureIsTheDocumentedOne(t *testing.T) {
	body := "token=xyzz0WbapA4vBCDEFasx0q6G&team_id=T1DC2JH3J&team_domain=testteamnow&channel_id=G8PSS9T3V&channel_name=foobar" +
		"&user_id=U2CERLKJA&user_name=roadrunner&command=%2Fwebhook-collect&text=&response_url=https%3A%2F%2Fhooks.slack.com%2Fcommands" +
		"%2FT1DC2JH3J%2F397700885554%2F96rGlfmibIGlgcZRskXaIFfN&trigger_id=398738663015.47445629121.803a0bc887a14d10d2c447fce8b6703c"
	const want = "v0=a2114d57b48eac39b9ad189dd8316235a7b4a8d21a10bd27519666489c69b503"
	if got := Sign("8f742231b10e8888abcd99yyyzzz85a5", "1531420618", []byte(body)); got != want {
		t.Errorf("signature %s, want %s", got, want)
	}
}
