package slack

import (
	"context"
	"fmt"

	sdk "github.com/slack-go/slack"

	"mortarboard/bot/talk"
)

// A Homer says what a person's home tab of the app shows. User is the person's
// id in the workspace.
type Homer func(ctx context.Context, user string) (Home, error)

// Home is a home tab. Its choices are buttons; what they say is asked in the
// person's direct messages.
type Home struct {
	Runs     []OpenRun // of all threads; those of direct messages are not shown
	Sections []talk.Section
	Choices  []talk.Choice
}

// An OpenRun is a plan that is being worked through in a thread.
type OpenRun struct {
	Thread string // as talk.Message.Thread names it
	Says   string // what it is, and where it stands
}

// homeBlockLimit is below the service's 100 blocks of a home tab.
const homeBlockLimit = 80

// readHome is the delivery of an opened home tab.
func (a *app) readHome(d eventDelivery) delivery {
	if d.Event.Tab != "home" || d.Event.User == "" {
		return delivery{}
	}
	user := d.Event.User
	return delivery{keys: []string{d.EventID}, lane: "home/" + user,
		do: func(ctx context.Context) { a.showHome(ctx, user) }}
}

// showHome brings a person's home tab up to date.
func (a *app) showHome(ctx context.Context, user string) {
	tab := sdk.HomeTabViewRequest{Type: sdk.VTHomeTab, Blocks: sdk.Blocks{BlockSet: a.homeBlocks(a.homeOf(ctx, user))}}
	err := a.paced(ctx, "views.publish", "home/"+user, func(ctx context.Context) error {
		_, err := a.web.PublishViewContext(ctx, sdk.PublishViewContextRequest{UserID: user, View: tab})
		return err
	})
	a.report("home tab", err)
}

// homeOf asks for the tab's content; without any, or if it fails, the tab says
// how to ask.
func (a *app) homeOf(ctx context.Context, user string) Home {
	standing := Home{Sections: []talk.Section{{Lines: []string{homeText}}}}
	if a.o.Home == nil {
		return standing
	}
	home, err := a.o.Home(ctx, user)
	if err != nil {
		a.o.Log.Error("home tab failed", "kind", fmt.Sprintf("%T", err))
		return standing
	}
	return home
}

func (a *app) homeBlocks(h Home) []sdk.Block {
	var blocks []sdk.Block
	if a.o.Form != nil {
		blocks = append(blocks, formButton())
	}
	choices := join(choiceGroups(h.Choices, "home")...)
	blocks = append(blocks, a.runBlocks(h.Runs)...)
	room := homeBlockLimit - len(choices)
	for _, s := range h.Sections {
		for _, b := range sections(titled(s.Title, s.Lines)) {
			if len(blocks) < room {
				blocks = append(blocks, b)
			}
		}
	}
	if len(blocks)+len(choices) == 0 {
		return sections(escape(homeText))
	}
	return append(blocks, choices...)
}

// runsShown is how many open runs a home tab names.
const runsShown = 15

// runBlocks names the open runs of the channels, each with its channel.
func (a *app) runBlocks(runs []OpenRun) []sdk.Block {
	var lines markup
	shown := 0
	for _, run := range runs {
		if name, ok := channelName(a.channelOf(run.Thread)); ok && shown < runsShown {
			lines += "\n" + name + " " + escape(run.Says)
			shown++
		}
	}
	if shown == 0 {
		return nil
	}
	return sections(bold(escape(runsText)) + lines)
}
