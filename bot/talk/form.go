package talk

import (
	"strings"

	"mortarboard/planner"
)

// A Field asks for one fact of a case: with Options by choice, else as a number.
type Field struct {
	Fact    string
	Label   string
	Hint    string
	Options []Option // Says is the value to hand back
	Error   string   // what is wrong with what was filled in, if anything
}

// A Form is a case being built field by field.
type Form struct {
	Fields []Field
	Says   string // the message that the form stands for as it is filled in
}

// Form describes the case form for what is filled in so far, fact → value: the
// fields that were filled in, and those that can still change the strategy, the
// most settling first.
func (t *Talk) Form(filled map[string]string) Form {
	var form Form
	var says []string
	c := t.book.NewCase()
	for _, f := range t.book.Facts {
		value := strings.TrimSpace(filled[f.Name])
		if value == "" {
			continue
		}
		field := t.field(f)
		if next, err := c.With(f.Name, value); err != nil {
			field.Error = err.Error()
		} else {
			c = next
			says = append(says, f.Title+": "+value)
		}
		form.Fields = append(form.Fields, field)
	}
	for _, f := range t.book.Plan(c).Open {
		form.Fields = append(form.Fields, t.field(f))
	}
	form.Says = strings.Join(says, "; ")
	return form
}

func (t *Talk) field(f *planner.Fact) Field {
	field := Field{Fact: f.Name, Label: f.Title, Hint: f.Ask}
	if f.Measured() {
		return field
	}
	for _, v := range f.Values {
		field.Options = append(field.Options, Option{Label: v, Says: v})
	}
	return field
}

// Covers says what the bot answers, for a page that greets.
func (t *Talk) Covers() []Section { return t.help().Sections }
