package talk

import (
	"fmt"
	"strings"
	"text/template"
)

// wordingFuncs are what wording.tmpl may call.
var wordingFuncs = template.FuncMap{
	"join": strings.Join,
	"num":  func(x float64) string { return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".") },
}

// say writes one of the sentences of wording.tmpl. A name that is not there is
// a fault of the program, which a test of every name finds.
func (t *Talk) say(name string, data any) string {
	var out strings.Builder
	if err := t.wording.ExecuteTemplate(&out, name, data); err != nil {
		panic(fmt.Sprintf("wording.tmpl: %v", err))
	}
	return strings.Join(strings.Fields(out.String()), " ")
}

// finish puts the caution at the end and writes the whole answer as one text.
func (t *Talk) finish(r *Reply) {
	r.Caution = t.say("caution", t.lead())
	var text strings.Builder
	text.WriteString(r.Headline + "\n")
	for _, n := range r.Notices {
		if n == r.Headline {
			continue
		}
		text.WriteString("\n! " + n + "\n")
	}
	for _, s := range r.Sections {
		text.WriteString("\n" + s.Title + "\n")
		for _, line := range s.Lines {
			text.WriteString("  " + strings.ReplaceAll(line, "\n", "\n  ") + "\n")
		}
	}
	text.WriteString("\n" + r.Caution)
	r.Text = text.String()
}

// lead is whom the bot sends people to.
func (t *Talk) lead() string {
	if t.book.Practice == nil {
		return ""
	}
	return t.book.Practice.Lead
}
