package talk

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"mortarboard/kb"
	"mortarboard/planner"
)

// nearest is how many entries a declined question is offered.
const nearest = 3

// article answers from the knowledge base, or says that it does not know.
func (t *Talk) article(ctx context.Context, turn *turn, text string) Reply {
	found, err := t.articles.Base().Search(ctx, text, nearest)
	if err != nil {
		late := errors.Is(err, context.DeadlineExceeded)
		t.log.Warn("the search failed", "late", late, "error", err)
		return t.decline(found, t.say("search failed", late), DeclinedSearch)
	}
	if !found.Close {
		return t.decline(found, plainWhy(found.Why), DeclinedOutside)
	}
	turn.covered = found.Hits[0].Covered
	return t.entry(found.Hits[0].Article, found)
}

// entry shows one article: its answer first, the rest below.
func (t *Talk) entry(a *kb.Article, found kb.Result) Reply {
	r := Reply{Kind: KindArticle}
	shown, err := a.Render(t.references())
	if err != nil {
		t.log.Error("an article cannot be shown", "article", a.ID, "error", err)
		r.Headline = t.say("article missing", nil)
		return r
	}
	r.Headline = shown.Answer
	for _, h := range found.Hits {
		r.Entries = append(r.Entries, h.Article.ID)
	}
	for _, s := range shown.Sections {
		r.section(s.Title, s.Title != "How", s.Lines...)
	}
	t.others(&r, t.say("nearby", nil), found.Hits[min(1, len(found.Hits)):])
	r.section("Sources", true, shown.Sources...)
	r.section("Reviewed", true, t.say("reviewed", map[string]any{"Title": a.Title, "By": a.By, "On": a.Reviewed.Format("2006-01-02")}))
	for _, c := range found.Corrected {
		r.Notices = append(r.Notices, t.say("read as", c))
	}
	return r
}

// decline says what the bot does not know and what it covers, and offers the
// nearest entries as no more than that. The reason is for the review list.
func (t *Talk) decline(found kb.Result, why string, reason Declined) Reply {
	r := Reply{Kind: KindDeclined, Headline: t.say("declined", map[string]any{"Why": sentence(why)})}
	r.section("What I cover", false, t.say("covers", t.lead()))
	id := ""
	for _, h := range found.Hits {
		r.Entries = append(r.Entries, h.Article.ID)
	}
	if len(found.Hits) > 0 {
		id = found.Hits[0].Article.ID
	}
	t.others(&r, t.say("perhaps", nil), found.Hits)
	t.declined(reason, id)
	return r
}

// Declined is why a question was declined, as an id.
type Declined string

// The reasons for which questions are declined.
const (
	DeclinedOutside    Declined = "not-covered"   // no article answers it
	DeclinedSearch     Declined = "search-failed" // the search failed, or was too slow
	DeclinedIdentifier Declined = "identifier"    // it may identify a patient, and was not read
)

// String writes the reason for a person.
func (d Declined) String() string { return strings.ReplaceAll(string(d), "-", " ") }

// plainWhy leaves out how closely the search came: that means nothing to staff.
func plainWhy(why string) string {
	if strings.HasPrefix(why, "\"") {
		return why // a subject that is not ours, which is worth saying
	}
	return ""
}

func sentence(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + strings.TrimSuffix(s[1:], ".") + "."
}

// references let articles take numbers and citations from the planner, so that
// each exists once.
func (t *Talk) references() kb.References { return References(t.book) }

// References gives a knowledge base the settings and sources of a rulebook.
func References(book *planner.Rulebook) kb.References {
	return kb.References{
		Value: func(key string, conditions map[string]string) (string, error) {
			return referenced(book, key, conditions)
		},
		Source: func(id string) (string, bool, bool) {
			s, ok := book.Source(id)
			if !ok {
				return "", false, false
			}
			return s.Cite, s.FromMemory(), true
		},
		Units: unitsOf(book),
	}
}

// referenced writes the settings that an article refers to; several, each with
// what it is of.
func referenced(book *planner.Rulebook, key string, conditions map[string]string) (string, error) {
	c := book.NewCase()
	for fact, v := range conditions {
		next, err := c.With(fact, v)
		if err != nil {
			return "", err
		}
		c = next
	}
	settings := book.Settings(book.Usual(c), key)
	var parts []string
	for _, p := range settings {
		parts = append(parts, p.String()+" ("+p.Of+")")
	}
	switch len(settings) {
	case 0:
		return "", fmt.Errorf("no setting %s under %v", key, conditions)
	case 1:
		return settings[0].String(), nil
	}
	return strings.Join(parts, "; "), nil
}

func unitsOf(book *planner.Rulebook) []string {
	var units []string
	for _, p := range book.Parameters {
		units = appendNew(units, p.Unit)
	}
	return units
}

// help says what the bot answers, with examples to copy.
func (t *Talk) help() Reply {
	r := Reply{Kind: KindHelp, Headline: t.say("help", nil)}
	r.section("Bond or cement", false, "3Y crown UR6, good prep", "bond or cement, translucent, margin in dentin", "veneer, can't keep it dry")
	r.section("Settings and checks", false, "pressure for 5Y?", "is 60 psi ok on 3Y", "can I etch the inside with phosphoric acid?")
	r.section("Sums", false, "molar prep 3.5 high 9 wide at the margin 7.8 on top, enough?", "2.8 bar in psi")
	r.section("Anything else about seating", false, "crown came off, what now", "saliva got inside after the primer")
	r.section("In a thread", false, "what if it's 3Y?", "why not bond?", "show the steps", "start the run", "new case: …")
	if shelf := t.shelfNow(); len(shelf) > 0 {
		r.section("Our shelf and our rules", false, "what lot is "+shelf[0].Name, "which cement", "what's expired?", "what are our house rules")
	}
	r.section("To learn the job", false, "quiz me", "card for the front desk", "my learning")
	r.section("What I cover", false, t.say("covers", t.lead()))
	return r
}
