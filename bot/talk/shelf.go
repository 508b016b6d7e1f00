package talk

import (
	"slices"
	"strings"
	"time"

	_ "embed"

	"mortarboard/planner"
)

//go:embed wording_shelf.tmpl
var shelfWordingText string

// What a message asks of the shelf.
const (
	shelfHouse    = "house"    // the rules of the house
	shelfLot      = "lot"      // of one product, as the next ones are
	shelfDate     = "date"     // may it still be used
	shelfOpened   = "opened"   // when it was
	shelfKeeps    = "keeps"    // how long once opened
	shelfContents = "contents" // what it holds, or whether it holds a substance
	shelfCure     = "cure"     // how it cures
	shelfCard     = "card"     // all that is known of it
	shelfHolders  = "holders"  // which products hold a substance
	shelfExpired  = "expired"
	shelfExpiring = "expiring"
	shelfList     = "list"   // what there is, of some classes or all
	shelfChoice   = "choice" // which product a plan takes
	shelfUse      = "use"    // whether a product serves a plan
)

// A shelfQuestion is what a message asks of the shelf; about is empty if it asks nothing.
type shelfQuestion struct {
	about    string
	products []*planner.Product
	content  string   // the substance asked for
	cure     string   // the way of curing asked for
	classes  []string // the classes asked for; none: all
	lots     bool     // of a list: the lots are asked for
	job      string   // for a choice, and for the alternatives to what does not serve
}

// answersItself reports whether the question wants nothing but the shelf, and no plan.
func (q shelfQuestion) answersItself() bool {
	return q.about != "" && q.about != shelfChoice && q.about != shelfUse
}

// cued reports whether a cue was said in words that hold no product's name.
func (turn *turn) cued(x *lexicon, name string) bool {
	return len(x.wide("cue:"+name, turn.plain)) > 0
}

// shelfRead takes a message's product names apart before anything else is read of it.
func (t *Talk) shelfRead(turn *turn, text string) string {
	n := t.words.name(text)
	turn.named, turn.asking = n.products, n.classes
	clipped, _ := clip(n.plain)
	turn.plain = t.words.tokenize(t.words.folding.fold(clipped))
	t.words.spell(turn.plain)
	if turn.shelf = t.shelfAsked(turn); turn.shelf.answersItself() && t.urgent(n.classes) {
		turn.shelf = shelfQuestion{} // "got Fennick Prime in my eye" before its lot
	}
	if turn.shelf.answersItself() {
		return n.plain // "what lot is the try-in paste" tells of no paste on the crown
	}
	return n.classes
}

// urgent reports whether a text tells of an emergency.
func (t *Talk) urgent(text string) bool {
	clipped, _ := clip(text)
	tokens := t.words.tokenize(t.words.folding.fold(clipped))
	t.words.spell(tokens)
	_, urgent := t.emergency(&turn{reading: reading{tokens: tokens}})
	return urgent
}

// shelfAsked tells what a message asks of the shelf for itself, whatever its case is.
func (t *Talk) shelfAsked(turn *turn) shelfQuestion {
	q := shelfQuestion{products: turn.named, content: t.shelfWordSaid(turn, "contents"), cure: t.shelfWordSaid(turn, "cures")}
	if job := t.shelfWordSaid(turn, "jobs"); job != "" {
		q.job, q.classes = job, t.words.words.Shelf.job(job).Classes
	}
	for _, f := range t.words.all("facts", turn.plain) {
		if f.sense.name == "cement" && len(f.sense.values) == 1 {
			q.job, q.classes = "cement", f.sense.values
		}
	}
	switch {
	case t.book.Practice == nil:
	case turn.cued(t.words, "shelf-house"):
		q.about = shelfHouse
	case len(q.products) == 0 && turn.cued(t.words, "shelf-expired"):
		q.about = shelfExpired
	case len(q.products) == 0 && turn.cued(t.words, "shelf-expiring"):
		q.about = shelfExpiring
	default:
		q.about = t.shelfDetail(turn, &q)
	}
	return q
}

// shelfWordSaid is the content, the cure or the job that a message names.
func (t *Talk) shelfWordSaid(turn *turn, list string) string {
	if all := t.words.all("shelf:"+list, turn.plain); len(all) > 0 {
		return all[0].sense.name
	}
	return ""
}

// shelfDetails are the cues that ask for a line of one product, in the order in which
// they count: "how long is it good for after opening" asks for no opening date.
var shelfDetails = []struct{ cue, about string }{
	{"shelf-lot", shelfLot}, {"shelf-keeps", shelfKeeps}, {"shelf-opened", shelfOpened}, {"shelf-date", shelfDate},
	{"shelf-contents", shelfContents}, {"shelf-cure", shelfCure}, {"shelf-card", shelfCard},
}

// shelfDetail tells what a message asks of products that it, or its thread, names, and
// what of the products that have something in common.
func (t *Talk) shelfDetail(turn *turn, q *shelfQuestion) string {
	about := ""
	for _, d := range shelfDetails {
		if about == "" && turn.cued(t.words, d.cue) {
			about = d.about
		}
	}
	if q.content != "" && about == "" && turn.cued(t.words, "shelf-holds") {
		about = shelfContents
	}
	if len(q.products) == 0 && about != "" && about != shelfCard {
		q.products = t.shelfSpokenOf(turn, about)
	}
	switch {
	case len(q.products) > 0 && about != "":
		return about
	case len(q.products) > 0 && t.asksWhatItIs(turn):
		return shelfCard
	case len(q.products) > 0:
		return t.shelfAlone(turn)
	case about == shelfContents && q.content != "" && t.oursAsked(turn) && t.asksIt(turn) && (q.job != q.content || turn.cued(t.words, "shelf-contents")):
		return shelfHolders
	case about == shelfLot && (t.oursAsked(turn) || len(turn.plain) <= bareQuestion):
		q.lots = true
		return shelfList // "which lots", with no product spoken of
	}
	return t.shelfListed(turn, q)
}

// asksIt reports whether a message asks, and does not tell: "we have no MDP primer left"
// asks for no list.
func (t *Talk) asksIt(turn *turn) bool {
	first := turn.plain[0].word
	return turn.cued(t.words, "shelf-contents") || t.words.is("asks-for-a-thing", first) || t.words.is("asks-yes-or-no", first)
}

// asksWhatItIs reports whether a message asks whether a product is of a class and nothing
// else: "is the Tarn self-adhesive?"
func (t *Talk) asksWhatItIs(turn *turn) bool {
	is := t.words.all("cue:shelf-is", turn.plain)
	if len(is) == 0 || is[0].from > 0 || is[0].to == len(turn.plain) {
		return false
	}
	p, ok := t.words.at("facts", turn.plain, is[0].to)
	return ok && p.sense.name == "cement" && is[0].to+len(p.words) == len(turn.plain)
}

// shelfAlone is a question that consists of a product's name: "Harsley RM?" In the
// thread of a case it asks whether that serves.
func (t *Talk) shelfAlone(turn *turn) string {
	if len(turn.plain) <= 2 && len(turn.past.Facts) == 0 {
		return shelfCard
	}
	return ""
}

// bareQuestion is how many words a follow-up may have that names no product: "lot number?"
const bareQuestion = 5

// shelfSpokenOf are the products of the last answer, if a short message goes on with them.
func (t *Talk) shelfSpokenOf(turn *turn, about string) []*planner.Product {
	short := len(turn.plain) <= bareQuestion || len(turn.plain) <= 2*bareQuestion && t.words.holds("stands-for-the-thing", turn.plain)
	if !short || about == shelfContents && t.oursAsked(turn) {
		return nil
	}
	return t.shelfKept(turn)
}

// shelfKept are the products that the thread spoke of last.
func (t *Talk) shelfKept(turn *turn) []*planner.Product {
	return slices.DeleteFunc(slices.Clone(t.shelfNow()), func(p *planner.Product) bool { return !slices.Contains(turn.past.Products, p.Name) })
}

// oursAsked reports whether a message asks which of the practice's own products there are.
func (t *Talk) oursAsked(turn *turn) bool {
	return turn.cued(t.words, "shelf-ours") || turn.cued(t.words, "shelf-stock") || turn.cued(t.words, "shelf-which")
}

// shelfListed tells whether a message asks for the products of a job, of a way of curing,
// or for all.
func (t *Talk) shelfListed(turn *turn, q *shelfQuestion) string {
	must := slices.ContainsFunc(t.words.wide("cue:shelf-ours", turn.plain), func(f found) bool { return f.to < len(turn.plain) && turn.plain[f.to].word == "to" })
	switch {
	case must, t.deniesStock(turn): // "do we have to …"
		return ""
	case q.job != "" && q.cure != "" && turn.cued(t.words, "shelf-ours"):
		return shelfList
	case q.job != "" && turn.cued(t.words, "shelf-ours") && len(turn.plain) <= 2*bareQuestion:
		return shelfList
	case q.job == "" && turn.cued(t.words, "shelf-stock"):
		return shelfList
	}
	return ""
}

// shelfAnswer answers from the shelf alone.
func (t *Talk) shelfAnswer(turn *turn) Reply {
	q, day := turn.shelf, t.now()
	r := Reply{Kind: KindArticle}
	switch {
	case q.about == shelfHouse:
		t.houseRules(&r)
	case q.about == shelfHolders:
		t.shelfHolding(&r, q)
	case q.about == shelfExpired:
		t.shelfPast(&r, day)
	case q.about == shelfExpiring:
		t.shelfEnding(&r, day, turn)
	case q.about == shelfList:
		t.shelfListing(&r, q)
	default:
		t.shelfLines(&r, turn, q, day)
	}
	return r
}

// shelfLines answers about single products: what was asked in the first line, the rest below.
func (t *Talk) shelfLines(r *Reply, turn *turn, q shelfQuestion, day time.Time) {
	var lines []string
	for _, p := range q.products {
		lines = append(lines, t.shelfLine(turn, p, q, day))
		if past := p.Past(day); past != "" && q.about != shelfDate {
			r.Notices = append(r.Notices, t.say("shelf past", map[string]any{"Name": p.Name, "Past": past}))
		}
		r.section(p.Name, false, t.shelfCardLines(p)...)
	}
	if q.about == shelfDate && len(q.products) == 1 {
		r.Kind, r.Verdict = KindCheck, string(standingOf(q.products[0], day))
	}
	r.Headline = strings.Join(lines, " ")
}

// standingOf tells whether a product may be used by its dates.
func standingOf(p *planner.Product, day time.Time) planner.Standing {
	switch {
	case p.Past(day) != "":
		return planner.Outside
	case p.Expires.IsZero(), p.KeepsDays == 0 != p.Opened.IsZero():
		return planner.Unknown // it was opened and may not keep, or keeps and nobody knows since when
	}
	return planner.Within
}
