package sums

import (
	"slices"
	"strings"
	"testing"
)

// goodacreLimits are the limits of Goodacre, Campagni, Aquilino 2001, J Prosthet Dent 85:363-376.
var goodacreLimits = FormLimits{MolarHeightMM: 4, OtherHeightMM: 3, LeastTOC: 10, MostTOC: 20, LeastProportion: 0.4}

func TestRetentiveForm(t *testing.T) {
	mm := func(v float64) *Length { l := MM(v); return &l }
	read := func(v float64) *Length { l := Caliper(v); return &l }
	at := func(v float64) *Angle { a := Deg(v); return &a }
	tests := []struct {
		name          string
		height, width *Length
		toc           *Angle
		position      Position
		want          FormVerdict
		missing       string
	}{
		{"nothing known", nil, nil, nil, "", NotDecidable, "height, total convergence, width at the margin"},
		{"tall molar, 15°", mm(4.5), nil, at(15), Molar, Adequate, "width at the margin"},
		{"tall molar, 15°, 10 wide", mm(4.5), mm(10), at(15), Molar, Adequate, ""},
		{"molar at the limits", mm(4), mm(10), at(20), Molar, Adequate, ""},
		{"short molar", mm(3.5), nil, at(12), Molar, Inadequate, ""},
		{"premolar of that height", mm(3.5), nil, at(12), Premolar, Adequate, "width at the margin"},
		{"that height somewhere", mm(3.5), nil, at(12), "", NotDecidable, "position, width at the margin"},
		{"too short anywhere", mm(2.8), nil, nil, "", Inadequate, ""},
		{"tall enough anywhere", mm(4.2), nil, at(12), "", Adequate, "width at the margin"},
		{"too tapered", mm(5), nil, at(26), Premolar, Inadequate, ""},
		{"tapered, nothing else known", nil, nil, at(26), "", Inadequate, ""},
		{"height only", mm(5), nil, nil, Molar, NotDecidable, "total convergence, width at the margin"},
		{"convergence only", nil, nil, at(12), Molar, NotDecidable, "height, width at the margin"},
		{"tall but wider still", mm(4), mm(11), at(12), Molar, Inadequate, ""},
		{"wide, convergence not known", mm(4), mm(12), nil, Molar, Inadequate, ""},
		{"proportion met, convergence not known", mm(5), mm(10), nil, Molar, NotDecidable, "total convergence"},
		{"within the caliper of 4 mm", read(4.05), nil, at(12), Molar, NotDecidable, "width at the margin"},
		{"parallel", mm(5), mm(9), at(0), Molar, Adequate, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, err := RetentiveForm(goodacreLimits, tt.height, tt.width, tt.toc, tt.position)
			if err != nil || f.Verdict != tt.want {
				t.Fatalf("got %s, %v, want %s; %v", f.Verdict, err, tt.want, f.Criteria)
			}
			if got := strings.Join(f.Missing, ", "); got != tt.missing {
				t.Errorf("missing: got %q, want %q", got, tt.missing)
			}
		})
	}
}

// More knowledge of a preparation never turns inadequate into adequate.
func TestFormNeverForgivesAMissedLimit(t *testing.T) {
	var heights, widths []*Length
	var angles []*Angle
	for _, v := range []float64{0, 2.5, 3, 3.5, 4, 5, 7} {
		l, w, a := MM(v), MM(3+v*1.5), Deg(v*6)
		heights, widths, angles = append(heights, &l), append(widths, &w), append(angles, &a)
	}
	heights[0], widths[0], angles[0] = nil, nil, nil
	for _, h := range heights {
		for _, w := range widths {
			for _, a := range angles {
				for _, p := range []Position{"", Anterior, Premolar, Molar} {
					f := must(RetentiveForm(goodacreLimits, h, w, a, p))
					missed := slices.ContainsFunc(f.Criteria, func(c FormCriterion) bool { return c.State == Missed })
					if missed != (f.Verdict == Inadequate) {
						t.Fatalf("%v %v %v %q: %s with %v", h, w, a, p, f.Verdict, f.Criteria)
					}
					if f.Verdict == Adequate && (h == nil || a == nil) {
						t.Fatalf("%v %v %v %q: adequate without height and convergence", h, w, a, p)
					}
				}
			}
		}
	}
}

func TestFormNotesASteepPreparation(t *testing.T) {
	h, a := MM(5), Deg(6)
	f := must(RetentiveForm(goodacreLimits, &h, nil, &a, Molar))
	if f.Verdict != Adequate || len(f.Notes) != 1 || !strings.Contains(f.Notes[0], "path of insertion") {
		t.Errorf("got %s, %q", f.Verdict, f.Notes)
	}
}

func TestFormRefusesBadInput(t *testing.T) {
	l, a := MM(40), Deg(12)
	if _, err := RetentiveForm(goodacreLimits, &l, nil, &a, Molar); err == nil || !strings.Contains(err.Error(), "height: got 40 mm") {
		t.Errorf("got %v", err)
	}
	if _, err := RetentiveForm(goodacreLimits, nil, nil, nil, "wisdom"); err == nil || err.Error() != `position: got "wisdom", allowed anterior, premolar, molar or empty` {
		t.Errorf("got %v", err)
	}
}
