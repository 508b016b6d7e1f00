package talk

import (
	"encoding/json"
	"time"
)

// A Message is one thing somebody said, whatever the surface it came through.
type Message struct {
	Thread string    // names the conversation; two threads never share facts
	From   string    // names the speaker within the surface; never logged, never stored
	Text   string    // what was said, as plain text
	At     time.Time // when it was said

	// Overheard says that it was said in a thread the bot is part of, without
	// being put to it. What holds no question and no fact is then not answered.
	Overheard bool
}

// A Kind says what sort of answer a Reply is.
type Kind string

// The kinds of answer, as the answer contract names them.
const (
	KindPlan        Kind = "plan"
	KindValue       Kind = "value"
	KindCheck       Kind = "check"
	KindCalculation Kind = "calculation"
	KindArticle     Kind = "article"
	KindHelp        Kind = "help"
	KindDeclined    Kind = "declined"
)

// A Reason is one argument for or against, with what it rests on.
type Reason struct {
	For     string `json:"for"`    // bond, cement or stop
	Weight  string `json:"weight"` // decisive, strong or weak
	Because string `json:"because"`
	Basis   string `json:"basis"`
	Source  string `json:"source"`
}

// A Value is one setting as an envelope; a single value has Low equal to High.
type Value struct {
	Name   string  `json:"name"`
	Of     string  `json:"of"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Unit   string  `json:"unit"`
	Basis  string  `json:"basis"`
	Source string  `json:"source"`
}

// A Step is one thing to do, in order.
type Step struct {
	ID      string  `json:"id"`
	Surface string  `json:"surface"` // restoration, tooth, cement or finish
	Do      string  `json:"do"`
	Values  []Value `json:"values"`
	Caution string  `json:"caution"`
}

// A Section is a titled part of an answer, in plain text lines.
type Section struct {
	Title   string
	Lines   []string
	Fold    bool // a surface that can hide detail behind a button hides this
	Assumes bool // it tells what the answer takes for granted: on paper, where nothing unfolds, it stands open
}

// An Option is one way to answer a Choice. Says is the message that a press of
// its button stands for; it is sent back through Handle like typed text.
type Option struct {
	Label string
	Says  string
}

// A Choice is a question put back to the team, with the answers it can have.
type Choice struct {
	Fact    string
	Ask     string
	Options []Option
}

// A Picture is a drawing that belongs to an answer.
type Picture struct {
	Name string // file name without extension, e.g. "preparation"
	Alt  string // what the picture shows, for a reader who cannot see it
	PNG  []byte
	SVG  []byte
}

// A Reply is one answer. The exported contract fields are what a program reads
// (see MarshalJSON); Headline to Private are for surfaces that lay it out.
type Reply struct {
	Question string
	Kind     Kind
	Case     map[string][]any // of a range that was said ("under 1 mm") the end that was said
	Strategy string
	Leaning  string
	Open     []string
	Reasons  []Reason
	Steps    []Step
	Values   []Value
	Verdict  string
	Entries  []string
	Notices  []string
	Text     string // the whole answer as a person reads it, caution included
	Caution  string

	Headline string    // the answer in one or two sentences
	Sections []Section // the rest, in reading order
	Choices  []Choice  // what would settle it, the most settling first
	Pictures []Picture
	Private  bool // to be shown to the asker only, e.g. a possible patient identifier
}

// MarshalJSON writes the answer contract's object: lists are never null, and
// the keys that belong to one kind of answer stand only there.
func (r Reply) MarshalJSON() ([]byte, error) {
	object := map[string]any{
		"question": r.Question,
		"kind":     r.Kind,
		"case":     orEmpty(r.Case),
		"reasons":  orNone(r.Reasons),
		"values":   orNone(r.Values),
		"entries":  orNone(r.Entries),
		"notices":  orNone(r.Notices),
		"text":     r.Text,
		"caution":  r.Caution,
	}
	switch r.Kind {
	case KindPlan:
		object["strategy"] = r.Strategy
		object["leaning"] = r.Leaning
		object["open"] = orNone(r.Open)
		object["steps"] = orNone(r.Steps)
	case KindCheck:
		object["verdict"] = r.Verdict
	}
	return json.Marshal(object)
}

func orNone[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

func orEmpty(c map[string][]any) map[string][]any {
	if c == nil {
		return map[string][]any{}
	}
	return c
}
