package sums

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// ErrNoUnit is wrapped by the error of [Parse] when a number stands alone, so
// that a caller may ask, or name the unit it assumes.
var ErrNoUnit = errors.New("no unit")

// maxQuantity bounds what Parse looks at, in runes.
const maxQuantity = 60

// No setting of the job comes near these, in any unit.
const (
	largest  = 1e7
	smallest = 1e-6
)

var (
	quantityParts = regexp.MustCompile(`^([+-]?)(\d[\d.,' ]*|[.,]\d+)(.*)$`)
	gritNumber    = regexp.MustCompile(`^(?:[pf]|no\.?|#|fepa|grit|mesh)[ -]?\d+`)
	plainNumber   = regexp.MustCompile(`^\d*\.?\d+$`)
	decimalComma  = regexp.MustCompile(`^\d*,\d+$`)
	spacedGroups  = regexp.MustCompile(`^\d{1,3}(?:[ ']\d{3})+(?:[.,]\d+)?$`)
	commaGroups   = regexp.MustCompile(`^\d{1,3}(?:,\d{3})+(?:\.\d+)?$`)
	pointGroups   = regexp.MustCompile(`^\d{1,3}(?:\.\d{3}){2,}(?:,\d+)?$`)
	threeAfter    = regexp.MustCompile(`^[1-9]\d{0,2}[.,]\d{3}$`)
)

// alike folds the characters that look like one another in a quantity.
var alike = strings.NewReplacer(
	"μ", "µ", "º", "°", "˚", "°", "²", "2", "^2", "2", "³", "3", "^3", "3",
	"−", "-", "–", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "’", "'", "℃", "°c", "℉", "°f",
)

// Parse reads one quantity as people write it: "2.8 bar", "2,8bar", "30 psi",
// "50 microns", "20 000 rpm", "98.6 °F". What can be read in two ways is an
// error that asks; a mesh or grit number is a [Refusal].
func Parse(text string) (Quantity, error) {
	if utf8.RuneCountInString(text) > maxQuantity {
		return Quantity{}, fmt.Errorf("quantity is longer than %d characters: give one number and its unit", maxQuantity)
	}
	s := strings.TrimSpace(alike.Replace(strings.ToLower(text)))
	if gritNumber.MatchString(s) {
		return Quantity{}, Refused(GritSize)
	}
	parts := quantityParts.FindStringSubmatch(s)
	if parts == nil {
		return Quantity{}, fmt.Errorf("quantity %q does not begin with a number: write for example 2.8 bar", text)
	}
	return assemble(text, parts[1] == "-", strings.TrimRight(parts[2], " "), parts[3])
}

// assemble joins the numeral and the unit text that Parse found.
func assemble(text string, negative bool, numeral, rest string) (Quantity, error) {
	scale := 1.0
	rest = strings.TrimSpace(rest)
	if k, found := strings.CutPrefix(rest, "k "); found && strings.TrimSpace(k) == "rpm" {
		scale, rest = 1000, "rpm"
	} else if rest == "krpm" {
		scale, rest = 1000, "rpm"
	}
	if rest == "" {
		return Quantity{}, fmt.Errorf("%q has %w: write it, for example %s bar or %s µm", text, ErrNoUnit, numeral, numeral)
	}
	unit, err := ParseUnit(rest)
	if err != nil {
		return Quantity{}, err
	}
	value, err := parseNumber(numeral, unit)
	if err != nil {
		return Quantity{}, err
	}
	return signed(value*scale, negative, unit)
}

// signed puts the sign on and refuses what cannot be.
func signed(value float64, negative bool, unit Unit) (Quantity, error) {
	if negative {
		value = -value
	}
	q := Quantity{value, unit}
	if err := q.Check(); err != nil {
		return Quantity{}, err
	}
	return q, nil
}

// ParseUnit reads a unit in its usual spellings, in any case.
func ParseUnit(text string) (Unit, error) {
	s := strings.ToLower(alike.Replace(text))
	s = strings.ReplaceAll(strings.Trim(s, " .,;:?!)"), " ", "")
	switch s {
	case "mesh", "grit", "fepa", "us mesh", "usmesh":
		return "", Refused(GritSize)
	case "m":
		return "", fmt.Errorf("unit m can be metres or minutes: write mm or min")
	}
	if unit, ok := spelled[s]; ok {
		return unit, nil
	}
	return "", unknownUnit(text)
}

// spelled are the units by every way to write them. Where two are written alike, the
// one listed first is meant.
var spelled = everySpelling()

func everySpelling() map[string]Unit {
	all := map[string]Unit{}
	for _, r := range units {
		for _, word := range append(strings.Fields(r.spellings), strings.ToLower(string(r.symbol))) {
			if word = alike.Replace(word); all[word] == "" {
				all[word] = r.symbol
			}
		}
	}
	return all
}

func unknownUnit(text string) error {
	return fmt.Errorf("unit %q is not known: use bar, psi, MPa, kPa, µm, mm, cm, s, min, h, deg, °C, °F, %%, rpm, J/cm², mW/cm², mm², µL or N",
		strings.TrimSpace(text))
}

// parseNumber reads digits with a decimal point or comma and with thousands
// set off. One mark before three digits can be either: it counts as thousands
// only where small numbers make no sense, and is asked about otherwise.
func parseNumber(s string, unit Unit) (float64, error) {
	switch {
	case threeAfter.MatchString(s) && large(unit):
		return whole(s)
	case threeAfter.MatchString(s) && strings.Contains(s, ","):
		return 0, fmt.Errorf("%s %s can be read in two ways: write %s or %s",
			s, unit, strings.Replace(s, ",", ".", 1), strings.Replace(s, ",", "", 1))
	case plainNumber.MatchString(s):
		return strconv.ParseFloat(s, 64)
	case decimalComma.MatchString(s):
		return strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	case spacedGroups.MatchString(s):
		s = strings.NewReplacer(" ", "", "'", "").Replace(s)
		return strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	case commaGroups.MatchString(s):
		return strconv.ParseFloat(strings.ReplaceAll(s, ",", ""), 64)
	case pointGroups.MatchString(s):
		return strconv.ParseFloat(strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1), 64)
	}
	return 0, fmt.Errorf("%q is not one number: write it with digits and one decimal point", s)
}

// whole reads the digits of a number whose only mark sets off thousands.
func whole(s string) (float64, error) {
	return strconv.ParseFloat(strings.NewReplacer(".", "", ",", "").Replace(s), 64)
}
