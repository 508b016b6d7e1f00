package draw

import (
	"fmt"
	"math"
	"strings"

	"mortarboard/planner/sums"
)

// bare writes a number without its unit.
func bare(v float64) string { return sums.Quantity{Value: v, Unit: sums.Ratio}.String() }

// of writes a number with its unit, kept on one line.
func of(v float64, u sums.Unit) string { return unbroken(sums.Quantity{Value: v, Unit: u}.String()) }

// span writes "1.5 to 2.8 bar", or one value where both ends read alike.
func span(low, high float64, u sums.Unit) string {
	l, h := of(low, u), of(high, u)
	if l == h {
		return l
	}
	return unbroken(strings.TrimSpace(strings.TrimSuffix(l, unbroken(suffix(u)))) + " to " + h)
}

// suffix is what stands behind a number of the unit.
func suffix(u sums.Unit) string {
	return strings.TrimPrefix(sums.Quantity{Value: 0, Unit: u}.String(), "0")
}

// measured writes a length with its uncertainty: "3.5 ± 0.1 mm".
func measured(l sums.Length) string {
	if l.PlusMinus == 0 {
		return of(l.MM, sums.Millimetre)
	}
	return unbroken(bare(l.MM) + " ± " + of(l.PlusMinus, sums.Millimetre))
}

// figure writes a figure with the span that it leaves open, if it does.
func figure(f sums.Figure) string {
	value := of(f.Value, f.Unit)
	if open := span(f.Low, f.High, f.Unit); open != value {
		return value + " (" + open + ")"
	}
	return value
}

// count writes "one reason" or "3 reasons".
func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// upper begins a sentence. A unit or symbol stays as it is written: µm, pH.
func upper(words string) string {
	for i, r := range words {
		switch {
		case i == 0 && (r < 'a' || r > 'z'), i == 1 && r >= 'A' && r <= 'Z':
			return words
		case i == 1:
			return strings.ToUpper(words[:1]) + words[1:]
		}
	}
	return strings.ToUpper(words)
}

// finite refuses what is no number.
func finite(what string, values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return &sums.InputError{What: what, Got: fmt.Sprint(v), Allowed: "a finite number"}
		}
	}
	return nil
}

// A scale maps values to px along an axis.
type scale struct {
	low, high float64 // values
	from, to  float64 // px
}

func (a scale) at(v float64) float64 { return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from) }

// value is what stands at a px.
func (a scale) value(px float64) float64 { return a.low + (px-a.from)/(a.to-a.from)*(a.high-a.low) }

// within keeps a value on the axis.
func (a scale) within(v float64) float64 { return min(max(v, a.low), a.high) }

// ticks are round values on the axis, at most n of them.
func (a scale) ticks(n int) []float64 {
	step := roundStep((a.high - a.low) / float64(n))
	var out []float64
	for i := math.Ceil(a.low/step - 1e-9); i*step <= a.high+1e-9*step; i++ {
		out = append(out, i*step)
	}
	return out
}

// roundStep is the least of 1, 2 and 5 times a power of ten that is not below v.
func roundStep(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= v*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}
