package ledger_test

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"sync/atomic"
	"testing"

	"mortarboard/bot/ledger"
)

// caseJSON is a conversation's case of ordinary length.
const caseJSON = `{"case":{"zirconia":["4Y","5Y"],"margin":["dentin"],"isolation":["dry"],"position":["molar"],` +
	`"height_mm":[2.8],"retention":["inadequate"]},"asked":"enamel","turn":%d}`

// benchmark runs a benchmark in a file and in memory.
func benchmark(b *testing.B, run func(b *testing.B, l *ledger.Ledger)) {
	b.Run("file", func(b *testing.B) { run(b, openFile(b, filepath.Join(b.TempDir(), "ledger"))) })
	b.Run("memory", func(b *testing.B) {
		l, err := ledger.InMemory(ledger.Options{})
		must(b, err)
		run(b, l)
	})
}

// BenchmarkSeen is one new delivery after the other, each on disk before the next.
func BenchmarkSeen(b *testing.B) {
	benchmark(b, func(b *testing.B, l *ledger.Ledger) {
		n := 0
		for b.Loop() {
			n++
			if seen(l, fmt.Sprint("Ev", n)) {
				b.Fatal("a new delivery was seen")
			}
		}
	})
}

// BenchmarkSeenAgain is a delivery that came before.
func BenchmarkSeenAgain(b *testing.B) {
	benchmark(b, func(b *testing.B, l *ledger.Ledger) {
		seen(l, "Ev1")
		for b.Loop() {
			if !seen(l, "Ev1") {
				b.Fatal("a delivery was forgotten")
			}
		}
	})
}

// BenchmarkSeenAtOnce is 64 surfaces with a new delivery each, at the same time.
func BenchmarkSeenAtOnce(b *testing.B) {
	benchmark(b, func(b *testing.B, l *ledger.Ledger) {
		var n atomic.Int64
		b.SetParallelism(32)
		b.RunParallel(func(pb *testing.PB) {
			for pb.Next() {
				if seen(l, fmt.Sprint("Ev", n.Add(1))) {
					b.Error("a new delivery was seen")
				}
			}
		})
	})
}

// BenchmarkSave is the case of one of 10,000 threads, changed each time.
func BenchmarkSave(b *testing.B) {
	benchmark(b, func(b *testing.B, l *ledger.Ledger) {
		n := 0
		for b.Loop() {
			n++
			if err := l.Save(fmt.Sprint("T", n%10_000), fmt.Appendf(nil, caseJSON, n)); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkLoad is the case of one of 1,000 threads.
func BenchmarkLoad(b *testing.B) {
	benchmark(b, func(b *testing.B, l *ledger.Ledger) {
		for n := range 1000 {
			must(b, l.Save(fmt.Sprint("T", n), fmt.Appendf(nil, caseJSON, n)))
		}
		n := 0
		for b.Loop() {
			n++
			if value, _, err := l.Load(fmt.Sprint("T", n%1000)); err != nil || value == nil {
				b.Fatal(value, err)
			}
		}
	})
}

// BenchmarkQuestion is what one question costs a surface: two delivery keys, a
// place begun and ended, and a case loaded and saved.
func BenchmarkQuestion(b *testing.B) {
	benchmark(b, func(b *testing.B, l *ledger.Ledger) {
		j := ledger.JournalOf[spot](l, "slack")
		var count atomic.Int64
		b.SetParallelism(4)
		b.RunParallel(func(pb *testing.PB) {
			for pb.Next() {
				n := count.Add(1)
				name := fmt.Sprint("n", n)
				j.Begin([]string{name, name + "again"}, spot{name})
				_, _, err := l.Load(name)
				if err == nil {
					err = l.Save(name, fmt.Appendf(nil, caseJSON, n))
				}
				if err != nil {
					b.Error(err)
				}
				j.End(spot{name})
			}
		})
	})
}

// busyFile is a file of 10,000 threads and 50,000 deliveries.
func busyFile(b *testing.B) string {
	path := filepath.Join(b.TempDir(), "ledger")
	m := ledger.NewMemory()
	l, err := m.Open(ledger.Options{})
	must(b, err)
	for n := range 50_000 {
		seen(l, fmt.Sprint("Ev", n))
		if n < 10_000 {
			must(b, l.Save(fmt.Sprint("T", n), fmt.Appendf(nil, caseJSON, n)))
		}
	}
	file := fileStore(b, path)
	must(b, ledger.Copy(file, m.Store()))
	must(b, file.Close())
	return path
}

// BenchmarkOpen opens a busy file, which is read whole.
func BenchmarkOpen(b *testing.B) {
	path := busyFile(b)
	for b.Loop() {
		must(b, openFile(b, path).Close())
	}
}

// BenchmarkBackup backs a busy file up to nowhere.
func BenchmarkBackup(b *testing.B) {
	l := openFile(b, busyFile(b))
	for b.Loop() {
		must(b, l.Backup(io.Discard))
	}
	var size bytes.Buffer
	must(b, l.Backup(&size))
	b.ReportMetric(float64(size.Len()), "bytes/backup")
}
