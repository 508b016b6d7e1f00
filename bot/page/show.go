package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"mime"
	"net/http"
	"path"
	"strconv"
	"strings"
	"unicode/utf8"
)

// front is the first page, or the answer to a question in a link. Such a
// question always opens a new case: whoever wrote the link must not put facts
// into a case at hand.
func (s *site) front(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query().Get("q")
	if strings.TrimSpace(q) == "" {
		s.show(w, r, http.StatusOK, "page", s.emptyPage())
		return
	}
	v := s.visitor(r)
	f, t := s.take(r.Context(), v, draft{Text: q})
	if t != nil {
		s.failFor(w, r, v, t.keeping(draft{Text: q}))
		return
	}
	if cards := s.store.cards(f); len(cards) > 0 && cards[0].Reply.Private {
		s.greet(w, r, v)
		http.Redirect(w, r, "/case/"+f.id, http.StatusSeeOther) // off the address that holds the question
		return
	}
	s.showFor(w, r, v, http.StatusOK, "page", s.casePage(f))
}

func (s *site) showCase(w http.ResponseWriter, r *http.Request) {
	f, ok := s.store.find(s.visitor(r).id, r.PathValue("case"), s.o.Now())
	if !ok {
		s.fail(w, r, caseGone())
		return
	}
	s.show(w, r, http.StatusOK, "page", s.casePage(f))
}

// cardAt finds the card that an address names, or shows that there is none.
func (s *site) cardAt(w http.ResponseWriter, r *http.Request) (f *file, c card, ok bool) {
	f, ok = s.store.find(s.visitor(r).id, r.PathValue("case"), s.o.Now())
	if ok {
		n, err := strconv.Atoi(r.PathValue("n"))
		c, ok = s.store.card(f, n)
		ok = ok && err == nil
	}
	if !ok {
		s.fail(w, r, caseGone())
	}
	return f, c, ok
}

func (s *site) showSheet(w http.ResponseWriter, r *http.Request) {
	if f, c, ok := s.cardAt(w, r); ok {
		s.show(w, r, http.StatusOK, "sheet", s.sheetPage(f, c))
	}
}

// showData is the answer as the contract's object.
func (s *site) showData(w http.ResponseWriter, r *http.Request) {
	_, c, ok := s.cardAt(w, r)
	if !ok {
		return
	}
	data, err := json.Marshal(c.Reply)
	if err != nil { // a number that JSON cannot hold
		s.o.Log.Error("answer has no data form", "sort", fmt.Sprintf("%T", err))
		s.fail(w, r, broken())
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	_, _ = w.Write(append(data, '\n')) // the browser left
}

// showPicture gives one picture of a card, named by number and format: 0.svg.
func (s *site) showPicture(w http.ResponseWriter, r *http.Request) {
	_, c, ok := s.cardAt(w, r)
	if !ok {
		return
	}
	name := r.PathValue("file")
	i, err := strconv.Atoi(strings.TrimSuffix(name, path.Ext(name)))
	if err != nil || i < 0 || i >= len(c.Reply.Pictures) {
		s.fail(w, r, noSuchPage())
		return
	}
	data, media := c.Reply.Pictures[i].PNG, "image/png"
	if path.Ext(name) == ".svg" {
		data, media = c.Reply.Pictures[i].SVG, "image/svg+xml"
	}
	if len(data) == 0 {
		s.fail(w, r, noSuchPage())
		return
	}
	w.Header().Set("Content-Type", media)
	w.Header().Set("Content-Security-Policy", picturePolicy)
	_, _ = w.Write(data) // the browser left
}

// showStatic gives the style, the script and the icon.
func (s *site) showStatic(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("file")
	f, err := s.static.Open(name)
	if err != nil {
		s.fail(w, r, noSuchPage())
		return
	}
	_ = f.Close()
	w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
	w.Header().Set("Cache-Control", "no-cache")
	http.ServeFileFS(w, r, s.static, name)
}

// fail shows a trouble to whoever asked.
func (s *site) fail(w http.ResponseWriter, r *http.Request, t *trouble) {
	s.failFor(w, r, s.visitor(r), t)
}

func (s *site) failFor(w http.ResponseWriter, r *http.Request, v visitor, t *trouble) {
	if t.Wait > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(int(t.Wait.Seconds())))
	}
	s.showFor(w, r, v, t.Status, "trouble", s.troublePage(t))
}

func (s *site) show(w http.ResponseWriter, r *http.Request, status int, name string, p pageView) {
	s.showFor(w, r, s.visitor(r), status, name, p)
}

// showFor renders a page whole before the first byte goes out, so that a reader
// never gets half an answer.
func (s *site) showFor(w http.ResponseWriter, r *http.Request, v visitor, status int, name string, p pageView) {
	p.Token = s.token(v)
	body, err := s.render(name, p)
	if err != nil { // a template of ours does not fit a view of ours
		s.o.Log.Error("page not rendered", "template", name, "sort", fmt.Sprintf("%T", err))
		http.Error(w, "this page could not be made; nothing was decided", http.StatusInternalServerError)
		return
	}
	if status != http.StatusForbidden || p.Draft.Text != "" {
		s.greet(w, r, v)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(body) // the browser left
}

func (s *site) render(name string, p pageView) ([]byte, error) {
	var out bytes.Buffer
	if err := s.pages.ExecuteTemplate(&out, name, p); err != nil {
		return nil, err
	}
	return clean(out.Bytes()), nil
}

// clean drops what a reader cannot see but a page obeys: control characters and
// marks that turn the reading direction. The templates have none of their own.
func clean(page []byte) []byte {
	return bytes.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r < ' ', r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f:
			return -1
		case r == utf8.RuneError:
			return '\ufffd'
		}
		return r
	}, page)
}
