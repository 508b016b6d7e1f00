package talk

import (
	"bufio"
	"fmt"
	"hash/fnv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mortarboard/planner"
)

// labelled is one message of testdata/questions/messages.tsv with what its
// writer, who did not know the vocabulary, says it means.
type labelled struct {
	line      int
	message   string
	facts     map[string]string
	conflicts []string
	intents   []string
	strategy  string
}

// heldOut tells which messages are kept aside while the vocabulary is tuned.
func (l labelled) heldOut() bool {
	h := fnv.New32a()
	h.Write([]byte(l.message))
	return h.Sum32()%2 == 1
}

func readLabelled(t *testing.T) []labelled {
	file, err := os.Open("../../testdata/questions/messages.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var out []labelled
	in := bufio.NewScanner(file)
	for n := 1; in.Scan(); n++ {
		if n == 1 || strings.HasPrefix(in.Text(), "# ") || in.Text() == "" {
			continue
		}
		cells := strings.Split(in.Text(), "\t")
		if len(cells) < 4 {
			t.Fatalf("messages.tsv:%d: %d columns, wanted at least 4", n, len(cells))
		}
		l := labelled{line: n, message: cells[0], facts: map[string]string{}, intents: strings.Split(cells[2], "+"), strategy: cells[3]}
		for cell := range strings.SplitSeq(cells[1], ";") {
			if name, conflict := strings.CutPrefix(cell, "!"); conflict {
				l.conflicts = append(l.conflicts, name)
			} else if i := strings.IndexAny(cell, "=<>"); i > 0 {
				l.facts[cell[:i]] = strings.TrimPrefix(cell[i:], "=")
			}
		}
		out = append(out, l)
	}
	return out
}

// written is what a reading says of a fact, in the labels' form.
func (s stated) written() string {
	if s.within == nil {
		v := slices.Clone(s.values)
		slices.Sort(v)
		return strings.Join(v, "|")
	}
	f := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	switch r := *s.within; {
	case r.Exact():
		return f(r.From)
	case r.From == noLow:
		return "<" + f(r.To)
	default:
		return ">" + f(r.From)
	}
}

func normalLabel(label string) string {
	label = strings.NewReplacer("<=", "<", ">=", ">").Replace(label)
	v := strings.Split(label, "|")
	slices.Sort(v)
	return strings.Join(v, "|")
}

func TestFactsProbe(t *testing.T) {
	if os.Getenv("PROBE") == "" {
		t.Skip("set PROBE=1 to print the misreadings of the tuning half")
	}
	book := planner.MustLoad()
	x, err := newLexicon(planner.Rules(), book)
	if err != nil {
		t.Fatal(err)
	}
	var right, wrong, missed [2]int
	for _, l := range readLabelled(t) {
		if slices.Contains(l.intents, "declined") {
			continue
		}
		half := 0
		if l.heldOut() {
			half = 1
		}
		r := x.read(l.message, book)
		got := map[string]string{}
		for _, s := range r.facts {
			if !slices.Contains(r.conflicts, s.fact) {
				got[s.fact] = s.written()
			}
		}
		var notes []string
		for fact, v := range got {
			switch want, ok := l.facts[fact]; {
			case ok && normalLabel(want) == v:
				right[half]++
			default:
				wrong[half]++
				notes = append(notes, fmt.Sprintf("+%s=%s", fact, v))
			}
		}
		for fact, want := range l.facts {
			if normalLabel(want) != got[fact] {
				missed[half]++
				notes = append(notes, fmt.Sprintf("-%s=%s", fact, want))
			}
		}
		for _, c := range l.conflicts {
			if !slices.Contains(r.conflicts, c) {
				notes = append(notes, "no conflict "+c)
			}
		}
		if half == 0 && notes != nil {
			fmt.Printf("%d: %s\n\t%s\n", l.line, l.message, strings.Join(notes, "  "))
		}
	}
	for half, name := range []string{"tuning", "held out"} {
		p := float64(right[half]) / float64(right[half]+wrong[half])
		r := float64(right[half]) / float64(right[half]+missed[half])
		fmt.Printf("%s: precision %.3f recall %.3f (%d right, %d wrong, %d missed)\n", name, p, r, right[half], wrong[half], missed[half])
	}
}
