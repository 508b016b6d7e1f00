package page

import (
	"math"
	"strconv"
	"strings"
	"time"

	"mortarboard/bot/talk"
)

// standingCaution stands where a reply brings none.
const standingCaution = "Licensed clinical judgment, the manufacturer's instructions and local rules come first."

func standingIntro() Intro {
	return Intro{Sections: []talk.Section{{Lines: []string{
		"Say what is being seated and what is known about it: restoration, zirconia, margin, field, measures. Or ask for one setting.",
		"Each new case gets its own pile of cards. What you say next is added to the pile.",
	}}}}
}

// kindLabel is the word on a card's tab.
func kindLabel(k talk.Kind) string {
	switch k {
	case talk.KindPlan:
		return "Plan"
	case talk.KindValue:
		return "Setting"
	case talk.KindCheck:
		return "Check"
	case talk.KindCalculation:
		return "Sum"
	case talk.KindArticle:
		return "Entry"
	case talk.KindHelp:
		return "Help"
	case talk.KindDeclined:
		return "Not answered"
	}
	return string(k)
}

// A stamp is the answer in one word, told apart by word and shape, not by colour.
type stamp struct {
	Word  string
	Shape string
	Stop  bool
}

func stampOf(r talk.Reply) stamp {
	switch r.Kind {
	case talk.KindPlan:
		return strategyStamp(r.Strategy, r.Leaning)
	case talk.KindCheck:
		return verdictStamp(r.Verdict)
	}
	return stamp{}
}

func strategyStamp(strategy, leaning string) stamp {
	switch strategy {
	case "bond":
		return stamp{Word: "Bond", Shape: "◆"}
	case "cement":
		return stamp{Word: "Cement", Shape: "■"}
	case "either":
		return stamp{Word: "Either" + leaningWords(leaning), Shape: "◇"}
	case "depends":
		return stamp{Word: "It depends" + leaningWords(leaning), Shape: "◑"}
	case "stop":
		return stamp{Word: "Stop", Shape: "✕", Stop: true}
	}
	return stamp{Word: strategy}
}

func leaningWords(leaning string) string {
	switch leaning {
	case "bond":
		return ", leaning to bonding"
	case "cement":
		return ", leaning to cementing"
	}
	return ""
}

func verdictStamp(verdict string) stamp {
	switch verdict {
	case "within":
		return stamp{Word: "Within", Shape: "✓"}
	case "outside":
		return stamp{Word: "Outside", Shape: "✕", Stop: true}
	case "unknown":
		return stamp{Word: "Not known", Shape: "?"}
	}
	return stamp{Word: verdict}
}

// sideTitle heads the reasons for one side.
func sideTitle(side string) string {
	switch side {
	case "bond":
		return "For bonding"
	case "cement":
		return "For cementing"
	case "stop":
		return "For stopping"
	}
	return "For " + side
}

// weightMarks shows a weight as so many of three marks.
func weightMarks(weight string) string {
	switch weight {
	case "decisive":
		return "●●●"
	case "strong":
		return "●●○"
	case "weak":
		return "●○○"
	}
	return ""
}

// basisMark is a basis in one letter; one that we do not know stays as it is.
func basisMark(basis string) string {
	switch basis {
	case "published":
		return "p"
	case "common practice":
		return "c"
	case "inferred":
		return "i"
	case "from memory":
		return "m"
	case "computed":
		return "x"
	case "house rule":
		return "h"
	}
	return basis
}

// spread writes an envelope: one figure if its ends are the same.
func spread(v talk.Value) string {
	write := figure
	if v.Basis == "computed" {
		write = func(x float64) string { return figure(rounded(x)) }
	}
	low, high := write(v.Low), write(v.High)
	if low != high {
		low += " to " + high
	}
	return low + unitWords(v.Unit)
}

// rounded keeps three digits of a computed number: more would promise what the
// measures do not hold. Whole numbers stay whole.
func rounded(x float64) float64 {
	if math.Abs(x) >= 100 {
		return math.Round(x)
	}
	if r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64); err == nil {
		return r
	}
	return x
}

func unitWords(unit string) string {
	switch unit {
	case "", "ratio":
		return ""
	case "deg":
		return "°"
	case "%":
		return "\u00a0%"
	}
	return "\u00a0" + unit
}

// figure writes a number with at most three decimals, or two digits if it is
// smaller than that, and a comma for thousands from 10,000.
func figure(x float64) string {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return "not known"
	case x != 0 && math.Abs(x) < 0.001:
		return strconv.FormatFloat(x, 'g', 2, 64)
	}
	text := strconv.FormatFloat(x, 'f', 3, 64)
	text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	whole, rest, _ := strings.Cut(text, ".")
	if rest != "" {
		rest = "." + rest
	}
	return strings.Replace(thousands(whole)+rest, "-", "−", 1)
}

func thousands(whole string) string {
	digits := strings.TrimPrefix(whole, "-")
	if len(digits) < 5 {
		return whole
	}
	sign := whole[:len(whole)-len(digits)]
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}

// factLabel writes a fact's key as words, and its unit if the key names one.
func factLabel(key string) (label, unit string) {
	for ending, u := range map[string]string{"_mm": "mm", "_deg": "deg", "_units": "units"} {
		if stem, ok := strings.CutSuffix(key, ending); ok {
			key, unit = stem, u
			break
		}
	}
	return strings.ReplaceAll(key, "_", " "), unit
}

// dayAndTime is when a card was asked, in the clock's own time zone.
func dayAndTime(at time.Time) string { return at.Format("2 Jan 2006, 15:04") }
