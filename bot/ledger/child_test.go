package ledger_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"

	"mortarboard/bot/ledger"
)

// childKey names the setting that makes the test program a child of itself: what
// to do, a blank, and the path of the ledger.
const childKey = "LEDGER_TEST_CHILD"

func TestMain(m *testing.M) {
	if work, path, ok := strings.Cut(os.Getenv(childKey), " "); ok {
		os.Exit(child(work, path))
	}
	os.Exit(m.Run())
}

func child(work, path string) int {
	l, err := ledger.Open(path, ledger.Options{})
	if err != nil {
		fmt.Println(err)
		return 1
	}
	switch work {
	case "hold":
		fmt.Println("open")
		select {}
	case "write":
		writeForEver(l)
	case "full":
		err = fillUp(l, path)
	}
	if err != nil {
		fmt.Println(err)
		return 1
	}
	fmt.Println("well")
	return 0
}

// writeForEver writes from several goroutines, and prints a line for each write
// that has returned.
func writeForEver(l *ledger.Ledger) {
	j := ledger.JournalOf[spot](l, "slack")
	var mu sync.Mutex
	done := func(what string, n int, err error) {
		mu.Lock()
		defer mu.Unlock()
		if err != nil {
			fmt.Println("failed", n, err)
			return
		}
		fmt.Println(what, n)
	}
	var all sync.WaitGroup
	for first := range 4 {
		all.Go(func() {
			for n := first; ; n += 4 {
				name := fmt.Sprint("n", n)
				delivery := deliveryOf(os.Getpid(), n)
				j.Begin([]string{delivery, "at " + delivery}, spot{delivery})
				done("begun", n, nil)
				done("saved", n, l.Save(name, []byte(name[1:])))
			}
		})
	}
	all.Wait()
}

// deliveryOf names a delivery of one child, so that each round has new ones.
func deliveryOf(pid, n int) string { return fmt.Sprintf("%d-%d", pid, n) }

type spot struct{ Channel string }

// A process is a child under way.
type process struct {
	t   *testing.T
	cmd *exec.Cmd
	out *bufio.Scanner
}

func startChild(t *testing.T, work, path string) *process {
	t.Helper()
	exe, err := os.Executable()
	must(t, err)
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), childKey+"="+work+" "+path)
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	p := &process{t, cmd, bufio.NewScanner(out)}
	t.Cleanup(p.kill)
	return p
}

// line returns the next line that the child prints.
func (p *process) line() string {
	p.t.Helper()
	if !p.out.Scan() {
		p.t.Fatalf("the child ended: %v", p.out.Err())
	}
	return p.out.Text()
}

// kill ends the child in the middle of whatever it does.
func (p *process) kill() {
	_ = p.cmd.Process.Kill() // SIGKILL: nothing of the child runs after it
	_ = p.cmd.Wait()
}
