package talk

import (
	"maps"
	"slices"
	"strings"
	"testing"
)

// readAs is what a message is read to say, as "fact=value" in order of the facts.
func readAs(c *Talk, message string) string {
	got := factsRead(c.words.read(message, c.book))
	var out []string
	for _, fact := range slices.Sorted(maps.Keys(got)) {
		out = append(out, fact+"="+got[fact])
	}
	return strings.Join(out, " ")
}

// TestRulesOfReading holds the rules that no list of phrases can stand for: what
// the order of a tale, the other words of a clause, or the next clause make of a value.
func TestRulesOfReading(t *testing.T) {
	talk := testTalk(t)
	for _, c := range []struct{ says, want string }{
		// what got onto a treated surface
		{"etch rinsed, dried, then her tongue touched it", "mishap=etched tooth"},
		{"blood ran over the adhesive", "mishap=adhesive on tooth"},
		{"primer in the bridge, and he coughed into it", "mishap=primed intaglio restoration=bridge"},
		{"no contamination after priming", "mishap=none"},
		{"primed and seated the crown, then wiped away saliva", "restoration=crown"},
		{"after priming keep saliva away", ""},
		{"saliva inside, so adhesive or conventional", "intaglio=saliva"},
		// what was done to the tooth and not to the crown
		{"enamel etched with phosphoric acid", ""},
		{"inside etched with phosphoric acid", "intaglio=etched with phosphoric acid"},
		{"cleaned the prep", ""},
		{"cleaned the crown", "intaglio=cleaned restoration=crown"},
		// deeds that look like a value
		{"etch, rinse, dry, prime", ""},
		{"the glove was wet", ""},
		{"margin supra, dry", "isolation=dry margin_level=supragingival"},
		// what nobody knows
		{"IDS unknown", ""},
		{"IDS? no idea", ""},
		{"IDS done, not sure what to use", "dentin_sealed=yes"},
		{"dont remember if it was eugenol or non eugenol", ""},
		{"lab doesnt say whether it was blasted", ""},
		// answers, and entries of a list
		{"was the dentin sealed? yes", "dentin_sealed=yes"},
		{"was the dentin sealed? no", "dentin_sealed=no"},
		{"lab blasted: no", "lab_abraded=no"},
		{"IDS = no / dam on", "dentin_sealed=no isolation=dry"},
		{"IDS was planned but not carried out", "dentin_sealed=no"},
		// what holds now, and where
		{"bleeding earlier but dry now", "isolation=dry"},
		{"was dry until I took the cord out, now oozing", "isolation=doubtful"},
		{"dry now, still bleeding", "isolation=impossible"},
		{"was bleeding, rest is dry", "isolation=impossible"},
		{"dry buccally", "isolation=doubtful"},
		{"dry on all sides", "isolation=dry"},
		{"dry now, but I dont trust it", ""},
		{"enamel good buccally, none palatally", "enamel=partial"},
		// a depth that follows in a clause of its own
		{"under the gum, say half a millimetre", "margin_depth_mm=0.5 margin_level=subgingival"},
		{"old filling: margin on the old amalgam", "margin=core"},
		{"80% enamel", "enamel=ample"},
	} {
		if got := readAs(talk, c.says); got != c.want {
			t.Errorf("%q is read as %q, want %q", c.says, got, c.want)
		}
	}
}
