package talk

import "context"

// score tells a person how far they are; nobody else is shown it.
func (t *Talk) score(who learner) Reply {
	section, waiting := t.progress(who)
	r := Reply{Headline: t.say("learning score", t.counted(who)), Private: true}
	r.section(section.Title, false, section.Lines...)
	r.section(t.say("learning change", nil), false, t.say("learning keeps", nil))
	if waiting {
		t.goOn(&r)
	}
	return r
}

// A progress is a person's learning in numbers.
type progress struct {
	Role                   string
	Known, All, Due, Fresh int
	Next                   string // the day on which the next card is due
}

// counted counts the cards of a person's role. A card is known if it was answered
// right when it was last asked.
func (t *Talk) counted(who learner) progress {
	now := t.now()
	p := progress{Role: who.role, Next: nextDay(who.cards, now)}
	for _, c := range t.book.CardsFor(who.role) {
		k, seen := who.cards[c.ID]
		p.All++
		switch {
		case !seen:
			p.Fresh++
			continue
		case k.Box > 0:
			p.Known++
		}
		if k.Due.Before(dayOf(now).AddDate(0, 0, 1)) {
			p.Due++
		}
	}
	return p
}

// progress writes a person's learning in numbers, and reports whether a card waits.
func (t *Talk) progress(who learner) (Section, bool) {
	p := t.counted(who)
	s := Section{Title: t.say("learning title", nil)}
	for _, line := range []string{"learning role", "learning known", "learning due", "learning fresh", "learning next"} {
		if text := t.say(line, p); text != "" {
			s.Lines = append(s.Lines, text)
		}
	}
	return s, p.Due+p.Fresh > 0
}

// Missed writes which cards several people answered wrong, by how many of whom;
// ids that are no cards are left out.
func (t *Talk) Missed(people map[string]int) Section {
	s := Section{Title: t.say("missed title", nil)}
	for _, c := range t.book.Cards {
		if n := people[c.ID]; n > 0 {
			s.Lines = append(s.Lines, t.say("missed card", map[string]any{"Ask": c.Ask, "People": n}))
		}
	}
	return s
}

// MyLearning is a person's learning for a page of their own: where they are, and
// what deals the next card. Person is as in [Message.From].
func (t *Talk) MyLearning(ctx context.Context, person string) (Section, []Choice, error) {
	who, err := t.learner(ctx, Message{From: person})
	if err != nil {
		return Section{}, nil, err
	}
	section, waiting := t.progress(who)
	if !waiting {
		return section, nil, nil
	}
	return section, []Choice{t.nextCard(section.Title)}, nil
}
