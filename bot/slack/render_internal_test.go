package slack

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"mortarboard/bot/slack/standin"
	"mortarboard/bot/talk"
)

// check passes messages through the stand-in's limits.
func check(t *testing.T, messages []outgoing) {
	t.Helper()
	for i, m := range messages {
		raw, err := json.Marshal(m.blocks)
		if err != nil {
			t.Fatal(err)
		}
		if err := standin.CheckMessage(string(m.text), raw); err != nil {
			t.Fatalf("message %d of %d: %v", i+1, len(messages), err)
		}
	}
}

// shown is all text that a reader sees, of one or more messages.
func shown(t *testing.T, messages []outgoing) string {
	t.Helper()
	var all strings.Builder
	for _, m := range messages {
		raw, err := json.Marshal(m.blocks)
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(raw, &tree); err != nil {
			t.Fatal(err)
		}
		texts(tree, &all)
	}
	return all.String()
}

func texts(node any, out *strings.Builder) {
	switch n := node.(type) {
	case []any:
		for _, item := range n {
			texts(item, out)
		}
	case map[string]any:
		if s, ok := n["text"].(string); ok {
			out.WriteString(s + "\n")
		}
		for _, item := range n {
			texts(item, out)
		}
	}
}

func plan() talk.Reply {
	return talk.Reply{Kind: talk.KindPlan, Headline: "Bond it.", Text: "Bond it. Because.\nAsk the dentist.", Caution: "Ask the dentist.",
		Notices:  []string{"The tube has expired."},
		Sections: []talk.Section{{Title: "Why", Lines: []string{"short walls", "1. numbered stays"}}, {Title: "Steps", Lines: []string{"abrade", "prime"}, Fold: true}},
		Choices: []talk.Choice{{Fact: "isolation", Ask: "Can it be kept dry?", Options: []talk.Option{{Label: "Yes", Says: "isolation dry"}, {Label: "No", Says: "isolation impossible"}}},
			{Fact: "margin", Ask: "Where is the margin?", Options: []talk.Option{{Label: "a", Says: "a"}, {Label: "b", Says: "b"}, {Label: "c", Says: "c"}, {Label: "d", Says: "d"}, {Label: "e", Says: "e"}, {Label: "f", Says: "f"}}}}}
}

func TestLayoutReadsInOrder(t *testing.T) {
	l := lay(plan())
	check(t, l.messages)
	if len(l.messages) != 1 || l.rest != "" {
		t.Fatalf("%d messages, rest %q", len(l.messages), l.rest)
	}
	raw, err := json.Marshal(l.messages[0].blocks)
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	for _, want := range []string{"*Bond it.*", "*Note*  The tube has expired.", `*Why*\n• short walls\n1. numbered stays`, "More: Steps",
		"Can it be kept dry?", `"value":"isolation dry"`, "Where is the margin?", `"type":"static_select"`, `"type":"context"`, "Ask the dentist."} {
		i := strings.Index(string(raw)[at:], want)
		if i < 0 {
			t.Fatalf("%q is missing or out of order in\n%s", want, raw)
		}
		at += i
	}
	if strings.Contains(shown(t, l.messages), "abrade") {
		t.Error("a folded section is shown")
	}
}

func TestLongAnswersAreAttachedWholeOrSplitWhole(t *testing.T) {
	var lines []string
	for i := range 600 {
		lines = append(lines, fmt.Sprintf("line %03d is a sentence of some length. It has a second one.", i))
	}
	r := talk.Reply{Headline: "Long.", Text: strings.Join(lines, "\n") + "\nCare.", Caution: "Care.",
		Sections: []talk.Section{{Title: "All", Lines: lines}}}
	l := lay(r)
	check(t, l.messages)
	if l.rest != r.Text || !strings.Contains(shown(t, l.messages), attachedText) {
		t.Error("what did not fit is not announced or not attached")
	}
	split := laySplit(r, "")
	check(t, split.messages)
	text := shown(t, split.messages)
	for _, line := range lines {
		if !strings.Contains(text, line+"\n") {
			t.Fatalf("%q is cut or lost", line)
		}
	}
	for i, m := range split.messages {
		if !strings.Contains(shown(t, []outgoing{m}), "Care.") || !strings.HasSuffix(string(m.text), "Care.") {
			t.Errorf("message %d has no caution", i+1)
		}
	}
}

// TestNothingIsCutInMidSentence lays out paragraphs far longer than a block, with
// full stops that end nothing: each piece that is shown ends with a sentence.
func TestNothingIsCutInMidSentence(t *testing.T) {
	var sentences []string
	for i := range 250 {
		sentences = append(sentences, fmt.Sprintf("In case %d the wall is approx. 0.5 mm, i.e. Thin; it was said (see fig. 3) that min. 1 mm is wanted.", i))
	}
	long := strings.Join(sentences, " ")
	r := talk.Reply{Headline: "Long.", Text: long, Caution: "Care.", Notices: []string{long},
		Sections: []talk.Section{{Lines: []string{long}}, {Title: "Fold.", Lines: []string{long}, Fold: true}}}
	for _, messages := range [][]outgoing{lay(r).messages, laySplit(r, "").messages} {
		check(t, messages)
		for _, text := range strings.Split(shown(t, messages), "\n") {
			if end := strings.TrimRight(text, "*"); end != "" && !strings.HasPrefix(end, "More: ") && !strings.HasSuffix(end, "wanted.") && len(end) > 99 {
				t.Errorf("cut to …%s", end[len(end)-60:])
			}
		}
		for _, m := range messages {
			if first, _, _ := strings.Cut(string(m.text), "\n"); !strings.HasSuffix(first, "wanted.") {
				t.Errorf("plain text cut to …%s", first[max(0, len(first)-60):])
			}
		}
	}
	if alt := firstPiece(long, altLimit); !strings.HasSuffix(alt, "wanted.") {
		t.Errorf("alternative text cut to %s", alt)
	}
}

func TestEscapeKeepsMeaningAndTakesAwayPower(t *testing.T) {
	for in, want := range map[string]markup{
		"<!channel> <@U1> <!here|x>":  "&lt;!channel&gt; &lt;@U1&gt; &lt;!here|x&gt;",
		"a & b":                       "a &amp; b",
		"> 2 mm":                      "\uff1e 2 mm",
		"wall > 2 mm":                 "wall &gt; 2 mm",
		"~2 bar, 3*4":                 "\u223c2 bar, 3\u22174",
		"ratio 1:100:5":               "ratio 1:100\u22365",
		"_x_ and a_b":                 "\u02cdx\u02cd and a_b",
		"`code`":                      "'code'",
		"ab\x00\u202ecd\u2028next":    "abcd\nnext",
		"\xff":                        "\ufffd",
		"<https://evil.example|here>": "&lt;https://evil.example|here&gt;",
	} {
		if got := escape(in); got != want {
			t.Errorf("escape(%q) = %q, want %q", in, got, want)
		}
	}
}

// scrap is a random text made of what could do harm.
func scrap(r *rand.Rand, most int) string {
	bits := []string{"<!channel>", "<@U123>", "<!here>", "<#C1|x>", "<https://a|b>", "<", ">", "&", "&lt;", "*", "_", "~", "`", "\n", " ", ". ",
		":tada:", "word", "\"", "\\", "\u2028", "\x00", "\xff", "é", "漢", "😀", "a very long line without an end ", "\u202e", "•", "5 bar", "'"}
	var b strings.Builder
	for range r.IntN(most + 1) {
		b.WriteString(bits[r.IntN(len(bits))])
	}
	return b.String()
}

func randomReply(r *rand.Rand) talk.Reply {
	big := []int{3, 30, 3000}[r.IntN(3)]
	reply := talk.Reply{Headline: scrap(r, big), Text: scrap(r, big), Caution: scrap(r, 30)}
	for range r.IntN(4) {
		reply.Notices = append(reply.Notices, scrap(r, big/3))
	}
	for range r.IntN(8) {
		s := talk.Section{Title: scrap(r, 10), Fold: r.IntN(2) == 0}
		for range r.IntN(40) {
			s.Lines = append(s.Lines, scrap(r, big/10+3))
		}
		reply.Sections = append(reply.Sections, s)
	}
	for range r.IntN(7) {
		c := talk.Choice{Fact: "f", Ask: scrap(r, big)}
		for range r.IntN(130) {
			c.Options = append(c.Options, talk.Option{Label: scrap(r, 20), Says: scrap(r, 1+r.IntN(300))})
		}
		reply.Choices = append(reply.Choices, c)
	}
	return reply
}

// TestNoReplyCanBreakTheRules lays out many replies made of hostile scraps: each
// message is one the service would take, and holds no angle bracket.
func TestNoReplyCanBreakTheRules(t *testing.T) {
	for seed := range uint64(60) {
		reply := randomReply(rand.New(rand.NewPCG(seed, 7)))
		if strings.TrimSpace(clean(reply.Headline)) == "" || strings.TrimSpace(clean(reply.Text+reply.Headline)) == "" {
			reply.Headline, reply.Text = "x"+reply.Headline, "x"+reply.Text
		}
		for _, l := range []layout{lay(reply), laySplit(reply, "c0123456789abcdef.1")} {
			if len(l.messages) == 0 {
				t.Fatalf("seed %d: no message", seed)
			}
			check(t, l.messages)
			all := shown(t, l.messages)
			for _, m := range l.messages {
				all += string(m.text)
			}
			if strings.Contains(all, "<") || !utf8.ValidString(all) {
				t.Fatalf("seed %d: an angle bracket or broken text in %q", seed, all)
			}
		}
	}
}

// TestEveryFoldCanBeOpened opens all folds of many messages one after the other:
// what results is still a message the service takes.
func TestEveryFoldCanBeOpened(t *testing.T) {
	for seed := range uint64(60) {
		reply := randomReply(rand.New(rand.NewPCG(seed, 11)))
		reply.Headline = "x"
		l := lay(reply)
		for _, m := range l.messages {
			blocks := raws(t, m)
			closed := string(mustJSON(t, blocks))
			if !strings.Contains(closed, `"block_id":"folds"`) {
				continue
			}
			folds := partsOf(reply, "").folds
			opened := 0
			for _, f := range folds[:min(len(folds), foldLimit)] {
				if !strings.Contains(closed, fmt.Sprintf(`"fold/show/%d"`, f.number)) {
					continue
				}
				f.shown = true
				blocks = refold(blocks, f)
				opened++
			}
			open := mustJSON(t, blocks)
			if err := standin.CheckMessage("x", open); err != nil {
				t.Fatalf("seed %d, %d folds open: %v", seed, opened, err)
			}
			for _, f := range folds {
				f.shown = false
				blocks = refold(blocks, f)
			}
			if again := string(mustJSON(t, blocks)); len(again) != len(closed) {
				t.Fatalf("seed %d: closed again it differs:\n%s", seed, firstDifference(again, closed))
			}
		}
	}
}

func firstDifference(a, b string) string {
	i := 0
	for i < min(len(a), len(b)) && a[i] == b[i] {
		i++
	}
	from := max(i-200, 0)
	return a[from:min(len(a), i+100)] + "\n" + b[from:min(len(b), i+100)]
}

func raws(t *testing.T, m outgoing) []json.RawMessage {
	t.Helper()
	var list []json.RawMessage
	if err := json.Unmarshal(mustJSON(t, m.blocks), &list); err != nil {
		t.Fatal(err)
	}
	return list
}

func mustJSON(t *testing.T, v any) json.RawMessage {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func TestAFoldTravelsInItsButton(t *testing.T) {
	f := foldsOf(talk.Section{Title: "Steps", Lines: []string{"abrade < 2 bar", "prime"}}, 3)[0]
	got, ok := foldOf("fold/show/3", f.title+"\n"+f.text)
	f.shown = true
	if !ok || got != f {
		t.Errorf("got %+v, want %+v", got, f)
	}
	for _, id := range []string{"fold/show/-1", "fold/drop/1", "fold", "say/0/0", "fold/show/x"} {
		if _, ok := foldOf(id, "x\ny"); ok {
			t.Errorf("%q was taken", id)
		}
	}
}

func TestSplitPrefersLineEndsThenSentences(t *testing.T) {
	for _, c := range []struct {
		in    markup
		limit int
		want  string
	}{
		{"one line\ntwo line", 12, "one line|two line"},
		{"One two. Three four. Five", 22, "One two. Three four.|Five"},
		{"alpha beta gamma", 11, "alpha beta|gamma"},
		{"xxxxxxx&amp;yyyy", 10, "xxxxxxx|&amp;yyyy"},
		{"", 5, ""},
		{"One two. Three four.", 8, "One two.|Three|four."},
		{"Use it, e.g. Zirconia. More", 24, "Use it, e.g. Zirconia.|More"},
		{"Wait. Hold e.g. 3 mm of it", 20, "Wait.|Hold e.g. 3 mm of it"},
		{"Wait. Hold min. 3 mm", 18, "Wait.|Hold min. 3 mm"},
		{"Wait 5 min. Then go on", 15, "Wait 5 min.|Then go on"},
		{"Wait. It is approx. Five of", 22, "Wait.|It is approx. Five of"},
		{"One; two three. Four five", 18, "One; two three.|Four five"},
		{"One. two; three", 9, "One.|two;|three"},
		{"Is it dry? (Or wet?) No", 21, "Is it dry? (Or wet?)|No"},
		{"one two\nthree", 7, "one two|three"},
	} {
		var got []string
		for _, p := range splitMarkup(c.in, c.limit) {
			got = append(got, string(p))
		}
		if strings.Join(got, "|") != c.want {
			t.Errorf("splitMarkup(%q, %d) = %q, want %q", c.in, c.limit, got, c.want)
		}
	}
}

// FuzzEscape looks for text that keeps an angle bracket, or that splits into
// pieces too long or torn.
func FuzzEscape(f *testing.F) {
	f.Add("<!channel> & <@U1>", 10)
	f.Add("> 2 mm :x: _a_ *b*", 3)
	f.Fuzz(func(t *testing.T, text string, limit int) {
		m := escape(text)
		if strings.ContainsAny(string(m), "<>") || !utf8.ValidString(string(m)) {
			t.Fatalf("escape(%q) = %q", text, m)
		}
		limit = 10 + (limit&0xfff)%3000
		for _, piece := range splitMarkup(m, limit) {
			if piece.size() > limit {
				t.Fatalf("piece of %d, limit %d", piece.size(), limit)
			}
		}
	})
}

func FuzzPlainText(f *testing.F) {
	f.Add("<@U0MORTAR> what of &lt;2 mm <https://a|b> <!here>")
	f.Fuzz(func(_ *testing.T, text string) { plainText(text, "U0MORTAR") })
}
