package talk

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"testing"
)

func TestCalcTry(t *testing.T) {
	name := os.Getenv("TRY")
	if name == "" {
		t.Skip()
	}
	talk := testTalk(t)
	f, _ := os.Open(name)
	in := bufio.NewScanner(f)
	for n := 0; in.Scan(); n++ {
		r, _ := talk.Handle(context.Background(), Message{Thread: fmt.Sprint("t", n), Text: in.Text()})
		if os.Getenv("FULL") != "" {
			fmt.Printf("### %s  [%s] %v\n%s\n%v\n\n", in.Text(), r.Kind, r.Case, r.Text, r.Values)
			continue
		}
		fmt.Printf("%s\n   [%s] %s\n", in.Text(), r.Kind, r.Headline)
		for _, n := range r.Notices {
			fmt.Printf("      ! %s\n", n)
		}
	}
}
