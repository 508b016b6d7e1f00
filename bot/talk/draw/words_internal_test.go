package draw

import (
	"math"
	"slices"
	"strings"
	"testing"

	"mortarboard/planner/sums"
)

func TestWrap(t *testing.T) {
	s := newSheet("", "")
	words := "A label of several words, with a number and its unit: " + unbroken("2.8 bar") + " " + strings.Repeat("w", 60)
	lines := s.wrap(small(), 120, words)
	for _, line := range lines {
		if got := s.width(small(), line); got > 120 {
			t.Errorf("%q is %.0f px wide, want at most 120", line, got)
		}
	}
	squeezed := func(s string) string { return strings.NewReplacer(" ", "", hard, "").Replace(s) }
	if got := squeezed(strings.Join(lines, "")); got != squeezed(words) {
		t.Errorf("got %q, want every letter kept of %q", got, words)
	}
	if !slices.ContainsFunc(lines, func(l string) bool { return strings.Contains(l, unbroken("2.8 bar")) }) {
		t.Errorf("got %q, want the number and its unit on one line", lines)
	}
	if got := s.wrap(small(), 120, "  "); got != nil {
		t.Errorf("got %q of nothing, want no line", got)
	}
	if got := s.wrap(small(), 1, "ab"); !slices.Equal(got, []string{"a", "b"}) {
		t.Errorf("got %q in no room, want a letter a line", got)
	}
}

func TestClipped(t *testing.T) {
	s := newSheet("", "")
	long := strings.Repeat("many words, ", 40)
	lines := s.clipped(small(), 150, long, 3)
	if len(lines) != 3 || !strings.HasSuffix(lines[2], " …") || s.width(small(), lines[2]) > 150 {
		t.Errorf("got %q, want three lines and dots", lines)
	}
	if got := s.clipped(small(), 150, "few words", 3); !slices.Equal(got, []string{"few words"}) {
		t.Errorf("got %q, want what fits left alone", got)
	}
}

// TestLettersHaveOutlines holds that every character of our own wording is in
// both fonts and not shown as an empty box.
func TestLettersHaveOutlines(t *testing.T) {
	f := loadFonts()
	for _, r := range "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,;:?!()%/+-±°²µ×…'\"ΔÄé–’“”≤≥" {
		for _, st := range []style{small(), heading()} {
			glyph, err := f.face(st).GlyphIndex(nil, r)
			if err != nil || glyph == 0 {
				t.Errorf("%q is not in the font (bold %v): %v", r, st.bold, err)
			}
		}
	}
	one, _ := f.set(small(), "l")
	if len(one) < 4 {
		t.Errorf("got an outline of %d parts for a letter", len(one))
	}
}

func TestHatchStaysInside(t *testing.T) {
	s := newSheet("", "")
	triangle := []point{{10, 10}, {90, 40}, {20, 80}}
	s.hatch(blue, 1, 5, 1, triangle...)
	path := s.shapes[0].path
	if len(path) < 10 {
		t.Fatalf("got %d points of hatching, want many", len(path))
	}
	inside := func(x, y float64) bool {
		for i, a := range triangle {
			b := triangle[(i+1)%3]
			if (b.x-a.x)*(y-a.y)-(b.y-a.y)*(x-a.x) < -1e-6 {
				return false
			}
		}
		return true
	}
	for _, c := range path {
		if x, y := float64(c.Pos.X), float64(c.Pos.Y); !inside(x, y) {
			t.Errorf("hatching at %.2f, %.2f leaves the triangle", x, y)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		scale
		want []float64
	}{
		{scale{low: 0, high: 4.7}, []float64{0, 1, 2, 3, 4}},
		{scale{low: -3, high: 8}, []float64{0, 5}},
		{scale{low: 0.12, high: 0.31}, []float64{0.15, 0.2, 0.25, 0.3}},
	} {
		got := c.ticks(5)
		same := slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
		if !same {
			t.Errorf("%v to %v: got %v, want %v", c.low, c.high, got, c.want)
		}
	}
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{span(1.5, 2.8, sums.Bar), "1.5 to 2.8 bar"},
		{span(50, 50, sums.Micrometre), "50 µm"},
		{span(10, 20, sums.Degree), "10 to 20°"},
		{span(0.4, 0.5, sums.Ratio), "0.4 to 0.5"},
		{span(10000, 200000, sums.RPM), "10,000 to 200,000 rpm"},
		{measured(sums.Caliper(3.5)), "3.5 ± 0.1 mm"},
		{measured(sums.MM(3.5)), "3.5 mm"},
		{upper("µm of grit") + upper("pH") + upper("a") + upper("an"), "µm of gritpHAAn"},
		{upper(""), ""},
		{shortened("a few words that are cut", 12), "a few words …"},
		{Setting{Bound: AtMost, Unit: sums.Second}.words(), "never"},
		{Setting{Low: 4, High: 4, Bound: AtLeast, Unit: sums.Millimetre}.words(), "at least 4 mm"},
	} {
		if plain(c.got) != c.want {
			t.Errorf("got %q, want %q", plain(c.got), c.want)
		}
	}
}

func BenchmarkPreparation(b *testing.B) {
	top := sums.Caliper(7.8)
	p := Preparation{Height: sums.Caliper(3.5), Margin: sums.Caliper(9), Top: &top}
	for b.Loop() {
		if _, err := p.Drawing(); err != nil {
			b.Fatal(err)
		}
	}
}
