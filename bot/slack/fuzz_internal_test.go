package slack

import (
	"context"
	"encoding/json"
	"testing"

	"mortarboard/bot/talk"
)

// FuzzRead gives whatever comes in to the reader of deliveries: it may ask
// nothing, but must not fall over, and never acts for another workspace.
func FuzzRead(f *testing.F) {
	f.Add("events_api", `{"team_id":"T1","event_id":"E","event":{"type":"app_mention","user":"U1","text":"x","ts":"1.1","channel":"C1"}}`)
	f.Add("interactive", `{"type":"block_actions","team":{"id":"T1"},"user":{"id":"U1"},"actions":[{"action_id":"say/0/0","block_id":"choice/0/t1.1"}],"container":{"is_ephemeral":true}}`)
	f.Add("interactive", `{"type":"view_submission","team":{"id":"T1"},"user":{"id":"U1"},"view":{"callback_id":"case_form","state":{"values":{"field/x":{"value":{"value":"1"}}}}}}`)
	f.Add("slash_commands", `{"team_id":"T1","user_id":"U1","command":"/mortar","text":"form"}`)
	f.Fuzz(func(t *testing.T, kind, payload string) {
		a, err := newApp(Options{BotToken: "xoxb-1", Answer: func(context.Context, talk.Message) (talk.Reply, error) {
			return talk.Reply{}, nil
		}})
		if err != nil {
			t.Fatal(err)
		}
		a.me = self{Team: "T1", User: "U0"}
		d := a.read(kind, json.RawMessage(payload))
		var head struct {
			TeamID string `json:"team_id"`
			Team   named  `json:"team"`
		}
		if json.Unmarshal([]byte(payload), &head) == nil && head.TeamID != "T1" && head.Team.ID != "T1" && d.do != nil {
			t.Fatalf("acts for team %q %q", head.TeamID, head.Team.ID)
		}
	})
}

// FuzzRequestPayload gives whatever a request may hold to its reader.
func FuzzRequestPayload(f *testing.F) {
	f.Add("application/x-www-form-urlencoded", []byte("payload=%7B%7D"))
	f.Add("application/json", []byte(`{"type":"url_verification","challenge":"x"}`))
	f.Fuzz(func(_ *testing.T, contentType string, body []byte) {
		kind, payload, ok := requestPayload(contentType, body)
		if ok {
			challengeIn(kind, payload)
		}
	})
}
