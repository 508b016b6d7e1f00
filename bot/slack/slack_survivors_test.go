package slack_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/slack/standin"
)

// TestAResponseAddressIsToldToWaitInSeconds lets a response address refuse the
// answer to a command: it must come all the same, and not before the time given.
func TestAResponseAddressIsToldToWaitInSeconds(t *testing.T) {
	const seconds = 2
	r := start(t, standin.Options{}, nil)
	r.Fail(standin.Fault{Method: "hook", Status: http.StatusTooManyRequests, RetryAfter: seconds})
	r.Command("C1", "U1", "hi")
	r.find(func(m standin.Message) bool { return m.Hook && strings.HasPrefix(m.Text, "You said: hi") })
	r.finish()
	var at []time.Time
	for _, c := range r.Calls() {
		if c.Method == "hook" {
			at = append(at, c.At)
		}
	}
	if len(at) != 2 {
		t.Fatalf("the address was used %d times, want one refusal and one answer", len(at))
	}
	if waited := at[1].Sub(at[0]); waited < seconds*time.Second-20*time.Millisecond {
		t.Errorf("told to wait %d s: used again after %s", seconds, waited)
	}
}

// TestAPressFromAnotherTeamIsOnlyAcknowledged sends one press twice, but for the
// team the same: only the one from our own team may be taken for somebody's words.
func TestAPressFromAnotherTeamIsOnlyAcknowledged(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	m := r.answer("C1", r.Mention("C1", "U1", "crown"))
	press := func(team, says string) {
		r.Deliver("interactive", map[string]any{
			"type": "block_actions", "trigger_id": "press of " + team, "team": map[string]any{"id": team},
			"user": map[string]any{"id": "U1"}, "channel": map[string]any{"id": "C1"},
			"container": map[string]any{"type": "message", "message_ts": m.TS},
			"message":   map[string]any{"ts": m.TS, "thread_ts": m.Thread, "user": standin.Bot, "text": m.Text, "blocks": m.Blocks},
			"actions":   []any{map[string]any{"action_id": "say/0/0", "block_id": "choice/0/", "value": says}},
		})
	}
	press("T-elsewhere", "from elsewhere")
	r.await(func() bool { return r.Unacknowledged() == 0 })
	press(standin.Team, "from here")
	r.find(func(m standin.Message) bool { return strings.HasPrefix(m.Text, "Heard from here") })
	r.finish()
	for _, said := range r.heard() {
		if said.Text == "from elsewhere" {
			t.Errorf("a press of another team was taken: %+v", said)
		}
	}
}
