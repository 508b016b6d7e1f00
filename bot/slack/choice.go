package slack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

const (
	choiceLimit = 5    // questions put back at once: more would not be read
	groupLimit  = 6    // groups that all questions may take together
	groupSize   = 9000 // characters of the answers of one group on the wire
	askLimit    = 300  // characters of one question
	buttonLimit = 5    // answers shown as buttons; more become a list
	rowLimit    = 25   // buttons and lists the service takes in one row
	listLimit   = 100  // entries the service takes in one list
	labelLimit  = 75   // characters it takes on a button or list entry
	saysButton  = 2000 // characters of a button's value
	saysList    = 150  // characters of a list entry's value
)

// choiceGroups are the questions put back, each with its answers to press. A
// group stays together in one message; a question with more answers than one
// message holds goes on in further groups. A question for which there is no room
// comes with the next answer, which settles less.
func choiceGroups(choices []talk.Choice, conversation string) [][]sdk.Block {
	var all [][]sdk.Block
	for i, c := range choices[:min(len(choices), choiceLimit)] {
		groups := groupsOf(c, i, conversation)
		if len(all) > 0 && len(all)+len(groups) > groupLimit {
			break
		}
		all = append(all, groups...)
	}
	return all
}

// groupsOf is one question as groups: its words with a row of buttons or lists,
// and in the last how many answers do not fit.
func groupsOf(c talk.Choice, i int, conversation string) [][]sdk.Block {
	elements, left := answers(c, i)
	rows := rowsOf(elements)
	most := min(len(rows), groupLimit)
	for _, row := range rows[most:] {
		left += pressesIn(row)
	}
	var groups [][]sdk.Block
	for k, row := range rows[:most] {
		number := groupNumber(i, k)
		groups = append(groups, []sdk.Block{askBlock(c, k, blockID("ask", number, conversation)),
			sdk.NewActionBlock(blockID("choice", number, conversation), row...)})
	}
	if most > 0 && left > 0 {
		groups[most-1] = append(groups[most-1], leftBlock(left, blockID("choice", groupNumber(i, most), conversation)))
	}
	return groups
}

// groupNumber tells the groups of questions apart.
func groupNumber(question, group int) string {
	if group == 0 {
		return fmt.Sprint(question)
	}
	return fmt.Sprintf("%d.%d", question, group)
}

// leftBlock says that answers are missing.
func leftBlock(left int, id string) sdk.Block {
	return sdk.NewContextBlock(id, escape(fmt.Sprintf(leftText, left)).object())
}

// rowsOf puts buttons and lists into rows that one message holds.
func rowsOf(elements []sdk.BlockElement) [][]sdk.BlockElement {
	var rows [][]sdk.BlockElement
	size := 0
	for _, e := range elements {
		n := wireSize(e)
		if last := len(rows) - 1; last < 0 || len(rows[last]) == rowLimit || size+n > groupSize {
			rows, size = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], e)
		size += n
	}
	return rows
}

// pressesIn is how many answers a row offers.
func pressesIn(row []sdk.BlockElement) int {
	n := 0
	for _, e := range row {
		n++
		if list, ok := e.(*sdk.SelectBlockElement); ok {
			n += len(list.Options) - 1
		}
	}
	return n
}

// askBlock is the words of a question; k counts its groups.
func askBlock(c talk.Choice, k int, id string) sdk.Block {
	text := escape("?")
	if ask := splitMarkup(escape(cmp.Or(c.Ask, c.Fact)), askLimit); len(ask) > 0 {
		text = ask[0]
	}
	if k > 0 {
		text += escape(continuedText)
	}
	return sdk.NewSectionBlock(text.object(), nil, nil, sdk.SectionBlockOptionBlockID(id))
}

// blockID names a block: what it is, its number, and the conversation it belongs
// to if that has no thread.
func blockID(kind, number, conversation string) string {
	return kind + "/" + number + "/" + conversation
}

// answers are a choice's buttons, or lists if there are many; left is how many are
// too long for either. One whose message is too long for a list, which takes less,
// is a button in any case.
func answers(c talk.Choice, i int) (elements []sdk.BlockElement, left int) {
	options, left := pressable(c.Options)
	if len(options) <= buttonLimit && !slices.ContainsFunc(options, wantsList) {
		return buttons(options, i), left
	}
	var listed, long []talk.Option
	for _, o := range options {
		if listable(o) {
			listed = append(listed, o)
		} else {
			long = append(long, o)
		}
	}
	return append(lists(listed, i), buttons(long, i)...), left
}

// pressable are the options that stand for a message which a button can hold; left
// is how many stand for one that is too long.
func pressable(options []talk.Option) (kept []talk.Option, left int) {
	for _, o := range options {
		switch n := utf8.RuneCountInString(o.Says); {
		case n == 0:
		case n > saysButton, wireSize(o.Says) > groupSize/2:
			left++
		default:
			kept = append(kept, o)
		}
	}
	return kept, left
}

func listable(o talk.Option) bool { return utf8.RuneCountInString(o.Says) <= saysList }

// wantsList reports whether an option is better read in a list: it shows on a
// second line what a button would cut off.
func wantsList(o talk.Option) bool {
	return listable(o) && utf8.RuneCountInString(label(o.Label, maxLabel).Text) > labelLimit
}

// maxLabel is what the two lines of a list entry show.
const maxLabel = 2 * labelLimit

func buttons(options []talk.Option, i int) []sdk.BlockElement {
	var row []sdk.BlockElement
	for j, o := range options {
		row = append(row, sdk.NewButtonBlockElement(fmt.Sprintf("say/%d/%d", i, j), o.Says, label(o.Label, labelLimit)))
	}
	return row
}

// lists are options in as many lists as they need.
func lists(options []talk.Option, i int) []sdk.BlockElement {
	var all []sdk.BlockElement
	for len(options) > 0 {
		entries := entriesOf(options)
		id := fmt.Sprintf("say/%d", i)
		if n := len(all); n > 0 {
			id += fmt.Sprintf("/list/%d", n)
		}
		all = append(all, sdk.NewOptionsSelectBlockElement(sdk.OptTypeStatic, label(placeholderText, 150), id, entries...))
		options = options[len(entries):]
	}
	return all
}

// entriesOf are the leading options as entries, as many as one list takes.
func entriesOf(options []talk.Option) []*sdk.OptionBlockObject {
	var entries []*sdk.OptionBlockObject
	size := 500 // the list around them
	for _, o := range options[:min(len(options), listLimit)] {
		e := entry(o)
		if size += wireSize(e) + 1; size > groupSize && len(entries) > 0 {
			break
		}
		entries = append(entries, e)
	}
	return entries
}

// entry is an option as a list entry, on two lines if its label is long.
func entry(o talk.Option) *sdk.OptionBlockObject {
	first, second := twoLines(label(o.Label, maxLabel).Text)
	if second == "" {
		return sdk.NewOptionBlockObject(o.Says, label(first, labelLimit), nil)
	}
	return sdk.NewOptionBlockObject(o.Says, label(first, labelLimit), label(second, labelLimit))
}

// twoLines parts a label between two words, if it is too long for one line.
func twoLines(text string) (first, second string) {
	if utf8.RuneCountInString(text) <= labelLimit {
		return text, ""
	}
	cut := byteOffset(text, labelLimit)
	if space := strings.LastIndexByte(text[:cut+1], ' '); space > 0 {
		cut = space
	}
	return text[:cut], strings.TrimSpace(text[cut:])
}
