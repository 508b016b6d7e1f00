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
	for fmt.Fprint(s.out, "\n> "); in.Scan(); fmt.Fprint(s.out, "\n> ") {
		said := strings.TrimSpace(in.Text())
		if said == "" || said == "bye" || ctx.Err() != nil {
			return nil
		}
		reply, err := conversation.Handle(ctx, talk.Message{Thread: "terminal", Text: said, At: time.Now()})
		if err != nil {
			return err
		}
		fmt.Fprintln(s.out, "\n"+reply.Text)
	}
	return in.Err()
}
