package web

import (
	"context"
	"encoding/json"
	"maps"
	"net/http"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"dryfit/app"
	"dryfit/app/desk"
	"dryfit/app/page"
	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/prove"
)

// live is a toy that windows have open: whatever changes it, it is worked out again, and all of
// them are told, the quick things first.
type live struct {
	s    *Server
	toy  *desk.Toy
	used atomic.Int64 // when it was last asked for or left, in ns; see letGo

	mu       sync.Mutex
	told     desk.State // what the state below was made of
	windows  map[*window]bool
	cancel   context.CancelFunc
	cache    *assembly.Cache
	shapes   page.Shapes
	opened   *app.Toy // of the last text that could be read
	state    State
	view     *page.Toy
	builds   *page.Builds   // of the last text that could be read at all
	findings *page.Findings // so far
	scene    *page.Scene
	apart    *Apart
	outputs  outputs
}

// open returns the live toy of a file.
func (s *Server) open(file string) (*live, error) {
	t, err := s.desk.Open(file)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	l := s.live[file]
	begun := l != nil
	if !begun {
		l = &live{s: s, toy: t, windows: map[*window]bool{}, cache: &assembly.Cache{}}
		s.live[file] = l
	}
	l.used.Store(time.Now().UnixNano())
	s.mu.Unlock()
	if !begun {
		l.update()
	}
	return l, nil
}

// letGo lets go of the live toys that no window has had open for a while, and ends their proofs.
func (s *Server) letGo(all []*live) {
	for _, l := range all {
		l.mu.Lock()
		idle := len(l.windows) == 0
		l.mu.Unlock()
		s.mu.Lock()
		// Asked for since: a window may be about to join.
		if idle = idle && time.Since(time.Unix(0, l.used.Load())) > s.keep; idle {
			maps.DeleteFunc(s.live, func(_ string, x *live) bool { return x == l })
		}
		s.mu.Unlock()
		if idle {
			l.mu.Lock()
			if l.cancel != nil {
				l.cancel()
			}
			l.mu.Unlock()
		}
	}
}

func (l *live) stateOf(st desk.State, probs source.Problems) State {
	// The clock, so that it goes on growing when the toy was let go or the program is another.
	n := max(l.state.N+1, time.Now().UnixMicro())
	out := State{File: st.File, N: n, Hash: st.Hash, Text: st.Text, Undo: st.Undo, Redo: st.Redo, Unsaved: st.Unsaved, Forgets: st.Forgets, Gone: st.Gone, Theirs: st.Theirs, Problems: probs}
	if out.Problems == nil {
		out.Problems = []source.Problem{}
	}
	return out
}

// update takes in what the toy is now, tells it, and begins to work out what follows from it. It
// returns the state with what is wrong with the text. It asks for the state itself: of two that
// are handed over by two callers, the later might come first.
func (l *live) update() State {
	l.mu.Lock()
	defer l.mu.Unlock()
	st := l.toy.State()
	begun := l.state.File != ""
	if begun && st.Same(l.told) {
		return l.state
	}
	l.told = st
	if begun && l.state.Hash == st.Hash { // the same text: only what is said of it
		l.state = l.stateOf(st, l.state.Problems)
		l.tell(l.stateEvent())
		return l.state
	}
	if l.cancel != nil {
		l.cancel()
	}
	t, probs := app.OpenWith(st.File, st.Text, app.Options{Cache: l.cache})
	var m *assembly.Model
	if len(probs) == 0 {
		m, probs = t.Model()
	}
	l.state = l.stateOf(st, probs)
	if builds, ok := page.BuildsOf(st.Text, t, m, l.builds); ok {
		l.builds = builds
		l.tell(Event{Builds: builds})
	}
	if len(probs) > 0 {
		l.tell(l.stateEvent())
		return l.state
	}
	view := page.Of(t, m, st.Text)
	l.opened, l.view = t, &view
	l.findings = &page.Findings{Hash: st.Hash, Checks: []string{}, Findings: []app.Finding{}, NotAsked: []prove.NotAsked{}}
	l.scene, l.apart = nil, nil
	l.tell(l.stateEvent(), Event{Toy: l.view})
	ctx, cancel := context.WithCancel(context.Background())
	l.cancel = cancel
	proof, quick, all := prove.Of(m), make(chan struct{}), make(chan struct{})
	go l.prove(ctx, t, proof, st.Hash, quick, all)
	go l.draw(ctx, t, m, proof, st.Hash, quick, all)
	return l.state
}

// prove makes the checks and tells of each as it is done. It closes quick once the quick ones are,
// and all at its end.
func (l *live) prove(ctx context.Context, t *app.Toy, proof *prove.Proof, hash string, quick, all chan<- struct{}) {
	defer close(all)
	through := sync.OnceFunc(func() { close(quick) })
	defer through()
	rep, err := proof.Run(ctx, l.cache, prove.Options{Done: func(p prove.Part) {
		l.mu.Lock()
		defer l.mu.Unlock()
		if ctx.Err() == nil {
			part := l.findings.Join(p)
			l.tell(Event{Findings: &part})
			if part.Quick {
				through()
			}
		}
	}})
	if err != nil {
		return // another text came
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if ctx.Err() != nil {
		return
	}
	end := page.End(hash, rep)
	found := *l.findings
	found.Quick, found.Done, found.Verdict, found.Pieces, found.MassKg, found.NotAsked = true, true, end.Verdict, end.Pieces, end.MassKg, end.NotAsked
	l.findings = &found
	l.tell(Event{Findings: &end})
	l.s.shelfHas(l.state.File, hash, t, rep)
}

// draw lays the toy out in space once the quick checks have had the machine to themselves, and
// finds how it comes apart, which takes longest, after all checks.
func (l *live) draw(ctx context.Context, t *app.Toy, m *assembly.Model, proof *prove.Proof, hash string, quick, all <-chan struct{}) {
	if !wait(ctx, quick) {
		return
	}
	scene := page.SceneOf(t, m, proof.Swings(), hash, &l.shapes)
	if !l.publish(ctx, func() { l.scene = scene }, Event{Scene: scene}) || !wait(ctx, all) {
		return
	}
	legs, err := page.ApartOf(ctx, m)
	if err != nil {
		return // another text came
	}
	apart := &Apart{Hash: hash, Legs: legs}
	l.publish(ctx, func() { l.apart = apart }, Event{Apart: apart})
}

// wait waits for done, and tells whether that came before the end of ctx.
func wait(ctx context.Context, done <-chan struct{}) bool {
	select {
	case <-done:
		return ctx.Err() == nil
	case <-ctx.Done():
		return false
	}
}

func (l *live) publish(ctx context.Context, keep func(), e Event) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if ctx.Err() != nil {
		return false
	}
	keep()
	l.tell(e)
	return true
}

func (l *live) stateEvent() Event {
	st := l.state
	return Event{State: &st}
}

// tell sends events to all windows that have the toy open.
func (l *live) tell(events ...Event) {
	for w := range l.windows {
		w.send(events...)
	}
}

// join adds a window and tells it all that is known.
func (l *live) join(w *window) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.windows[w] = true
	w.send(l.stateEvent())
	if l.view != nil {
		w.send(Event{Toy: l.view})
	}
	if l.builds != nil {
		w.send(Event{Builds: l.builds})
	}
	if l.findings != nil {
		so := *l.findings
		w.send(Event{Findings: &so})
	}
	if l.scene != nil {
		w.send(Event{Scene: l.scene})
	}
	if l.apart != nil {
		w.send(Event{Apart: l.apart})
	}
}

func (l *live) leave(w *window) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.windows, w)
	l.used.Store(time.Now().UnixNano())
}

// window is a page that listens.
type window struct {
	mu    sync.Mutex
	queue []Event
	wake  chan struct{}
	have  map[string]bool // meshes that were sent
}

// send puts events in the queue; what they stand in the place of and is not sent yet is left out,
// so that the queue of a window that reads nothing stays short.
func (w *window) send(events ...Event) {
	w.mu.Lock()
	for _, e := range events {
		w.queue = append(slices.DeleteFunc(w.queue, e.replaces), e)
	}
	w.mu.Unlock()
	select {
	case w.wake <- struct{}{}:
	default:
	}
}

// replaces tells whether nobody needs to be told q before e.
func (e Event) replaces(q Event) bool {
	switch {
	case e.Toy != nil:
		return q.Toy != nil || q.Findings != nil && q.Findings.Hash != e.Toy.Hash
	case e.State != nil:
		return q.State != nil
	case e.Scene != nil:
		return q.Scene != nil
	case e.Apart != nil:
		return q.Apart != nil
	case e.Shelf != nil:
		return q.Shelf != nil
	}
	return false
}

func (w *window) take() []Event {
	w.mu.Lock()
	defer w.mu.Unlock()
	out := w.queue
	w.queue = nil
	return out
}

// readsWithin is how long a window may take to read what it is told; one that sleeps longer asks
// again when it wakes.
const readsWithin = 30 * time.Second

// StreamArgs says what a page wants to be told of.
type StreamArgs struct {
	File string `json:"file"` // a toy; empty: the shelf only
}

// stream tells a page of all that happens, an event a line, until it goes away.
func (s *Server) stream(rw http.ResponseWriter, r *http.Request) {
	body, ok := readBody(rw, r)
	if !ok {
		return
	}
	var a StreamArgs
	if err := decode(body, &a); err != nil {
		fail(rw, http.StatusBadRequest, failure(err))
		return
	}
	w := &window{wake: make(chan struct{}, 1), have: map[string]bool{}}
	if a.File != "" {
		l, err := s.open(a.File)
		if err != nil {
			fail(rw, http.StatusNotFound, failure(err))
			return
		}
		l.join(w)
		defer l.leave(w)
	}
	s.mu.Lock()
	s.windows[w] = true
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.windows, w)
	}()
	w.send(Event{Shelf: s.shelfNow()})
	rw.Header().Set("Content-Type", "application/x-ndjson")
	rw.Header().Set("Cache-Control", "no-store")
	out, flush := json.NewEncoder(rw), http.NewResponseController(rw)
	for {
		flush.SetWriteDeadline(time.Now().Add(readsWithin))
		for _, e := range w.take() {
			if e.Scene != nil {
				e.Scene = e.Scene.Without(w.have)
				for _, m := range e.Scene.Meshes {
					w.have[m.Key] = true
				}
			}
			if out.Encode(e) != nil {
				return
			}
		}
		if flush.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-w.wake:
		}
	}
}
