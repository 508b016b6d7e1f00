package slack_test

import (
	"context"
	"strings"
	"sync"
	"testing"

	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// notes is a journal in memory of what is owed.
type notes struct {
	mu   sync.Mutex
	open map[slack.Place]bool
}

func (n *notes) Begin(_ []string, p slack.Place) bool {
	n.mu.Lock()
	defer n.mu.Unlock()
	if p != (slack.Place{}) {
		n.open[p] = true
	}
	return false
}

func (n *notes) End(p slack.Place) { n.mu.Lock(); defer n.mu.Unlock(); delete(n.open, p) }

func (n *notes) Unfinished() []slack.Place {
	n.mu.Lock()
	defer n.mu.Unlock()
	var all []slack.Place
	for p := range n.open {
		all = append(all, p)
	}
	return all
}

func TestWhatARestartInterruptedIsSaid(t *testing.T) {
	journal := &notes{open: map[slack.Place]bool{{Channel: "C1", Thread: "4.1", Message: "4.2"}: true}}
	r := start(t, standin.Options{}, func(o *slack.Options) { o.Journal = journal })
	if m := r.answer("C1", "4.1"); !strings.Contains(m.Text, "ask again") {
		t.Errorf("said %q", m.Text)
	}
	r.answer("C1", r.Mention("C1", "U1", "hi"))
	r.finish()
	if left := journal.Unfinished(); len(left) != 0 {
		t.Errorf("still open: %v", left)
	}
}

// TestWhatCannotBeToldIsNotTriedForEver: the app was taken out of the channel
// where it owes an answer.
func TestWhatCannotBeToldIsNotTriedForEver(t *testing.T) {
	journal := &notes{open: map[slack.Place]bool{{Channel: "C9", Thread: "4.1", Message: "4.2"}: true}}
	r := start(t, standin.Options{Outside: []string{"C9"}}, func(o *slack.Options) { o.Journal = journal })
	r.finish()
	if left := journal.Unfinished(); len(left) != 0 {
		t.Errorf("still open: %v", left)
	}
}

// TestEveryWayToAskIsOwedAnAnswer holds up the answer to each way to ask in a
// thread: until it is out, the journal knows the thread.
func TestEveryWayToAskIsOwedAnAnswer(t *testing.T) {
	for name, ask := range map[string]func(r *rig, first standin.Message){
		"mention":  func(r *rig, first standin.Message) { r.MentionIn("C1", first.Thread, "U1", "slow") },
		"press":    func(r *rig, first standin.Message) { r.press(first, "U1", "say/0/0") },
		"shortcut": func(r *rig, _ standin.Message) { r.Shortcut("C1", "5.000001", "U3", "slow", "U1") },
		"form": func(r *rig, _ standin.Message) {
			r.FormShortcut("U1")
			r.Submit(lastView(r, modal), "U1", map[string]string{"margin": "margin in enamel"})
		},
	} {
		t.Run(name, func(t *testing.T) {
			journal := &notes{open: map[slack.Place]bool{}}
			begun, release := make(chan string), make(chan struct{})
			r := start(t, standin.Options{}, func(o *slack.Options) {
				withForm(o)
				o.Journal = journal
				o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
					if m.Text != "crown" {
						begun <- m.Thread
						<-release
					}
					return asking(ctx, m)
				}
			})
			first := r.answer("C1", r.Mention("C1", "U1", "crown"))
			r.until(func() bool { return len(journal.Unfinished()) == 0 })
			ask(r, first)
			thread := <-begun
			owed := journal.Unfinished()
			if len(owed) != 1 || thread != "slack/"+standin.Team+"/"+owed[0].Channel+"/"+owed[0].Thread {
				t.Errorf("owed %v while %s is answered", owed, thread)
			}
			close(release)
			r.finish()
			if left := journal.Unfinished(); len(left) != 0 {
				t.Errorf("still open: %v", left)
			}
		})
	}
}
