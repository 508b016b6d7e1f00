package sums

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

func TestParse(t *testing.T) {
	tests := map[string]Quantity{
		"2.8 bar":         {2.8, Bar},
		"2,8 bar":         {2.8, Bar},
		"2.8bar":          {2.8, Bar},
		" 30 PSI ":        {30, PSI},
		"30 lb/in²":       {30, PSI},
		"0.2 MPa":         {0.2, MPa},
		"0.2 mpa":         {0.2, MPa},
		"200 kPa":         {200, KPa},
		"50 microns":      {50, Micrometre},
		"50µm":            {50, Micrometre},
		"50 μm":           {50, Micrometre}, // Greek letter mu
		"50um":            {50, Micrometre},
		"0,125 mm":        {0.125, Millimetre},
		".5 mm":           {0.5, Millimetre},
		"1.5 cm":          {1.5, Centimetre},
		"20 s":            {20, Second},
		"20 secs":         {20, Second},
		"3 min.":          {3, Minute},
		"2 hrs":           {2, Hour},
		"12 degrees":      {12, Degree},
		"12°":             {12, Degree},
		"12º":             {12, Degree},
		"37 °C":           {37, Celsius},
		"37C":             {37, Celsius},
		"-10 deg C":       {-10, Celsius},
		"98.6 °F":         {98.6, Fahrenheit},
		"5 %":             {5, Percent},
		"5 percent":       {5, Percent},
		"20,000 rpm":      {20000, RPM},
		"20.000 rpm":      {20000, RPM},
		"20 000 rpm":      {20000, RPM},
		"20'000 rpm":      {20000, RPM},
		"200k rpm":        {200000, RPM},
		"40krpm":          {40000, RPM},
		"1,000 mW/cm2":    {1000, MilliwattPerCM},
		"1000 mW/cm^2":    {1000, MilliwattPerCM},
		"1200 mw per cm2": {1200, MilliwattPerCM},
		"1.2 W/cm²":       {1.2, "W/cm²"},
		"16 J/cm²":        {16, JoulePerCM2},
		"9 mm2":           {9, MM2},
		"9 sq mm":         {9, MM2},
		"9 mm²":           {9, MM2},
		"10 µL":           {10, Microlitre},
		"10 ul":           {10, Microlitre},
		"600 N":           {600, Newton},
		"5 kg":            {5, "kgf"},
		"15.7 m/s":        {15.7, MetrePerSecond},
		"50 mL/min":       {50, "mL/min"},
		"0.8 ΔE00":        {0.8, DeltaE00},
	}
	for text, want := range tests {
		t.Run(text, func(t *testing.T) {
			got, err := Parse(text)
			if err != nil || got != want {
				t.Errorf("got %v, %v, want %v", got, err, want)
			}
		})
	}
}

func TestParseRefuses(t *testing.T) {
	tests := map[string]string{
		"":             `quantity "" does not begin with a number: write for example 2.8 bar`,
		"bar":          `quantity "bar" does not begin with a number: write for example 2.8 bar`,
		"2.8":          `"2.8" has no unit: write it, for example 2.8 bar or 2.8 µm`,
		"3 m":          `unit m can be metres or minutes: write mm or min`,
		"2.8 bat":      `unit "bat" is not known: use bar, psi, MPa, kPa, µm, mm, cm, s, min, h, deg, °C, °F, %, rpm, J/cm², mW/cm², mm², µL or N`,
		"1,500 bar":    `1,500 bar can be read in two ways: write 1.500 or 1500`,
		"2 3 bar":      `"2 3" is not one number: write it with digits and one decimal point`,
		"1.2.3 bar":    `"1.2.3" is not one number: write it with digits and one decimal point`,
		"2-3 bar":      `unit "-3 bar" is not known: use bar, psi, MPa, kPa, µm, mm, cm, s, min, h, deg, °C, °F, %, rpm, J/cm², mW/cm², mm², µL or N`,
		"-3 bar":       `a pressure cannot be negative: got -3 bar`,
		"0.0000001 mm": `1e-07 mm is beyond anything in this job: check the number and its unit`,
		"99999999 bar": `9.9999999e+07 bar is beyond anything in this job: check the number and its unit`,
	}
	for text, want := range tests {
		t.Run(text, func(t *testing.T) {
			got, err := Parse(text)
			if err == nil || err.Error() != want {
				t.Errorf("got %v, %v\nwant %s", got, err, want)
			}
		})
	}
}

func TestParseNamesAMissingUnit(t *testing.T) {
	if _, err := Parse("2.8"); !errors.Is(err, ErrNoUnit) {
		t.Errorf("got %v, want an ErrNoUnit", err)
	}
}

func TestGritIsRefusedWithTheReason(t *testing.T) {
	for _, text := range []string{"120 mesh", "220 grit", "P120", "F220", "#100", "no. 325", "mesh 400"} {
		_, err := Parse(text)
		var r *Refusal
		if !errors.As(err, &r) || r.Topic != GritSize {
			t.Errorf("%s: got %v, want the refusal of grit sizes", text, err)
		}
	}
}

func TestString(t *testing.T) {
	tests := map[string]Quantity{
		"2.07 bar":      must(Quantity{30, PSI}.In(Bar)),
		"30 psi":        {30, PSI},
		"40.6 psi":      must(Quantity{2.8, Bar}.In(PSI)),
		"0.276 MPa":     must(Quantity{40, PSI}.In(MPa)),
		"1085 MPa":      {1084.79, MPa},
		"20,000 rpm":    {20000, RPM},
		"9999 rpm":      {9999, RPM},
		"10,000 rpm":    {10000, RPM},
		"12,345 mW/cm²": {12345, MilliwattPerCM},
		"1234567 N":     {1234567, Newton},
		"19.9°":         {19.852, Degree},
		"20°":           {19.96, Degree},
		"100 mm":        {99.96, Millimetre},
		"99.9 mm":       {99.94, Millimetre},
		"0 mm":          {-0.0, Millimetre},
		"-10 °C":        {-10, Celsius},
		"0.00012 mm":    {0.00012, Millimetre},
		"0.4":           {0.4, Ratio},
		"no number N":   {math.NaN(), Newton},
		"5 %":           {5, Percent},
		"10 µL":         {9.996, Microlitre},
		"1 bar":         {0.99999, Bar},
		"2.5 bar":       {2.5, Bar},
	}
	for want, q := range tests {
		if got := q.String(); got != want {
			t.Errorf("%v %s: got %q, want %q", q.Value, q.Unit, got, want)
		}
	}
}

func TestInRefusesOtherDimensions(t *testing.T) {
	tests := []struct {
		q    Quantity
		to   Unit
		want string
	}{
		{Quantity{2, Bar}, Millimetre, "bar does not convert to mm: one is a pressure, the other a length"},
		{Quantity{2, Bar}, "", `unit "" is not known: use bar, psi, MPa, kPa, µm, mm, cm, s, min, h, deg, °C, °F, %, rpm, J/cm², mW/cm², mm², µL or N`},
		{Quantity{0.8, DeltaE00}, DeltaEab, "ΔE00 does not convert to ΔEab: one is a colour difference, CIEDE2000, the other a colour difference, CIELAB"},
	}
	for _, tt := range tests {
		if _, err := tt.q.In(tt.to); err == nil || err.Error() != tt.want {
			t.Errorf("%s to %s: got %v, want %s", tt.q, tt.to, err, tt.want)
		}
	}
}

func TestEveryUnitReadsItselfAndComesBack(t *testing.T) {
	for _, r := range units {
		if got, err := ParseUnit(string(r.symbol)); err != nil || got != r.symbol {
			t.Errorf("ParseUnit(%q) = %q, %v", r.symbol, got, err)
		}
		for _, other := range units {
			if other.dimension != r.dimension {
				continue
			}
			there := must(Quantity{7, r.symbol}.In(other.symbol))
			if back := must(there.In(r.symbol)); math.Abs(back.Value-7) > 1e-9 {
				t.Errorf("7 %s to %s and back is %v", r.symbol, other.symbol, back.Value)
			}
		}
	}
}

func TestAgrees(t *testing.T) {
	tests := []struct {
		a, b Quantity
		want bool
	}{
		{Quantity{2, Bar}, Quantity{30, PSI}, true},
		{Quantity{2.8, Bar}, Quantity{40, PSI}, true},
		{Quantity{2, Bar}, Quantity{60, PSI}, false},
		{Quantity{0.2, MPa}, Quantity{2, Bar}, true},
		{Quantity{2, MPa}, Quantity{2, Bar}, false},
	}
	for _, tt := range tests {
		if got, err := tt.a.Agrees(tt.b); err != nil || got != tt.want {
			t.Errorf("%s and %s: got %v, %v, want %v", tt.a, tt.b, got, err, tt.want)
		}
	}
	if _, err := (Quantity{2, Bar}).Agrees(Quantity{2, Millimetre}); err == nil {
		t.Error("2 bar and 2 mm: want an error")
	}
}

// The units written in the parameters must be units that a question can use.
func TestParameterUnitsAreKnown(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "rules", "parameters.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	rows := regexp.MustCompile(`(?m)^    unit: "?([^"\n]+)"?$`).FindAllStringSubmatch(string(data), -1)
	if len(rows) < 80 {
		t.Fatalf("found %d units in parameters.yaml, want one for each row", len(rows))
	}
	for _, r := range rows {
		if _, err := ParseUnit(r[1]); err != nil {
			t.Error(err)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"2.8 bar", "2,8bar", "20 000 rpm", "1,500 bar", "-10 °C", "120 mesh", "50 μm", "200k rpm", "1.2.3", "", "9 mm²", "5 kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse(s)
		if err != nil {
			return
		}
		if _, known := q.Unit.row(); !known || math.IsNaN(q.Value) || math.Abs(q.Value) > largest {
			t.Fatalf("%q: got %v %q", s, q.Value, q.Unit)
		}
		again, err := Parse(q.String())
		if err != nil || again.Unit != q.Unit || math.Abs(again.Value-q.Value) > 0.006*math.Abs(q.Value) {
			t.Fatalf("%q reads as %s, which reads as %v, %v", s, q, again, err)
		}
	})
}

// TestQuantityCheck holds what no quantity of the job can be.
func TestQuantityCheck(t *testing.T) {
	for q, refused := range map[Quantity]bool{
		{2.8, Bar}: false, {0, Bar}: false, {-5, Celsius}: false, {-10, Percent}: false, {1.234, MilliwattPerCM}: false, {1e7, RPM}: false,
		{-3, Bar}: true, {2e7, RPM}: true, {1e-7, Bar}: true, {-2e7, Celsius}: true, {math.NaN(), Bar}: true, {math.Inf(1), Bar}: true,
	} {
		if err := q.Check(); (err != nil) != refused {
			t.Errorf("%v: %v, refused should be %v", q, err, refused)
		}
	}
}

// TestConnectorAndTop holds the two small sums against others of theirs.
func TestConnectorAndTop(t *testing.T) {
	if f := must(ConnectorArea(3, 4)); f.Value != 12 || f.Unit != MM2 {
		t.Errorf("a connector of 3 by 4 mm has %v", f)
	}
	if _, err := ConnectorArea(3, 13); err == nil {
		t.Error("a connector of 13 mm is accepted")
	}
	toc := must(TotalConvergence(MM(9), MM(7.8), MM(3.5)))
	if got := TopWidth(9, 3.5, toc.Value); math.Abs(got-7.8) > 1e-9 {
		t.Errorf("the top is %v mm wide, wanted 7.8", got)
	}
}
