package draw

import (
	"fmt"
	"slices"
	"strings"
)

// The sides of a reason and the strategies, as the answer contract names them.
const (
	Bond    = "bond"
	Cement  = "cement"
	Either  = "either"
	Depends = "depends"
	Stop    = "stop"
)

// The weights of a reason, as the answer contract names them.
const (
	Decisive = "decisive"
	Strong   = "strong"
	Weak     = "weak"
)

// A Reason is one argument on the balance.
type Reason struct {
	For    string // Bond, Cement or Stop
	Weight string // Decisive, Strong or Weak
	Label  string // in a few words; a long one is cut
}

// A Balance weighs the reasons for bonding against those for conventional
// cementation.
type Balance struct {
	Strategy string // Bond, Cement, Either, Depends or Stop
	Leaning  string // Bond, Cement or empty
	Reasons  []Reason
}

// Drawing draws the reasons as weights in the pans of a balance, which tips as
// the strategy leans, and lists them below; reasons to stop stand across both
// sides and hold the beam still.
func (b Balance) Drawing() (Drawing, error) { return finish(b.layout()) }

func (b Balance) layout() (*sheet, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	s := newSheet("balance", b.alt())
	s.title(b.sign(), b.title(), "")
	b.scales(s)
	b.stops(s)
	b.columns(s)
	s.foot("The bigger and fuller a block, the weightier the reason. A decisive one is overruled by nothing but another decisive one.")
	return s, nil
}

func (b Balance) check() error {
	if !slices.Contains([]string{Bond, Cement, Either, Depends, Stop}, b.Strategy) {
		return fmt.Errorf("strategy: got %q, allowed bond, cement, either, depends, stop", b.Strategy)
	}
	if b.Leaning != "" && b.Leaning != Bond && b.Leaning != Cement {
		return fmt.Errorf("leaning: got %q, allowed bond, cement or none", b.Leaning)
	}
	if decided := b.Strategy == Bond || b.Strategy == Cement; decided && b.Leaning != "" && b.Leaning != b.Strategy {
		return fmt.Errorf("leaning: got %q with the strategy %q, allowed the same or none", b.Leaning, b.Strategy)
	}
	if b.Strategy == Stop && b.Leaning != "" {
		return fmt.Errorf("leaning: got %q with the strategy stop, allowed none", b.Leaning)
	}
	if len(b.Reasons) == 0 {
		return fmt.Errorf("reasons: got none, allowed at least one")
	}
	for i, r := range b.Reasons {
		if err := r.check(); err != nil {
			return fmt.Errorf("reason %d: %w", i+1, err)
		}
	}
	return b.consistent()
}

func (r Reason) check() error {
	switch {
	case r.For != Bond && r.For != Cement && r.For != Stop:
		return fmt.Errorf("for: got %q, allowed bond, cement, stop", r.For)
	case r.Weight != Decisive && r.Weight != Strong && r.Weight != Weak:
		return fmt.Errorf("weight: got %q, allowed decisive, strong, weak", r.Weight)
	case strings.TrimSpace(r.Label) == "":
		return fmt.Errorf("label: got none, allowed a few words")
	}
	return nil
}

// consistent refuses a strategy that the reasons shown deny, since the beam
// would tip away from the heavier pan.
func (b Balance) consistent() error {
	stops := len(b.side(Stop)) > 0
	bond, cement := b.decisive(Bond), b.decisive(Cement)
	switch {
	case stops && b.Strategy != Stop:
		return fmt.Errorf("strategy: got %q with a reason to stop, allowed stop", b.Strategy)
	case b.Strategy == Stop && !stops && !(bond && cement):
		return fmt.Errorf("strategy: got stop without a reason to stop or decisive reasons on both sides, allowed another")
	case bond && !cement && b.Strategy == Cement, cement && !bond && b.Strategy == Bond:
		return fmt.Errorf("strategy: got %q against the only decisive reason, allowed the side of that reason", b.Strategy)
	}
	return nil
}

func (b Balance) decisive(side string) bool {
	return slices.ContainsFunc(b.Reasons, func(r Reason) bool { return r.For == side && r.Weight == Decisive })
}

// side lists the reasons of a side, the weightiest first.
func (b Balance) side(side string) []Reason {
	var out []Reason
	for _, weight := range []string{Decisive, Strong, Weak} {
		for _, r := range b.Reasons {
			if r.For == side && r.Weight == weight {
				out = append(out, r)
			}
		}
	}
	return out
}

// leaning is the side that the beam tips to.
func (b Balance) leaning() string {
	if b.Strategy == Bond || b.Strategy == Cement {
		return b.Strategy
	}
	return b.Leaning
}

func (b Balance) sign() sign {
	return map[string]sign{Stop: stopOne, Depends: openOne}[b.Strategy]
}

func (b Balance) title() string {
	switch b.Strategy {
	case Bond:
		return "The reasons tip to bonding"
	case Cement:
		return "The reasons tip to cementing"
	case Stop:
		return "Stop: neither will do as it stands"
	}
	words := map[string]string{Either: "Either will do", Depends: "It depends"}[b.Strategy]
	if b.Leaning != "" {
		words += ", leaning to " + gerund(b.Leaning)
	}
	return words
}

func gerund(side string) string {
	return map[string]string{Bond: "bonding", Cement: "cementing"}[side]
}

// How much the words for a reader who cannot see the picture repeat: channels
// limit their length, to 2000 letters in one case.
const (
	altListed = 4   // reasons of a side
	altLabel  = 110 // letters of a label
)

// alt describes the picture.
func (b Balance) alt() string {
	var parts []string
	for _, side := range []struct{ key, words string }{
		{Stop, "To stop"}, {Bond, "For bonding"}, {Cement, "For cementing"},
	} {
		if words := b.altSide(side.key); words != "" {
			parts = append(parts, side.words+": "+words+".")
		} else if side.key != Stop {
			parts = append(parts, side.words+": no reason.")
		}
	}
	return fmt.Sprintf("A balance of the reasons. %s. %s", b.title(), strings.Join(parts, " "))
}

func (b Balance) altSide(side string) string {
	var words []string
	reasons := b.side(side)
	for _, r := range reasons[:min(len(reasons), altListed)] {
		words = append(words, fmt.Sprintf("%s (%s)", shortened(strings.TrimRight(r.Label, ". "), altLabel), r.Weight))
	}
	if rest := len(reasons) - len(words); rest > 0 {
		words = append(words, fmt.Sprintf("and %d more", rest))
	}
	return strings.Join(words, "; ")
}

// shortened cuts words to at most n letters, at a space.
func shortened(words string, n int) string {
	runes := []rune(words)
	if len(runes) <= n {
		return words
	}
	cut := string(runes[:n])
	if i := strings.LastIndexByte(cut, ' '); i > n/2 {
		cut = cut[:i]
	}
	return cut + " …"
}
