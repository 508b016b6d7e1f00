package slack

import (
	"encoding/json"
	"fmt"
	"strings"

	sdk "github.com/slack-go/slack"
)

// asIs is a block exactly as the service sent it.
type asIs json.RawMessage

// BlockType is the block's type.
func (b asIs) BlockType() sdk.MessageBlockType { return sdk.MessageBlockType(headOf(b).Type) }

// ID is the block's name.
func (b asIs) ID() string { return headOf(b).ID }

// MarshalJSON returns the block unchanged.
func (b asIs) MarshalJSON() ([]byte, error) { return b, nil }

type blockHead struct {
	Type string `json:"type"`
	ID   string `json:"block_id"`
}

func headOf[T ~[]byte](b T) blockHead {
	var h blockHead
	_ = json.Unmarshal(b, &h) // a block we cannot read is left where it stands
	return h
}

func rawBlock(b sdk.Block) json.RawMessage {
	raw, err := json.Marshal(b)
	if err != nil { // only our own plain structs are marshalled
		panic(fmt.Sprintf("block: %v", err))
	}
	return raw
}

// kindOf is the first part of a block's name, which says what it is.
func kindOf(b json.RawMessage) string {
	kind, _, _ := strings.Cut(headOf(b).ID, "/")
	return kind
}

// chosen is a message's blocks after a press: the pressed question shows what was
// chosen, the other questions go, since the next answer brings them anew.
func chosen(blocks []json.RawMessage, pressed, shown string) []json.RawMessage {
	_, rest, _ := strings.Cut(pressed, "/")
	var kept []json.RawMessage
	for _, b := range blocks {
		switch id := headOf(b).ID; {
		case id == pressed:
			kept = append(kept, rawBlock(sdk.NewContextBlock("", ("Chosen: "+bold(escape(shorten(shown, 75)))).object())))
		case kindOf(b) == "choice", kindOf(b) == "ask" && id != "ask/"+rest:
		default:
			kept = append(kept, b)
		}
	}
	return kept
}

// outdated is a message's blocks without their questions, and a line that says so.
func outdated(blocks []json.RawMessage) []json.RawMessage {
	var kept []json.RawMessage
	said := false
	for _, b := range blocks {
		if kind := kindOf(b); kind != "choice" && kind != "ask" {
			kept = append(kept, b)
			continue
		}
		if !said {
			kept = append(kept, rawBlock(sdk.NewContextBlock("", escape(movedOnText).object())))
			said = true
		}
	}
	return kept
}

// refold is a message's blocks with one fold shown or hidden.
func refold(blocks []json.RawMessage, f fold) []json.RawMessage {
	var kept []json.RawMessage
	for _, b := range blocks {
		head := headOf(b)
		switch {
		case strings.HasPrefix(head.ID, f.prefix()):
			continue
		case head.ID == "folds":
			kept = append(kept, opened(f)...)
			kept = append(kept, turned(b, f))
		default:
			kept = append(kept, b)
		}
	}
	return kept
}

// opened is the fold's text as raw blocks; none if it is being hidden.
func opened(f fold) []json.RawMessage {
	if !f.shown {
		return nil
	}
	var raw []json.RawMessage
	for _, b := range f.open() {
		raw = append(raw, rawBlock(b))
	}
	return raw
}

// turned is the row of buttons with the fold's own turned over.
func turned(row json.RawMessage, f fold) json.RawMessage {
	var block struct {
		Type     string            `json:"type"`
		ID       string            `json:"block_id"`
		Elements []json.RawMessage `json:"elements"`
	}
	if json.Unmarshal(row, &block) != nil {
		return row
	}
	for i, e := range block.Elements {
		var id struct {
			Action string `json:"action_id"`
		}
		if json.Unmarshal(e, &id) != nil || !strings.HasSuffix(id.Action, fmt.Sprintf("/%d", f.number)) {
			continue
		}
		if raw, err := json.Marshal(f.button()); err == nil {
			block.Elements[i] = raw
		}
	}
	raw, err := json.Marshal(block)
	if err != nil {
		return row
	}
	return raw
}
