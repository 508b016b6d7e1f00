package page

import (
	"math"
	"testing"

	"mortarboard/bot/talk"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		unit      string
		want      string
	}{
		{1.5, 2.8, "bar", "1.5 to 2.8\u00a0bar"}, {50, 50, "µm", "50\u00a0µm"}, {0, 0, "s", "0\u00a0s"}, {5000, 40000, "rpm", "5000 to 40,000\u00a0rpm"},
		{15.8199, 23.12345, "deg", "15.82 to 23.123°"}, {0.0004, 0.0004, "", "0.0004"}, {-2, -1.5, "%", "−2 to −1.5\u00a0%"}, {0.4, 0.4, "ratio", "0.4"},
		{1234567.5, 1234567.5, "N", "1,234,567.5\u00a0N"}, {-12345, -12345, "", "−12,345"}, {math.NaN(), 1, "s", "not known to 1\u00a0s"}, {1, math.Inf(1), "s", "1 to not known\u00a0s"},
		{999.9996, 999.9996, "", "1000"}, {100, 100, "", "100"}, {1e-9, 1e-9, "m", "1e-09\u00a0m"},
	} {
		if got := spread(talk.Value{Low: c.low, High: c.high, Unit: c.unit}); got != c.want {
			t.Errorf("%v to %v %s: %q, want %q", c.low, c.high, c.unit, got, c.want)
		}
	}
}

// TestComputedFiguresPromiseNoMoreThanTheyHold: three digits, as in the text.
func TestComputedFiguresPromiseNoMoreThanTheyHold(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{15.8141, 23.267, "15.8 to 23.3"}, {0.47123, 0.66667, "0.471 to 0.667"}, {40.611, 40.611, "40.6"}, {1234.56, 98765.4, "1235 to 98,765"},
		{2.4, 3.595, "2.4 to 3.6"}, {19.5001, 19.4999, "19.5"}, {0, -0.00123, "0 to −0.001"}, {math.NaN(), math.NaN(), "not known"},
	} {
		if got := spread(talk.Value{Low: c.low, High: c.high, Basis: "computed"}); got != c.want {
			t.Errorf("%v to %v: %q, want %q", c.low, c.high, got, c.want)
		}
	}
}

// TestStampsDifferWithoutColour: each is told by its word, and by its shape.
func TestStampsDifferWithoutColour(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range []talk.Reply{
		{Kind: talk.KindPlan, Strategy: "bond"}, {Kind: talk.KindPlan, Strategy: "cement"}, {Kind: talk.KindPlan, Strategy: "either"},
		{Kind: talk.KindPlan, Strategy: "depends"}, {Kind: talk.KindPlan, Strategy: "stop"},
	} {
		s := stampOf(r)
		if s.Word == "" || s.Shape == "" || seen[s.Word] || seen[s.Shape] {
			t.Errorf("%s: stamp %+v is empty or taken", r.Strategy, s)
		}
		seen[s.Word], seen[s.Shape] = true, true
	}
	for _, verdict := range []string{"within", "outside", "unknown"} {
		if s := stampOf(talk.Reply{Kind: talk.KindCheck, Verdict: verdict}); s.Word == "" || seen[s.Word] {
			t.Errorf("%s: stamp %+v", verdict, s)
		}
	}
	if s := stampOf(talk.Reply{Kind: talk.KindPlan, Strategy: "wait"}); s.Word != "wait" {
		t.Errorf("a strategy we do not know is hidden: %+v", s)
	}
	if s := stampOf(talk.Reply{Kind: talk.KindPlan, Strategy: "either", Leaning: "cement"}); s.Word != "Either, leaning to cementing" {
		t.Errorf("leaning: %+v", s)
	}
	if kindLabel("riddle") != "riddle" || kindLabel(talk.KindDeclined) != "Not answered" {
		t.Error("kinds are mislabelled")
	}
}

func TestFactsAsWords(t *testing.T) {
	for key, want := range map[string]fact{
		"margin_level": {"margin level", "3.5 or 4Y"}, "height_mm": {"height", "3.5\u00a0mm or 4Y\u00a0mm"}, "convergence_deg": {"convergence", "3.5° or 4Y°"},
	} {
		if got := factOf(key, []any{3.5, "4Y"}); got != want {
			t.Errorf("%s: %+v, want %+v", key, got, want)
		}
	}
}

func TestWording(t *testing.T) {
	v := talk.Value{Name: "pressure", Of: "abrading 3Y", Basis: "house rule", Source: "house rule, approved by Dr V (partner) on 2026-05-04"}
	for _, c := range []struct {
		line, is, more string
		ok             bool
	}{
		{"pressure: at most 2 bar – abrading 3Y (house rule)", "at most 2 bar", "", true},
		{"pressure: 2 bar – abrading 3Y (house rule: house rule, approved by Dr V (partner) on 2026-05-04): 3 bar is outside", "2 bar", "3 bar is outside", true},
		{"pressure: 2 bar – abrading 3Y (house rule) This departs.", "2 bar", "This departs.", true},
		{"pressure: 2 bar – abrading 3Y (but only when dry)", "2 bar", "(but only when dry)", true},
		{"pressure: 2 bar – abrading 3Y (unclosed", "2 bar", "(unclosed", true},
		{"pressure: 2 bar – abrading 5Y", "", "", false},
		{"the pressure: 2 bar – abrading 3Y", "", "", false},
	} {
		is, more, ok := wording(c.line, v)
		if ok != c.ok || ok && (is != c.is || more != c.more) {
			t.Errorf("%q: %q, %q, %v", c.line, is, more, ok)
		}
	}
}
