package talk

import (
	"bytes"
	"errors"
	"image/png"
	"io/fs"
	"strings"
	"testing"
	"time"

	"mortarboard/bot/talk/draw"
	"mortarboard/kb"
	"mortarboard/planner"
)

func drawingTalk(t *testing.T) *Talk {
	library, err := kb.NewLibrary(kb.LibraryOptions{Fixed: []fs.FS{kb.Articles()}, Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	talk, err := New(Options{Rules: planner.MustLoad(), Articles: library, Pictures: true})
	if err != nil {
		t.Fatal(err)
	}
	return talk
}

func TestPicturesOfAnswers(t *testing.T) {
	oneByOne(t)
	talk := drawingTalk(t)
	for says, want := range map[string][]string{
		"molar prep 3.5 high 9 wide at the margin 7.8 on top, enough?":                        {"preparation"},
		"4 mm high 10 mm wide 22 degrees, does it hold?":                                      {"preparation"},
		"how much of the wall resists, 4 mm high, 10 mm wide, 16 degrees total":               {"preparation"},
		"one wall leans in 0.5 mm, the other leans in 0.9, 4 mm high, 10 mm wide, what angle": {"preparation"},
		"20 s at 1000 mW behind 1.5 mm 4Y?":                                                   {"light"},
		"is 60 psi ok on 3Y?":                                                                 {"check"},
		"zr crown on LR6 3.2 high 10 wide 8 on top, enough grip? bond or cement?":             {"balance", "preparation"},
		"2.8 bar in psi": nil,
		"8 wide at the margin, 9 on top, 4 high, TOC?": nil,
	} {
		r := ask(t, talk, says)
		var names []string
		for _, p := range r.Pictures {
			names = append(names, p.Name)
			if p.Alt == "" || !bytes.Contains(p.SVG, []byte("<svg")) {
				t.Errorf("%s: picture %s has no words or no SVG", says, p.Name)
			}
			if _, err := png.Decode(bytes.NewReader(p.PNG)); err != nil {
				t.Errorf("%s: picture %s: %v", says, p.Name, err)
			}
		}
		if strings.Join(names, " ") != strings.Join(want, " ") {
			t.Errorf("%s: pictures %q, want %q", says, names, want)
		}
	}
}

func TestPicturesShowWhatTheAnswerSays(t *testing.T) {
	oneByOne(t)
	talk := drawingTalk(t)
	for says, want := range map[string]string{
		"molar prep 3.5 high 9 wide at the margin 7.8 on top, enough?": "3.5 ± 0.1 mm high, 9 ± 0.1 mm wide at the margin and 7.8 ± 0.1 mm on top",
		"20 s at 1000 mW behind 1.5 mm 4Y?":                            "1.5 mm",
		"is 60 psi ok on 3Y?":                                          "60 psi",
	} {
		if r := ask(t, talk, says); len(r.Pictures) == 0 || !strings.Contains(r.Pictures[0].Alt, want) {
			t.Errorf("%s: no %q in the words of %+v", says, want, r.Pictures)
		}
	}
}

// TestNoPicturesUnlessWanted: a surface that shows none does not wait for any.
func TestNoPicturesUnlessWanted(t *testing.T) {
	if r := ask(t, testTalk(t), "20 s at 1000 mW behind 1.5 mm 4Y?"); r.Pictures != nil {
		t.Errorf("%d pictures although none were wanted", len(r.Pictures))
	}
}

// spoilt cannot be drawn.
type spoilt struct{}

func (spoilt) Drawing() (draw.Drawing, error) { return draw.Drawing{}, errors.New("no paper") }

func TestAPictureThatFailsIsToldInWords(t *testing.T) {
	p := testTalk(t).picture(spoilt{}, "The headline.")
	if p.Alt != "The headline." || p.Name == "" || p.PNG != nil {
		t.Errorf("got %+v", p)
	}
}
