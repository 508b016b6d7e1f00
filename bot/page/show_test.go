package page

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"mortarboard/bot/talk"
)

// answering makes a rig that gives one reply to everything.
func answering(t *testing.T, reply talk.Reply) (r *rig, id string) {
	t.Helper()
	r = newRig(t, func(o *Options) {
		o.Answer = func(context.Context, talk.Message) (talk.Reply, error) { return reply, nil }
	})
	return r, r.ask(r.get("/"), "question").field("case")
}

func TestDataIsTheContractsObject(t *testing.T) {
	r, id := answering(t, planReply())
	got := r.get("/case/" + id + "/1/answer.json")
	want, err := json.Marshal(planReply())
	if err != nil {
		t.Fatal(err)
	}
	if got.body != string(want)+"\n" || got.Header.Get("Content-Type") != "application/json; charset=utf-8" {
		t.Errorf("type %q, body %s", got.Header.Get("Content-Type"), got.body)
	}
	odd := checkReply()
	odd.Values[0].Low = math.NaN()
	r, id = answering(t, odd)
	if got := r.get("/case/" + id + "/1/answer.json"); got.StatusCode != 500 || !strings.Contains(got.text(), "Nothing was decided") {
		t.Errorf("a number without data form: status %d", got.StatusCode)
	}
}

func TestSheetHoldsWhatTheRoomNeeds(t *testing.T) {
	r, id := answering(t, planReply())
	got := r.get("/case/" + id + "/1/sheet")
	got.shows(t, "Work sheet", "Wrenfold Dental Rooms", "24 Nov 2026, 09:30", "It depends, leaning to bonding", "The primer on the shelf has expired.",
		"4Y or 5Y", "moisture control", "Can the field be kept dry?", "Rinse the inner surface", "Abrade gently", "at most 2 bar", "Take care: Inside only.", "Seat it.",
		"What figures rest on:", "i inferred", "c common practice", "Before you act:", caution)
	for _, left := range []string{"bonding gives it support", "<button type=\"submit\"", "<figure", "Author 2024"} {
		if strings.Contains(got.body, left) {
			t.Errorf("%q is on the sheet", left)
		}
	}
	r, id = answering(t, articleReply())
	r.get("/case/"+id+"/1/sheet").shows(t, "A monomer", "Clean surface first.", "Author 2014", caution)
}

func TestPictures(t *testing.T) {
	reply := planReply()
	reply.Pictures = append(reply.Pictures, talk.Picture{Alt: "only pixels", PNG: []byte("pixels")})
	r, id := answering(t, reply)
	page := r.get("/case/" + id)
	for address, want := range map[string]struct {
		status int
		media  string
	}{
		"0.svg": {200, "image/svg+xml"}, "0.png": {200, "image/png"}, "1.png": {200, "image/png"},
		"1.svg": {404, ""}, "2.png": {404, ""}, "-1.png": {404, ""}, "x.png": {404, ""}, "0": {200, "image/png"},
	} {
		got := r.get("/case/" + id + "/1/picture/" + address)
		if got.StatusCode != want.status || want.media != "" && got.Header.Get("Content-Type") != want.media {
			t.Errorf("%s: status %d, type %q", address, got.StatusCode, got.Header.Get("Content-Type"))
		}
		if want.status == 200 && (!strings.Contains(got.Header.Get("Content-Security-Policy"), "sandbox") || strings.Contains(got.Header.Get("Content-Security-Policy"), "script")) {
			t.Errorf("%s: a drawing opened by itself may run script: %s", address, got.Header.Get("Content-Security-Policy"))
		}
	}
	for _, want := range []string{`/1/picture/0.svg" alt="One strong reason for bonding, one weak for cementing."`, `/1/picture/1.png" alt="only pixels"`} {
		if !strings.Contains(page.body, want) {
			t.Errorf("%s is not on the page", want)
		}
	}
}

// TestPicturesOfAnAnswerComeFirst: where the drawing is the answer it stands at
// the top, for a plan behind the reasons.
func TestPicturesOfAnAnswerComeFirst(t *testing.T) {
	for name, c := range map[string]struct {
		reply       talk.Reply
		first, then string
	}{
		"calculation": {calculationReply(), "<figure", "<h3"},
		"plan":        {planReply(), "For conventional cementation", "<figure"},
	} {
		s, f := fixed(t, c.reply)
		_, rest, ok := strings.Cut(string(rendered(t, s, "page", s.casePage(f))), c.first)
		if !ok || !strings.Contains(rest, c.then) {
			t.Errorf("%s: %s does not stand before %s", name, c.first, c.then)
		}
	}
}

func TestEmptyPage(t *testing.T) {
	r := newRig(t, nil)
	r.get("/").shows(t, "Mortarboard", "Wrenfold Dental Rooms", "What is the case", "Ask", "A new case", "pile of cards")
	r = newRig(t, func(o *Options) {
		o.Practice = ""
		o.Intro = func() Intro {
			return Intro{Sections: []talk.Section{{Title: "Try", Lines: []string{"one", "two"}}}, Choices: planReply().Choices}
		}
	})
	start := r.get("/")
	start.shows(t, "A new case", "Try", "one", "two", "Can the field be kept dry?", "impossible")
	got := r.do(request("POST", "/ask", form(start.field("token"), "", "moisture control: dry")))
	if got.StatusCode != 303 || len(r.messages()) != 1 {
		t.Errorf("a button of the empty page: status %d", got.StatusCode)
	}
}
