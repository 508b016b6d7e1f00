package slack

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// The form's names in the service.
const (
	formCallback = "case_form"      // the modal
	formShortcut = "open_case_form" // the global shortcut that opens it, in the manifest
	fieldAction  = "value"          // every field's input
	fieldLimit   = 60               // fields shown at once
	fieldText    = 2000             // characters of a field's label or hint
	emptyText    = "fill in at least one field"
)

// A Former describes the case form for what is filled in so far: fact → what its
// field says. It is asked anew whenever a list is changed, and leaves out fields
// that can no longer matter. It must be quick: the service waits 3 s.
type Former func(ctx context.Context, filled map[string]string) (Form, error)

// A Form is a case form as it should stand now.
type Form struct {
	Title  string // at most 24 characters are shown
	Fields []Field
	Says   string // the message that the form, as filled in, stands for
}

// A Field asks for one fact: with Options a list, without them typed text.
type Field struct {
	Fact    string
	Label   string
	Hint    string
	Options []talk.Option // Says is what is handed back; more than 100, or over 150 characters, are to be typed
	Error   string        // what is wrong with the value filled in; empty: nothing
}

// view is the part we need of a form that is shown.
type view struct {
	ID       string `json:"id"`
	Type     string `json:"type"`
	Callback string `json:"callback_id"`
	Hash     string `json:"hash"`
	Private  string `json:"private_metadata"`
	State    struct {
		Values map[string]map[string]struct {
			Value    string `json:"value"`
			Selected struct {
				Value string `json:"value"`
			} `json:"selected_option"`
		} `json:"values"`
	} `json:"state"`
}

// filled is what the form's fields say: fact → value.
func (v view) filled() map[string]string {
	filled := make(map[string]string)
	for block, inputs := range v.State.Values {
		fact, ok := strings.CutPrefix(block, "field/")
		input := inputs[fieldAction]
		if value := cmp.Or(input.Selected.Value, strings.TrimSpace(input.Value)); ok && value != "" {
			filled[fact] = value
		}
	}
	return filled
}

// formPlace is where a form was opened; its answer goes there, or with no
// channel to the asker's direct messages.
type formPlace struct {
	Channel string `json:"channel,omitempty"`
}

// formLane keeps what a person does with forms in order, apart from their answers:
// a form must open at once.
func formLane(user string) string { return "form/" + user }

// openForm shows the empty form. The trigger lives about 3 s.
func (a *app) openForm(ctx context.Context, trigger string, at formPlace) {
	if a.o.Form == nil {
		return
	}
	place, err := json.Marshal(at)
	if err != nil {
		a.report("form", err)
		return
	}
	form, err := a.o.Form(ctx, map[string]string{})
	var shown sdk.ModalViewRequest
	if err == nil {
		shown, err = formView(form, nil, string(place))
	}
	if err != nil {
		a.o.Log.Error("form cannot be shown", "kind", fmt.Sprintf("%T", err))
		shown = noForm()
	}
	_, err = a.web.OpenViewContext(ctx, trigger, shown)
	a.report("form", err)
}

// noForm is a form that says there is none.
func noForm() sdk.ModalViewRequest {
	return sdk.ModalViewRequest{Type: sdk.VTModal, Title: label("Case", 24), Close: label("Close", 24),
		Blocks: sdk.Blocks{BlockSet: sections(escape(noFormText))}}
}

// refreshForm shows the fields that still matter after one was changed.
func (a *app) refreshForm(ctx context.Context, in interaction) {
	if a.o.Form == nil {
		return
	}
	filled := in.View.filled()
	form, err := a.o.Form(ctx, filled)
	if err != nil {
		a.o.Log.Error("form cannot be brought up to date", "kind", fmt.Sprintf("%T", err))
		return
	}
	shown, err := formView(form, filled, in.View.Private)
	if err != nil {
		a.o.Log.Error("form cannot be shown", "kind", fmt.Sprintf("%T", err))
		return
	}
	_, err = a.web.UpdateViewContext(ctx, shown, "", in.View.Hash, in.View.ID)
	a.report("form", err)
}

// submitted checks a form that was sent off: what is wrong is shown beside its
// field, else the form closes and its message is answered.
func (a *app) submitted(ctx context.Context, in interaction) (any, job) {
	if a.o.Form == nil {
		return nil, nil
	}
	form, err := a.o.Form(ctx, in.View.filled())
	if err != nil {
		a.o.Log.Error("form cannot be read", "kind", fmt.Sprintf("%T", err))
		return sdk.NewUpdateViewSubmissionResponse(ptr(noForm())), nil
	}
	if wrong := fieldErrors(form); len(wrong) > 0 {
		return sdk.NewErrorsViewSubmissionResponse(wrong), nil
	}
	var at formPlace
	_ = json.Unmarshal([]byte(in.View.Private), &at) // unreadable: direct messages
	return nil, func(ctx context.Context) {
		a.askApart(ctx, cmp.Or(at.Channel, in.User.ID), in.User.ID, form.Says, form.Says)
	}
}

// fieldErrors is what is wrong, by the field's block.
func fieldErrors(form Form) map[string]string {
	wrong := make(map[string]string)
	for _, f := range form.Fields {
		if f.Error != "" {
			wrong["field/"+f.Fact] = shorten(clean(f.Error), 150)
		}
	}
	if len(wrong) == 0 && form.Says == "" && len(form.Fields) > 0 {
		wrong["field/"+form.Fields[0].Fact] = emptyText
	}
	return wrong
}

// formView lays out a form.
func formView(form Form, filled map[string]string, place string) (sdk.ModalViewRequest, error) {
	v := sdk.ModalViewRequest{Type: sdk.VTModal, CallbackID: formCallback, PrivateMetadata: place,
		Title: label(cmp.Or(form.Title, "Case"), 24), Submit: label("Ask", 24), Close: label("Cancel", 24)}
	if len(form.Fields) == 0 {
		return v, errors.New("form has no fields")
	}
	for _, f := range form.Fields[:min(len(form.Fields), fieldLimit)] {
		block, err := fieldBlock(f, filled[f.Fact])
		if err != nil {
			return v, err
		}
		v.Blocks.BlockSet = append(v.Blocks.BlockSet, block)
	}
	return v, nil
}

func fieldBlock(f Field, value string) (sdk.Block, error) {
	if n := utf8.RuneCountInString(f.Fact); n == 0 || n > 200 {
		return nil, fmt.Errorf("field named with %d characters: 1 to 200 are allowed", n)
	}
	var hint *sdk.TextBlockObject
	if f.Hint != "" {
		hint = label(f.Hint, fieldText)
	}
	block := sdk.NewInputBlock("field/"+f.Fact, label(cmp.Or(f.Label, f.Fact), fieldText), hint, fieldInput(f, value))
	block.Optional = true
	block.DispatchAction = f.listed()
	return block, nil
}

// listed reports whether the field is a list. One with more options than a list
// takes, or longer ones, is a line to type in, so that none is left out.
func (f Field) listed() bool {
	unfit := func(o talk.Option) bool { return o.Says == "" || !listable(o) }
	return len(f.Options) > 0 && len(f.Options) <= listLimit && !slices.ContainsFunc(f.Options, unfit)
}

// fieldInput is a field's list, with what is filled in chosen, or its line to type in.
func fieldInput(f Field, value string) sdk.BlockElement {
	if !f.listed() {
		line := sdk.NewPlainTextInputBlockElement(nil, fieldAction)
		line.MaxLength, line.InitialValue = 300, shorten(value, 300)
		return line
	}
	var entries []*sdk.OptionBlockObject
	for _, o := range f.Options {
		entries = append(entries, entry(o))
	}
	choice := sdk.NewOptionsSelectBlockElement(sdk.OptTypeStatic, label(placeholderText, 150), fieldAction, entries...)
	if i := slices.IndexFunc(f.Options, func(o talk.Option) bool { return o.Says == value }); i >= 0 {
		choice.InitialOption = entries[i]
	}
	return choice
}

func ptr[T any](v T) *T { return &v }
