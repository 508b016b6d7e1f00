package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func styles(t *testing.T) string {
	t.Helper()
	css, err := files.ReadFile("static/page.css")
	if err != nil {
		t.Fatal(err)
	}
	return regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(string(css), "")
}

// palettes are the colours of each scheme by name.
func palettes(t *testing.T) map[string]map[string]string {
	t.Helper()
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(styles(t), -1)
	if len(blocks) != 3 {
		t.Fatalf("%d palettes, want light, dark and print", len(blocks))
	}
	all := map[string]map[string]string{}
	for i, name := range []string{"light", "dark", "print"} {
		all[name] = map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(blocks[i][1], -1) {
			all[name][m[1]] = m[2]
		}
	}
	return all
}

// luminance is the relative luminance of a colour such as #0e5560.
// Source: W3C, Web Content Accessibility Guidelines (WCAG) 2.2, definition of
// relative luminance (with the threshold 0.04045 in place since May 2021).
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// contrast is the contrast ratio of two colours, 1 to 21, by the same source.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// TestContrastItself checks the computation: 21 follows from the definition;
// 4.54 for #767676 on white is the well-known lightest grey that passes (from
// memory).
func TestContrastItself(t *testing.T) {
	if got := contrast(t, "#000000", "#ffffff"); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white is %v, want 21", got)
	}
	if got := contrast(t, "#767676", "#ffffff"); math.Abs(got-4.54) > 0.005 {
		t.Errorf("#767676 on white is %.3f, want 4.54", got)
	}
}

// The least contrast of WCAG 2.2 at level AA: success criterion 1.4.3 for text
// (4.5; we do not use the lower figure for large text), and 1.4.11 for what
// shows a control, its state or its focus (3).
const (
	forText    = 4.5
	forControl = 3
)

// pairs are all colours that stand on each other, with what they are for.
// Decorative lines (rule) need none.
func pairsUsed() map[[2]string]float64 {
	used := map[[2]string]float64{
		{"on-accent", "accent"}: forText, {"on-stop", "stop"}: forText, {"ink", "tab"}: forText, {"ink", "mind"}: forText,
		{"mind-edge", "mind"}: forControl, {"mind-edge", "paper"}: forControl, {"stop", "paper"}: forControl, {"edge", "tab"}: 1,
	}
	for _, ground := range []string{"desk", "paper"} {
		for _, text := range []string{"ink", "soft", "accent"} {
			used[[2]string{text, ground}] = forText
		}
		for _, mark := range []string{"edge", "focus"} {
			used[[2]string{mark, ground}] = forControl
		}
	}
	return used
}

func TestContrastIsEnough(t *testing.T) {
	for scheme, colours := range palettes(t) {
		for pair, least := range pairsUsed() {
			a, b := colours[pair[0]], colours[pair[1]]
			if a == "" || b == "" {
				t.Errorf("%s: %v is not in the palette", scheme, pair)
				continue
			}
			if scheme == "print" && (pair == [2]string{"on-stop", "stop"} || pair == [2]string{"on-accent", "accent"}) {
				least = 7 // on paper, black on white or white on black
			}
			if scheme == "print" && pair == [2]string{"stop", "paper"} {
				continue // paper takes no grounds: there the stamp has a border in ink
			}
			if got := contrast(t, a, b); got < least {
				t.Errorf("%s: %s %s on %s %s is %.2f, want at least %v", scheme, pair[0], a, pair[1], b, got, least)
			}
		}
	}
}

// TestEveryColourIsNamedAndChecked: no colour outside the palettes, and no name
// that the pairs above leave out.
func TestEveryColourIsNamedAndChecked(t *testing.T) {
	css := styles(t)
	rules := regexp.MustCompile(`(?s):root \{.*?\}`).ReplaceAllString(css, "")
	if found := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgba?\(|hsla?\(|oklch\(|color-mix`).FindAllString(rules, -1); found != nil {
		t.Errorf("colours outside the palettes: %v", found)
	}
	checked := map[string]bool{"rule": true}
	for pair := range pairsUsed() {
		checked[pair[0]], checked[pair[1]] = true, true
	}
	for scheme, colours := range palettes(t) {
		if len(colours) != len(palettes(t)["light"]) {
			t.Errorf("%s has %d colours", scheme, len(colours))
		}
		for name := range colours {
			if !checked[name] {
				t.Errorf("%s: --%s is in no checked pair", scheme, name)
			}
		}
	}
	for _, rule := range regexp.MustCompile(`(?s)[^{}]+\{([^{}]*)\}`).FindAllStringSubmatch(rules, -1) {
		text := regexp.MustCompile(`(?:^|[;\s])color: var\(--([a-z-]+)\)`).FindStringSubmatch(rule[1])
		ground := regexp.MustCompile(`background(?:-color)?: var\(--([a-z-]+)\)`).FindStringSubmatch(rule[1])
		if text != nil && ground != nil && pairsUsed()[[2]string{text[1], ground[1]}] < forText {
			t.Errorf("%s on %s is set but not checked as text: %s", text[1], ground[1], strings.TrimSpace(rule[0]))
		}
	}
}

func TestStyleKeepsToTheRules(t *testing.T) {
	css := styles(t)
	for _, want := range []string{":focus-visible { outline: 3px solid var(--focus)", "prefers-color-scheme: dark", "@page { size: A4"} {
		if !strings.Contains(css, want) {
			t.Errorf("%q is missing", want)
		}
	}
	for _, banned := range []string{"@import", "url(", "http", "@font-face", "outline: 0", "!important; }\n:focus"} {
		if strings.Contains(css, banned) {
			t.Errorf("%q stands in the style", banned)
		}
	}
	for _, motion := range []string{"transition", "animation", "scroll-behavior", "@keyframes"} {
		if strings.Contains(css, motion) {
			t.Errorf("%q moves something: still it for those who ask for reduced motion, and say so here", motion)
		}
	}
	if m := regexp.MustCompile(`font(-size)?: [0-9.]+px`).FindString(css); m != "" {
		t.Errorf("%q does not grow with the reader's text size", m)
	}
}
