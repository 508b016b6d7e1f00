package kb

import (
	"strings"
	"testing"
	"unicode"
)

func testLexicon(t testing.TB) *lexicon {
	t.Helper()
	x, err := embeddedLexicon()
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func analysed(x *lexicon, text string) string {
	var out []string
	for _, t := range x.analyse(text) {
		out = append(out, t.text)
	}
	return strings.Join(out, " ")
}

// TestNormalMeets holds together what means the same to a reader: each line's
// spellings must come out as the same tokens, given first.
func TestNormalMeets(t *testing.T) {
	x := testLexicon(t)
	for want, spellings := range map[string][]string{
		"50um particl":        {"50 µm", "50 μm", "50um", "50 microns", "50-micron", "50 MICRON", "50 micrometres", "50 µm."},
		"2.8bar pressur":      {"2.8 bar", "2,8 bar", "2.8bars"},
		"1500mpa strength":    {"1,500 MPa", "1500 megapascals"},
		"20s time":            {"20 s", "20 seconds", "20sec", "20 secs"},
		"16jpercm2 dose lamp": {"16 J/cm²", "16 J/cm2", "16 j / cm^2"},
		"3y":                  {"3Y", "3Y-TZP", "3Y‑TZP", "3y tzp"},
		"mdp":                 {"MDP", "10-MDP", "10 MDP", "10‑mdp", "phosphate monomer"},
		"rmgic":               {"RMGI", "RMGIC", "resin-modified glass ionomer", "resin modified glass ionomer cement"},
		"gic":                 {"GIC", "glass ionomer", "conventional glass-ionomer cement"},
		"sarc":                {"SARC", "self-adhesive resin cement", "self adhesive cements"},
		"sealeddentin dentin": {"IDS", "immediate dentin sealing", "immediate dentine sealing"},
		"intaglio":            {"intaglio", "fitting surface", "inside of the crown", "the inside", "internal surface", "inner surfaces"},
		"sandblast":           {"sandblasting", "sand-blasted", "air abrasion", "air-abraded", "blasting", "airborne-particle abrasion"},
		"crown debond":        {"crown came off", "the crown has come off", "crown fell out", "crown debonded", "crown's coming loose"},
		"crown loos":          {"crown is loose", "the crown loosened"},
		"cement":              {"cement", "luting", "glue", "the luting agent", "cementation"},
		"shade":               {"colour", "color", "shade", "colours"},
		"alumina":             {"aluminium oxide", "aluminum oxide", "Al2O3", "alumina"},
		"steril":              {"sterilise", "sterilize", "sterilisation", "autoclaved"},
		"hemostat":            {"haemostatic agent", "hemostatic", "astringent"},
		"ferric":              {"ferric sulphate", "ferric sulfate"},
		"unseat":              {"doesn't seat", "doesnt seat", "does not seat", "won't seat", "will not seat"},
		"not":                 {"not", "don't", "dont", "can't", "cannot"},
		"recement":            {"re-cement", "recementing", "put it back on", "stick it back on", "reglue"},
		"tryin":               {"try-in", "try in", "tried in", "trial fit"},
		"never etch":          {"never etch", "NEVER etch!"},
	} {
		for _, s := range spellings {
			if got := analysed(x, s); got != want {
				t.Errorf("%q comes out as %q, want %q", s, got, want)
			}
		}
	}
}

// TestNormalTellsApart holds apart what must not be mixed up.
func TestNormalTellsApart(t *testing.T) {
	x := testLexicon(t)
	for _, p := range [][2]string{
		{"3Y", "5Y"}, {"50 µm", "110 µm"}, {"2 bar", "2.8 bar"}, {"rmgic", "gic"}, {"inlay", "onlay"}, {"phosphoric acid", "hydrofluoric acid"},
		{"eugenol", "eugenol-free"}, {"dual-cure", "light-cure"}, {"etch", "do not etch"}, {"veneer", "crown"}, {"working time", "setting time"},
		{"resin-bonded bridge", "bridge"}, {"dentin", "denture"}, {"shade A3", "shade A3.5"}, {"silane", "saline"}, {"bond", "band"},
	} {
		if a, b := analysed(x, p[0]), analysed(x, p[1]); a == b {
			t.Errorf("%q and %q both come out as %q", p[0], p[1], a)
		}
	}
}

func TestWords(t *testing.T) {
	x := testLexicon(t)
	for text, want := range map[string]string{
		"UR6 zr crown, can't keep it dry": "ur6 zr crown not keep it dry",
		"A3.5 at 1.5 mm, w/o primer.":     "a3.5 at 1.5mm without primer",
		"ﬁlm thickness of the patient’s":  "film thickness of the patient",
		"":                                "",
		"…?!":                             "",
		"20°C 30° 5 %":                    "20degc 30deg 5%",
	} {
		if got := strings.Join(x.words(text), " "); got != want {
			t.Errorf("words of %q are %q, want %q", text, got, want)
		}
	}
}

func TestUnitAlsoSpeaksOfItsQuantity(t *testing.T) {
	x := testLexicon(t)
	tokens := x.analyse("60 psi")
	if len(tokens) != 2 || tokens[1].text != "pressur" || tokens[1].certain != unitMeaning || tokens[0].certain != 1 {
		t.Errorf("tokens are %+v", tokens)
	}
}

func FuzzNormalise(f *testing.F) {
	for _, s := range []string{"50 µm at 2,8 bar on 3Y-TZP", "don't", "a'b''c", "1,234,567.8.9 mm2", "ﬁ½ºß\u0301", "w/o re-cement", "١٢ mm", "\xff\xfe", strings.Repeat("a-", 200)} {
		f.Add(s)
	}
	x := testLexicon(f)
	f.Fuzz(func(t *testing.T, text string) {
		words := x.words(text)
		for _, w := range words {
			if w == "" || strings.ContainsFunc(w, unicode.IsSpace) {
				t.Errorf("word %q of %q", w, text)
			}
		}
		tokens := x.tokens(words)
		for _, tok := range tokens {
			if tok.text == "" || tok.certain <= 0 || tok.certain > 1 || strings.ContainsFunc(tok.text, unicode.IsSpace) {
				t.Errorf("token %+v of %q", tok, text)
			}
		}
		if got := analysed(x, strings.ToUpper(strings.ToLower(text))); isASCII(text) && got != analysed(x, text) {
			t.Errorf("%q reads differently in capitals: %q", text, got)
		}
	})
}

func isASCII(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r > unicode.MaxASCII }) < 0
}
