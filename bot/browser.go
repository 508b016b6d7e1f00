package main

import (
	"context"
	"fmt"
	"log/slog"
	"net"

	"mortarboard/bot/page"
	"mortarboard/bot/talk"
)

// browser answers on a page that only this machine can reach.
func browser(ctx context.Context, args []string, s surroundings) error {
	var o options
	set := flags("page", &o)
	address := set.String("listen", "127.0.0.1:8765", "address on this machine")
	if err := parse(set, args); err != nil {
		return err
	}
	if set.NArg() > 0 {
		return unexpected(set)
	}
	log := slog.New(slog.NewTextHandler(s.errs, nil))
	o.log = log
	h, err := open(o)
	if err != nil {
		return err
	}
	conversation, err := h.conversation(talk.Options{Log: log, Pictures: true})
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", *address)
	if err != nil {
		return usage{fmt.Errorf("-listen %s: %w", *address, err)}
	}
	if at, ok := l.Addr().(*net.TCPAddr); ok && !at.IP.IsLoopback() {
		return usage{fmt.Errorf("-listen %s can be reached from other machines: use an address of this machine such as 127.0.0.1:8765", *address)}
	}
	fmt.Fprintf(s.out, "Mortarboard answers at http://%s/ until it is stopped with Ctrl-C.\n", l.Addr())
	return page.Serve(ctx, l, page.Options{
		Answer: conversation.Handle, Practice: h.name(), Log: log,
		Intro: func() page.Intro { return page.Intro{Sections: conversation.Covers()} },
	})
}

// name is the practice's name, or nothing without a practice.
func (h house) name() string {
	if h.rules.Practice == nil {
		return ""
	}
	return h.rules.Practice.Name
}
