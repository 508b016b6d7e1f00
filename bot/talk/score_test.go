package talk

import (
	"bufio"
	"cmp"
	"context"
	"fmt"
	"hash/fnv"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
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

func readLabelled(t *testing.T, name string) []labelled {
	file, err := os.Open("../../testdata/questions/" + name)
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
			t.Fatalf("%s:%d: %d columns, wanted at least 4", name, n, len(cells))
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

// A score counts how messages were understood.
type score struct {
	name                      string
	right, wrong, missed      int // facts
	strategies, strategyRight int
	flatWrong                 int // a flat strategy where another was labelled
	intents                   map[string]map[string]int
	messages, intentRight     int
	misread                   []string
}

func (s *score) precision() float64 { return float64(s.right) / float64(s.right+s.wrong) }
func (s *score) recall() float64    { return float64(s.right) / float64(s.right+s.missed) }
func (s *score) strategy() float64  { return float64(s.strategyRight) / float64(s.strategies) }
func (s *score) intent() float64    { return float64(s.intentRight) / float64(s.messages) }

// readFacts is what a message was read to say, in the labels' form.
func readFacts(turn *turn) map[string]string {
	got := map[string]string{}
	for _, f := range turn.facts {
		if !slices.Contains(turn.conflicts, f.fact) {
			got[f.fact] = f.written()
		}
	}
	return got
}

// facts compares what a message was read to say with its label.
func (s *score) facts(l labelled, got map[string]string) {
	var notes []string
	for _, fact := range slices.Sorted(maps.Keys(got)) {
		if want, ok := l.facts[fact]; ok && normalLabel(want) == got[fact] {
			s.right++
			continue
		}
		s.wrong++
		notes = append(notes, "+"+fact+"="+got[fact])
	}
	for _, fact := range slices.Sorted(maps.Keys(l.facts)) {
		if normalLabel(l.facts[fact]) != got[fact] {
			s.missed++
			notes = append(notes, "-"+fact+"="+l.facts[fact])
		}
	}
	if notes != nil {
		s.misread = append(s.misread, fmt.Sprintf("%s\t%s", l.message, strings.Join(notes, " ")))
	}
}

// answer compares kind and strategy with the label.
func (s *score) answer(l labelled, r Reply) {
	s.messages++
	if slices.Contains(l.intents, string(r.Kind)) {
		s.intentRight++
	} else {
		s.misread = append(s.misread, fmt.Sprintf("%s\t%s, labelled %s", l.message, r.Kind, strings.Join(l.intents, "+")))
	}
	if s.intents[l.intents[0]] == nil {
		s.intents[l.intents[0]] = map[string]int{}
	}
	s.intents[l.intents[0]][string(r.Kind)]++
	if l.strategy == "-" {
		return
	}
	s.strategies++
	switch flat := r.Strategy == "bond" || r.Strategy == "cement"; {
	case r.Strategy == l.strategy:
		s.strategyRight++
	case flat:
		s.flatWrong++
		s.misread = append(s.misread, fmt.Sprintf("%s\tflatly %s, labelled %s", l.message, r.Strategy, l.strategy))
	default:
		s.misread = append(s.misread, fmt.Sprintf("%s\t%s %s, labelled %s", l.message, r.Kind, r.Strategy, l.strategy))
	}
}

const messagesGolden = "../../testdata/questions/messages-golden.txt"

// The sets of labelled messages, each cut into a half that was tuned on and one
// that was held out. A set without a name for the second half was tuned on whole.
var messageSets = []struct {
	file, tuned, held string
	floors            floors // of the half held out
	twice             bool   // the half held out was labelled a second time
}{
	{"messages.tsv", "tuned", "held out", floors{precision: 0.95, recall: 0.93, strategy: 0.88, intent: 0.88}, true},
	// The labels are older than the fact of what was found at the try-in, and a stop for it counts as a miss.
	{"messages-later.tsv", "later, tuned", "later, held out", floors{precision: 0.90, recall: 0.86, strategy: 0.80, intent: 0.81}, true},
	{"messages-third.tsv", "third, tuned", "third, held out", floors{precision: 0.93, recall: 0.91, strategy: 0.74, intent: 0.88, flatlyWrong: 2}, false},
	{file: "messages-fourth.tsv", tuned: "fourth, tuned"},
}

// floors are the shares below which a test fails, and the messages above which it does
// that are answered with a flat strategy which is not the labelled one.
type floors struct {
	precision, recall, strategy, intent float64
	flatlyWrong                         int
}

// TestMessages measures how staff's messages are understood, on labels written
// by people who did not know the vocabulary. Half of most sets is held out. The
// figures stand in a golden file, so that a change of them shows in the diff;
// floors are asserted on the halves that nobody tuned on.
func TestMessages(t *testing.T) {
	oneByOne(t)
	conversation := testTalk(t)
	again := secondLabels(t)
	var scores, agreed []*score
	for _, set := range messageSets {
		tuned, held, second := newScore(set.tuned), newScore(set.held), newScore(set.held)
		for _, l := range readLabelled(t, set.file) {
			s := tuned
			if l.heldOut() && set.held != "" {
				s = held
				if label, twice := again[l.message]; twice && set.twice {
					second.agree(l, label)
				}
			}
			s.take(t, conversation, l)
		}
		scores = append(scores, tuned)
		if set.held != "" {
			held.hold(t, set.floors)
			scores = append(scores, held)
		}
		if second.messages > 0 {
			agreed = append(agreed, second)
		}
	}
	golden(t, messagesGolden, report(scores, agreed))
}

// secondLabels are the messages held out as somebody labelled them who had seen
// neither the first labels nor the program: how far two people agree bounds what the
// figures can mean.
func secondLabels(t *testing.T) map[string]labelled {
	out := map[string]labelled{}
	for _, l := range readLabelled(t, "messages-second.tsv") {
		out[l.message] = l
	}
	return out
}

// agree counts a second label as if it were what the program had read.
func (s *score) agree(l, second labelled) {
	s.messages++
	if !slices.Contains(l.intents, "declined") {
		got := map[string]string{}
		for fact, value := range second.facts {
			got[fact] = normalLabel(value)
		}
		s.facts(l, got)
	}
	if slices.ContainsFunc(l.intents, func(i string) bool { return slices.Contains(second.intents, i) }) {
		s.intentRight++
	}
	if l.strategy == "-" || second.strategy == "-" {
		return
	}
	s.strategies++
	if l.strategy == second.strategy {
		s.strategyRight++
	}
}

func newScore(name string) *score {
	return &score{name: name, intents: map[string]map[string]int{}}
}

func (s *score) take(t *testing.T, conversation *Talk, l labelled) {
	if !slices.Contains(l.intents, "declined") {
		s.facts(l, readFacts(conversation.begin(l.message, Remembered{})))
	}
	r, err := conversation.Handle(context.Background(), Message{Thread: s.name + strconv.Itoa(l.line), Text: l.message})
	if err != nil {
		t.Fatal(err)
	}
	s.answer(l, r)
}

func (s *score) hold(t *testing.T, least floors) {
	t.Helper()
	for _, c := range []struct {
		what       string
		got, least float64
	}{
		{"fact precision", s.precision(), least.precision}, {"fact recall", s.recall(), least.recall},
		{"strategy accuracy", s.strategy(), least.strategy}, {"intent accuracy", s.intent(), least.intent},
	} {
		if c.got < c.least {
			t.Errorf("%s: %s is %.3f, the floor is %.3f", s.name, c.what, c.got, c.least)
		}
	}
	if s.flatWrong > least.flatlyWrong {
		t.Errorf("%s: %d messages were answered with a flat strategy that is not the labelled one, at most %d may be", s.name, s.flatWrong, least.flatlyWrong)
	}
}

func report(scores, agreed []*score) string {
	var b strings.Builder
	b.WriteString("# How the labelled messages are understood. Written by: go test ./bot/talk -run TestMessages -update\n")
	b.WriteString("# The vocabulary was tuned on one half of each set, of the fourth on all; the other was held out, and its misreadings are not listed.\n\n")
	b.WriteString("half             messages  fact precision  fact recall  strategy  flatly wrong  intent\n")
	for _, s := range scores {
		fmt.Fprintf(&b, "%-16s %8d  %14.3f  %11.3f  %8.3f  %12d  %6.3f\n", s.name, s.messages, s.precision(), s.recall(), s.strategy(), s.flatWrong, s.intent())
	}
	b.WriteString("\n# How far a second person, who knew the rules of labelling and neither the program nor the first labels, agrees with these.\n")
	for _, s := range agreed {
		fmt.Fprintf(&b, "%-16s %8d  %14.3f  %11.3f  %8.3f  %12s  %6.3f\n", s.name, s.messages, s.precision(), s.recall(), s.strategy(), "-", s.intent())
	}
	for _, s := range scores {
		fmt.Fprintf(&b, "\n## intent, %s: labelled (rows) against answered\n", s.name)
		confusion(&b, s.intents)
	}
	for _, s := range scores {
		if strings.HasSuffix(s.name, "tuned") {
			fmt.Fprintf(&b, "\n## %s: misread (message, then + read wrongly, - not read, or the strategy)\n", s.name)
			b.WriteString(strings.Join(append(s.misread, ""), "\n"))
		}
	}
	return b.String()
}

func confusion(b *strings.Builder, table map[string]map[string]int) {
	kinds := []string{"plan", "value", "check", "calculation", "article", "help", "declined"}
	fmt.Fprintf(b, "%-12s", "")
	for _, k := range kinds {
		fmt.Fprintf(b, "%12s", k)
	}
	b.WriteString("\n")
	for _, row := range kinds {
		fmt.Fprintf(b, "%-12s", row)
		for _, k := range kinds {
			fmt.Fprintf(b, "%12d", table[row][k])
		}
		b.WriteString("\n")
	}
}

// golden compares text with a file, or rewrites the file with -update.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v: run with -update to write it", err)
	}
	if string(want) != got {
		t.Errorf("%s differs; run with -update and read the diff: %s", file, firstDifference(string(want), got))
	}
}

// TestOutside puts questions that are not ours through the whole path.
func TestOutside(t *testing.T) {
	oneByOne(t)
	conversation := testTalk(t)
	data, err := os.ReadFile("../../testdata/questions/outside.tsv")
	if err != nil {
		t.Fatal(err)
	}
	asked, answered := 0, 0
	for i, line := range strings.Split(string(data), "\n") {
		question, _, ok := strings.Cut(line, "\t")
		if !ok || strings.HasPrefix(line, "# ") || i == 0 {
			continue
		}
		asked++
		r, err := conversation.Handle(context.Background(), Message{Thread: "outside" + strconv.Itoa(i), Text: question})
		if err != nil {
			t.Fatal(err)
		}
		if r.Kind != KindDeclined {
			answered++
			t.Logf("answered as %s: %s", cmp.Or(r.Strategy, string(r.Kind)), question)
		}
	}
	if share := 1 - float64(answered)/float64(asked); share < 0.94 {
		t.Errorf("declined %.3f of %d questions that are not ours, the floor is 0.94", share, asked)
	}
}
