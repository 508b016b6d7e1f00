package talk

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"text/template"
	"time"

	_ "embed"

	"mortarboard/kb"
	"mortarboard/planner"
)

// Options is what a conversation needs.
type Options struct {
	Rules    *planner.Rulebook // with the practice's house rules, if there is a practice
	Articles *kb.Library
	Memory   Memory                           // nil: a Scratchpad
	Learning Learning                         // nil: a Notebook
	Now      func() time.Time                 // nil: time.Now; for dates on the shelf
	Log      *slog.Logger                     // nil: nothing is logged
	Pictures bool                             // pictures are drawn, some 40 ms each; for surfaces that show them
	Declined func(reason Declined, id string) // told of each declined question: why, and the nearest article; may be nil
	Runs     func(RunStanding)                // told whenever a run moves on or ends; may be nil
}

// Talk answers messages. It may be used by several goroutines at once; messages
// of one thread must come one after the other.
type Talk struct {
	book     *planner.Rulebook
	articles *kb.Library
	memory   Memory
	learning Learning
	notebook Notebook // of people without a name
	solved   sync.Map // card id → its planner.Solution; the rules do not change
	now      func() time.Time
	log      *slog.Logger
	declined func(reason Declined, id string)
	runs     func(RunStanding)
	pictures bool
	words    *lexicon
	wording  *template.Template
}

//go:embed wording.tmpl
var wordingText string

// New makes a conversation. It refuses articles that refer to settings or sources
// which the rules do not have. A practice's article that comes to do so later is
// logged when it is asked for.
func New(o Options) (*Talk, error) {
	t := &Talk{book: o.Rules, articles: o.Articles, memory: o.Memory, now: o.Now, log: o.Log, declined: o.Declined, runs: o.Runs, pictures: o.Pictures}
	if t.memory == nil {
		t.memory = &Scratchpad{}
	}
	if t.learning = o.Learning; t.learning == nil {
		t.learning = &Notebook{}
	}
	if t.now == nil {
		t.now = time.Now
	}
	if t.log == nil {
		t.log = slog.New(slog.DiscardHandler)
	}
	if t.declined == nil {
		t.declined = func(Declined, string) {}
	}
	if t.runs == nil {
		t.runs = func(RunStanding) {}
	}
	var err error
	if t.words, err = newLexicon(planner.Rules(), o.Rules); err != nil {
		return nil, err
	}
	// A name that the sentence has and its data lack is an error: "<no value>" has no
	// place in an answer, and a condition must not take the wrong branch.
	t.wording, err = template.New("").Option("missingkey=error").Funcs(wordingFuncs).Parse(wordingText + calcWordingText + shelfWordingText + wordingRunText + learningWordingText)
	if err != nil {
		return nil, err
	}
	return t, t.unresolved()
}

// unresolved joins what articles refer to and the rules do not have.
func (t *Talk) unresolved() error {
	var errs []error
	for _, a := range t.articles.Base().All() {
		if _, err := a.Render(t.references()); err != nil {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

// Handle answers one message. Nothing that a message holds makes it fail; the
// error is the memory's.
func (t *Talk) Handle(ctx context.Context, m Message) (Reply, error) {
	start := t.now()
	if what := identifier(m.Text); what != "" {
		return t.withheld(what), nil
	}
	past, err := t.memory.Load(ctx, m.Thread)
	if err != nil {
		return Reply{}, fmt.Errorf("the thread's case cannot be read: %w", err)
	}
	past = stillKnown(t.book, past)
	if l, ok := t.lesson(m, past); ok {
		return t.learn(ctx, m, past, l)
	}
	turn := t.begin(m.Text, past)
	turn.at = cmp.Or(m.At, start)
	reply := t.answer(ctx, turn, m.Text)
	if m.Overheard && !turn.urgent && (reply.Kind == KindDeclined || reply.Kind == KindHelp) {
		return Reply{}, nil // people talk to each other in threads, too
	}
	reply.Question, _ = clip(m.Text) // what was not searched is not repeated
	t.finish(&reply)
	kept := t.toRemember(turn, reply)
	if err := t.memory.Save(ctx, m.Thread, kept); err != nil {
		return Reply{}, fmt.Errorf("the thread's case cannot be kept: %w", err)
	}
	t.standing(m.Thread, past, kept)
	t.log.Info("answered", "thread", hashed(m.Thread), "kind", reply.Kind, "strategy", reply.Strategy,
		"entries", reply.Entries, "took", t.now().Sub(start))
	return reply, nil
}

// hashed names a thread in the log without telling where it is.
func hashed(thread string) string {
	sum := sha256.Sum256([]byte(thread))
	return hex.EncodeToString(sum[:6])
}

// toRemember is what the thread keeps after an answer. A what-if leaves the
// case as it was and is kept beside it until it is taken or left.
func (t *Talk) toRemember(turn *turn, reply Reply) Remembered {
	c := turn.now
	if turn.whatIf {
		c = turn.before
	}
	if reply.Kind != KindPlan && turn.past.Planned {
		c = t.keptFrom(turn, c)
	}
	if turn.shelf.about == shelfUse {
		c = t.withoutAsked(turn, c)
	}
	r := remember(c)
	if turn.whatIf {
		supposed := remember(turn.now)
		supposed.Planned = true
		r.WhatIf = &supposed
	}
	r.Planned = turn.past.Planned || reply.Kind == KindPlan
	r.Offered = reply.Kind == KindPlan || turn.idle
	r.Last, r.Asked = reply.Kind, turn.past.Asked
	if reply.Kind == KindPlan {
		r.Asked = reply.Open[:min(asks, len(reply.Open))]
	}
	r.Keys = turn.past.Keys
	if len(turn.keys) > 0 {
		r.Keys = turn.keys
	}
	r.Said, r.Worked, r.Run = turn.said, turn.worked, turn.run
	r.Products = t.productsKept(turn)
	r.Dealt = turn.past.Dealt.closed()
	if len(reply.Entries) > 0 {
		r.Entry = reply.Entries[0]
	}
	return r
}

// keptFrom is the case without what a question only asked about: in the thread of a 3Y
// crown "pressure for 5Y?" makes no 5Y crown of it. A correction says so.
func (t *Talk) keptFrom(turn *turn, c planner.Case) planner.Case {
	if t.words.has("correct", turn.tokens) || len(turn.keys) == 0 && turn.deed == "" && !t.asksForRuling(turn) {
		return c
	}
	before := remember(turn.before)
	for _, s := range turn.facts {
		if values := before.Facts[s.fact]; values != nil && s.within == nil {
			if next, err := c.With(s.fact, values...); err == nil {
				c = next
			}
		}
	}
	return c
}

// clearCase is how many deciding facts make a case of a message whatever else
// it holds; nothing that it holds can change the rules.
const clearCase = 2

// foreign reports whether the message is about something that is not ours: a
// subject that never is, or one of which it says nothing that concerns zirconia,
// as in "how long do I etch lithium disilicate". A clear case is ours whatever else is
// said of the patient, unless another material is named.
func (t *Talk) foreign(turn *turn, text string) bool {
	clipped, _ := clip(text)
	clear := t.deciding(turn) >= clearCase || turn.says("restoration") && t.tellsStop(turn)
	for _, subject := range t.articles.Base().Outside(clipped) {
		never := slices.Contains(t.words.words.Others, subject.Name) && !clear
		aside := !slices.Contains(t.words.words.Materials, subject.Name) || t.inFact(turn, subject.Words)
		if never || !(clear && aside) && !t.saysZirconia(turn) && !t.oursToo(subject.Words) {
			return true
		}
	}
	return false
}

// inFact reports whether words that others use are a part of a phrase that tells a
// fact, as amalgam is of an amalgam core.
func (t *Talk) inFact(turn *turn, words []string) bool {
	return slices.ContainsFunc(t.words.wide("facts", turn.tokens), func(f found) bool {
		return len(f.words) > len(words) && !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(f.words, w) })
	})
}

// saysZirconia reports whether the message, or its thread, is about zirconia.
func (t *Talk) saysZirconia(turn *turn) bool {
	if turn.past.Planned || turn.now.Known("zirconia") {
		return true
	}
	return !t.words.holds("names-another-ceramic", turn.tokens) && t.words.holds("names-zirconia", turn.tokens)
}

// oursToo reports whether words that others use are words of this job as well,
// such as bleach for wiping the inner surface.
func (t *Talk) oursToo(words []string) bool {
	tokens := t.words.tokenize(strings.Join(words, " "))
	if len(tokens) == 0 {
		return false
	}
	for _, list := range []string{"facts", "tasks", "parameters"} {
		if p, ok := t.words.at(list, tokens, 0); ok && len(p.words) == len(tokens) {
			return true
		}
	}
	return false
}

// coveredWell is the share of a statement that an entry must cover to be a
// better answer than a plan from the facts in it.
const coveredWell = 0.8

// weakly reports whether what was found answers a message less well than a plan
// from its facts would: nothing was found, or for a plain statement an entry
// that covers only a part of it. A bare "crown" or "bridge" is no such fact: the
// words have many other uses.
func (t *Talk) weakly(turn *turn, r Reply) bool {
	named := slices.ContainsFunc(turn.facts, func(s stated) bool {
		common := slices.ContainsFunc(s.values, func(v string) bool { return slices.Contains(t.words.words.Common[s.fact], v) })
		return t.book.Argues(s.fact) && !common
	})
	if r.Kind == KindDeclined || !named && t.deciding(turn) < clearCase {
		return named
	}
	asks := t.leads("article", turn.tokens) || t.leads("what", turn.tokens) || t.words.has("ask", turn.tokens) ||
		t.words.is("asks-for-a-thing", turn.first()) || t.asksWhetherOK(turn)
	telling := t.deciding(turn) >= clearCase || len(content(turn.tokens, t.words)) <= 2 // more words than facts are a question of something else
	return r.Kind == KindArticle && !asks && telling && turn.covered < coveredWell
}
