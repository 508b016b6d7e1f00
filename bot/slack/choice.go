package slack

import (
	"fmt"
	"unicode/utf8"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

const (
	answersSize = 4000 // characters of one choice's answers on the wire
	choicesSize = 7000 // characters of all choices on the wire
	askLimit    = 500  // characters of one question
	choiceLimit = 5    // questions put back at once: more would not be read
	buttonLimit = 5    // answers shown as buttons; more become a list
	rowLimit    = 25   // buttons the service takes in one row
	listLimit   = 100  // entries the service takes in one list
	saysButton  = 2000 // characters of a button's value
	saysList    = 150  // characters of a list entry's value
)

// choiceBlocks are the questions put back, each with its answers to press.
func choiceBlocks(choices []talk.Choice, conversation string) []sdk.Block {
	var blocks []sdk.Block
	for i, c := range choices[:min(len(choices), choiceLimit)] {
		elements := answers(c, i)
		if len(elements) == 0 {
			continue
		}
		row := sdk.NewActionBlock(blockID("choice", i, conversation), elements...)
		longer := join(blocks, []sdk.Block{askBlock(c, i, conversation), row})
		if len(blocks) > 0 && jsonSize(longer) > choicesSize {
			break
		}
		blocks = longer
	}
	return blocks
}

func askBlock(c talk.Choice, i int, conversation string) sdk.Block {
	ask := splitMarkup(escape(or(c.Ask, c.Fact)), askLimit)
	text := escape("?")
	if len(ask) > 0 {
		text = ask[0]
	}
	return sdk.NewSectionBlock(text.object(), nil, nil, sdk.SectionBlockOptionBlockID(blockID("ask", i, conversation)))
}

// blockID names a block: what it is, its number, and the conversation it belongs
// to if that has no thread.
func blockID(kind string, i int, conversation string) string {
	return fmt.Sprintf("%s/%d/%s", kind, i, conversation)
}

// answers are a choice's buttons, or one list if there are many.
func answers(c talk.Choice, i int) []sdk.BlockElement {
	options, short := pressable(c.Options)
	if len(options) > buttonLimit && short {
		return []sdk.BlockElement{list(options, i)}
	}
	var buttons []sdk.BlockElement
	for j, o := range options[:min(len(options), rowLimit)] {
		id := fmt.Sprintf("say/%d/%d", i, j)
		buttons = append(buttons, sdk.NewButtonBlockElement(id, o.Says, label(o.Label, 75)))
	}
	return buttons
}

// pressable leaves out options that stand for no message or for one too long for
// a button, and those for which there is no room, and reports whether all would go into a list.
func pressable(options []talk.Option) (kept []talk.Option, short bool) {
	short = true
	room := answersSize
	for _, o := range options {
		n := utf8.RuneCountInString(o.Says)
		room -= jsonSize([]sdk.Block{sdk.NewActionBlock("", sdk.NewButtonBlockElement("say/00/00", o.Says, label(o.Label, 75)))})
		if n == 0 || n > saysButton || (room < 0 && len(kept) > 0) {
			continue
		}
		short = short && n <= saysList
		kept = append(kept, o)
	}
	return kept, short
}

func list(options []talk.Option, i int) sdk.BlockElement {
	var entries []*sdk.OptionBlockObject
	for _, o := range options[:min(len(options), listLimit)] {
		entries = append(entries, sdk.NewOptionBlockObject(o.Says, label(o.Label, 75), nil))
	}
	return sdk.NewOptionsSelectBlockElement(sdk.OptTypeStatic, label(placeholderText, 150),
		fmt.Sprintf("say/%d", i), entries...)
}
