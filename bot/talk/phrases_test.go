package talk

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"mortarboard/planner"
)

// A phrasing is one line of testdata/questions/phrases.tsv.
type phrasing struct {
	line    int
	message string
	facts   map[string]string // as in the labels of messages.tsv
	asks    []string          // parameter keys, on a line that asks for settings
}

func readPhrasings(t *testing.T) []phrasing {
	data, err := os.ReadFile("../../testdata/questions/phrases.tsv")
	if err != nil {
		t.Fatal(err)
	}
	var out []phrasing
	for n, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "# ") || line == "#" {
			continue
		}
		message, label, ok := strings.Cut(line, "\t")
		if !ok {
			t.Fatalf("phrases.tsv:%d: no tab", n+1)
		}
		p := phrasing{line: n + 1, message: message, facts: map[string]string{}}
		if keys, asks := strings.CutPrefix(label, "asks="); asks {
			p.asks = strings.Split(keys, ";")
		} else {
			for cell := range strings.SplitSeq(label, ";") {
				if fact, value, ok := strings.Cut(cell, "="); ok {
					p.facts[fact] = normalLabel(value)
				}
			}
		}
		out = append(out, p)
	}
	return out
}

// A tally counts what was read as it was meant.
type tally struct {
	right, wrong, missed int
	misread              []string
}

func (s *tally) precision() float64 { return float64(s.right) / float64(s.right+s.wrong) }
func (s *tally) recall() float64    { return float64(s.right) / float64(s.right+s.missed) }

// compare counts got against want; both map a name to what is said of it.
func (s *tally) compare(p phrasing, want, got map[string]string) {
	var notes []string
	for _, name := range slices.Sorted(maps.Keys(got)) {
		if want[name] == got[name] {
			s.right++
			continue
		}
		s.wrong++
		notes = append(notes, "+"+name+"="+got[name])
	}
	for _, name := range slices.Sorted(maps.Keys(want)) {
		if want[name] != got[name] {
			s.missed++
			notes = append(notes, "-"+name+"="+want[name])
		}
	}
	if notes != nil {
		s.misread = append(s.misread, p.message+"\t"+strings.Join(notes, " "))
	}
}

// floors fails the test below them, and then lists what was misread.
func (s *tally) floors(t *testing.T, what string, precision, recall float64) {
	t.Logf("%s: precision %.4f, recall %.4f (%d right, %d wrong, %d missed)", what, s.precision(), s.recall(), s.right, s.wrong, s.missed)
	if s.precision() < precision || s.recall() < recall {
		t.Errorf("%s: precision %.4f, recall %.4f; the floors are %.2f and %.2f. Misread:\n%s", what, s.precision(), s.recall(), precision, recall, strings.Join(s.misread, "\n"))
	}
}

// factsRead is what a message was read to say; a fact in conflict says so.
func factsRead(r reading) map[string]string {
	got := map[string]string{}
	for _, s := range r.facts {
		got[s.fact] = s.written()
		if slices.Contains(r.conflicts, s.fact) {
			got[s.fact] = "conflict"
		}
	}
	return got
}

// TestPhrases guards the breadth of the vocabulary. The lines were written together
// with it and are no independent measure.
func TestPhrases(t *testing.T) {
	conversation := testTalk(t)
	var facts, asks tally
	for _, p := range readPhrasings(t) {
		if p.asks == nil {
			facts.compare(p, p.facts, factsRead(conversation.words.read(p.message, conversation.book)))
			continue
		}
		want, got := map[string]string{}, map[string]string{}
		for _, key := range p.asks {
			want[key] = "asked"
		}
		for _, key := range conversation.begin(p.message, Remembered{}).keys {
			got[key] = "asked"
		}
		asks.compare(p, want, got)
	}
	if facts.right < 4000 || asks.right < 600 {
		t.Errorf("phrases.tsv holds only %d facts and %d questions that are read", facts.right, asks.right)
	}
	facts.floors(t, "facts", 0.99, 0.96)
	asks.floors(t, "settings asked for", 0.97, 0.96)
}

// TestHowPhrasesAreFound pins the general ways of reading on which the vocabulary
// relies, each beside what it must not be confused with.
func TestHowPhrasesAreFound(t *testing.T) {
	oneByOne(t)
	book := planner.MustLoad()
	x, err := newLexicon(planner.Rules(), book)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ message, want string }{
		// a phrase with room in it, and what stands in the room
		{"can't keep the lower left six dry", "isolation=impossible position=molar"},
		{"cant for the life of me keep this dry", "isolation=impossible"},
		{"hard to keep the 5Y veneer dry", "isolation=doubtful restoration=veneer zirconia=5Y"},
		{"lab has not sandblasted", "lab_abraded=no"},
		{"saliva got in the crown", "intaglio=saliva restoration=crown"},
		// a judgement goes to the word before or behind it
		{"retention good isolation poor", "isolation=doubtful retention=adequate"},
		{"good retention poor isolation", "isolation=doubtful retention=adequate"},
		{"retention with good isolation", "isolation=dry"},
		{"good retention and isolation", "isolation=dry retention=adequate"},
		{"isolation hopeless prep fine", "isolation=impossible retention=adequate"},
		{"retention nil enamel plentiful isolation fine", "enamel=ample isolation=dry retention=inadequate"},
		{"iso: ok / ret: ok", "isolation=dry retention=adequate"},
		{"isolation? forget it", "isolation=impossible"},
		{"margin? root", "margin=dentin"},
		{"minimal prep", ""},
		{"is the retention good", ""},
		{"what ISO class do I need", ""},
		{"ok thanks, perfect", ""},
		// what a "not" reaches, and what it leaves alone
		{"isolation isn't good", "isolation=doubtful"},
		{"I wouldn't call the prep retentive", "retention=inadequate"},
		{"no grinding or clenching", "load=normal"},
		{"not sure 4Y or 5Y", "zirconia=4Y|5Y"},
		{"why don't we bond 3Y", "zirconia=3Y"},
		{"no prep veneer", "restoration=veneer"},
		{"isolation not great not temporised", "isolation=doubtful provisional_cement=none"},
		{"not a bridge, just a single crown", "restoration=crown"},
		{"dry? no chance", "isolation=doubtful|impossible"},
		{"is not translucent", "zirconia=3Y|multilayer"},
		// a bit of it is not all of it
		{"slightly bleeding papilla", "isolation=doubtful"},
		{"bleeding", "isolation=impossible"},
		// margin and enamel
		{"margin in enamel, root on the distal", "margin=mixed"},
		{"margins are on sound enamel", "margin=enamel"},
		{"margin rests on composite core", "margin=core substrate=composite core"},
		{"next to no enamel", "enamel=none"},
		// asked, defined, or of another tooth
		{"what is a bruxer", ""},
		{"what does RMGI stand for", ""},
		{"is it dry", ""},
		{"the crown on the tooth next door came loose last year", ""},
		{"crown came off yesterday", "occasion=re-cementation restoration=crown"},
		// how things are written
		{"margins: dentine", "margin=dentin"},
		{"retention's decent, crown's 3Y", "restoration=crown retention=adequate zirconia=3Y"},
		{"cant keeep it dry", "isolation=impossible"},
		{"4 or 5Y", "zirconia=4Y|5Y"},
		{"gradient, 4Y to 5Y", "zirconia=multilayer"},
		{"wall .8 mm", "wall_mm=0.8"},
		{"primed, then saliva got in", "mishap=primed intaglio"},
		{"nothing but dentin", "enamel=none"},
		{"3Y? no, lab says 5Y", "zirconia=5Y"},
		// a dash sets clauses apart, but ties a label to its value
		{"UR6 - wall 0.9 mm - dentine margin - dam", "isolation=dry margin=dentin position=molar wall_mm=0.9"},
		{"prep - short", "retention=inadequate"},
		// numbers
		{"its 4Y, might even be a 5, crown", "restoration=crown zirconia=4Y|5Y"},
		{"4Y crown, might be 5 mm high", "height_mm=5 restoration=crown zirconia=4Y"},
		{"unit 11, 3Y", "position=anterior zirconia=3Y"},
		{"conv crown prep 37", "position=molar restoration=crown"},
		{"3Y, prep 4 mm", "height_mm=4 zirconia=3Y"},
		{"3Y, prep 0.8 mm", "zirconia=3Y"},
		{"margin 1 mm above the gum", "margin_level=supragingival"},
		{"docket says 3Y / 46 / crown", "position=molar restoration=crown zirconia=3Y"},
		{"9 / 6 / 4", "height_mm=4 width_mm=9"},
		{"bridge LR5-7", "position=molar|premolar restoration=bridge span_units=3"},
		{"height buccal 4 lingual 4", "height_mm=4"},
		{"prep height four mm isolation good gum healthy", "height_mm=4 isolation=dry"},
		// what is denied leaves nothing behind, or what was said besides
		{"no bleeding", ""},
		{"not UL6, UL5", "position=premolar"},
		{"resin allergy: none known", "resin_allergy=no"},
		{"hoping to keep it dry", ""},
		// a dam is one where nothing but facts stands before it
		{"4Y crown UR5 dam", "isolation=dry position=premolar restoration=crown zirconia=4Y"},
		{"4Y crown, need dam", "restoration=crown zirconia=4Y"},
		{"4Y crown dam?", "restoration=crown zirconia=4Y"},
		// margins on two things
		{"distal margin on amalgam, other sides dentine", "margin=core|dentin"},
		{"margin in enamel except mesially", "margin=mixed"},
		{"tooth etched, tongue touched it", "mishap=etched tooth"},
	} {
		got := factsRead(x.read(c.message, book))
		var facts []string
		for _, fact := range slices.Sorted(maps.Keys(got)) {
			facts = append(facts, fact+"="+got[fact])
		}
		if read := strings.Join(facts, " "); read != c.want {
			t.Errorf("%s\n\tread   %s\n\twanted %s", c.message, read, c.want)
		}
	}
}

// TestPhrasesStandOnce refuses a phrase that names two values: which of them were
// read would be chance.
func TestPhrasesStandOnce(t *testing.T) {
	oneByOne(t)
	x, err := newLexicon(planner.Rules(), planner.MustLoad())
	if err != nil {
		t.Fatal(err)
	}
	for list, all := range x.lists {
		if list == "about" || strings.HasPrefix(list, "cue:") {
			continue // one word may speak of several facts
		}
		seen := map[string]string{}
		for _, phrases := range all.byFirst {
			for _, p := range phrases {
				words := strings.Join(p.words, " ")
				names := p.sense.list + " " + p.sense.name + " " + strings.Join(p.sense.values, "|")
				if before, ok := seen[words]; ok && before != names {
					t.Errorf("%s: %q stands under %q and under %q", list, words, before, names)
				}
				seen[words] = names
			}
		}
	}
}

// TestNoPhraseEndsInAGap finds an X that leaves room for nothing.
func TestNoPhraseEndsInAGap(t *testing.T) {
	oneByOne(t)
	x, err := newLexicon(planner.Rules(), planner.MustLoad())
	if err != nil {
		t.Fatal(err)
	}
	gaps := 0
	for list, all := range x.lists {
		for first, phrases := range all.byFirst {
			for _, p := range phrases {
				if last := p.words[len(p.words)-1]; first == gap || last == gap {
					t.Errorf("%s: %q begins or ends in X", list, strings.Join(p.words, " "))
				}
				if !slices.Contains(p.words, gap) {
					continue
				}
				if gaps++; !slices.Contains([]string{"facts", "parameters", "tasks"}, list) && !strings.HasPrefix(list, "weak:") && !strings.HasPrefix(list, "cue:shelf-") {
					t.Errorf("%s: %q: an X is only understood under facts, weak, ignore, parameters, tasks and the cues of the shelf", list, strings.Join(p.words, " "))
				}
			}
		}
	}
	if gaps == 0 {
		t.Error("no phrase has a gap")
	}
}
