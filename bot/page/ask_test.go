package page

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"mortarboard/bot/talk"
)

func TestOneCaseIsOneThread(t *testing.T) {
	r := newRig(t, nil)
	one := r.ask(r.get("/"), "3Y crown")
	two := r.ask(one, "margin in dentin")
	two.shows(t, "Card 2", "margin in dentin", "You said: margin in dentin", "Can it be kept dry?", "Yes", "Before you act:", caution,
		"Earlier cards of this case", "Card 1", "3Y crown")
	said := r.messages()
	if len(said) != 2 || said[0].Thread != said[1].Thread || said[0].From != said[1].From || !said[0].At.Equal(r.now) {
		t.Errorf("messages %+v", said)
	}
	if strings.Count(two.body, `value="moisture control: dry"`) != 1 {
		t.Error("an earlier card still has buttons")
	}
	r.ask(two, "moisture control: dry").shows(t, "Card 3", "You said: moisture control: dry")
}

// TestTwoWindowsHoldTwoCases: facts of one case must never reach another.
func TestTwoWindowsHoldTwoCases(t *testing.T) {
	r := newRig(t, nil)
	a, b := r.ask(r.get("/"), "3Y crown"), r.ask(r.get("/"), "5Y veneer")
	r.ask(a, "dry")
	r.ask(b, "wet")
	said := r.messages()
	if said[0].Thread == said[1].Thread || said[2].Thread != said[0].Thread || said[3].Thread != said[1].Thread {
		t.Errorf("threads %q %q %q %q", said[0].Thread, said[1].Thread, said[2].Thread, said[3].Thread)
	}
	again := r.get("/case/" + a.field("case"))
	again.shows(t, "Card 2", "dry", "Card 1", "3Y crown")
	if strings.Contains(again.text(), "veneer") {
		t.Error("one case shows the other")
	}
}

// TestLinkOpensANewCase: a link must not put facts into a case at hand.
func TestLinkOpensANewCase(t *testing.T) {
	r := newRig(t, nil)
	mine := r.ask(r.get("/"), "3Y crown")
	linked := r.get("/?q=bond+it+%26+%C2%B5m&case=" + mine.field("case"))
	linked.shows(t, "Card 1", "bond it & µm")
	said := r.messages()
	if said[0].Thread == said[1].Thread || linked.field("case") == mine.field("case") {
		t.Error("a link went into a case at hand")
	}
	linked = r.ask(linked, "and then")
	linked.shows(t, "Card 2", "Card 1")
	if !strings.Contains(linked.body, `href="/?q=and%20then"`) {
		t.Error("a card has no link to its question")
	}
	r.get("/?q=+%0A").shows(t, "A new case")
}

func TestCasesBelongToTheirBrowser(t *testing.T) {
	r := newRig(t, nil)
	id := r.ask(r.get("/"), "3Y crown").field("case")
	other := browser{handler: r.handler}
	start := other.get("/")
	for _, address := range []string{"/case/" + id, "/case/" + id + "/1/sheet", "/case/" + id + "/1/answer.json", "/case/" + id + "/1/picture/0.svg"} {
		if got := other.get(address); got.StatusCode != 404 || strings.Contains(got.body, "3Y crown") {
			t.Errorf("%s: status %d", address, got.StatusCode)
		}
	}
	got := other.do(request("POST", "/ask", form(start.field("token"), id, "wet")))
	got.shows(t, "This case is not here", "Start a new case")
	if got.StatusCode != 404 || len(r.messages()) != 1 || got.field("case") != "" {
		t.Error("a stranger could add to a case")
	}
	if got := r.get("/case/" + id + "/2/sheet"); got.StatusCode != 404 {
		t.Errorf("a card that is not there: %d", got.StatusCode)
	}
	r.now = r.now.Add(keptFor + time.Minute)
	if got := r.get("/case/" + id); got.StatusCode != 404 {
		t.Errorf("an old case is kept: %d", got.StatusCode)
	}
}

func TestWhatIsNotTaken(t *testing.T) {
	r := newRig(t, nil)
	start := r.get("/")
	for name, c := range map[string]struct {
		q    string
		want int
		says string
	}{
		"nothing":  {" \n", 400, "no question"},
		"too long": {strings.Repeat("µ", questionLimit+1), 413, "longer than 2000 characters"},
		"too big":  {strings.Repeat("x", bodyLimit), 413, "longer than"},
	} {
		got := r.ask(start, c.q)
		if got.StatusCode != c.want || !strings.Contains(got.text(), c.says) {
			t.Errorf("%s: status %d, %.200s", name, got.StatusCode, got.text())
		}
	}
	req := request("POST", "/ask", "{}")
	req.Header.Set("Content-Type", "application/json")
	if got := r.do(req); got.StatusCode != 415 {
		t.Errorf("json: status %d", got.StatusCode)
	}
	if len(r.messages()) != 0 {
		t.Error("something refused reached the conversation")
	}
	if got := r.ask(start, strings.Repeat("µ", questionLimit)); got.StatusCode != 200 {
		t.Errorf("the longest question: status %d", got.StatusCode)
	}
}

func TestRateIsBoundedAndRecovers(t *testing.T) {
	r := newRig(t, func(o *Options) { o.PerMinute = 6 }) // two at once, then one each ten seconds
	p := r.ask(r.ask(r.get("/"), "one"), "two")
	refused := r.ask(p, "three")
	refused.shows(t, "too short a time", "Wait 10 seconds", "three")
	if refused.StatusCode != 429 || refused.Header.Get("Retry-After") != "10" || len(r.messages()) != 2 {
		t.Errorf("status %d, retry %q", refused.StatusCode, refused.Header.Get("Retry-After"))
	}
	other := browser{handler: r.handler}
	if got := other.ask(other.get("/"), "mine"); got.StatusCode != 200 {
		t.Errorf("another browser is refused too: %d", got.StatusCode)
	}
	r.now = r.now.Add(10 * time.Second)
	r.ask(refused, "three").shows(t, "Card 3", "three")
}

func TestFailuresSayWhatAndTheMend(t *testing.T) {
	for name, c := range map[string]struct {
		answer Answerer
		want   int
		says   []string
	}{
		"error": {func(context.Context, talk.Message) (talk.Reply, error) {
			return talk.Reply{}, errors.New("SECRET-TEXT")
		},
			500, []string{"Nothing was decided", "ask a colleague", standingCaution}},
		"panic": {func(context.Context, talk.Message) (talk.Reply, error) { panic("SECRET-TEXT") },
			500, []string{"Nothing was decided", "ask a colleague"}},
		"silence": {func(context.Context, talk.Message) (talk.Reply, error) { return talk.Reply{}, nil },
			422, []string{"no answer", "Ask a question"}},
		"late": {func(ctx context.Context, _ talk.Message) (talk.Reply, error) {
			<-ctx.Done()
			return talk.Reply{}, ctx.Err()
		}, 504, []string{"took too long", standingCaution}},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) { // the limit passes at once
				r := newRig(t, func(o *Options) { o.Answer = c.answer })
				got := r.ask(r.get("/"), "SECRET-TEXT")
				if got.StatusCode != c.want {
					t.Errorf("status %d, want %d", got.StatusCode, c.want)
				}
				got.shows(t, c.says...)
				if strings.Contains(r.logs.String(), "SECRET") {
					t.Errorf("the log holds text: %s", r.logs.String())
				}
			})
		})
	}
}

// TestLateAnswerIsFiled: the conversation has taken the facts, so the card must
// be there when somebody looks.
func TestLateAnswerIsFiled(t *testing.T) {
	synctest.Test(t, func(t *testing.T) { // the limit passes at once
		goOn := make(chan struct{})
		r := newRig(t, func(o *Options) {
			o.Answer = func(ctx context.Context, m talk.Message) (talk.Reply, error) {
				if m.Text == "slow" {
					<-goOn
				}
				return echo(ctx, m)
			}
		})
		first := r.ask(r.get("/"), "quick")
		r.ask(first, "slow").shows(t, "took too long", "the answer may have come", "Look at the case")
		close(goOn)
		synctest.Wait()
		r.get("/case/"+first.field("case")).shows(t, "Card 2", "slow", "Card 1", "quick")
	})
}

func TestPrivateQuestionIsNotKept(t *testing.T) {
	r := newRig(t, func(o *Options) {
		o.Answer = func(_ context.Context, m talk.Message) (talk.Reply, error) {
			return talk.Reply{Question: m.Text, Kind: talk.KindDeclined, Headline: "Please leave that out.", Caution: caution, Private: true}, nil
		}
	})
	const name = "PATIENT-NAME"
	p := r.ask(r.get("/"), name)
	p.shows(t, "Not kept: it may have named a patient", "Please leave that out.", caution)
	id := p.field("case")
	linked := r.get("/?q=" + name)
	if linked.StatusCode != http.StatusSeeOther || strings.Contains(linked.Header.Get("Location"), name) {
		t.Errorf("the address keeps a private question: %d %q", linked.StatusCode, linked.Header.Get("Location"))
	}
	for _, got := range []page{p, r.get("/case/" + id), r.get("/case/" + id + "/1/answer.json"), r.get("/case/" + id + "/1/sheet")} {
		if strings.Contains(got.body, name) {
			t.Errorf("kept in %s", got.body)
		}
	}
	if strings.Contains(r.logs.String(), name) {
		t.Error("logged")
	}
}
