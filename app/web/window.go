package web

import (
	"encoding/json"
	"net/http"
	"slices"
	"sync"
	"time"

	"dryfit/measure"
)

// window is a page that listens.
type window struct {
	mu    sync.Mutex
	queue []Event
	wake  chan struct{}
	have  map[string]bool // meshes that were sent
	units string          // that it wants lengths said in: inch or mm; "": as toys have them
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
	File  string `json:"file"`  // a toy; empty: the shelf only
	Units string `json:"units"` // that findings say lengths in: inch or mm; "": as the toy has them
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
	if _, ok := measure.ParseUnit(a.Units); !ok && a.Units != "" {
		fail(rw, http.StatusBadRequest, failure(errUnits(a.Units)))
		return
	}
	w := &window{wake: make(chan struct{}, 1), have: map[string]bool{}, units: a.Units}
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
