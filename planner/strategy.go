package planner

import "math/bits"

// A Strategy is what the arguments add up to.
type Strategy string

// The strategies, as the answer contract names them.
const (
	Bond    Strategy = "bond"
	Cement  Strategy = "cement"
	Either  Strategy = "either"
	Depends Strategy = "depends"
	Stop    Strategy = "stop"
)

// A Weight says how much an argument counts.
type Weight string

// The weights. A decisive argument is overruled by nothing but another one.
const (
	Decisive Weight = "decisive"
	Strong   Weight = "strong"
	Weak     Weight = "weak"
)

// A class groups the arguments that the verdict does not tell apart.
type class int

const (
	stopping class = iota
	decisiveBond
	decisiveCement
	strongBond
	strongCement
	weakBond
	weakCement
	classes // how many there are
)

func classOf(side Strategy, weight Weight) class {
	if side == Stop {
		return stopping
	}
	base := map[Weight]class{Decisive: decisiveBond, Strong: strongBond, Weak: weakBond}[weight]
	if side == Cement {
		return base + 1
	}
	return base
}

// A Verdict is a strategy with the side it leans to: bond, cement or none. A
// strategy of bond or cement leans to itself.
type Verdict struct {
	Strategy Strategy
	Leaning  Strategy
}

// A tally counts the arguments that apply, by class.
type tally [classes]int

// verdict is the whole decision; everything else about deciding is data.
func (t tally) verdict() Verdict {
	bond, cement := t[decisiveBond] > 0, t[decisiveCement] > 0
	switch {
	case t[stopping] > 0, bond && cement:
		return Verdict{Strategy: Stop}
	case bond:
		return Verdict{Bond, Bond}
	case cement:
		return Verdict{Cement, Cement}
	}
	bond, cement = t[strongBond] > 0, t[strongCement] > 0
	switch {
	case bond && cement:
		return Verdict{Depends, t.leaning()}
	case bond:
		return Verdict{Bond, Bond}
	case cement:
		return Verdict{Cement, Cement}
	}
	return Verdict{Either, t.leaning()}
}

// leaning goes by the strong arguments, then by the weak ones.
func (t tally) leaning() Strategy {
	for _, c := range []class{strongBond, weakBond} {
		switch {
		case t[c] > t[c+1]:
			return Bond
		case t[c] < t[c+1]:
			return Cement
		}
	}
	return ""
}

// A mask is a set of rows, one bit each.
type mask [2]uint64

// maxRows is how many rows one walk can tell apart.
const maxRows = 128

func (m mask) has(i int) bool      { return m[i>>6]&(1<<(i&63)) != 0 }
func (m mask) with(i int) mask     { m[i>>6] |= 1 << (i & 63); return m }
func (m mask) and(n mask) mask     { return mask{m[0] & n[0], m[1] & n[1]} }
func (m mask) or(n mask) mask      { return mask{m[0] | n[0], m[1] | n[1]} }
func (m mask) without(n mask) mask { return mask{m[0] &^ n[0], m[1] &^ n[1]} }
func (m mask) count() int          { return bits.OnesCount64(m[0]) + bits.OnesCount64(m[1]) }
func (m mask) none() bool          { return m[0]|m[1] == 0 }
