package page

import (
	"context"
	"errors"
	"fmt"
	"mime"
	"net/http"
	"strings"
	"unicode/utf8"

	"mortarboard/bot/talk"
)

const (
	bodyLimit     = 32 << 10 // bytes of a form: room for a question with every character escaped
	questionLimit = 2000     // characters of a question
)

// ask takes a question from a form and shows the case it belongs to.
func (s *site) ask(w http.ResponseWriter, r *http.Request) {
	v := s.visitor(r)
	if err := s.origin.Check(r); err != nil {
		s.refuse(w, r, "origin", foreignPage())
		return
	}
	if t := readForm(w, r); t != nil {
		s.refuse(w, r, "form", t)
		return
	}
	draft := draft{Case: r.PostForm.Get("case"), Text: plainBreaks(r.PostForm.Get("q"))}
	if !s.sealed(v, r.PostForm.Get("token")) {
		s.refuse(w, r, "token", staleForm().keeping(draft))
		return
	}
	f, t := s.take(r.Context(), v, draft)
	if t != nil {
		s.fail(w, r, t.keeping(draft))
		return
	}
	http.Redirect(w, r, "/case/"+f.id+"#newest", http.StatusSeeOther)
}

// plainBreaks undoes what browsers do to line breaks in forms.
func plainBreaks(text string) string { return strings.ReplaceAll(text, "\r\n", "\n") }

// readForm reads the form of a request, bounded.
func readForm(w http.ResponseWriter, r *http.Request) *trouble {
	media, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || media != "application/x-www-form-urlencoded" {
		return wrongForm()
	}
	r.Body = http.MaxBytesReader(w, r.Body, bodyLimit)
	err = r.ParseForm()
	var tooBig *http.MaxBytesError
	if errors.As(err, &tooBig) {
		return tooLong()
	}
	if err != nil {
		return wrongForm()
	}
	return nil
}

// A draft is a question not yet taken, and the case it is for; no case means a
// new one.
type draft struct{ Case, Text string }

// take puts a question and files the answer. The case it gives has one card more.
func (s *site) take(ctx context.Context, v visitor, d draft) (*file, *trouble) {
	switch {
	case strings.TrimSpace(d.Text) == "":
		return nil, nothingAsked()
	case utf8.RuneCountInString(d.Text) > questionLimit:
		return nil, tooLong()
	}
	f, t := s.fileOf(v, d.Case)
	if t != nil {
		return nil, t
	}
	if wait, ok := s.asks.take(v.id, s.o.Now()); !ok {
		s.o.Log.Warn("question refused", "why", "question rate")
		return nil, tooFast(wait)
	}
	if f == nil {
		f = s.store.open(v.id, s.o.Now())
	}
	return f, s.within(ctx, f, v, d.Text)
}

// fileOf finds the case a draft is for: none for a new one.
func (s *site) fileOf(v visitor, id string) (*file, *trouble) {
	if id == "" {
		return nil, nil
	}
	f, ok := s.store.find(v.id, id, s.o.Now())
	if !ok {
		return nil, caseGone()
	}
	return f, nil
}

// within waits for an answer as long as is allowed. What is under way goes on if
// the browser leaves, and a late answer is still filed: the conversation has
// taken the facts, so they must be seen.
func (s *site) within(ctx context.Context, f *file, v visitor, text string) *trouble {
	limited, cancel := context.WithTimeout(s.work, s.o.AnswerLimit)
	done := make(chan *trouble, 1)
	go func() {
		defer cancel()
		done <- s.inTurn(limited, f, v, text)
	}()
	select {
	case t := <-done:
		return t
	case <-limited.Done():
	case <-ctx.Done():
	}
	select { // the answer and the end of its time may come together
	case t := <-done:
		return t
	default:
		s.o.Log.Error("answer late", "limit", s.o.AnswerLimit)
		return late(f.id)
	}
}

// inTurn works on one question of a case at a time, and on so many of all cases.
func (s *site) inTurn(ctx context.Context, f *file, v visitor, text string) *trouble {
	for _, place := range []chan struct{}{f.turn, s.workers} {
		select {
		case place <- struct{}{}:
			defer func() { <-place }()
		case <-ctx.Done():
			return busy()
		}
	}
	if ctx.Err() != nil { // both came at once: the asker has already been told
		return busy()
	}
	at := s.o.Now()
	reply, err := s.answer(ctx, talk.Message{Thread: "page/" + f.id, From: "page/" + v.id, Text: text, At: at})
	switch {
	case err != nil && ctx.Err() != nil:
		return late("")
	case err != nil:
		return broken()
	case reply.Headline == "" && reply.Text == "":
		return nothingSaid()
	}
	s.store.put(f, card{Question: text, At: at, Reply: reply})
	return nil
}

// answer asks the conversation. Errors and panics may quote the question, so
// only their sort is logged.
func (s *site) answer(ctx context.Context, m talk.Message) (reply talk.Reply, err error) {
	defer func() {
		if p := recover(); p != nil {
			s.o.Log.Error("answer panicked", "sort", fmt.Sprintf("%T", p))
			err = errors.New("answer panicked")
		}
	}()
	reply, err = s.o.Answer(ctx, m)
	if err != nil {
		s.o.Log.Error("answer failed", "sort", fmt.Sprintf("%T", err), "late", ctx.Err() != nil)
	}
	return reply, err
}
