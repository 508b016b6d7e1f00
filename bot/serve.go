package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"mortarboard/bot/ledger"
	"mortarboard/bot/slack"
	"mortarboard/bot/talk"
)

// Names of the environment variables that hold secrets. Each may also be given
// as NAME_FILE, the path of a file that holds it.
const (
	envBotToken = "MORTARBOARD_BOT_TOKEN"
	envAppToken = "MORTARBOARD_APP_TOKEN"
	envSigning  = "MORTARBOARD_SIGNING_SECRET"
	envOldSign  = "MORTARBOARD_OLD_SIGNING_SECRET"
	envAPI      = "MORTARBOARD_API_URL" // where the web methods live; for the stand-in workspace
)

// serveFlags is what serve is told on the command line.
type serveFlags struct {
	options
	ledger   string
	listen   string
	channels string
	leads    string
	check    bool
	shared   bool
}

// serve answers in Slack until it is told to stop.
func serve(ctx context.Context, args []string, s surroundings) error {
	var f serveFlags
	set := flags("serve", &f.options)
	set.StringVar(&f.ledger, "ledger", "mortarboard.ledger", "file that keeps threads and the review list across restarts")
	set.StringVar(&f.listen, "listen", "", "address for the HTTP Events API instead of Socket Mode, e.g. :8080 (needs TLS in front)")
	set.StringVar(&f.channels, "channels", "", "ids of the channels the app should be in, separated by commas; for -check")
	set.StringVar(&f.leads, "lead", "", "member ids of the clinical lead and whoever stands in, separated by commas: they see the review list on the home tab")
	set.BoolVar(&f.check, "check", false, "look at tokens, permissions, channels and the practice folder, say what is missing, and stop")
	set.BoolVar(&f.shared, "shared", false, "also answer in channels shared with other workspaces")
	if err := parse(set, args); err != nil {
		return err
	}
	if set.NArg() > 0 {
		return unexpected(set)
	}
	o, err := surface(s.getenv, f)
	if f.check {
		return checkSetup(ctx, f, o, err, s)
	}
	if err != nil {
		return err
	}
	return serveWith(ctx, f, o, s)
}

// surface reads the secrets and what else the Slack surface is told.
func surface(getenv func(string) string, f serveFlags) (slack.Options, error) {
	o := slack.Options{APIURL: getenv(envAPI), Shared: f.shared}
	for name, to := range map[string]*slack.Secret{
		envBotToken: &o.BotToken, envAppToken: &o.AppToken, envSigning: &o.SigningSecret, envOldSign: &o.OldSecret,
	} {
		value, err := secret(getenv, name)
		if err != nil {
			return o, err
		}
		*to = slack.Secret(value)
	}
	switch {
	case o.BotToken == "":
		return o, usage{fmt.Errorf("no bot token: set %s to the token that begins with xoxb- (deploy/README.md, step 3)", envBotToken)}
	case f.listen == "" && o.AppToken == "":
		return o, usage{fmt.Errorf("no app token: set %s to the token that begins with xapp- (deploy/README.md, step 2), or give -listen", envAppToken)}
	case f.listen != "" && o.SigningSecret == "":
		return o, usage{fmt.Errorf("no signing secret: -listen needs %s", envSigning)}
	}
	o.Channels = listed(f.channels)
	return o, nil
}

// listed parts a flag's value at its commas.
func listed(value string) []string {
	return strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ' ' })
}

// secret reads a secret from the environment, or from the file it names.
func secret(getenv func(string) string, name string) (string, error) {
	if value := getenv(name); value != "" {
		return value, nil
	}
	path := getenv(name + "_FILE")
	if path == "" {
		return "", nil
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return "", usage{fmt.Errorf("%s_FILE cannot be read: %w", name, err)}
	}
	return strings.TrimSpace(string(data)), nil
}

// checkSetup says what is missing before the bot can answer: first in the
// practice's folder, then of the tokens, then what the workspace says of them.
func checkSetup(ctx context.Context, f serveFlags, o slack.Options, tokens error, s surroundings) error {
	missing := 0
	tell := func(grade slack.Grade, what, mend string) {
		if mend != "" {
			what += " → " + mend
		}
		if fmt.Fprintf(s.out, "%s: %s\n", grade, what); grade == slack.Missing {
			missing++
		}
	}
	if h, err := open(f.options); err != nil {
		tell(slack.Missing, oneLine(err), "")
	} else {
		tell(slack.Good, fmt.Sprintf("rules and %d articles load", len(h.articles.Base().All())), "")
	}
	if len(listed(f.leads)) == 0 {
		tell(slack.Advice, "nobody is named as the clinical lead: no one sees the review list", "give -lead and the lead's member id")
	}
	if tokens != nil {
		tell(slack.Missing, oneLine(tokens), "")
	} else {
		for _, found := range slack.Check(ctx, o) {
			tell(found.Grade, found.What, found.Mend)
		}
	}
	if missing > 0 {
		return usage{fmt.Errorf("not ready: mend what is marked missing above")}
	}
	return nil
}

// serveWith runs the surface over the conversation and the ledger.
func serveWith(ctx context.Context, f serveFlags, o slack.Options, s surroundings) (err error) {
	log := slog.New(slog.NewJSONHandler(s.errs, nil))
	f.log = log
	h, err := open(f.options)
	if err != nil {
		return err
	}
	kept, err := ledger.Open(f.ledger, ledger.Options{Log: log})
	if err != nil {
		return usage{err}
	}
	sweeping, stop := context.WithCancel(ctx)
	var swept sync.WaitGroup
	swept.Go(func() { kept.SweepEvery(sweeping, time.Hour) })
	defer func() { // nothing may sweep a ledger that is closed
		stop()
		swept.Wait()
		err = errors.Join(err, kept.Close())
	}()
	conversation, err := h.conversation(talk.Options{Memory: threads{kept}, Learning: cards{kept}, Log: log, Declined: counting(kept, log), Runs: following(kept, log), Pictures: true})
	if err != nil {
		return err
	}
	o.Answer, o.Log = conversation.Handle, log
	o.Form, o.Home = former(conversation), homer(conversation, kept, listed(f.leads))
	o.Journal, o.Known, o.Live = ledger.JournalOf[slack.Place](kept, "slack"), kept.Known, kept
	return transport(ctx, f, o)
}

// transport runs the transport that was chosen.
func transport(ctx context.Context, f serveFlags, o slack.Options) error {
	if f.listen == "" {
		return slack.Run(ctx, o)
	}
	l, err := net.Listen("tcp", f.listen)
	if err != nil {
		return usage{fmt.Errorf("-listen %s: %w", f.listen, err)}
	}
	return slack.Serve(ctx, o, l)
}

// threads keeps what conversations remember in the ledger.
type threads struct{ ledger *ledger.Ledger }

// Load reads a thread; an unknown one remembers nothing.
func (t threads) Load(_ context.Context, thread string) (talk.Remembered, error) {
	var r talk.Remembered
	value, _, err := t.ledger.Load(thread)
	if err != nil || value == nil {
		return r, err
	}
	return r, json.Unmarshal(value, &r)
}

// Save writes a thread.
func (t threads) Save(_ context.Context, thread string, r talk.Remembered) error {
	value, err := json.Marshal(r)
	if err != nil {
		return err
	}
	return t.ledger.Save(thread, value)
}

// counting puts declined questions on the review list, as reason and article, never
// as text.
func counting(kept *ledger.Ledger, log *slog.Logger) func(reason talk.Declined, id string) {
	return func(reason talk.Declined, id string) {
		var nearest []string
		if id != "" {
			nearest = append(nearest, id)
		}
		if err := kept.CountDeclined(string(reason), nearest...); err != nil {
			log.Warn("a declined question was not counted", "err", err)
		}
	}
}

// following keeps where the runs stand, for the home tab.
func following(kept *ledger.Ledger, log *slog.Logger) func(talk.RunStanding) {
	return func(s talk.RunStanding) {
		var err error
		if s.Over {
			err = kept.EndRun(s.Thread)
		} else {
			err = kept.SaveRun(ledger.Run{Place: s.Thread, Title: s.Title, Done: s.Done, Of: s.Of, Begun: s.Begun})
		}
		if err != nil {
			log.Warn("where a run stands was not noted", "err", err)
		}
	}
}

// former gives Slack the case form of the conversation.
func former(conversation *talk.Talk) slack.Former {
	return func(_ context.Context, filled map[string]string) (slack.Form, error) {
		form := conversation.Form(filled)
		out := slack.Form{Title: "A case", Says: form.Says}
		for _, f := range form.Fields {
			out.Fields = append(out.Fields, slack.Field(f))
		}
		return out, nil
	}
}

// homer fills the home tab: the open runs, what the bot covers, the person's learning,
// and for a lead the review list.
func homer(conversation *talk.Talk, kept *ledger.Ledger, leads []string) slack.Homer {
	return func(ctx context.Context, user string) (slack.Home, error) {
		home := slack.Home{Sections: conversation.Covers()}
		open, err := openRuns(kept)
		if err != nil {
			return home, err
		}
		home.Runs = open
		if err := addLearning(ctx, &home, conversation, user); err != nil {
			return home, err
		}
		if !slices.Contains(leads, user) {
			return home, nil
		}
		review, err := reviewList(kept)
		home.Sections = append(home.Sections, review...)
		return home, errors.Join(err, addMissed(&home, conversation, kept))
	}
}

// openRuns lists the runs that are being worked through.
func openRuns(kept *ledger.Ledger) (open []slack.OpenRun, err error) {
	runs, err := kept.Runs()
	for _, r := range runs {
		says := fmt.Sprintf("%s, %d of %d steps behind it, begun %s", r.Title, r.Done, r.Of, r.Begun.Local().Format("2 Jan, 15:04"))
		open = append(open, slack.OpenRun{Thread: r.Place, Says: says})
	}
	return open, err
}

// reviewDays is how far back the review list on the home tab looks.
const reviewDays = 30

func reviewList(kept *ledger.Ledger) ([]talk.Section, error) {
	declined, err := kept.Declined(time.Now().AddDate(0, 0, -reviewDays))
	if err != nil {
		return nil, err
	}
	section := talk.Section{Title: fmt.Sprintf("For the clinical lead: questions not answered in the last %d days", reviewDays)}
	if len(declined) == 0 {
		section.Lines = []string{"None."}
	}
	for _, d := range declined {
		line := fmt.Sprintf("%s: %s, %d", d.Day, talk.Declined(d.Reason), d.Count)
		for _, n := range d.Nearest {
			line += fmt.Sprintf("; nearest %s (%d)", n.Article, n.Count)
		}
		section.Lines = append(section.Lines, line)
	}
	return []talk.Section{section}, nil
}

// mendFirst reports whether the surface stopped for something that a person has
// to mend, so that a supervisor should not start it again.
func mendFirst(err error) bool {
	var fatal *slack.FatalError
	return errors.As(err, &fatal)
}
