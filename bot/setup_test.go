package main

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// aPractice makes a practice's folder with the articles given, by file name.
func aPractice(t *testing.T, articles map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for from, to := range map[string]string{"practice.yaml": "practice.yaml", "shelf.yaml": "shelf.yaml"} {
		data, err := os.ReadFile(filepath.Join("../testdata/practice", from))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, to), string(data))
	}
	if err := os.Mkdir(filepath.Join(dir, "articles"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range articles {
		write(t, filepath.Join(dir, "articles", name), text)
	}
	return dir
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestOpenNamesEveryBrokenArticle(t *testing.T) {
	_, err := open(options{practice: aPractice(t, map[string]string{"one.md": "half saved", "two.md": "half saved"})})
	if err == nil || !strings.Contains(err.Error(), "one.md:1") || !strings.Contains(err.Error(), "two.md:1") {
		t.Errorf("the error is %v, wanted both files named", err)
	}
}

// TestOwnArticles: a folder that is there and cannot be looked at is not the same
// as no folder.
func TestOwnArticles(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "articles")
	if found, err := ownArticles(dir); found != nil || err != nil {
		t.Errorf("without articles it gives %v, %v", found, err)
	}
	write(t, folder, "no folder")
	if _, err := ownArticles(dir); err == nil || !strings.Contains(err.Error(), "is a file") {
		t.Errorf("of a file in the folder's place it says %v", err)
	}
	if err := os.Remove(folder); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("articles", folder); err != nil {
		t.Skip("no links here:", err)
	}
	if _, err := ownArticles(dir); err == nil || !strings.Contains(err.Error(), "cannot be read") {
		t.Errorf("of a folder that cannot be looked at it says %v", err)
	}
}

// TestFaultsOfArticlesAreLoggedWhileItRuns: a file that is broken later is told,
// and that it is mended.
func TestFaultsOfArticlesAreLoggedWhileItRuns(t *testing.T) {
	var log bytes.Buffer
	dir := aPractice(t, nil)
	h, err := open(options{practice: dir, log: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil || log.Len() > 0 {
		t.Fatalf("%v, logged %q", err, log.String())
	}
	broken := filepath.Join(dir, "articles", "one.md")
	write(t, broken, "half saved")
	if err := h.articles.Refresh(); err != nil || !strings.Contains(log.String(), "one.md:1: front matter is missing") {
		t.Errorf("%v, logged %q, wanted the file and its fault", err, log.String())
	}
	if err := os.Remove(broken); err != nil {
		t.Fatal(err)
	}
	if err := h.articles.Refresh(); err != nil || !strings.Contains(log.String(), "without a fault again") {
		t.Errorf("%v, logged %q, wanted that it is mended", err, log.String())
	}
}
