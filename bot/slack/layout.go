package slack

import (
	"cmp"
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// The limits we lay out to, each with room to spare below the service's own.
const (
	sectionLimit  = 2900  // characters of one section; the service takes 3,000
	messageLimit  = 12000 // characters of a message's blocks as JSON, all folds open; about 13,200 is refused
	blockLimit    = 45    // blocks of one message, all folds open; the service takes 50
	fallbackLimit = 3500  // characters of the plain text; 4,000 is advised
	cautionLimit  = 600   // characters of a caution in small type: every message has room for it
	choicesLimit  = 7000  // characters of questions as JSON that stand beside an answer; more go into messages of their own
)

// outgoing is one message: its blocks, and the plain text for notifications and
// screen readers.
type outgoing struct {
	blocks []sdk.Block
	text   markup
	live   bool // has buttons that answer a question
}

// layout is a Reply as messages. rest is the whole answer as plain text, to be
// attached, if the message could not hold it all.
type layout struct {
	messages []outgoing
	rest     string
}

// parts are a Reply's blocks by what they do.
type parts struct {
	head    []sdk.Block // headline and notices
	body    []sdk.Block // sections shown at once
	folds   []fold
	choices [][]sdk.Block // in groups that stay together
	caution []sdk.Block
	text    markup
}

// partsOf lays out a Reply's parts. conversation names a conversation that has
// no thread, or is empty.
func partsOf(r talk.Reply, conversation string) parts {
	caution, more := cautionBlocks(r.Caution)
	p := parts{text: fallback(r), caution: caution}
	p.head = join(headline(r), notices(r.Notices), more)
	for _, s := range r.Sections {
		if s.Fold {
			p.folds = append(p.folds, foldsOf(s, len(p.folds))...)
			continue
		}
		p.body = append(p.body, sections(titled(s.Title, s.Lines))...)
	}
	p.choices = choiceGroups(r.Choices, conversation)
	return p
}

// lay puts a Reply into one message if it can: what does not fit is left for an
// attachment, and many questions for messages of their own. A Reply whose head
// alone is too long is split instead.
func lay(r talk.Reply) layout {
	p, apart := partsOf(r, ""), parts{}
	if jsonSize(join(p.choices...)) > choicesLimit {
		apart, p.choices = p, nil
	}
	m, whole := p.fit()
	if m == nil {
		return laySplit(r, "")
	}
	l := layout{messages: append([]outgoing{*m}, apart.asked()...)}
	if !whole {
		l.rest = wholeAnswer(r)
	}
	return l
}

// fit is one message with as much of the parts as it can hold, in reading order,
// and whether that is all. It is nil if not even the head fits.
func (p parts) fit() (m *outgoing, whole bool) {
	if m := p.all(); m != nil {
		return m, true
	}
	left := p.notice()
	choices := join(p.choices...)
	fixed := join(p.head, left, choices, p.caution)
	used, count := jsonSize(fixed), len(fixed)
	if used > messageLimit || count > blockLimit {
		return nil, false
	}
	body, used, count := take(p.body, used, count)
	var folds []fold
	for _, f := range p.folds {
		cost, blocks := f.cost()
		if used+cost > messageLimit || count+blocks > blockLimit || len(folds) == foldLimit {
			break
		}
		folds, used, count = append(folds, f), used+cost, count+blocks
	}
	blocks := join(p.head, body, left, foldRow(folds), choices, p.caution)
	return &outgoing{blocks: blocks, text: p.text, live: len(p.choices) > 0}, false
}

// all is one message with all of the parts, or nil if it would be too long with
// its folds open. Nearly every answer fits, and is measured once.
func (p parts) all() *outgoing {
	blocks := join(p.head, p.body, foldRow(p.folds), join(p.choices...), p.caution)
	used, count := jsonSize(blocks), len(blocks)
	for _, f := range p.folds {
		open := f.open()
		used, count = used+jsonSize(open), count+len(open)
	}
	if used > messageLimit || count > blockLimit || len(p.folds) > foldLimit {
		return nil
	}
	return &outgoing{blocks: blocks, text: p.text, live: len(p.choices) > 0}
}

// notice says that the rest is attached.
func (parts) notice() []sdk.Block {
	return []sdk.Block{sdk.NewContextBlock("", escape(attachedText).object())}
}

// take is as many leading blocks as fit.
func take(blocks []sdk.Block, used, count int) ([]sdk.Block, int, int) {
	for i, b := range blocks {
		cost := jsonSize([]sdk.Block{b})
		if used+cost > messageLimit || count+1 > blockLimit {
			return blocks[:i], used, count
		}
		used, count = used+cost, count+1
	}
	return blocks, used, count
}

// laySplit puts a Reply into as many messages as it needs, folds open, each with
// the caution; the choices stand in the last.
func laySplit(r talk.Reply, conversation string) layout {
	p := partsOf(r, conversation)
	flow := join(p.head, p.body)
	for _, f := range p.folds {
		flow = append(flow, f.open()...)
	}
	var l layout
	for len(flow) > 0 {
		taken, _, _ := take(flow, jsonSize(p.caution), len(p.caution))
		l.messages = append(l.messages, outgoing{blocks: join(taken, p.caution), text: p.text})
		flow = flow[len(taken):]
	}
	return p.withChoices(l)
}

// withChoices puts the choices into the last message, or into more.
func (p parts) withChoices(l layout) layout {
	if len(p.choices) == 0 {
		return l
	}
	if n := len(l.messages); n > 0 {
		last := l.messages[n-1].blocks
		last = join(last[:len(last)-len(p.caution)], join(p.choices...), p.caution)
		if jsonSize(last) <= messageLimit && len(last) <= blockLimit {
			l.messages[n-1].blocks, l.messages[n-1].live = last, true
			return l
		}
	}
	l.messages = append(l.messages, p.asked()...)
	return l
}

// asked is the choices in messages of their own. The buttons of all count from
// the first on.
func (p parts) asked() []outgoing {
	var list []outgoing
	var blocks []sdk.Block
	for _, group := range p.choices {
		longer := join(blocks, group)
		if len(blocks) > 0 && jsonSize(join(longer, p.caution)) > messageLimit {
			list, longer = append(list, outgoing{blocks: join(blocks, p.caution), text: p.text}), group
		}
		blocks = longer
	}
	if len(blocks) > 0 {
		list = append(list, outgoing{blocks: join(blocks, p.caution), text: p.text})
		list[0].live = true
	}
	return list
}

// headline is what comes first: the Reply's headline, or its text if it has none.
func headline(r talk.Reply) []sdk.Block {
	if r.Headline == "" {
		return sections(escape(r.Text))
	}
	h := escape(r.Headline)
	if h.size() <= 300 {
		h = bold(h)
	}
	return sections(h)
}

func notices(list []string) []sdk.Block {
	var blocks []sdk.Block
	for _, n := range list {
		blocks = append(blocks, sections(bold(noteLabel)+"  "+escape(n))...)
	}
	return blocks
}

// titled is a section's text: its title in bold, its lines as a list.
func titled(title string, lines []string) markup {
	var text []string
	if title != "" {
		text = append(text, string(bold(escape(title))))
	}
	for _, line := range lines {
		text = append(text, string(escape(bullet(line))))
	}
	return markup(strings.Join(text, "\n"))
}

// bullet marks a line as an item, unless it is numbered, indented or empty.
func bullet(line string) string {
	trimmed := strings.TrimLeft(line, "0123456789")
	numbered := trimmed != line && (strings.HasPrefix(trimmed, ". ") || strings.HasPrefix(trimmed, ") "))
	if line == "" || numbered || line[0] == ' ' || strings.HasPrefix(line, "\u2022") {
		return line
	}
	return "\u2022 " + line
}

// sections is text as section blocks, cut where it reads well.
func sections(m markup) []sdk.Block {
	var blocks []sdk.Block
	for _, piece := range splitMarkup(m, sectionLimit) {
		blocks = append(blocks, sdk.NewSectionBlock(piece.object(), nil, nil))
	}
	return blocks
}

// cautionBlocks is the caution in small type; more is what is left of one that
// is too long for that.
func cautionBlocks(text string) (caution, more []sdk.Block) {
	pieces := splitMarkup(escape(text), cautionLimit)
	if len(pieces) == 0 {
		return nil, nil
	}
	for _, piece := range pieces[1:] {
		more = append(more, sections(piece)...)
	}
	return []sdk.Block{sdk.NewContextBlock("", pieces[0].object())}, more
}

// fallback is the plain text of a Reply, the caution always in it.
func fallback(r talk.Reply) markup {
	text := escape(cmp.Or(r.Text, r.Headline))
	caution := escape(r.Caution)
	if !strings.Contains(string(text), string(caution)) {
		text += "\n" + caution
	}
	if text.size() <= fallbackLimit {
		return text
	}
	room := max(fallbackLimit-caution.size()-utf8.RuneCountInString(wholeText)-2, 200)
	first := splitMarkup(text, room)
	return lineUp(append(first[:min(1, len(first))], escape(wholeText), caution))
}

// wholeAnswer is the answer as a text file.
func wholeAnswer(r talk.Reply) string {
	switch {
	case strings.Contains(r.Text, r.Caution) && r.Text != "":
		return clean(r.Text)
	case r.Text != "":
		return clean(r.Text + "\n\n" + r.Caution + "\n")
	}
	lines := append([]string{r.Headline, ""}, r.Notices...)
	for _, s := range r.Sections {
		lines = append(lines, "", s.Title)
		lines = append(lines, s.Lines...)
	}
	for _, c := range r.Choices {
		lines = append(lines, "", c.Ask)
	}
	return clean(strings.Join(append(lines, "", r.Caution, ""), "\n"))
}

func lineUp(lines []markup) markup {
	var text []string
	for _, line := range lines {
		text = append(text, string(line))
	}
	return markup(strings.Join(text, "\n"))
}

func join(groups ...[]sdk.Block) []sdk.Block {
	var all []sdk.Block
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

// jsonSize is the length of blocks on the wire, in characters.
func jsonSize(blocks []sdk.Block) int { return wireSize(blocks) }

// wireSize is the length of anything on the wire, in characters.
func wireSize(v any) int {
	b, err := json.Marshal(v)
	if err != nil { // only our own plain structs are marshalled
		panic(fmt.Sprintf("block: %v", err))
	}
	return utf8.RuneCount(b)
}
