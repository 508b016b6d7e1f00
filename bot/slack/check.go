package slack

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	sdk "github.com/slack-go/slack"
)

// A Grade says how much a Finding matters.
type Grade string

// The grades of a Finding.
const (
	Good    Grade = "good"    // as it should be
	Advice  Grade = "advice"  // works, with something less
	Missing Grade = "missing" // must be mended before it works
)

// A Finding is one thing that Check looked at, in plain words.
type Finding struct {
	Grade Grade
	What  string // what was found
	Mend  string // what to do about it; empty if nothing
}

// Check looks at tokens, permissions and channels without answering anything,
// and says what is missing. It reads no message.
func Check(ctx context.Context, o Options) []Finding {
	o = o.withDefaults()
	found := shapes(o)
	for _, f := range found {
		if f.Grade == Missing {
			return found
		}
	}
	web := newClient(o, newOpenGuard(o))
	who, err := web.AuthTestContext(ctx)
	if err != nil {
		return append(found, refused("bot token", err))
	}
	found = append(found, Finding{Grade: Good, What: fmt.Sprintf("bot token speaks as %s in workspace %s", who.User, who.Team)})
	scopes := granted(who.Header)
	found = append(found, permissions(scopes)...)
	if o.AppToken != "" {
		found = append(found, checkAppToken(ctx, web))
	}
	return append(found, checkChannels(ctx, web, o.Channels, scopes)...)
}

// shapes looks at the tokens without asking the service.
func shapes(o Options) []Finding {
	var found []Finding
	if strings.HasPrefix(string(o.BotToken), "xoxb-") {
		found = append(found, Finding{Grade: Good, What: "bot token has the right shape"})
	} else {
		found = append(found, Finding{Grade: Missing, What: "bot token does not start with xoxb-",
			Mend: "copy the bot user token from the app's page on permissions"})
	}
	switch {
	case o.AppToken == "" && o.SigningSecret == "":
		found = append(found, Finding{Grade: Missing, What: "neither app token nor signing secret is given",
			Mend: "give the app token for Socket Mode, or the signing secret for HTTP"})
	case o.AppToken != "" && !strings.HasPrefix(string(o.AppToken), "xapp-"):
		found = append(found, Finding{Grade: Missing, What: "app token does not start with xapp-",
			Mend: "make an app-level token with connections:write on the app's basic page"})
	case o.AppToken != "":
		found = append(found, Finding{Grade: Good, What: "app token has the right shape"})
	}
	if s := string(o.SigningSecret); s != strings.TrimSpace(s) {
		found = append(found, Finding{Grade: Missing, What: "signing secret begins or ends with a space or line end",
			Mend: "copy it again without what surrounds it"})
	}
	return found
}

// granted is what the service says the token may do; nil if it does not say.
func granted(h http.Header) map[string]bool {
	listed := h.Get("X-OAuth-Scopes")
	if listed == "" {
		return nil
	}
	scopes := make(map[string]bool)
	for _, s := range strings.Split(listed, ",") {
		scopes[strings.TrimSpace(s)] = true
	}
	return scopes
}

// A permission is one the app uses, and for what.
type permission struct {
	scope, use string
	grade      Grade // what it means that it is not granted
}

func wanted() []permission {
	return []permission{
		{"chat:write", "to answer", Missing},
		{"app_mentions:read", "to be asked by a mention", Missing},
		{"im:history", "to be asked in direct messages", Missing},
		{"commands", "for the slash command and the shortcuts", Missing},
		{"files:write", "to show pictures and attach long answers", Advice},
		{"channels:history", "to go on in a thread without a new mention", Advice},
		{"groups:history", "to do so in private channels", Good},
	}
}

// permissions compares what is granted with what the app uses, both ways.
func permissions(scopes map[string]bool) []Finding {
	if scopes == nil {
		return []Finding{{Grade: Advice, What: "the service did not say which permissions the app has",
			Mend: "compare them with the manifest"}}
	}
	var found []Finding
	used := make(map[string]bool)
	for _, p := range wanted() {
		used[p.scope] = true
		if !scopes[p.scope] && p.grade != Good {
			found = append(found, Finding{Grade: p.grade, What: "permission " + p.scope + " is not granted: it is needed " + p.use,
				Mend: "add it in the app's settings and install the app again"})
		}
	}
	if len(found) == 0 {
		found = append(found, Finding{Grade: Good, What: "all permissions are granted"})
	}
	for scope := range scopes {
		if !used[scope] {
			found = append(found, Finding{Grade: Advice, What: "permission " + scope + " is granted and never used",
				Mend: "take it away in the app's settings"})
		}
	}
	return found
}

func checkAppToken(ctx context.Context, web *sdk.Client) Finding {
	if _, _, err := web.StartSocketModeContext(ctx); err != nil {
		return refused("app token", err)
	}
	return Finding{Grade: Good, What: "app token may open connections"}
}

// checkChannels asks whether the app is in each channel. The only question that
// needs no further permission asks for the channel's newest message, which is
// thrown away unread.
func checkChannels(ctx context.Context, web *sdk.Client, channels []string, scopes map[string]bool) []Finding {
	var found []Finding
	for _, c := range channels {
		if scopes != nil && !scopes["channels:history"] && !scopes["groups:history"] {
			found = append(found, Finding{Grade: Advice, What: "channel " + c + " cannot be looked at without channels:history",
				Mend: "mention the app there: it answers if it is in the channel"})
			continue
		}
		_, err := web.GetConversationHistoryContext(ctx, &sdk.GetConversationHistoryParameters{ChannelID: c, Limit: 1})
		found = append(found, membership(c, err))
	}
	return found
}

func membership(channel string, err error) Finding {
	switch {
	case err == nil:
		return Finding{Grade: Good, What: "the app is in channel " + channel}
	case refusal(err) == "not_in_channel":
		return Finding{Grade: Missing, What: "the app is not in channel " + channel, Mend: "invite it there"}
	case refusal(err) == "channel_not_found":
		return Finding{Grade: Missing, What: "there is no channel " + channel + ", or it is private and the app is not in it",
			Mend: "give the channel's id, which begins with C, or invite the app"}
	}
	return refused("channel "+channel, err)
}

// refused says in plain words why the service would not.
func refused(what string, err error) Finding {
	if mendable := asFatal(what, err); mendable != nil {
		return Finding{Grade: Missing, What: mendable.Error()}
	}
	if code := refusal(err); code != "" {
		return Finding{Grade: Missing, What: what + " was refused: " + code}
	}
	return Finding{Grade: Missing, What: what + " could not be tried: the service cannot be reached",
		Mend: "check the network and the web address"}
}
