// Package kb holds the knowledge base: what the team asks, as articles written
// in Markdown, and the search that finds them or honestly says that it has not.
//
// An [Article] is one file: front matter that says what it is and how staff ask
// for it, then the sections Answer, Why, How, Limits and Disagreements. Every
// paragraph ends with a [Tag] that says what it rests on, and a number that the
// planner knows stands as a [Reference], so that it exists once. FORMAT.md
// describes each key, tag, reference and section.
//
// A [Base] is a set of articles read by [Load] from layers: the ones embedded
// here, which [Articles] gives, and above them a practice's own folder. It is
// never changed after it is loaded. [Base.Search] finds, [Base.Check] lints, and
// [Article.Render] fills references and numbers the sources. A [Library] keeps a
// Base fresh while files in the practice's folder change.
//
// The search reads articles and questions through one normaliser (units,
// spellings, the trade's synonyms, see synonyms.yaml), takes candidates from a
// bleve index in memory, and orders them by how likely each article's words make
// the question and by how like it is to the article's asks (rank.go). Above some
// hundreds of articles bleve saves ranking those that share no word; below, it
// leaves out only what would be ranked last, and its own scores are not used.
//
// The search abstains by one figure, the closeness: the score that orders the
// best article, and how far the question's words lean to our asks rather than to
// the questions that are not ours (leaning.go). A word of other people's work
// (outofscope.yaml) that the article is not about takes from it. How much of the
// question the article covers decides nothing. What that gives on labelled
// questions stands in testdata/questions/kb-golden.txt.
//
// A folder's more-asks.yaml teaches further ways of asking for its own articles
// and those of the folders below.
//
// The package imports nothing else of this program; the planner's numbers and
// citations come in through [References].
package kb
