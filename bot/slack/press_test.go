package slack_test

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/ledger"
	"mortarboard/bot/slack"
	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// asking answers every message with the same questions.
func asking(_ context.Context, m talk.Message) (talk.Reply, error) {
	return talk.Reply{Kind: talk.KindPlan, Headline: "Heard " + m.Text, Text: "Heard " + m.Text, Caution: caution,
		Sections: []talk.Section{{Title: "Reasons", Lines: []string{"walls are short"}, Fold: true}},
		Choices: []talk.Choice{
			{Fact: "isolation", Ask: "Kept dry?", Options: []talk.Option{{Label: "Yes", Says: "isolation dry"}, {Label: "No", Says: "isolation impossible"}}},
			{Fact: "position", Ask: "Which tooth?", Options: []talk.Option{{Label: "1", Says: "1"}, {Label: "2", Says: "2"},
				{Label: "3", Says: "3"}, {Label: "4", Says: "4"}, {Label: "5", Says: "5"}, {Label: "molar", Says: "a molar"}}},
		}}, nil
}

func withQuestions(o *slack.Options) { o.Answer = asking }

func TestAPressEditsItsMessageAndIsAnswered(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	ts := r.Mention("C1", "U1", "crown")
	first := r.answer("C1", ts)
	r.press(first, "U2", "say/0/1")
	r.find(func(m standin.Message) bool {
		return m.Thread == ts && strings.HasPrefix(m.Text, "Heard isolation impossible")
	})
	edited := r.find(func(m standin.Message) bool { return m.TS == first.TS && m.Edits == 1 })
	text := blocksOf(edited)
	if !strings.Contains(text, "Chosen: *No*") || !strings.Contains(text, "Kept dry?") || strings.Contains(text, "Which tooth?") ||
		!strings.Contains(text, "More: Reasons") || strings.Contains(text, `"say/`) {
		t.Errorf("edited to %s", text)
	}
	heard := r.heard()
	if heard[1].Thread != heard[0].Thread || heard[1].From != "U2" {
		t.Errorf("heard %+v", heard)
	}
	second := r.find(func(m standin.Message) bool { return m.Thread == ts && m.TS != first.TS })
	r.press(second, "U2", "say/0/0")
	r.find(func(m standin.Message) bool {
		return m.Thread == ts && strings.HasPrefix(m.Text, "Heard isolation dry")
	})
	r.finish("isolation", "Heard")
}

func TestAListEntryIsAPressToo(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	ts := r.Mention("C1", "U1", "crown")
	if err := r.Choose(r.answer("C1", ts), "U1", "say/1", "a molar"); err != nil {
		t.Fatal(err)
	}
	r.find(func(m standin.Message) bool { return m.Thread == ts && strings.HasPrefix(m.Text, "Heard a molar") })
	r.finish()
}

func TestAStalePressChangesNothingAndSaysSo(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	ts := r.Mention("C1", "U1", "crown")
	first := r.answer("C1", ts)
	r.press(first, "U1", "say/0/0")
	r.press(first, "U2", "say/0/1")
	stale := r.find(func(m standin.Message) bool { return m.For == "U2" })
	if !strings.Contains(stale.Text, "belongs to an earlier answer") || stale.Thread != ts {
		t.Errorf("said %+v", stale)
	}
	r.finish()
	if heard := r.heard(); len(heard) != 2 || heard[1].Text != "isolation dry" {
		t.Errorf("heard %+v", heard)
	}
}

// TestASecondPressIsStaleAlthoughTheAnswerAskedNothing presses two buttons of one
// message; the answer to the first has no questions of its own.
func TestASecondPressIsStaleAlthoughTheAnswerAskedNothing(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			if m.Text == "crown" {
				return asking(ctx, m)
			}
			return echo(ctx, m)
		}
	})
	first := r.answer("C1", r.Mention("C1", "U1", "crown"))
	r.press(first, "U1", "say/0/0")
	r.press(first, "U2", "say/0/1")
	r.find(func(m standin.Message) bool { return m.For == "U2" && strings.Contains(m.Text, "earlier answer") })
	r.finish()
	if n := len(r.heard()); n != 2 {
		t.Errorf("%d messages heard, want 2", n)
	}
}

func TestATypedAnswerOutdatesTheButtonsBefore(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	ts := r.Mention("C1", "U1", "crown")
	first := r.answer("C1", ts)
	r.Reply("C1", ts, "U1", "it can be kept dry")
	r.find(func(m standin.Message) bool { return strings.HasPrefix(m.Text, "Heard it can be kept dry") })
	r.press(first, "U1", "say/0/1")
	r.find(func(m standin.Message) bool { return m.For == "U1" && strings.Contains(m.Text, "earlier answer") })
	r.finish()
	if n := len(r.heard()); n != 2 {
		t.Errorf("%d messages heard, want 2", n)
	}
}

func TestAnOldPressIsStale(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		withQuestions(o)
		o.Now = func() time.Time { return time.Now().Add(8 * 24 * time.Hour) }
	})
	first := r.answer("C1", r.Mention("C1", "U1", "crown"))
	r.press(first, "U1", "say/0/0")
	r.find(func(m standin.Message) bool { return m.For == "U1" })
	edited := r.find(func(m standin.Message) bool { return m.TS == first.TS && m.Edits == 1 })
	if text := blocksOf(edited); strings.Contains(text, `"say/`) || !strings.Contains(text, "earlier answer") {
		t.Errorf("edited to %s", text)
	}
	r.finish()
}

// TestAStalePressIsKnownAfterARestart presses, after a restart, a button of an
// answer that was outdated before it.
func TestAStalePressIsKnownAfterARestart(t *testing.T) {
	l, err := ledger.InMemory(ledger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	adjust := func(o *slack.Options) { withQuestions(o); kept(l)(o); o.DrainLimit = 0 }
	r := start(t, standin.Options{}, adjust)
	ts := r.Mention("C1", "U1", "crown")
	first := r.answer("C1", ts)
	r.MentionIn("C1", ts, "U1", "4Y")
	second := r.find(func(m standin.Message) bool { return strings.HasPrefix(m.Text, "Heard 4Y") })
	r.finish()
	stop, ended := r.run(adjust)
	r.await(func() bool { return r.Opened() == 2 && r.Connections() == 1 })
	r.press(first, "U1", "say/0/0")
	r.find(func(m standin.Message) bool { return m.For == "U1" && strings.Contains(m.Text, "earlier answer") })
	r.press(second, "U1", "say/0/1")
	r.find(func(m standin.Message) bool {
		return m.Thread == ts && strings.HasPrefix(m.Text, "Heard isolation impossible")
	})
	stop()
	if err := <-ended; err != nil || len(r.heard()) != 3 {
		t.Errorf("ended with %v, heard %+v", err, r.heard())
	}
}

func TestTheLastOfManyAnswersCanBePressed(t *testing.T) {
	choice := talk.Choice{Ask: "Which?"}
	for i := range 130 {
		choice.Options = append(choice.Options, talk.Option{Label: fmt.Sprintf("answer %d, at some length", i), Says: fmt.Sprint("answer ", i)})
	}
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Answer = func(_ context.Context, m talk.Message) (talk.Reply, error) {
			return talk.Reply{Headline: "Heard " + m.Text, Text: "Heard " + m.Text, Caution: caution, Choices: []talk.Choice{choice}}, nil
		}
	})
	ts := r.Mention("C1", "U1", "crown")
	last := r.find(func(m standin.Message) bool { return m.Thread == ts && strings.Contains(blocksOf(m), "answer 129,") })
	if err := r.Choose(last, "U1", "say/0/list/1", "answer 129"); err != nil {
		t.Fatal(err)
	}
	r.find(func(m standin.Message) bool { return m.Thread == ts && strings.HasPrefix(m.Text, "Heard answer 129") })
	r.finish()
}

func TestAPressAfterARestartStillCounts(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	ts := r.Mention("C1", "U1", "crown")
	first := r.answer("C1", ts)
	r.finish()
	go func() { r.done <- slack.Run(r.ctx0(), r.options(withQuestions)) }()
	r.await(func() bool { return r.Opened() == 2 && r.Connections() == 1 })
	r.press(first, "U1", "say/0/0")
	r.find(func(m standin.Message) bool {
		return m.Thread == ts && strings.HasPrefix(m.Text, "Heard isolation dry")
	})
	r.finish()
}

func TestFoldsOpenAndClose(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	first := r.answer("C1", r.Mention("C1", "U1", "crown"))
	if strings.Contains(blocksOf(first), "*Reasons*") {
		t.Error("folded section is shown")
	}
	r.press(first, "U1", "fold/show/0")
	open := r.find(func(m standin.Message) bool { return m.TS == first.TS && m.Edits == 1 })
	if text := blocksOf(open); !strings.Contains(text, `*Reasons*\n• walls are short`) || !strings.Contains(text, "Less: Reasons") {
		t.Errorf("opened to %s", text)
	}
	r.press(open, "U1", "fold/hide/0")
	closed := r.find(func(m standin.Message) bool { return m.TS == first.TS && m.Edits == 2 })
	if blocksOf(closed) != blocksOf(first) {
		t.Errorf("closed to\n%s\nwas\n%s", blocksOf(closed), blocksOf(first))
	}
	r.finish("walls")
}

func TestForgedPressesAreInputLikeAnyOther(t *testing.T) {
	r := start(t, standin.Options{}, withQuestions)
	m := r.answer("C1", r.Mention("C1", "U1", "crown"))
	forged := m
	forged.Blocks = []json.RawMessage{json.RawMessage(`{"type":"actions","block_id":"choice/0/","elements":[
		{"type":"button","action_id":"say/0/0","value":"<!channel> all","text":{"type":"plain_text","text":"<!channel>"}},
		{"type":"button","action_id":"fold/show/99999999999999999999","value":"x","text":{"type":"plain_text","text":"x"}},
		{"type":"button","action_id":"unheard/of","value":"x","text":{"type":"plain_text","text":"x"}}]}`), m.Blocks[len(m.Blocks)-1]}
	r.press(forged, "U1", "fold/show/99999999999999999999")
	r.press(forged, "U1", "unheard/of")
	r.press(forged, "U1", "say/0/0")
	got := r.find(func(m standin.Message) bool { return strings.HasPrefix(m.Text, "Heard &lt;!channel&gt; all") })
	if strings.Contains(blocksOf(got), "<!") {
		t.Error("a call to the channel went through")
	}
	r.await(func() bool { return r.Unacknowledged() == 0 })
	r.finish()
}

func TestPrivateRepliesAreShownToTheAskerOnly(t *testing.T) {
	private := talk.Reply{Headline: "That may name a patient.", Text: "That may name a patient.", Caution: caution, Private: true}
	r := start(t, standin.Options{}, replying(private))
	ts := r.Mention("C1", "U7", "hi")
	top := r.find(func(m standin.Message) bool { return m.For == "U7" })
	if top.Thread != "" {
		t.Errorf("in thread %q, where it is not shown while the thread has no reply", top.Thread)
	}
	r.MentionIn("C1", ts, "U8", "again")
	in := r.find(func(m standin.Message) bool { return m.For == "U8" })
	if in.Thread != ts {
		t.Errorf("in thread %q, want %q", in.Thread, ts)
	}
	r.finish()
}

// TestAPressOfAPrivateAnswerShowsWhatWasChosen presses a button that only one
// person sees, in a thread: it cannot be pressed again.
func TestAPressOfAPrivateAnswerShowsWhatWasChosen(t *testing.T) {
	r := start(t, standin.Options{}, func(o *slack.Options) {
		o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
			reply, err := asking(ctx, m)
			reply.Private = m.Text == "crown"
			return reply, err
		}
	})
	ts := r.Mention("C1", "U7", "crown")
	private := r.find(func(m standin.Message) bool { return m.For == "U7" })
	r.press(private, "U7", "say/0/0")
	m := r.answer("C1", ts)
	edited := r.find(func(m standin.Message) bool { return m.TS == private.TS && m.Edits == 1 })
	if !strings.HasPrefix(m.Text, "Heard isolation dry") || !strings.HasPrefix(edited.Text, "Chosen: Yes") || strings.Contains(blocksOf(edited), `"say/`) {
		t.Errorf("answered %q, edited to %s", m.Text, blocksOf(edited))
	}
	r.finish()
}

func TestPicturesAreUploadedWithWhatTheyShow(t *testing.T) {
	reply := talk.Reply{Headline: "See.", Text: "See.", Caution: caution,
		Pictures: []talk.Picture{{Name: "preparation", Alt: "A preparation, 4 mm high", PNG: []byte("\x89PNG pretend")}}}
	r := start(t, standin.Options{}, replying(reply))
	ts := r.Mention("C1", "U1", "hi")
	r.await(func() bool { return len(r.Files()) == 1 })
	f := r.Files()[0]
	if f.Alt != reply.Pictures[0].Alt || f.Name != "preparation.png" || f.Thread != ts || string(f.Content) != "\x89PNG pretend" {
		t.Errorf("uploaded %+v", f)
	}
	r.finish()
}

func longReply() talk.Reply {
	lines := strings.Split(strings.TrimSpace(strings.Repeat("This line is one of very many.\n", 900)), "\n")
	return talk.Reply{Headline: "Long.", Text: "Long.\n" + strings.Join(lines, "\n") + "\n" + caution, Caution: caution,
		Sections: []talk.Section{{Title: "All", Lines: lines}}}
}

func TestALongAnswerIsAttached(t *testing.T) {
	r := start(t, standin.Options{}, replying(longReply()))
	ts := r.Mention("C1", "U1", "hi")
	r.await(func() bool { return len(r.Files()) == 1 })
	if f := r.Files()[0]; string(f.Content) != longReply().Text || f.Thread != ts {
		t.Errorf("attached %d bytes in thread %s", len(f.Content), f.Thread)
	}
	r.finish()
}

func TestWithoutUploadsNothingIsLost(t *testing.T) {
	reply := longReply()
	reply.Pictures = []talk.Picture{{Name: "x", Alt: "A crown", PNG: []byte("png")}}
	r := start(t, standin.Options{Scopes: []string{"chat:write"}}, replying(reply))
	r.Mention("C1", "U1", "hi")
	r.find(func(m standin.Message) bool { return m.Text == "Picture: A crown\n"+caution })
	n := 0
	for _, m := range r.Messages() {
		n += strings.Count(blocksOf(m), "This line is one of very many.")
	}
	if n < 900 {
		t.Errorf("%d of 900 lines arrived", n)
	}
	r.finish()
}
