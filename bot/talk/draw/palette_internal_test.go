package draw

import (
	"math"
	"testing"
)

// luminance is the relative luminance of a colour, after the definition in Web
// Content Accessibility Guidelines (WCAG) 2.2, W3C Recommendation, "relative
// luminance".
func luminance(i ink) float64 {
	linear := func(c uint32) float64 {
		v := float64(c&0xFF) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(uint32(i)>>16) + 0.7152*linear(uint32(i)>>8) + 0.0722*linear(uint32(i))
}

// contrast is the contrast ratio of WCAG 2.2, "contrast ratio".
func contrast(a, b ink) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	for _, c := range []struct {
		a, b ink
		want float64
	}{
		{0x000000, 0xFFFFFF, 21}, // the greatest there is, as the definition says
		{0xFFFFFF, 0xFFFFFF, 1},
	} {
		if got := contrast(c.a, c.b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("contrast of %06x and %06x: got %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

// TestContrast holds the ratios of WCAG 2.2: 4.5 for letters (1.4.3, level AA)
// and 3 for the shapes that one has to see (1.4.11).
func TestContrast(t *testing.T) {
	const letters, shapes = 4.5, 3.0
	for _, c := range []struct {
		use      string
		on, over ink
		least    float64
	}{
		{"words", black, paper, letters},
		{"lesser words", grey, paper, letters},
		{"question mark", black, straw, letters},
		{"tick", paper, blue, shapes},
		{"cross and bar", paper, crimson, shapes},
		{"bar", blue, paper, shapes},
		{"hatch of the light", blue, sky, shapes},
		{"wall", blue, ivory, shapes},
		{"outline of the tooth", black, ivory, shapes},
		{"half of the wall", ochre, ivory, shapes},
		{"half of the wall, outside", ochre, paper, shapes},
		{"hatch where sources differ", ochre, straw, shapes},
		{"target", crimson, paper, shapes},
		{"target over the band", crimson, sky, shapes},
		{"asked thickness over the band", black, sky, shapes},
		{"dimension lines", grey, paper, shapes},
	} {
		if got := contrast(c.on, c.over); got < c.least {
			t.Errorf("%s: got a contrast of %.2f, want at least %v", c.use, got, c.least)
		}
	}
}

// TestSidesDifferInLightness holds that the two sides of the balance can be
// told apart in grey too. The least ratio is our own choice.
func TestSidesDifferInLightness(t *testing.T) {
	if got := contrast(blue, ochre); got < 2 {
		t.Errorf("got a contrast of %.2f between the sides, want at least 2", got)
	}
}
