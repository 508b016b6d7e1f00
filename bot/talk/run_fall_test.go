package talk

import "testing"

// TestFalls holds which messages tell that the restoration fell.
func TestFalls(t *testing.T) {
	x := testTalk(t).words
	for _, c := range []struct {
		says string
		fell bool
	}{
		{"crown fell on the floor", true},
		{"the crown dropped on the floor", true},
		{"dropped it", true},
		{"I dropped the bridge", true},
		{"it fell in the sink", true},
		{"landed on the tray", true},
		{"primed crown just fell into the sink", true},
		{"the veneer slipped out of my hand", true},
		{"she dropped the crown on the tray", true},
		{"picked the crown up off the floor", true},
		{"oh no, crown fell off the bench", true},
		{"the crown has fallen", true},
		{"crown fell on the floor?", true},
		{"droped the crown on the floor", true},

		{"it dropped into place", false},
		{"the crown dropped down nicely", false},
		{"the crown fell off last week", false},
		{"pressure dropped to 1 bar", false},
		{"dropped it to 1.5 bar", false},
		{"nearly dropped it", false},
		{"not dropped it", false},
		{"what if it fell on the floor", false},
		{"temp fell on the floor", false},
		{"dropped the mirror on the floor", false},
		{"the dam slipped", false},
		{"the patient fell on the floor", false},
		{"crown is on the tray", false},
		{"crown is in place", false},
	} {
		if got := x.tellsOfFall(x.read(c.says, testTalk(t).book).tokens); got != c.fell {
			t.Errorf("%q tells of a fall: %v", c.says, got)
		}
	}
}

// TestFallsEntry holds that the article which a fall offers exists.
func TestFallsEntry(t *testing.T) {
	c := testTalk(t)
	if id := c.words.words.Falls.Entry; id == "" {
		t.Error("no article is named")
	} else if _, ok := c.articles.Base().Article(id); !ok {
		t.Errorf("there is no article %q", id)
	}
}
