package slack

import (
	"cmp"
	"fmt"
	"strings"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

const (
	foldLimit = 25   // buttons in the row of folded sections
	foldText  = 1800 // characters of one folded piece; the service takes 2,000 in a button
)

// A fold is a section, or a piece of one, behind a button. Its text travels in
// the button, so that it opens whenever it is pressed, whatever was restarted.
type fold struct {
	number int
	title  string
	text   string // plain lines
	shown  bool
}

// foldsOf is a section as folds, cut at line ends if it is long.
func foldsOf(s talk.Section, from int) []fold {
	lines := make([]string, len(s.Lines))
	for i, line := range s.Lines {
		lines[i] = bullet(line)
	}
	pieces := splitMarkup(markup(clean(strings.Join(lines, "\n"))), foldText)
	folds := make([]fold, len(pieces))
	for i, piece := range pieces {
		title := cmp.Or(strings.Join(strings.Fields(s.Title), " "), "detail")
		title = shorten(title, 55)
		if len(pieces) > 1 {
			title += fmt.Sprintf(" (%d of %d)", i+1, len(pieces))
		}
		folds[i] = fold{number: from + i, title: title, text: string(piece)}
	}
	return folds
}

// button shows or hides the fold.
func (f fold) button() sdk.BlockElement {
	action, words := "show", moreLabel
	if f.shown {
		action, words = "hide", lessLabel
	}
	id := fmt.Sprintf("fold/%s/%d", action, f.number)
	return sdk.NewButtonBlockElement(id, f.title+"\n"+f.text, label(words+f.title, 75))
}

// foldOf reads a fold back from its button.
func foldOf(actionID, value string) (fold, bool) {
	var f fold
	var action string
	if n, err := fmt.Sscanf(strings.ReplaceAll(actionID, "/", " "), "fold %s %d", &action, &f.number); n != 2 || err != nil {
		return fold{}, false
	}
	f.title, f.text, _ = strings.Cut(value, "\n")
	f.shown = action == "show"
	return f, f.number >= 0 && (action == "show" || action == "hide")
}

// open is the fold's text as blocks.
func (f fold) open() []sdk.Block {
	text := titled(f.title, strings.Split(f.text, "\n"))
	var blocks []sdk.Block
	for i, piece := range splitMarkup(text, sectionLimit) {
		id := sdk.SectionBlockOptionBlockID(fmt.Sprintf("%s%d", f.prefix(), i))
		blocks = append(blocks, sdk.NewSectionBlock(piece.object(), nil, nil, id))
	}
	return blocks
}

// prefix begins the name of every block of the open fold.
func (f fold) prefix() string { return fmt.Sprintf("open/%d/", f.number) }

// cost is what the fold adds to a message when open: characters and blocks.
func (f fold) cost() (characters, blocks int) {
	open := f.open()
	row := foldRow([]fold{f})
	return jsonSize(open) + jsonSize(row), len(open) + 1
}

// foldRow is the row of buttons.
func foldRow(folds []fold) []sdk.Block {
	if len(folds) == 0 {
		return nil
	}
	var buttons []sdk.BlockElement
	for _, f := range folds {
		buttons = append(buttons, f.button())
	}
	return []sdk.Block{sdk.NewActionBlock("folds", buttons...)}
}
