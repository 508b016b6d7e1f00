package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// asked runs ask with what is on standard input, and returns its status and output.
func asked(t *testing.T, in string, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(t.Context(), append([]string{"ask"}, args...), surroundings{strings.NewReader(in), &o, &e, os.Getenv})
	return status, o.String(), e.String()
}

// TestAskContract asks as a program does: a question a line in, an object a line
// out, in order, whatever the lines hold.
func TestAskContract(t *testing.T) {
	oneByOne(t)
	lines := []string{
		"bond or cement, translucent, margin in dentin", "is 60 psi ok on 3Y", "pressure for 5Y?", "2.8 bar in psi",
		"crown came off, what now", "what is the capital of France", "", "DOB 3.4.1961, 3Y crown", "\x00\xff" + strings.Repeat("wall 0.3 mm ", 400),
	}
	kinds := []string{"plan", "check", "value", "calculation", "article", "declined", "declined", "declined", ""}
	status, out, errs := asked(t, strings.Join(lines, "\n"), "-json")
	if status != exitOK || errs != "" {
		t.Fatalf("status %d, printed %q", status, errs)
	}
	answers := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	if len(answers) != len(lines) {
		t.Fatalf("%d lines in, %d objects out", len(lines), len(answers))
	}
	for i, text := range answers {
		var answer map[string]any
		if err := json.Unmarshal([]byte(text), &answer); err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		if kinds[i] != "" && answer["kind"] != kinds[i] {
			t.Errorf("%q is answered as %v, wanted %s", lines[i], answer["kind"], kinds[i])
		}
		for _, key := range []string{"case", "reasons", "values", "entries", "notices", "text", "caution"} {
			if answer[key] == nil {
				t.Errorf("%q: %s is missing", lines[i], key)
			}
		}
		if answer["caution"] == "" || strings.Contains(text, "1961") {
			t.Errorf("%q: no caution, or a birthday repeated", lines[i])
		}
	}
}

// TestAskThread holds one conversation, and a second one after an empty line.
func TestAskThread(t *testing.T) {
	oneByOne(t)
	_, out, _ := asked(t, "3Y crown\npressure?\n\npressure?\n", "-json", "-thread")
	answers := strings.Split(strings.TrimSpace(out), "\n")
	if len(answers) != 3 || !strings.Contains(answers[1], `"zirconia":["3Y"]`) || strings.Contains(answers[2], `"zirconia"`) {
		t.Errorf("answered %d lines; the second must know 3Y and the third must not:\n%s", len(answers), out)
	}
}

// TestAskWrongly makes wrong calls: status 2 and one line that says what and the mend.
func TestAskWrongly(t *testing.T) {
	oneByOne(t)
	broken := t.TempDir()
	for name, text := range map[string]string{"practice.yaml": "name: A\nlead: B\n", "shelf.yaml": "products:\n  - nmae: x\n"} {
		if err := os.WriteFile(filepath.Join(broken, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for want, args := range map[string][]string{
		"the flags are":      {"-nonsense"},
		"practice.yaml":      {"-practice", t.TempDir(), "x"},
		`unknown key "nmae"`: {"-practice", broken, "x"},
		"-pictures":          {"-pictures", filepath.Join(broken, "no", "such"), "is 60 psi ok on 3Y"},
	} {
		status, out, errs := asked(t, "", args...)
		if status != exitUsage || out != "" || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, want) {
			t.Errorf("%v: status %d, out %q, printed %q, wanted one line with %q", args, status, out, errs, want)
		}
	}
}
