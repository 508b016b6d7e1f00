package talk

// A usage is one way of using words that changes what they tell. The tables below and
// in mistrust.go and joinings.go hold the usages by their consequence. Their order means
// nothing unless a table says so. The example is a message that would be read otherwise
// if the usage were not known, and a test holds it to that.
type usage[T any] struct {
	name    string // what the words do
	example string
	met     func(x *lexicon, r *reading, of T) bool
}

// usages is a table of them.
type usages[T any] []usage[T]

// met reports whether one of the usages is met.
func (u usages[T]) met(x *lexicon, r *reading, of T) bool {
	for _, one := range u {
		if one.met(x, r, of) {
			return true
		}
	}
	return false
}

// inTokens lets a usage be told from the words alone.
func inTokens[T any](met func(*lexicon, []token, T) bool) func(*lexicon, *reading, T) bool {
	return func(x *lexicon, r *reading, of T) bool { return met(x, r.tokens, of) }
}

// ofOtherFact: the words of a phrase speak of another fact, whose reader takes them.
var ofOtherFact = usages[found]{
	{"say what the margin lies in", "5Y crown, margin is all enamel", inTokens((*lexicon).yields)},
	{"ask for a degree", "how tapered should the prep be", inTokens((*lexicon).asksDegree)},
	{"say what was done to the tooth", "3Y crown, enamel etched with phosphoric acid", inTokens((*lexicon).ofTooth)},
}

// notTold: a phrase names a value, and the message does not tell that it is so.
var notTold = usages[found]{
	{"speak of something else than this case", "3Y crown, the tooth next door has a margin in dentin", inTokens((*lexicon).elsewhere)},
	{"ask for the meaning", "what is a bruxer", inTokens((*lexicon).defined)},
	{"ask whether it is so", "is it dry", inTokens((*lexicon).askedUnanswered)},
	{"name a deed among deeds", "etch, rinse, dry, prime", inTokens((*lexicon).toBeDone)},
	{"describe a thing at hand", "the glove was wet", inTokens((*lexicon).ofThing)},
	{"suppose what is not", "if it were a veneer I would bond, but its a 3Y crown", inTokens((*lexicon).putAside)},
	{"tell of somebody of the staff", "assistant is allergic to acrylates", inTokens((*lexicon).ofStaff)},
	{"ward a mishap off", "after priming keep saliva away", inTokens((*lexicon).wardedOff)},
}

// denials: a phrase names a value, and the message says that it is not so.
var denials = usages[found]{
	{"not before it", "3Y crown, not dry", inTokens((*lexicon).reachedByNot)},
	{"an opinion that nobody holds", "wouldnt really call him a bruxer, 3Y crown", inTokens((*lexicon).opinionDenied)},
	{"no behind it", "dry? no chance, 5Y onlay", inTokens((*lexicon).refused)},
	{"no at the end of an entry", "IDS = no / 5Y onlay", inTokens((*lexicon).ticked)},
	{"it did not come to it", "IDS was planned but not carried out, 5Y onlay", inTokens((*lexicon).notDone)},
	{"no in answer to it", "was the dentin sealed? notes say no. 5Y onlay", inTokens((*lexicon).answeredNo)},
}
