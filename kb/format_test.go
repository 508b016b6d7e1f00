package kb

import (
	"os"
	"strings"
	"testing"
)

// TestFormatPage holds FORMAT.md to the code: its example loads, and it names
// every topic, role, key and file of data.
func TestFormatPage(t *testing.T) {
	data, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(data), "```markdown\n")
	example, _, ok := strings.Cut(rest, "```")
	if !ok {
		t.Fatal("FORMAT.md has no example")
	}
	if _, err := ParseArticle("saliva-after-try-in.md", []byte(example)); err != nil {
		t.Errorf("the example does not load: %v", err)
	}
	for _, name := range append(append(append(Topics(), Roles()...), frontKeys()...), moreFile, "synonyms.yaml", "outofscope.yaml", "outside-asks.txt", "common.txt", "english.txt", "capitals.txt") {
		if !strings.Contains(string(data), name) {
			t.Errorf("FORMAT.md does not mention %q", name)
		}
	}
}
