package talk

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"
)

func TestOutsideProbe(t *testing.T) {
	if os.Getenv("PROBE") == "" {
		t.Skip("set PROBE=1")
	}
	talk := testTalk(t)
	data, _ := os.ReadFile("../../testdata/questions/outside.tsv")
	n, bad := 0, 0
	for i, line := range strings.Split(string(data), "\n") {
		q, why, ok := strings.Cut(line, "\t")
		if !ok || strings.HasPrefix(line, "# ") || i == 0 {
			continue
		}
		n++
		r, _ := talk.Handle(context.Background(), Message{Thread: fmt.Sprint(i), Text: q})
		if r.Kind != KindDeclined {
			bad++
			fmt.Printf("%s | %s %s %v | %.90s | %s\n", q, r.Kind, r.Strategy, r.Entries, r.Headline, why)
		}
	}
	fmt.Println(n, bad)
}
