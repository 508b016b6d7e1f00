package kb_test

import (
	"context"
	"fmt"
	"io/fs"
	"strings"
	"testing/fstest"
	"time"

	"mortarboard/kb"
)

const ourArticle = `---
id: our-own-cleaner
title: The cleaner that we use here
topic: cleaning
asks:
  - our own cleaning routine
  - which cleaner stands in surgery one
  - how we clean crowns here
  - our house cleaner
reviewed: 2026-11-24
by: the clinical lead
---
# Answer
Rinse, dry, then blast again at {{abrasion.pressure zirconia=3Y}}. [house rule: the clinical lead, 2026-11-24]

# Why
Saliva blocks the bond. [published: example-2020]

# How
1. Rinse. [common practice]

# Limits
Not for veneers. [common practice]
`

// references stands for what the planner supplies.
func references() kb.References {
	return kb.References{
		Value: func(key string, conditions map[string]string) (string, error) {
			if key == "abrasion.pressure" && conditions["zirconia"] == "3Y" {
				return "1.5 to 2.8 bar", nil
			}
			return "", fmt.Errorf("no parameter %q", key)
		},
		Source: func(id string) (cite string, fromMemory, ok bool) {
			return "Example et al. 2020, J Example 1:1-2", false, id == "example-2020"
		},
	}
}

func practice() fs.FS {
	return kb.Named("practice/articles", fstest.MapFS{"our-own-cleaner.md": {Data: []byte(ourArticle)}})
}

func Example() {
	base, err := kb.Load(kb.Articles(), practice())
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := base.Search(context.Background(), "how do we claen crowns here?", 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(result.Close, result.Hits[0].Article.Title)
	// Output: true The cleaner that we use here
}

func ExampleBase_Search_abstains() {
	base, err := kb.Load(kb.Articles())
	if err != nil {
		fmt.Println(err)
		return
	}
	result, _ := base.Search(context.Background(), "what is the dose of amoxicillin", 3)
	fmt.Println(result.Close)
	fmt.Println(result.Why)
	// Output:
	// false
	// "amoxicillin" is about medicines, doses and anaesthesia, which the articles leave to others
}

func ExampleArticle_Render() {
	base, err := kb.Load(practice())
	if err != nil {
		fmt.Println(err)
		return
	}
	article, _ := base.Article("our-own-cleaner")
	text, err := article.Render(references())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(text.Answer)
	for _, s := range text.Sections {
		fmt.Println(s.Title+":", strings.Join(s.Lines, " "))
	}
	fmt.Println(strings.Join(text.Sources, "\n"))
	// Output:
	// Rinse, dry, then blast again at 1.5 to 2.8 bar. [house rule: the clinical lead, 2026-11-24]
	// Why: Saliva blocks the bond. [1]
	// How: 1. Rinse. [common practice]
	// Limits: Not for veneers. [common practice]
	// 1. Example et al. 2020, J Example 1:1-2
}

func ExampleLoad_problems() {
	broken := strings.Replace(ourArticle, "[published: example-2020]", "[proven]", 1)
	_, err := kb.Load(kb.Named("practice/articles", fstest.MapFS{"our-own-cleaner.md": {Data: []byte(broken)}}))
	fmt.Println(err)
	// Output:
	// practice/articles/our-own-cleaner.md:17: unknown tag [proven]; write [published: id], [inferred: id], [common practice], [from memory], [computed: origin] or [house rule: who, when]
}

func ExampleBase_Check() {
	base, err := kb.Load(practice())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range base.Check(time.Date(2029, 1, 1, 0, 0, 0, 0, time.UTC), references()) {
		fmt.Println(p.Level, p)
	}
	// Output:
	// must practice/articles/our-own-cleaner.md:10: review was due on 2028-11-24; read it through against its sources and set the date
}

func ExampleLibrary() {
	folder := fstest.MapFS{}
	library, err := kb.NewLibrary(kb.LibraryOptions{
		Fixed: []fs.FS{kb.Articles()}, Practice: kb.Named("practice/articles", folder), Now: time.Now,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, before := library.Base().Article("our-own-cleaner")
	folder["our-own-cleaner.md"] = &fstest.MapFile{Data: []byte(ourArticle)}
	_, after := library.Base().Article("our-own-cleaner")
	folder["our-own-cleaner.md"] = &fstest.MapFile{Data: []byte("half a file")}
	_, kept := library.Base().Article("our-own-cleaner")
	fmt.Println(before, after, kept)
	fmt.Println(library.Problems()[0])
	// Output:
	// false true true
	// practice/articles/our-own-cleaner.md:1: front matter is missing or not closed; begin the file with ---, the keys, and another ---
}
