package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"mortarboard/bot/talk"
)

// ask answers one question, or one a line from standard input.
func ask(ctx context.Context, args []string, s surroundings) error {
	var o options
	set := flags("ask", &o)
	asJSON := set.Bool("json", false, "one JSON object a line, as the answer contract says")
	pictures := set.String("pictures", "", "folder to write the answers' pictures to, as PNG and SVG with their description")
	thread := set.Bool("thread", false, "the lines are one conversation; an empty line starts a new one")
	if err := parse(set, dashed(args)); err != nil {
		return err
	}
	h, err := open(o)
	if err != nil {
		return err
	}
	conversation, err := h.conversation(talk.Options{Pictures: *pictures != ""})
	if err != nil {
		return err
	}
	a := asker{answer: conversation.Handle, write: prose, oneThread: *thread, pictures: *pictures}
	if *asJSON {
		a.write = contract
	}
	if question := strings.Join(set.Args(), " "); set.NArg() > 0 {
		return a.one(ctx, question, s.out)
	}
	return a.lines(ctx, s)
}

// dashed keeps a question that begins with a negative number or a dash from
// being taken for a flag.
func dashed(args []string) []string {
	for i, a := range args {
		if len(a) > 1 && a[0] == '-' && (a[1] >= '0' && a[1] <= '9' || a[1] == ' ') {
			return slices.Insert(slices.Clone(args), i, "--")
		}
	}
	return args
}

// An asker puts questions and writes the answers.
type asker struct {
	answer    func(context.Context, talk.Message) (talk.Reply, error)
	write     func(io.Writer, talk.Reply) error
	oneThread bool
	pictures  string // folder for pictures; empty: none are written
	threads   int
	asked     int
}

func (a *asker) one(ctx context.Context, question string, out io.Writer) error {
	reply, err := a.answer(ctx, talk.Message{Thread: strconv.Itoa(a.threads), Text: question, At: time.Now()})
	if err != nil {
		return err
	}
	if err := a.keep(reply.Pictures); err != nil {
		return err
	}
	return a.write(out, reply)
}

// keep writes pictures as question-number-name.png and .svg, with the
// description beside them as .txt.
func (a *asker) keep(pictures []talk.Picture) error {
	a.asked++
	for _, p := range pictures {
		name := filepath.Join(a.pictures, fmt.Sprintf("%d-%s", a.asked, p.Name))
		for ending, data := range map[string][]byte{".png": p.PNG, ".svg": p.SVG, ".txt": []byte(p.Alt + "\n")} {
			if err := os.WriteFile(name+ending, data, 0o644); err != nil {
				return usage{fmt.Errorf("-pictures: %w", err)}
			}
		}
	}
	return nil
}

// lines answers one question a line. Each is a conversation of its own, unless
// the lines are one thread.
func (a *asker) lines(ctx context.Context, s surroundings) error {
	in := bufio.NewReader(s.in)
	for {
		line, err := in.ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return fmt.Errorf("standard input: %w", err)
		}
		end := errors.Is(err, io.EOF)
		if end && line == "" {
			return nil
		}
		if err := a.line(ctx, strings.TrimRight(line, "\r\n"), s.out); err != nil || end {
			return err
		}
	}
}

func (a *asker) line(ctx context.Context, line string, out io.Writer) error {
	if a.oneThread && strings.TrimSpace(line) == "" {
		a.threads++
		return nil
	}
	if !a.oneThread {
		a.threads++
	}
	return a.one(ctx, line, out)
}

func prose(out io.Writer, r talk.Reply) error {
	_, err := fmt.Fprintln(out, r.Text)
	return err
}

func contract(out io.Writer, r talk.Reply) error { return json.NewEncoder(out).Encode(r) }
