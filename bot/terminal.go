package main

import (
	"bufio"
	"context"
	"fmt"
	"strings"
	"time"

	"mortarboard/bot/talk"
)

// converse holds one conversation in the terminal until its input ends.
func converse(ctx context.Context, args []string, s surroundings) error {
	var o options
	set := flags("talk", &o)
	if err := parse(set, args); err != nil {
		return err
	}
	if set.NArg() > 0 {
		return unexpected(set)
	}
	h, err := open(o)
	if err != nil {
		return err
	}
	conversation, err := h.conversation(talk.Options{})
	if err != nil {
		return err
	}
	fmt.Fprintln(s.out, "Mortarboard. Ask about seating a zirconia restoration; \"new case\" starts afresh, an empty line or \"bye\" ends it.")
	in := bufio.NewScanner(s.in)
	in.Buffer(nil, 1<<20)
	var last talk.Reply
	for fmt.Fprint(s.out, "\n> "); in.Scan(); fmt.Fprint(s.out, "\n> ") {
		said := strings.TrimSpace(in.Text())
		if said == "" || said == "bye" || ctx.Err() != nil {
			return nil
		}
		if said == "all" && last.Text != "" {
			fmt.Fprintln(s.out, "\n"+last.Text)
			continue
		}
		reply, err := conversation.Handle(ctx, talk.Message{Thread: "terminal", Text: said, At: time.Now()})
		if err != nil {
			return err
		}
		fmt.Fprintln(s.out, "\n"+brief(reply))
		last = reply
	}
	return in.Err()
}

// brief is an answer without its folded sections, for somebody at work; "all"
// shows them.
func brief(r talk.Reply) string {
	var text strings.Builder
	text.WriteString(r.Headline + "\n")
	for _, n := range r.Notices {
		if n != r.Headline {
			text.WriteString("\n! " + n + "\n")
		}
	}
	var folded []string
	for _, section := range r.Sections {
		if section.Fold {
			folded = append(folded, section.Title)
			continue
		}
		text.WriteString("\n" + section.Title + "\n  " + strings.ReplaceAll(strings.Join(section.Lines, "\n"), "\n", "\n  ") + "\n")
	}
	if folded != nil {
		text.WriteString("\nSay \"all\" for: " + strings.Join(folded, "; ") + ".\n")
	}
	return text.String() + "\n" + r.Caution
}
