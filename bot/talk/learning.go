package talk

import (
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"mortarboard/planner"
)

// learningWordingText holds the sentences of the cards.
//
//go:embed wording_learning.tmpl
var learningWordingText string

// A Learned is how far one person is with one card.
type Learned struct {
	Card string    // the card's id; of a role that the person has named, roleItem
	Box  int       // how often it was answered right since it was last answered wrong
	Due  time.Time // when it is asked again
}

// A Learning keeps how far each person is with each card. Cards of an unknown
// person are none.
type Learning interface {
	Cards(ctx context.Context, person string) ([]Learned, error)
	Save(ctx context.Context, person string, l Learned) error
	Forget(ctx context.Context, person string) error
}

// A Notebook is a Learning that ends with the process.
type Notebook struct {
	mu     sync.Mutex
	people map[string]map[string]Learned
}

// Cards returns what is noted of the person.
func (n *Notebook) Cards(_ context.Context, person string) ([]Learned, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	var out []Learned
	for _, l := range n.people[person] {
		out = append(out, l)
	}
	return out, nil
}

// Save notes how far the person is with a card.
func (n *Notebook) Save(_ context.Context, person string, l Learned) error {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.people == nil {
		n.people = map[string]map[string]Learned{}
	}
	if n.people[person] == nil {
		n.people[person] = map[string]Learned{}
	}
	n.people[person][l.Card] = l
	return nil
}

// Forget strikes out all that is noted of the person.
func (n *Notebook) Forget(_ context.Context, person string) error {
	n.mu.Lock()
	defer n.mu.Unlock()
	delete(n.people, person)
	return nil
}

// pauses are the days after which a card is asked again, by its box. Growing pauses
// are common practice in learning by cards; these lengths are nobody's finding.
var pauses = [...]int{0, 1, 3, 7, 21, 60}

// soon is when a card that was answered wrong is asked again: in the same sitting,
// but not at once.
const soon = 10 * time.Minute

// marked is how far a person is once the card has been answered. A right answer
// before its day proves nothing new and leaves the card where it is.
func (l Learned) marked(right bool, now time.Time) Learned {
	switch {
	case !right:
		l.Box, l.Due = 0, now.Add(soon)
	case l.due(now):
		l.Box = min(l.Box+1, len(pauses)-1)
		l.Due = dayOf(now).AddDate(0, 0, pauses[l.Box])
	}
	return l
}

func (l Learned) due(now time.Time) bool { return !l.Due.After(now) }

// dayOf is the beginning of a day, so that what is due on it is due all day long.
func dayOf(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location())
}

// A Dealt is the card that a thread was dealt last.
type Dealt struct {
	Card string `json:"card,omitempty"`
	Open bool   `json:"open,omitempty"` // nothing else was said since: a bare answer is meant for it
	Role string `json:"role,omitempty"` // whose cards the thread asked for
}

// closed is what is left of it once something else was said.
func (d Dealt) closed() Dealt { d.Open = false; return d }

// A learner is a person with what is known of them.
type learner struct {
	store  Learning
	person string
	cards  map[string]Learned
	role   string // as the person has said
}

// learner reads how far the speaker is. Who has no name is known by the thread,
// within the process.
func (t *Talk) learner(ctx context.Context, m Message) (learner, error) {
	l := learner{store: t.learning, person: m.From, cards: map[string]Learned{}}
	if m.From == "" {
		l.store, l.person = &t.notebook, m.Thread
	}
	return l, t.fill(ctx, &l)
}

// roleItem is the item under which it is kept that a person has the role.
func roleItem(role string) string { return "role/" + strings.ReplaceAll(role, " ", "-") }

func (t *Talk) fill(ctx context.Context, l *learner) error {
	kept, err := l.store.Cards(ctx, l.person)
	if err != nil {
		return fmt.Errorf("what was learned cannot be read: %w", err)
	}
	for _, k := range kept {
		l.cards[k.Card] = k
	}
	for _, role := range t.book.Roles {
		if l.cards[roleItem(role.Name)].Box > 0 {
			l.role = role.Name
		}
	}
	return nil
}

func (l learner) save(ctx context.Context, k Learned) error {
	if err := l.store.Save(ctx, l.person, k); err != nil {
		return fmt.Errorf("what was learned cannot be kept: %w", err)
	}
	l.cards[k.Card] = k
	return nil
}

// takeRole keeps the role that a person has said to have, in place of another;
// an empty one is none.
func (l *learner) takeRole(ctx context.Context, role string, now time.Time) error {
	if l.role == role {
		return nil
	}
	for name, box := range map[string]int{l.role: 0, role: 1} {
		if name == "" {
			continue
		}
		if err := l.save(ctx, Learned{Card: roleItem(name), Box: box, Due: now}); err != nil {
			return err
		}
	}
	l.role = role
	return nil
}

// learn answers a message about the cards. The thread's case stays as it is.
func (t *Talk) learn(ctx context.Context, m Message, past Remembered, l lesson) (Reply, error) {
	who, err := t.learner(ctx, m)
	if err != nil {
		return Reply{}, err
	}
	reply, dealt, err := t.taught(ctx, who, past.Dealt, l)
	if err != nil {
		return Reply{}, err
	}
	reply.Kind = KindHelp
	reply.Question, _ = clip(m.Text)
	t.finish(&reply)
	past.Dealt = dealt
	if err := t.memory.Save(ctx, m.Thread, past); err != nil {
		return Reply{}, fmt.Errorf("the thread's case cannot be kept: %w", err)
	}
	t.log.Info("answered", "thread", hashed(m.Thread), "kind", reply.Kind, "card", dealt.Card)
	return reply, nil
}

// taught gives the reply to a lesson, and which card the thread has then.
func (t *Talk) taught(ctx context.Context, who learner, last Dealt, l lesson) (Reply, Dealt, error) {
	switch l.wants {
	case wantsForgetting:
		err := who.store.Forget(ctx, who.person)
		return Reply{Headline: t.say("learning forgotten", nil), Private: true}, Dealt{}, err
	case wantsScore:
		return t.score(who), last.closed(), nil
	case wantsMarking:
		return t.mark(ctx, who, last, l)
	}
	if l.says {
		if err := who.takeRole(ctx, l.role, t.now()); err != nil {
			return Reply{}, last, err
		}
		last.Role = l.role
	}
	if l.named {
		last.Role = l.role
	}
	reply, dealt := t.deal(who, last)
	if l.says {
		reply.section(t.say("role title", nil), false, t.say("role noted", l.role))
	}
	return reply, dealt, nil
}

// deal asks the next card: one that is due, else a new one of the role.
func (t *Talk) deal(who learner, last Dealt) (Reply, Dealt) {
	role := cmp.Or(last.Role, who.role)
	for _, c := range t.waiting(who, role) {
		s, ok := t.solve(c)
		if c.ID == last.Card || !ok || !t.hasArticle(c.Article) {
			continue // never the same twice in a row
		}
		return t.put(c, s), Dealt{Card: c.ID, Open: true, Role: last.Role}
	}
	r := Reply{Headline: t.say("no card", map[string]any{"Role": role, "Next": nextDay(who.cards, t.now())})}
	return r, last.closed()
}

// solve finds the answer to a card, planning its case once only.
func (t *Talk) solve(c *planner.Card) (planner.Solution, bool) {
	if s, ok := t.solved.Load(c.ID); ok {
		return s.(planner.Solution), true
	}
	s, ok := t.book.Solve(c)
	if ok {
		t.solved.Store(c.ID, s)
	}
	return s, ok
}

// waiting lists the cards that may be asked, those that are due first.
func (t *Talk) waiting(who learner, role string) []*planner.Card {
	var due, fresh []*planner.Card
	for _, c := range t.book.CardsFor(role) {
		switch k, seen := who.cards[c.ID]; {
		case !seen:
			fresh = append(fresh, c)
		case k.due(t.now()):
			due = append(due, c)
		}
	}
	slices.SortStableFunc(due, func(a, b *planner.Card) int { return who.cards[a.ID].Due.Compare(who.cards[b.ID].Due) })
	return append(due, fresh...)
}

// nextDay is the day on which the next card is due, or empty if none is.
func nextDay(cards map[string]Learned, now time.Time) string {
	var next time.Time
	for _, k := range cards {
		if k.Due.After(now) && (next.IsZero() || k.Due.Before(next)) {
			next = k.Due
		}
	}
	if next.IsZero() {
		return ""
	}
	return next.Format(time.DateOnly)
}

// put puts a card to the person.
func (t *Talk) put(c *planner.Card, s planner.Solution) Reply {
	r := Reply{Headline: c.Ask}
	r.section(t.say("card case", nil), false, t.told(c)...)
	ask := t.say("card ask", nil)
	lines := []string{ask}
	choice := Choice{Ask: ask}
	for i, o := range s.Options {
		label := t.label(c, o)
		lines = append(lines, t.say("card option", map[string]any{"Letter": letter(i), "Label": label}))
		choice.Options = append(choice.Options, Option{Label: label, Says: t.say("card says", map[string]any{"ID": c.ID, "Answer": o})})
	}
	shortest := slices.MinFunc(choice.Options, func(a, b Option) int { return len(a.Says) - len(b.Says) })
	lines = append(lines, t.say("card hint", shortest.Says))
	r.section(t.say("card title", c.ID), false, lines...)
	r.Choices = []Choice{choice}
	return r
}

// told lists what a card tells of its case.
func (t *Talk) told(c *planner.Card) []string {
	var lines []string
	for _, fact := range c.Case.Facts() {
		lines = append(lines, t.title(fact)+": "+c.Case.Describe(fact))
	}
	return lines
}

// letter names an option in a list.
func letter(i int) string { return string(rune('a' + i)) }

// label is an option as people read it; of a strategy its usual words.
func (t *Talk) label(c *planner.Card, option string) string {
	if c.Kind() != planner.AsksStrategy {
		return option
	}
	return t.say("card strategy", option)
}

func (t *Talk) hasArticle(id string) bool {
	if id == "" {
		return true
	}
	_, ok := t.articles.Base().Article(id)
	return ok
}

// mark says whether an answer is right, and why, and notes it.
func (t *Talk) mark(ctx context.Context, who learner, last Dealt, l lesson) (Reply, Dealt, error) {
	dealt := Dealt{Card: l.card.ID, Role: last.Role}
	s := l.solved
	if s.Right == "" || len(s.Options) == 0 {
		return Reply{Headline: t.say("card gone", nil)}, dealt, nil
	}
	if l.answer == "" {
		r := t.put(l.card, s)
		r.section(t.say("card title", l.card.ID), false, t.say("card unread", nil))
		dealt.Open = true
		return r, dealt, nil
	}
	right := l.answer == s.Right
	k := who.cards[l.card.ID]
	k.Card = l.card.ID
	if err := who.save(ctx, k.marked(right, t.now())); err != nil {
		return Reply{}, last, err
	}
	r := t.marking(l.card, s, l.answer, right)
	t.goOn(&r)
	return r, dealt, nil
}

// goOn offers the next card.
func (t *Talk) goOn(r *Reply) {
	ask := t.say("card next", t.say("card next says", nil))
	r.section(t.say("card next title", nil), false, ask)
	r.Choices = []Choice{t.nextCard(ask)}
}

func (t *Talk) nextCard(ask string) Choice {
	return Choice{Ask: ask, Options: []Option{{Label: t.say("card next label", nil), Says: t.say("card next says", nil)}}}
}
