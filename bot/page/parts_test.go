package page

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode"

	"mortarboard/bot/talk"
)

// words are the distinct words of a text, small.
func words(text string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		set[w] = true
	}
	return set
}

// loses names the words of a reply that its page does not show. Numbers of
// numbered lines are the list's own; what only announces others may go.
func loses(t *testing.T, r talk.Reply) []string {
	t.Helper()
	s, f := fixed(t, r)
	shown := words(textOf(string(rendered(t, s, "page", s.casePage(f)))))
	var lost []string
	for _, line := range textsOf(r) {
		_, line = number(line)
		for w := range words(line) {
			if !shown[w] && w != "caution" && line != "Rests on" && !heading(line) {
				lost = append(lost, fmt.Sprintf("%q of %q", w, line))
			}
		}
	}
	return lost
}

// textsOf is every text of a reply that a reader must find on the page.
func textsOf(r talk.Reply) []string {
	texts := append([]string{r.Headline, r.Caution}, r.Notices...)
	for _, s := range r.Sections {
		texts = append(texts, s.Title)
		for _, line := range s.Lines {
			texts = append(texts, strings.Split(line, "\n")...)
		}
	}
	for _, reason := range r.Reasons {
		texts = append(texts, reason.Because, reason.Weight, reason.Basis, reason.Source)
	}
	for _, s := range r.Steps {
		texts = append(texts, s.Do, s.Caution, s.Surface)
	}
	for _, v := range r.Values {
		texts = append(texts, v.Name, v.Of, v.Basis, v.Source)
	}
	for _, c := range r.Choices {
		texts = append(texts, c.Ask)
		for _, o := range c.Options {
			texts = append(texts, o.Label)
		}
	}
	return texts
}

func TestNoWordIsLost(t *testing.T) {
	for name, r := range replies() {
		if lost := loses(t, r); len(lost) > 0 {
			t.Errorf("%s: lost %s", name, strings.Join(lost, "\n\t"))
		}
	}
}

// TestNoWordIsLostHoweverItIsSaid mixes lines of replies at random, so that
// sections restate lists partly, twice, out of order or with more in them.
func TestNoWordIsLostHoweverItIsSaid(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 6))
	var pool []string
	for _, r := range replies() {
		pool = append(pool, textsOf(r)...)
	}
	pool = slices.DeleteFunc(pool, func(s string) bool { return strings.TrimSpace(s) == "" })
	slices.Sort(pool)
	for range 400 {
		r := planReply()
		if rng.IntN(2) == 0 {
			r = checkReply()
		}
		for i := range r.Sections {
			s := &r.Sections[i]
			s.Lines = slices.Clone(s.Lines)
			for range rng.IntN(4) {
				at := rng.IntN(len(s.Lines) + 1)
				s.Lines = slices.Insert(s.Lines, at, pool[rng.IntN(len(pool))])
			}
			rng.Shuffle(len(s.Lines), func(a, b int) { s.Lines[a], s.Lines[b] = s.Lines[b], s.Lines[a] })
		}
		if lost := loses(t, r); len(lost) > 0 {
			t.Fatalf("lost %s\nof %+v", strings.Join(lost, "\n\t"), r.Sections)
		}
	}
}

// TestBoundsAreKept: as data "at most 2 bar" and "2 bar" look the same. Where a
// section says which, its words must stand, on the page and on the sheet.
func TestBoundsAreKept(t *testing.T) {
	s, f := fixed(t, planReply(), valueReply())
	cards := s.store.cards(f)
	for name, body := range map[string][]byte{
		"page":  rendered(t, s, "page", s.casePage(f)),
		"sheet": rendered(t, s, "sheet", s.sheetPage(f, cards[1])),
	} {
		if !strings.Contains(string(body), "<b>at most 2 bar</b>") || strings.Contains(string(body), "<b>2\u00a0bar</b>") {
			t.Errorf("%s: a bound is shown as a single value", name)
		}
	}
	if body := rendered(t, s, "page", s.casePage(f)); !strings.Contains(string(body), "<b>at least 50 mL/min</b>") {
		t.Error("table: a bound is shown as a single value")
	}
}

func TestListsStandOnce(t *testing.T) {
	s, f := fixed(t, planReply())
	text := textOf(string(rendered(t, s, "page", s.casePage(f))))
	for _, once := range []string{"Rinse the inner surface", "bonding gives it support", "Can the field be kept dry?", "at most 2 bar", "Hold it still", "Inside only", "4Y or 5Y Assumed"} {
		if n := strings.Count(strings.ReplaceAll(text, "margin dentin height of the preparation 3.5 mm height 3.5 mm: not known (the limit: at least 4 mm on a molar) the limits are from Author 2001, Journal 85:363-376 ", ""), once); n != 1 {
			t.Errorf("%q stands %d times in\n%s", once, n, text)
		}
	}
}

// TestAWarningDoesNotBecomeAStep: a line that only holds a step's words inside
// other words must not stand in for the step.
func TestAWarningDoesNotBecomeAStep(t *testing.T) {
	r := planReply()
	at := slices.IndexFunc(r.Sections, func(s talk.Section) bool { return s.Title == "Steps, if it is bonded" })
	lines := r.Sections[at].Lines
	r.Sections[at].Lines = append(slices.Clone(lines[:3]), "Do not seat it before the etch is rinsed.", "4. Seat it.", "4. Seat it. Slowly.")
	shown, folded := partsOf(r)
	for _, p := range append(shown, folded...) {
		if len(p.Steps) == 0 {
			continue
		}
		if p.Steps[3].Text != "Seat it." || !slices.Equal(p.Steps[3].Notes, []string{"Seat it. Slowly."}) || !slices.Equal(p.Steps[2].Notes, []string{"Do not seat it before the etch is rinsed."}) {
			t.Errorf("steps %+v", p.Steps[2:])
		}
		return
	}
	t.Error("no steps")
}

func TestWhereThingsStandWithoutSections(t *testing.T) {
	r := planReply()
	r.Sections = nil
	r.Case = map[string][]any{"height_mm": {3.5}, "zirconia": {"4Y", "5Y"}}
	s, f := fixed(t, r)
	page{body: string(rendered(t, s, "page", s.casePage(f)))}.shows(t, "It depends", "The primer on the shelf has expired.", "Taken as", "height 3.5 mm", "zirconia 4Y or 5Y",
		"What would settle it", "Can the field be kept dry?", "For bonding", "For cementing", "Steps", "Rinse", "Seat it", "Before you act:", caution)
}

func TestSays(t *testing.T) {
	for _, c := range []struct {
		line, phrase string
		want         bool
	}{
		{"resin allergy: none", "no", false}, {"resin allergy: no", "no", true}, {"150 µm", "50 µm", false}, {"1.50 µm", "50 µm", false},
		{"50 µm", "50 µm", true}, {"Rinse  it.", "rinse it.", true}, {"1.5–2.8 bar", "1.5 to 2.8 bar", true}, {"13Y", "3Y", false},
		{"3Y, 3Yx, 3Y", "3y", true}, {"anything", "", false}, {"anything", ".", false}, {"5 mm", "5\u00a0mm", true}, {"µ", "µ", true},
	} {
		if got := says(c.line, c.phrase); got != c.want {
			t.Errorf("says(%q, %q) is %v", c.line, c.phrase, got)
		}
	}
}

func TestItems(t *testing.T) {
	got := itemsOf([]string{"Before:", "  - one", "", "2) two", "3. three\n   below", "10% of it", "1.5 bar", "1. "})
	want := []item{{Text: "Before:", Head: true}, {Text: "one", Below: true}, {N: 2, Text: "two"}, {N: 3, Text: "three"}, {Text: "below", Below: true},
		{Text: "10% of it"}, {Text: "1.5 bar"}, {Text: "1."}}
	if !slices.Equal(got, want) {
		t.Errorf("got %+v", got)
	}
}

func TestFactsAreFoundOnlyWhereTheyAreListed(t *testing.T) {
	facts := map[string][]any{"zirconia": {"4Y"}}
	for line, want := range map[string]bool{
		"zirconia grade: 4Y": true, "4Y": true,
		"pressure: 1 to 1.5 bar – abrading 4Y gently with alumina": false,
		"zirconia grade: 4Y or 5Y":                                 false,
		"zirconia grade: 5Y":                                       false,
		"A crown of 4Y is a good deal weaker than one would think": false,
	} {
		if got := namesAll(talk.Section{Lines: []string{line}}, facts); got != want {
			t.Errorf("%q: %v", line, got)
		}
	}
	if namesAll(talk.Section{Lines: []string{"zirconia grade: 4Y"}, Fold: true}, facts) {
		t.Error("a folded section counts as the list of facts")
	}
}
