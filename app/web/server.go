// Package web serves the app to a browser on this machine: the pages, what they call and what
// they are told (protocol.go). Start with New.
//
// A page gets the token of this start in the part of its address that is never sent (after #),
// and shows it with every call; guard.go has the rest of what keeps others out.
package web

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"maps"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"dryfit/app/desk"
	"dryfit/measure/source"
)

// Server is the app of one folder.
type Server struct {
	Token string

	desk    *desk.Desk
	folder  string // as it is called
	pages   fs.FS
	keep    time.Duration
	calls   map[string]call
	makings map[string]making

	mu      sync.Mutex
	live    map[string]*live
	windows map[*window]bool
	shelf   shelf
}

// New returns the app of a folder. pages are the built files of the user interface.
func New(d desk.Disk, folder string, pages fs.FS) *Server {
	s := &Server{Token: rand.Text(), desk: desk.New(d), folder: folder, pages: pages, keep: keep, calls: map[string]call{}, makings: map[string]making{}, live: map[string]*live{}, windows: map[*window]bool{}}
	for _, c := range callTable() {
		s.calls[c.name] = c
	}
	for _, m := range makings {
		s.makings[m.name] = m
	}
	s.shelf.cards = map[string]*card{}
	return s
}

// lookEvery is how often the files are looked at: another editor's change is to be there before
// one has turned one's head.
const lookEvery = 300 * time.Millisecond

// Run watches the folder until ctx ends.
func (s *Server) Run(ctx context.Context) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	go s.proveShelf(ctx)
	for {
		s.look()
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// look sees what other programs did.
func (s *Server) look() {
	s.mu.Lock()
	all := slices.Collect(maps.Values(s.live))
	s.mu.Unlock()
	for _, l := range all {
		l.toy.Look()
		l.update()
	}
	s.letGo(all)
	s.lookAtShelf()
}

// keep is how long a toy that no window has open is kept worked out: longer than a page takes to
// be loaded anew, or a tablet to wake.
const keep = 2 * time.Minute

// Serve answers requests until ctx ends, and watches the folder meanwhile. It returns the names
// of toys that could not be saved to the last.
func (s *Server) Serve(ctx context.Context, l net.Listener) (unsaved []string, err error) {
	server := &http.Server{
		Handler: s.Handler(), ReadHeaderTimeout: bodyWithin, IdleTimeout: keep, MaxHeaderBytes: 16 << 10,
		BaseContext: func(net.Listener) context.Context { return ctx }, // ends the streams
	}
	go s.Run(ctx)
	closed := make(chan struct{})
	go func() {
		defer close(closed)
		<-ctx.Done()
		last, cancel := context.WithTimeout(context.Background(), time.Second)
		defer cancel()
		if server.Shutdown(last) != nil { // a save that is being made is waited for
			server.Close()
		}
	}()
	if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return nil, err
	}
	<-closed
	return s.desk.Unsaved(), nil
}

// Handler returns what answers requests.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.page)
	mux.HandleFunc("GET /assets/{name}", s.asset)
	mux.Handle("POST /call/{name}", s.known(http.HandlerFunc(s.call)))
	mux.Handle("POST /make/{name}", s.known(http.HandlerFunc(s.make)))
	mux.Handle("POST /layout", s.known(http.HandlerFunc(s.layout)))
	mux.Handle("POST /builds", s.known(http.HandlerFunc(s.builds)))
	mux.Handle("POST /stream", s.known(http.HandlerFunc(s.stream)))
	return s.guard(mux)
}

// bodyMost is the longest request: a toy file in JSON, where every sign may take six.
const bodyMost = 6*desk.MostBytes + 4096

// bodyWithin is how long the sending of a request may take, which is all on this machine.
const bodyWithin = 10 * time.Second

func readBody(w http.ResponseWriter, r *http.Request) ([]byte, bool) {
	if r.ContentLength > bodyMost { // before any of it is read
		w.Header().Set("Connection", "close")
		fail(w, http.StatusRequestEntityTooLarge, tooMuch)
		return nil, false
	}
	c := http.NewResponseController(w)
	c.SetReadDeadline(time.Now().Add(bodyWithin))
	b, err := io.ReadAll(http.MaxBytesReader(w, r.Body, bodyMost))
	switch {
	case err == nil:
		c.SetReadDeadline(time.Time{}) // or a stream would end by it
	case errors.As(err, new(*http.MaxBytesError)):
		fail(w, http.StatusRequestEntityTooLarge, tooMuch)
	case err != nil:
		fail(w, http.StatusRequestTimeout, Failure{Says: "the request did not come to its end"})
	}
	return b, err == nil
}

var tooMuch = Failure{Says: "this is more than a toy can be"}

func (s *Server) call(w http.ResponseWriter, r *http.Request) {
	c, ok := s.calls[r.PathValue("name")]
	if !ok {
		fail(w, http.StatusNotFound, Failure{Says: "there is no call " + r.PathValue("name")})
		return
	}
	body, ok := readBody(w, r)
	if !ok {
		return
	}
	answer, err := c.run(r.Context(), s, body)
	if err != nil {
		fail(w, status(err), failure(err))
		return
	}
	w.Header().Set("Content-Type", "application/json")
	json.NewEncoder(w).Encode(answer)
}

// status tells a page's mistakes from changes that came too late.
func status(err error) int {
	if errors.As(err, new(tooLate)) {
		return http.StatusConflict
	}
	return http.StatusBadRequest
}

func failure(err error) Failure {
	out := Failure{Says: says(err)}
	var late tooLate
	if errors.As(err, &late) {
		out.State = &late.now
	}
	return out
}

// says is an error in words, without the paths of files that Go's have.
func says(err error) string {
	var probs source.Problems
	if errors.As(err, &probs) && len(probs) > 0 {
		return probs[0].Says
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Path + ": " + path.Err.Error()
	}
	return err.Error()
}

func fail(w http.ResponseWriter, code int, f Failure) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(code)
	json.NewEncoder(w).Encode(f)
}

// page is the shell: it knows nothing of any toy.
func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	b, err := fs.ReadFile(s.pages, "index.html")
	if err != nil {
		w.WriteHeader(http.StatusInternalServerError)
		io.WriteString(w, "This dryfit was built without its pages: build it with make build.\n")
		return
	}
	nonce := rand.Text()
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", policy(nonce))
	w.Header().Set("Cache-Control", "no-store")
	io.WriteString(w, strings.ReplaceAll(string(b), "{nonce}", nonce))
}

var types = map[string]string{".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml", ".txt": "text/plain; charset=utf-8"}

func (s *Server) asset(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	b, err := fs.ReadFile(s.pages, name)
	ext := name[strings.LastIndexByte(name, '.')+1:]
	kind, ok := types["."+ext]
	if err != nil || !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-cache")
	w.Write(b)
}
