package talk

import (
	"bytes"
	"context"
	"io/fs"
	"log/slog"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"mortarboard/kb"
	"mortarboard/planner"
)

// anArticle is an article whose answer is the text.
func anArticle(answer string) *fstest.MapFile {
	return &fstest.MapFile{Data: []byte(`---
id: humming
title: Humming
topic: glossary
asks: [why does the furnace hum, what is humming, humming furnace, furnace hums loudly]
related: []
roles: [dentist]
by: the clinical lead
reviewed: 2026-11-01
---

# Answer

` + answer + `

# Why

It is hot. [common practice]

# How

Listen. [common practice]

# Limits

None. [common practice]
`), ModTime: time.Now()}
}

// libraryOf lays a practice's folder over nothing.
func libraryOf(t *testing.T, folder fstest.MapFS) *kb.Library {
	t.Helper()
	library, err := kb.NewLibrary(kb.LibraryOptions{Fixed: []fs.FS{fstest.MapFS{}}, Practice: kb.Named("practice", folder), Now: time.Now})
	if err != nil || len(library.Problems()) > 0 {
		t.Fatal(err, library.Problems())
	}
	return library
}

const dangling = "It hums at {{furnace.pitch}}. [common practice]"

// TestNewRefusesWhatArticlesReferTo: a number that the rules do not have is told
// before anybody asks for it.
func TestNewRefusesWhatArticlesReferTo(t *testing.T) {
	oneByOne(t)
	library := libraryOf(t, fstest.MapFS{"humming.md": anArticle(dangling)})
	_, err := New(Options{Rules: planner.MustLoad(), Articles: library})
	if err == nil || !strings.Contains(err.Error(), "practice/humming.md:14") || !strings.Contains(err.Error(), "furnace.pitch") {
		t.Errorf("the error is %v, wanted the file, the line and the key", err)
	}
}

// TestArticleThatComesToDangleIsLogged: the practice's folder changes while the
// bot runs; staff are told in plain words, the log why.
func TestArticleThatComesToDangleIsLogged(t *testing.T) {
	var log bytes.Buffer
	folder := fstest.MapFS{"humming.md": anArticle("It hums. [common practice]")}
	bot, err := New(Options{Rules: planner.MustLoad(), Articles: libraryOf(t, folder), Log: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	folder["humming.md"] = anArticle(dangling)
	reply := ask(t, bot, "why does the furnace hum")
	if !strings.Contains(reply.Headline, "cannot be shown") || strings.Contains(reply.Headline, "furnace.pitch") {
		t.Errorf("staff are told %q", reply.Headline)
	}
	if !strings.Contains(log.String(), "furnace.pitch") {
		t.Errorf("logged is %q, wanted what is missing", log.String())
	}
}

// TestSearchThatFails: only a search that was too slow is told as such, and each
// is logged and counted for the review list.
func TestSearchThatFails(t *testing.T) {
	var log bytes.Buffer
	var counted []Declined
	bot, err := New(Options{Rules: planner.MustLoad(), Articles: libraryOf(t, fstest.MapFS{"humming.md": anArticle("It hums. [common practice]")}),
		Log: slog.New(slog.NewTextHandler(&log, nil)), Declined: func(reason Declined, _ string) { counted = append(counted, reason) }})
	if err != nil {
		t.Fatal(err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	late, end := context.WithDeadline(t.Context(), time.Now().Add(-time.Second))
	defer end()
	for ctx, want := range map[context.Context]string{stopped: "The search failed. Please", late: "did not answer in time"} {
		reply, err := bot.Handle(ctx, Message{Text: "why does the furnace hum"})
		if err != nil || !strings.Contains(reply.Headline, want) {
			t.Errorf("%v, told %q, wanted %q", err, reply.Headline, want)
		}
	}
	if len(counted) != 2 || counted[0] != DeclinedSearch || strings.Count(log.String(), "the search failed") != 2 {
		t.Errorf("counted %v, logged %q", counted, log.String())
	}
}
