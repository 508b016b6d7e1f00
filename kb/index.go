package kb

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/whitespace"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search/query"
)

// The fields of the bleve index.
const (
	fieldTitle = "title"
	fieldAsks  = "asks"
	fieldBody  = "body"
)

// An index finds candidates with bleve and keeps of each article what the
// ranking needs. No bleve type leaves this file.
type index struct {
	bleve      bleve.Index
	profiles   map[string]*profile           // by article id
	counts     map[string]int                // token to number of articles that hold it
	topics     map[string]map[string]float64 // topic and token to the share of its articles asked by that token
	topicSizes map[string]float64            // sum of topics over the tokens
	size       float64                       // sum of counts
	articles   int
	words      *bag // all asks and titles, by stem
	letters    *bag // by three neighbouring letters
	pairs      *bag // and by stems that stand near each other
	speller    *speller
	leaning    *leaning
}

// A profile is an article as the ranking sees it.
type profile struct {
	id                string
	topic             string
	title             map[string]bool
	asks              []map[string]bool // one set for each ask
	wordings          []map[string]bool // stems of all words of each ask, the title's last
	letters, pairs    *bag              // of all words of asks and title
	titleWeight       float64           // of the title's tokens, by their rarity
	answer            map[string]bool
	askSize, textSize float64         // tokens of asks and title, of answer and text, as likely counts them
	body              map[string]bool // Why, How, Limits, Disagreements
	outside           map[string]bool // words of others' subjects that title or asks deal with
	deeds             []deed          // that it rules out
}

// newIndex analyses all articles and builds the bleve index in one batch: with
// one batch there is one segment, and scores do not depend on how it was filled.
func newIndex(articles []*Article, words *lexicon) (*index, error) {
	store, err := bleve.NewUsing("", indexMapping(), scorch.Name, scorch.Name, nil)
	if err != nil {
		return nil, err
	}
	x := &index{bleve: store, profiles: map[string]*profile{}, counts: map[string]int{}, articles: len(articles),
		topics: map[string]map[string]float64{}, topicSizes: map[string]float64{}, words: newBag(), letters: newBag(), pairs: newBag()}
	vocabulary := map[string]int{}
	batch := store.NewBatch()
	for _, a := range articles {
		if err := batch.Index(a.ID, x.document(a, words, vocabulary)); err != nil {
			return nil, err
		}
	}
	if err := store.Batch(batch); err != nil {
		return nil, err
	}
	x.speller = newSpeller(words, vocabulary)
	x.weigh()
	x.countTopics()
	x.leaning = newLeaning(x, words, outsideExamples())
	return x, nil
}

// weigh takes the sizes of each article's parts.
func (x *index) weigh() {
	for _, p := range x.profiles {
		p.askSize = 2 * float64(max(1, len(p.title)))
		p.textSize = float64(max(1, 2*len(p.answer)+len(p.body)))
		for _, ask := range p.asks {
			p.askSize += float64(len(ask))
		}
		for t := range p.title {
			p.titleWeight += x.idf(t)
		}
	}
}

// countTopics notes how usual each token is in titles and asks of each topic.
func (x *index) countTopics() {
	sizes := map[string]float64{}
	for _, p := range x.profiles {
		sizes[p.topic]++
	}
	for _, p := range x.profiles {
		shares := x.topics[p.topic]
		if shares == nil {
			shares = map[string]float64{}
			x.topics[p.topic] = shares
		}
		asked := union(append(slices.Clone(p.asks), p.title)...)
		for t := range asked {
			shares[t] += 1 / sizes[p.topic]
		}
		x.topicSizes[p.topic] += float64(len(asked)) / sizes[p.topic]
	}
}

func union(sets ...map[string]bool) map[string]bool {
	all := map[string]bool{}
	for _, set := range sets {
		maps.Copy(all, set)
	}
	return all
}

func indexMapping() mapping.IndexMapping {
	m := bleve.NewIndexMapping()
	err := m.AddCustomAnalyzer("tokens", map[string]any{"type": custom.Name, "tokenizer": whitespace.Name})
	if err != nil {
		panic(fmt.Sprintf("kb: bleve lacks its whitespace tokenizer: %v", err))
	}
	doc := bleve.NewDocumentStaticMapping()
	for _, name := range []string{fieldTitle, fieldAsks, fieldBody} {
		f := bleve.NewTextFieldMapping()
		f.Analyzer, f.Store, f.IncludeInAll, f.DocValues, f.IncludeTermVectors = "tokens", false, false, false, false
		doc.AddFieldMappingsAt(name, f)
	}
	m.DefaultMapping, m.DefaultAnalyzer = doc, "tokens"
	return m
}

// document turns an article into its profile and into bleve's fields.
func (x *index) document(a *Article, words *lexicon, vocabulary map[string]int) map[string]any {
	r := reader{words: words, seen: map[string]bool{}}
	p := &profile{id: a.ID, topic: a.Topic, outside: map[string]bool{}, letters: newBag(), pairs: newBag()}
	var asks []string
	for _, ask := range a.allAsks() {
		tokens := r.ask(p, ask.text)
		p.asks = append(p.asks, setOf(tokens))
		asks = append(asks, tokens...)
	}
	title := r.ask(p, a.Title)
	p.title, p.deeds = setOf(title), words.deeds(a)
	answer, rest := r.sections(a)
	p.answer, p.body = setOf(answer), setOf(rest)
	x.profiles[a.ID] = p
	x.count(p)
	x.words.add(r.stems)
	x.letters.join(p.letters)
	x.pairs.join(p.pairs)
	for w := range r.seen {
		vocabulary[w]++
	}
	body := append(answer, rest...)
	return map[string]any{fieldTitle: strings.Join(title, " "), fieldAsks: strings.Join(asks, " "), fieldBody: strings.Join(body, " ")}
}

func (x *index) count(p *profile) {
	for t := range union(append(slices.Clone(p.asks), p.title, p.answer, p.body)...) {
		x.counts[t]++
		x.size++
	}
}

// A reader analyses the texts of one article and remembers its words.
type reader struct {
	words *lexicon
	seen  map[string]bool
	stems []string // of the asks and the title
}

func (r *reader) read(text string) []string {
	return r.tokens(r.split(text))
}

func (r *reader) split(text string) []string {
	words := r.words.words(text)
	for _, w := range words {
		r.seen[w] = true
		r.words.learn(w)
	}
	return words
}

func (r *reader) tokens(words []string) []string {
	tokens := r.words.tokens(words)
	out := make([]string, len(tokens))
	for i, t := range tokens {
		out[i] = t.text
	}
	return out
}

// ask reads an ask or a title, whose every word counts.
func (r *reader) ask(p *profile, text string) []string {
	words := r.split(text)
	stems := r.words.stemList(words)
	p.wordings = append(p.wordings, setOf(stems))
	r.stems = append(r.stems, stems...)
	p.letters.add(letters(words))
	p.pairs.add(pairs(stems))
	for _, w := range r.words.outsideOf(words) {
		p.outside[w.key] = true
	}
	return r.tokens(words)
}

// sections reads the text, the answer apart from the rest.
func (r *reader) sections(a *Article) (answer, rest []string) {
	for _, s := range a.Sections {
		for _, b := range s.Blocks {
			tokens := r.read(b.plain())
			if s.Title == "Answer" {
				answer = append(answer, tokens...)
			} else {
				rest = append(rest, tokens...)
			}
		}
	}
	return answer, rest
}

// plain is the block's text for the search: references by the words of their
// key and conditions, links by their words, tags left out.
func (b Block) plain() string {
	var out strings.Builder
	for _, p := range b.Parts {
		switch {
		case p.Ref != nil:
			out.WriteString(strings.NewReplacer(".", " ", "-", " ").Replace(p.Ref.Key))
			for _, v := range p.Ref.Conditions {
				out.WriteString(" " + v)
			}
		case p.Link != nil:
			out.WriteString(p.Link.Text)
		default:
			out.WriteString(p.Text)
		}
		out.WriteString(" ")
	}
	return out.String()
}

func setOf(tokens []string) map[string]bool {
	set := make(map[string]bool, len(tokens))
	for _, t := range tokens {
		set[t] = true
	}
	return set
}

// idf is the weight of a token: the rarer, the heavier.
func (x *index) idf(token string) float64 {
	n := float64(x.counts[token])
	return math.Log(1 + (float64(x.articles)-n+0.5)/(n+0.5))
}

// candidates returns the articles that bleve finds best. Its scores are not used
// beyond that: they have no scale.
func (x *index) candidates(ctx context.Context, terms []term, n int) ([]*profile, error) {
	var clauses []query.Query
	for _, t := range terms {
		clauses = append(clauses, fieldClauses(t.text, t.weight)...)
		for _, s := range t.near {
			clauses = append(clauses, fieldClauses(s.token, t.weight*s.weight)...)
		}
	}
	if len(clauses) == 0 {
		return nil, ctx.Err()
	}
	req := bleve.NewSearchRequestOptions(bleve.NewDisjunctionQuery(clauses...), n, 0, false)
	res, err := x.bleve.SearchInContext(ctx, req)
	if err != nil {
		return nil, err
	}
	found := make([]*profile, len(res.Hits))
	for i, h := range res.Hits {
		found[i] = x.profiles[h.ID]
	}
	return found, nil
}

func fieldClauses(token string, weight float64) []query.Query {
	clause := func(field string, boost float64) query.Query {
		q := bleve.NewTermQuery(token)
		q.SetField(field)
		q.SetBoost(boost * weight)
		return q
	}
	return []query.Query{clause(fieldTitle, boostTitle), clause(fieldAsks, boostAsks), clause(fieldBody, boostBody)}
}
