package kb

import (
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/lang/en"
	"github.com/blevesearch/bleve/v2/index/scorch"
	_ "modernc.org/sqlite" // the second baseline; imported by tests only
)

// A scored result of a baseline.
type scored struct {
	ids []string
	top float64 // the higher the surer
}

// baselines are what one gets from the shelf: a plain bleve match query with
// its English analyzer, and SQLite's FTS5 with its porter tokenizer and bm25.
func baselines(t *testing.T, b *Base, inside, outside []labelled) []engine {
	return []engine{
		withThreshold("plain bleve match", plainBleve(t, b), inside, outside),
		withThreshold("SQLite FTS5 bm25", fts5(t, b), inside, outside),
	}
}

// withThreshold lets a baseline decline below the top score that separates the
// tuned halves of inside and outside questions best.
func withThreshold(name string, search func(string) scored, inside, outside []labelled) engine {
	var in, out []float64
	for _, q := range inside {
		in = append(in, search(q.text).top)
	}
	for _, q := range outside {
		out = append(out, search(q.text).top)
	}
	best, bound := -1.0, 0.0
	for _, c := range append(slices.Clone(in), out...) {
		if gain := share(atLeast(in, c), len(in)) + 1 - share(atLeast(out, c), len(out)); gain > best {
			best, bound = gain, c
		}
	}
	return engine{name, func(q string) ([]string, bool) {
		s := search(q)
		return s.ids, len(s.ids) > 0 && s.top >= bound
	}}
}

func atLeast(scores []float64, bound float64) int {
	n := 0
	for _, s := range scores {
		if s >= bound {
			n++
		}
	}
	return n
}

// articleText is an article as a baseline gets it: everything a reader reads.
func articleText(a *Article) (asks, body string) {
	var out strings.Builder
	for _, s := range a.Sections {
		for _, b := range s.Blocks {
			out.WriteString(b.plain() + "\n")
		}
	}
	var all []string
	for _, ask := range a.allAsks() {
		all = append(all, ask.text)
	}
	return strings.Join(all, "\n"), out.String()
}

func plainBleve(t testing.TB, b *Base) func(string) scored {
	m := bleve.NewIndexMapping()
	m.DefaultAnalyzer = en.AnalyzerName
	index, err := bleve.NewUsing("", m, scorch.Name, scorch.Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { index.Close() })
	batch := index.NewBatch()
	for _, a := range b.All() {
		asks, body := articleText(a)
		if err := batch.Index(a.ID, map[string]any{"title": a.Title, "asks": asks, "body": body}); err != nil {
			t.Fatal(err)
		}
	}
	if err := index.Batch(batch); err != nil {
		t.Fatal(err)
	}
	return func(q string) scored {
		request := bleve.NewSearchRequestOptions(bleve.NewMatchQuery(q), 10, 0, false)
		request.SortBy([]string{"-_score", "_id"}) // ties would fall by the order of the batch, which is not fixed
		res, err := index.Search(request)
		if err != nil {
			return scored{}
		}
		s := scored{top: res.MaxScore}
		for _, h := range res.Hits {
			s.ids = append(s.ids, h.ID)
		}
		return s
	}
}

func fts5(t *testing.T, b *Base) func(string) scored {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	db.SetMaxOpenConns(1)
	t.Cleanup(func() { db.Close() })
	if _, err := db.Exec(`CREATE VIRTUAL TABLE a USING fts5(id UNINDEXED, title, asks, body, tokenize='porter unicode61')`); err != nil {
		t.Fatal(err)
	}
	for _, a := range b.All() {
		asks, body := articleText(a)
		if _, err := db.Exec(`INSERT INTO a VALUES (?,?,?,?)`, a.ID, a.Title, asks, body); err != nil {
			t.Fatal(err)
		}
	}
	return func(q string) scored { return ftsQuery(db, q) }
}

func ftsQuery(db *sql.DB, q string) scored {
	words := strings.FieldsFunc(q, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, w := range words {
		words[i] = fmt.Sprintf("%q", w)
	}
	rows, err := db.Query(`SELECT id, -bm25(a) FROM a WHERE a MATCH ? ORDER BY bm25(a) LIMIT 10`, strings.Join(words, " OR "))
	if err != nil {
		return scored{}
	}
	defer rows.Close()
	var s scored
	for rows.Next() {
		var id string
		var score float64
		if rows.Scan(&id, &score) != nil {
			break
		}
		s.top = max(s.top, score)
		s.ids = append(s.ids, id)
	}
	return s
}
