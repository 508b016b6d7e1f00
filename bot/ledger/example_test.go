package ledger_test

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"mortarboard/bot/ledger"
)

// A Spot is where a surface owes an answer: ids, and never what was asked.
type Spot struct{ Channel, Thread, Message string }

// The program keeps its ledger in a file. What one process kept the next finds.
func Example() {
	dir, err := os.MkdirTemp("", "example-")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	for range 2 {
		if err := oneProcess(filepath.Join(dir, "ledger")); err != nil {
			fmt.Println(err)
		}
	}
	// Output:
	// came before: false; the thread's case: none; owed: []
	// came before: true; the thread's case: {"zirconia":["4Y"]}; owed: [{C1 12.1 12.5}]
}

func oneProcess(path string) error {
	l, err := ledger.Open(path, ledger.Options{ThreadDays: 30})
	if err != nil {
		return err
	}
	defer l.Close()

	value, _, err := l.Load("slack/T1/C1/12.1")
	if err != nil {
		return err
	}
	if value == nil {
		value = []byte("none")
	}
	journal := ledger.JournalOf[Spot](l, "slack") // a surface's Journal option takes this
	owed := journal.Unfinished()
	again := journal.Begin([]string{"Ev0123"}, Spot{Channel: "C1", Thread: "12.1", Message: "12.5"})
	fmt.Printf("came before: %v; the thread's case: %s; owed: %v\n", again, value, owed)
	return l.Save("slack/T1/C1/12.1", []byte(`{"zirconia":["4Y"]}`))
}

// What was declined is counted for the clinical lead, by reason, day and the
// articles that came nearest.
func ExampleLedger_CountDeclined() {
	l, err := ledger.InMemory(ledger.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer l.Close()
	for range 3 {
		if err := l.CountDeclined("no-article", "cement-removal", "margin-check"); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println(l.CountDeclined("how long does the crown keep?"))
	list, err := l.Declined(time.Time{})
	for _, d := range list {
		fmt.Println(d.Reason, d.Count, d.Nearest, err)
	}
	// Output:
	// ledger: count a declined question: reason holds the byte ' ': allowed are a to z, 0 to 9 and - . _ /
	// no-article 3 [{cement-removal 3} {margin-check 3}] <nil>
}
