// Command bot answers a dental practice's questions about seating zirconia
// restorations: in the terminal, to a program, in Slack, or on a page.
//
//	go run ./bot                      hold the conversation in the terminal
//	go run ./bot ask "question"       one answer, as prose or with -json as data
//	go run ./bot serve                answer in Slack
//	go run ./bot page                 answer in a browser on this machine
//	go run ./bot audit                prove the rules and lint the articles
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
)

// Exit statuses. A supervisor restarts after exitFailed, not after the others.
const (
	exitOK     = 0
	exitFailed = 1 // something went wrong that may pass
	exitUsage  = 2 // a wrong call, or a practice folder that cannot be read
	exitMend   = 3 // a person has to mend something first, such as a revoked token
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], surroundings{os.Stdin, os.Stdout, os.Stderr, os.Getenv}))
}

// surroundings is what the program takes from outside, so that a test can give
// it its own.
type surroundings struct {
	in     io.Reader
	out    io.Writer
	errs   io.Writer
	getenv func(string) string
}

// A command is one thing the program does.
type command func(ctx context.Context, args []string, s surroundings) error

// commands by name; without a name the conversation is held in the terminal.
var commands = map[string]command{
	"":      converse,
	"talk":  converse,
	"ask":   ask,
	"audit": audit,
	"serve": serve,
	"page":  browser,
}

// helpText is what the commands do; each lists its flags with -h.
const helpText = `Mortarboard answers a dental practice's questions about seating zirconia restorations.

  bot                    hold the conversation in the terminal
  bot ask "question"     one answer; -json for data, -practice DIR for a practice's own materials and rules
  bot serve              answer in Slack; -check says what is still missing
  bot page               answer in a browser, on this machine only
  bot audit              prove the rules and lint the articles
`

// usage is a wrong call: what is wrong and the mend.
type usage struct{ error }

// run is main without the process around it.
func run(ctx context.Context, args []string, s surroundings) int {
	name := ""
	if len(args) > 0 {
		name, args = args[0], args[1:]
	}
	if name == "help" || name == "-h" || name == "-help" || name == "--help" {
		fmt.Fprint(s.out, helpText)
		return exitOK
	}
	cmd, ok := commands[name]
	if !ok {
		fmt.Fprintf(s.errs, "no command is called %q: use ask, talk, serve, page or audit, or none to talk in the terminal\n", name)
		return exitUsage
	}
	return status(cmd(ctx, args, s), s.errs)
}

// status writes an error on one line and says with which status to leave.
func status(err error, errs io.Writer) int {
	var wrong usage
	switch {
	case err == nil:
		return exitOK
	case errors.As(err, &wrong):
		fmt.Fprintln(errs, oneLine(wrong))
		return exitUsage
	}
	fmt.Fprintln(errs, oneLine(err))
	if mendFirst(err) {
		return exitMend
	}
	return exitFailed
}
