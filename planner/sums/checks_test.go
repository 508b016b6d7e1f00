package sums

import (
	"bytes"
	"cmp"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"text/tabwriter"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// separate is the source of check values that were computed in python 3.11
// from the formulas, apart from this program and before it.
const separate = "separate calculation (python 3.11)"

// A check compares one result with one value from elsewhere.
type check struct {
	name      string
	got, want float64
}

// A table is a set of checks of one calculation against one source. tolerance
// is half a unit of the last digit that the source gives, unless noted.
type table struct {
	calculation string
	source      string
	tolerance   float64
	unit        Unit
	checks      []check
}

// largest is the largest deviation in the table.
func (tb table) largest() float64 {
	var worst float64
	for _, c := range tb.checks {
		worst = math.Max(worst, math.Abs(c.got-c.want))
	}
	return worst
}

// must takes the value out of a result whose inputs are known to be right.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func allTables(t *testing.T) []table {
	return slices.Concat(geometryTables(), resistanceTables(), cementTables(), lightTables(), strengthTables(),
		forceTables(), colourTables(t))
}

func TestCheckTables(t *testing.T) {
	for _, tb := range allTables(t) {
		t.Run(tb.calculation, func(t *testing.T) {
			if len(tb.checks) == 0 {
				t.Fatal("the table is empty")
			}
			for _, c := range tb.checks {
				if off := math.Abs(c.got - c.want); !(off <= tb.tolerance*(1+1e-9)) {
					t.Errorf("%s: got %v, %s has %v (tolerance %v)", c.name, c.got, tb.source, c.want, tb.tolerance)
				}
			}
		})
	}
}

// TestDeviations keeps the table of every calculation, what it was checked
// against and how far off it was, in testdata/published/deviations.txt.
func TestDeviations(t *testing.T) {
	compareGolden(t, "deviations.txt", deviations(allTables(t)))
}

func deviations(tables []table) []byte {
	var b bytes.Buffer
	b.WriteString("# Every calculation, what it was checked against, and the largest deviation found.\n" +
		"# Written by: go test ./planner/sums -run TestDeviations -update\n\n")
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "calculation\tchecks\tlargest deviation\ttolerance\tchecked against")
	for _, tb := range tables {
		fmt.Fprintf(w, "%s\t%d\t%s\t%s\t%s\n", tb.calculation, len(tb.checks),
			measure(rounded(tb.largest(), tb.tolerance), tb.unit), measure(tb.tolerance, tb.unit), tb.source)
	}
	w.Flush()
	return b.Bytes()
}

// rounded drops what differs between processors: digits below a hundredth of
// the tolerance.
func rounded(v, tolerance float64) float64 {
	if step := tolerance / 100; step > 0 {
		return math.Round(v/step) * step
	}
	return v
}

func measure(v float64, u Unit) string {
	return fmt.Sprintf("%.2g%s", v, suffix(cmp.Or(u, Ratio)))
}

func published(name string) string {
	return filepath.Join("..", "..", "testdata", "published", name)
}

func compareGolden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := published(name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; run with -update and read the diff\ngot:\n%s\nwant:\n%s", path, got, want)
	}
}
