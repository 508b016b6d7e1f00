package page

import (
	"context"
	"crypto/rand"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
)

//go:embed static templates
var files embed.FS

// A site is the surface while it runs.
type site struct {
	o       Options
	work    context.Context // ends when the surface has stopped
	pages   *template.Template
	static  fs.FS
	cookie  string // name of the session cookie; cookies are not kept apart by port
	key     []byte // seals sessions and forms; a new one each start
	origin  *http.CrossOriginProtection
	store   *store
	asks    *pace // questions
	visits  *pace // requests of any sort
	workers chan struct{}
}

// newSite checks the options and reads the templates.
func newSite(work context.Context, o Options, port int) (*site, error) {
	o = o.withDefaults()
	if err := o.validate(); err != nil {
		return nil, err
	}
	pages, err := template.ParseFS(files, "templates/*.html")
	if err != nil {
		return nil, fmt.Errorf("page: templates: %w", err)
	}
	static, err := fs.Sub(files, "static")
	if err != nil {
		return nil, fmt.Errorf("page: static files: %w", err)
	}
	key := make([]byte, 32)
	_, _ = rand.Read(key) // never fails: it ends the program instead
	return &site{
		o: o, work: work, pages: pages, static: static, key: key,
		cookie:  fmt.Sprintf("mortarboard-%d", port),
		origin:  http.NewCrossOriginProtection(),
		store:   newStore(),
		asks:    newPace(o.PerMinute),
		visits:  newPace(visitsPerQuestion * o.PerMinute),
		workers: make(chan struct{}, o.Workers),
	}, nil
}

// visitsPerQuestion is how many requests of any sort go with one question: the
// page, its pictures, its sheet, its data and looking back at earlier ones.
const visitsPerQuestion = 10

// handler is every address of the surface behind its guard.
func (s *site) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.front)
	mux.HandleFunc("POST /ask", s.ask)
	mux.HandleFunc("GET /case/{case}", s.showCase)
	mux.HandleFunc("GET /case/{case}/{n}/sheet", s.showSheet)
	mux.HandleFunc("GET /case/{case}/{n}/answer.json", s.showData)
	mux.HandleFunc("GET /case/{case}/{n}/picture/{file}", s.showPicture)
	mux.HandleFunc("GET /static/{file}", s.showStatic)
	mux.HandleFunc("/", s.nowhere)
	return s.guard(mux)
}

// nowhere answers what no address fits, and methods that an address does not take.
func (s *site) nowhere(w http.ResponseWriter, r *http.Request) {
	if r.Method == http.MethodGet || r.Method == http.MethodHead {
		s.fail(w, r, noSuchPage())
		return
	}
	w.Header().Set("Allow", "GET, HEAD, POST")
	s.fail(w, r, wrongMethod(r.Method))
}
