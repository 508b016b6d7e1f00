package sums

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Quantity is a number with its unit.
type Quantity struct {
	Value float64
	Unit  Unit
}

// In converts the quantity to another unit of the same dimension. Pressures
// use the factors of NIST SP 811.
func (q Quantity) In(to Unit) (Quantity, error) {
	from, ok := q.Unit.row()
	if !ok {
		return Quantity{}, unknownUnit(string(q.Unit))
	}
	target, ok := to.row()
	if !ok {
		return Quantity{}, unknownUnit(string(to))
	}
	if from.dimension != target.dimension {
		return Quantity{}, fmt.Errorf("%s does not convert to %s: one is a %s, the other a %s",
			q.Unit, to, from.dimension, target.dimension)
	}
	if q.Unit == to {
		return q, nil
	}
	base := q.Value*from.factor + from.offset
	return Quantity{(base - target.offset) / target.factor, to}, nil
}

// Check refuses what cannot be: a number beyond anything in this job, and less than
// nothing of what has no less.
func (q Quantity) Check() error {
	size := math.Abs(q.Value)
	switch {
	case math.IsNaN(size) || size > largest || size != 0 && size < smallest:
		return fmt.Errorf("%g %s is beyond anything in this job: check the number and its unit", size, q.Unit)
	case q.Value < 0 && q.Unit.Dimension() != Temperature && q.Unit.Dimension() != Share:
		return fmt.Errorf("a %s cannot be negative: got %s", q.Unit.Dimension(), q)
	}
	return nil
}

// String writes the quantity for a person, e.g. "2.07 bar" or "19.9°".
func (q Quantity) String() string { return amount(q.Value, q.Unit) + suffix(q.Unit) }

// Agrees reports whether two quantities of one dimension are the same within
// 10 %, as wide as people round when they give a setting in two units.
func (q Quantity) Agrees(other Quantity) (bool, error) {
	o, err := other.In(q.Unit)
	if err != nil {
		return false, err
	}
	larger := math.Max(math.Abs(q.Value), math.Abs(o.Value))
	return math.Abs(q.Value-o.Value) <= 0.1*larger, nil
}

// suffix is the unit as it stands behind a number.
func suffix(u Unit) string {
	switch u {
	case Degree:
		return "°"
	case Ratio, "":
		return ""
	}
	return " " + string(u)
}

// amount writes a number for its unit. Thousands are set off only where
// [Parse] does not have to ask whether a comma is a decimal comma.
func amount(v float64, u Unit) string {
	if large(u) {
		return thousands(number(v))
	}
	return number(v)
}

// large tells units whose values run into the thousands.
func large(u Unit) bool { return u == RPM || u == MilliwattPerCM }

// number writes three significant digits, and whole numbers from 100 up.
func number(v float64) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "no number"
	case math.Abs(v) >= 99.95:
		return strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	case v == 0:
		return "0"
	}
	digits := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	s := strconv.FormatFloat(v, 'f', min(digits, 12), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// thousands sets commas into a whole number of five or more digits.
func thousands(s string) string {
	digits := strings.TrimPrefix(s, "-")
	if len(digits) < 5 || strings.Contains(digits, ".") {
		return s
	}
	sign := s[:len(s)-len(digits)]
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}

// between writes a span, once where both ends read alike.
func between(low, high float64, u Unit) string {
	l, h := amount(low, u), amount(high, u)
	if l == h {
		return l + suffix(u)
	}
	return l + " to " + h + suffix(u)
}
