package page

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"mortarboard/bot/talk"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file under testdata/golden, or writes it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("%s differs; look at it, then run the test with -update.\ngot:\n%s", file, got)
	}
}

// fixed is a site and a case at a standing time and address.
func fixed(t *testing.T, replies ...talk.Reply) (*site, *file) {
	t.Helper()
	s, err := newSite(t.Context(), Options{Answer: echo, Practice: "Wrenfold Dental Rooms"}, 8484)
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 11, 24, 9, 30, 0, 0, time.UTC)
	f := s.store.open("ann", at)
	f.id = "CASE"
	for _, r := range replies {
		s.store.put(f, card{Question: r.Question, At: at, Reply: r})
	}
	return s, f
}

// rendered is a page with a standing seal.
func rendered(t *testing.T, s *site, name string, p pageView) []byte {
	t.Helper()
	p.Token = "TOKEN"
	body, err := s.render(name, p)
	if err != nil {
		t.Fatal(err)
	}
	return body
}

func TestGoldenPages(t *testing.T) {
	for name, r := range replies() {
		t.Run(name, func(t *testing.T) {
			s, f := fixed(t, r)
			golden(t, name+".html", rendered(t, s, "page", s.casePage(f)))
		})
	}
}

func TestGoldenSheets(t *testing.T) {
	for _, name := range []string{"plan", "stop", "check", "article"} {
		t.Run(name, func(t *testing.T) {
			s, f := fixed(t, replies()[name])
			golden(t, name+"-sheet.html", rendered(t, s, "sheet", s.sheetPage(f, s.store.cards(f)[0])))
		})
	}
}

func TestGoldenOthers(t *testing.T) {
	s, f := fixed(t, planReply(), stopReply())
	golden(t, "pile.html", rendered(t, s, "page", s.casePage(f)))
	golden(t, "empty.html", rendered(t, s, "page", s.emptyPage()))
	golden(t, "trouble.html", rendered(t, s, "trouble", s.troublePage(staleForm().keeping(draft{Case: "CASE", Text: "3Y crown"}))))
	golden(t, "trouble-late.html", rendered(t, s, "trouble", s.troublePage(late("CASE").keeping(draft{Case: "CASE", Text: "3Y crown"}))))
	s.o.Intro = func() Intro {
		return Intro{Sections: []talk.Section{{Title: "Ask like this", Lines: []string{"bond or cement, 5Y, margin in dentin", "60 psi on 3Y ok?"}}},
			Choices: []talk.Choice{{Ask: "Start with an example", Options: []talk.Option{{Says: "pressure for 4Y?"}, {Label: "unsayable"}}}}}
	}
	golden(t, "intro.html", rendered(t, s, "page", s.emptyPage()))
}
