package kb

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sync"
	"sync/atomic"
	"time"
)

// A Library keeps a Base fresh: over fixed layers it lays a practice's folder,
// whose files it reads again when they change. A file that cannot be read is
// told to whoever asked to hear, and its last good version keeps serving; where
// there was none, the article of the layers below does. A Library may be used by
// several goroutines at once.
type Library struct {
	fixed    layer
	loose    []Problem // of the fixed layers
	practice fs.FS
	now      func() time.Time
	every    time.Duration
	tell     func([]Problem, error)

	state atomic.Pointer[shelf]
	mu    sync.Mutex // held while looking at the folder
	files map[string]*fileState
	next  time.Time
	stale bool // a change is not in the Base yet
	told  told // what the last look found
}

// told is what a look found: what is wrong in the folder, and why the articles
// could not be put up.
type told struct {
	problems []Problem
	err      string
}

// LibraryOptions say what a Library serves. Practice may be nil: then nothing
// is ever reread.
type LibraryOptions struct {
	Fixed    []fs.FS // layers that never change, e.g. Articles(); strict
	Practice fs.FS   // the practice's own folder, looked at again and again
	Now      func() time.Time
	Every    time.Duration // how long between looks; 0 looks at every use

	// Tell hears of a look that finds other problems, or another error, than the
	// look before: both empty says that all is mended. It does not hear of the
	// first look, whose problems NewLibrary's caller asks for. Nil tells nobody.
	Tell func(problems []Problem, err error)
}

// A shelf is one state of the library.
type shelf struct {
	base     *Base
	problems []Problem
}

// A fileState is what is remembered of one file of the practice's folder.
type fileState struct {
	size     int64
	modified time.Time
	looked   time.Time
	data     []byte   // as read
	good     *Article // last version without a problem; nil for moreFile
	more     []moreAsks
	problems []Problem
}

// NewLibrary loads the fixed layers, which must be without a fault, and looks at
// the practice's folder for the first time.
func NewLibrary(opts LibraryOptions) (*Library, error) {
	if opts.Now == nil {
		return nil, fmt.Errorf("kb: library needs a clock: set Now, e.g. to time.Now")
	}
	articles, loose, err := readStack(opts.Fixed)
	if err != nil {
		return nil, err
	}
	fixed := layer{articles: map[string]*Article{}}
	for _, a := range articles {
		fixed.articles[a.ID] = a
	}
	l := &Library{fixed: fixed, loose: loose, practice: opts.Practice,
		now: opts.Now, every: opts.Every, files: map[string]*fileState{}}
	err = l.Refresh()
	l.tell = opts.Tell
	return l, err
}

// Base returns the articles as they are now, after a look at the folder when
// one is due. It never waits for a look that another caller is taking.
func (l *Library) Base() *Base {
	if l.practice != nil && l.mu.TryLock() {
		defer l.mu.Unlock()
		if !l.now().Before(l.next) {
			l.look()
		}
	}
	return l.state.Load().base
}

// Problems returns what is wrong in the practice's folder, as of the last look.
func (l *Library) Problems() []Problem { return l.state.Load().problems }

// Refresh looks at the folder at once.
func (l *Library) Refresh() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.look()
}

// look rereads what has changed and, if anything has, puts up a new Base. On an
// error the old Base stays up and the next look tries again.
func (l *Library) look() error {
	now := l.now()
	l.next = now.Add(l.every)
	changed, problems := l.reread(now)
	l.stale = l.stale || changed
	articles, loose, ps := stack([]layer{l.fixed, l.good()})
	problems = slices.Concat(problems, ps, loose, l.broken())
	sortProblems(problems)
	base, err := l.baseOf(articles, append(slices.Clip(l.loose), loose...))
	if base != nil {
		l.state.Store(&shelf{base: base, problems: problems})
	}
	l.report(problems, err)
	return err
}

// report tells what a look found, if it is not what the look before found.
func (l *Library) report(problems []Problem, err error) {
	found := told{problems: problems}
	if err != nil {
		found.err = err.Error()
	}
	if found.err == l.told.err && slices.Equal(found.problems, l.told.problems) {
		return
	}
	l.told = found
	if l.tell != nil {
		l.tell(problems, err)
	}
}

// baseOf builds a Base if anything has changed since the last one, and returns
// the last one if not, or if the new one cannot be built.
func (l *Library) baseOf(articles []*Article, loose []Problem) (*Base, error) {
	old := l.state.Load()
	if old != nil && !l.stale {
		return old.base, nil
	}
	base, err := newBase(articles, loose)
	if err == nil {
		l.stale = false
		return base, nil
	}
	if old != nil {
		base = old.base
	}
	return base, err
}

// reread brings l.files up to date and says whether anything changed.
func (l *Library) reread(now time.Time) (changed bool, folder []Problem) {
	if l.practice == nil {
		return false, nil
	}
	name := layerName(l.practice)
	files, err := articleFiles(l.practice)
	if _, statErr := fs.Stat(l.practice, moreFile); statErr == nil {
		files = append(files, moreFile)
	}
	if err != nil { // keep what there was: an unmounted folder is no wish to delete
		return false, []Problem{{File: path.Join(name, "."), Line: 1, What: "cannot be listed: " + err.Error(), Mend: "make the folder readable"}}
	}
	present := map[string]bool{}
	for _, file := range files {
		present[file] = true
		changed = l.rereadFile(name, file, now) || changed
	}
	for file := range l.files {
		if !present[file] {
			delete(l.files, file)
			changed = true
		}
	}
	return changed, nil
}

// clockGrain is the coarsest step in which file systems note changes. A file
// that changed so shortly before a look may change again unnoticed, so it is
// read once more.
const clockGrain = 2 * time.Second

func (l *Library) rereadFile(layerName, file string, now time.Time) bool {
	old := l.files[file]
	if old == nil {
		old = &fileState{}
	}
	info, err := fs.Stat(l.practice, file)
	if err == nil && old.size == info.Size() && old.modified.Equal(info.ModTime()) && old.looked.Sub(old.modified) >= clockGrain {
		return false
	}
	data, problems := readBytes(l.practice, layerName, file)
	state := &fileState{looked: now, data: data, good: old.good, more: old.more, problems: problems}
	if err == nil {
		state.size, state.modified = info.Size(), info.ModTime()
	}
	l.files[file] = state
	if len(problems) == 0 && slices.Equal(data, old.data) && len(old.data) > 0 {
		state.problems = old.problems
		return false
	}
	state.parse(path.Join(layerName, file))
	return true
}

// parse reads the file's text; the last good version stays if it has faults.
func (f *fileState) parse(file string) {
	if len(f.problems) > 0 {
		return
	}
	if path.Base(file) == moreFile {
		f.parseMore(file)
		return
	}
	p := &page{file: file}
	if a := p.parse(f.data); len(p.problems) == 0 {
		f.good = a
	}
	f.problems = p.problems
}

func (f *fileState) parseMore(file string) {
	more, problems := parseMore(file, f.data)
	if len(problems) == 0 {
		f.more = more
	}
	f.problems = problems
}

// good is the practice's layer of files without a fault, or their last good
// version.
func (l *Library) good() layer {
	out := layer{articles: map[string]*Article{}}
	for _, f := range l.files {
		if f.good != nil {
			out.articles[f.good.ID] = f.good
		}
		out.more = append(out.more, f.more...)
	}
	return out
}

func (l *Library) broken() []Problem {
	var out []Problem
	for _, f := range l.files {
		out = append(out, f.problems...)
	}
	return out
}
