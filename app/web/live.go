package web

import (
	"context"
	"maps"
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
	used atomic.Int64           // when it was last asked for or left, in ns; see letGo
	made atomic.Pointer[worked] // the last text that was worked out

	mu       sync.Mutex
	told     desk.State // what the state below was made of
	windows  map[*window]bool
	ctx      context.Context // ends with the text
	cancel   context.CancelFunc
	cache    *assembly.Cache
	shapes   page.Shapes
	opened   *app.Toy // of the last text that could be read
	model    *assembly.Model
	state    State
	view     *page.Toy
	builds   *page.Builds              // of the last text that could be read at all
	findings map[string]*page.Findings // so far, in the units that windows want them in; see unitsOf
	scene    *page.Scene
	apart    *Apart
	outputs  outputs
}

// open returns the live toy of a file.
func (s *Server) open(file string) (*live, error) {
	s.desk.Open(file) // without, as it may take a while; what is wrong with it shows next
	s.mu.Lock()
	t, err := s.desk.Open(file) // again within, so that no rename comes between and makes two lives of it
	if err != nil {
		s.mu.Unlock()
		return nil, err
	}
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

// letGo lets go of the live toys that no window has had open for a while, and ends their proofs. What
// could not be saved is kept, to be tried again. Toys that were only made or copied are no live ones.
func (s *Server) letGo(all []*live) {
	s.mu.Lock()
	for _, file := range s.desk.Opened() {
		if s.live[file] == nil {
			s.desk.Close(file)
		}
	}
	s.mu.Unlock()
	for _, l := range all {
		l.mu.Lock()
		idle := len(l.windows) == 0
		l.mu.Unlock()
		s.mu.Lock()
		// Asked for since: a window may be about to join.
		if idle = idle && time.Since(time.Unix(0, l.used.Load())) > s.keep && s.desk.Close(l.toy.State().File); idle {
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
	out := State{File: st.File, N: n, Hash: st.Hash, Text: st.Text, Undo: st.Undo, Redo: st.Redo, Unsaved: st.Unsaved, Forgets: st.Forgets, Lost: st.Lost, Gone: st.Gone, Other: st.Other, Problems: probs}
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
	now := l.make(st.File, st.Text)
	t, m, probs := now.toy, now.model, now.probs
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
	l.opened, l.model, l.view = t, m, &view
	l.findings = map[string]*page.Findings{}
	l.scene, l.apart = nil, nil
	l.tell(l.stateEvent(), Event{Toy: l.view})
	l.ctx, l.cancel = context.WithCancel(context.Background())
	quick := make(chan struct{})
	through := sync.OnceFunc(func() { close(quick) })
	wanted := map[string]bool{}
	for w := range l.windows {
		wanted[l.unitsOf(w)] = true
	}
	if len(wanted) == 0 {
		wanted[""] = true
	}
	var proof *prove.Proof // one of them: what is asked of it is the same in all units
	var proofs sync.WaitGroup
	for units := range wanted {
		proofs.Add(1)
		proof = l.begin(units, through, proofs.Done)
	}
	all := make(chan struct{})
	go func() {
		proofs.Wait()
		close(all)
	}()
	go l.draw(l.ctx, t, m, proof, st.Hash, quick, all)
	return l.state
}

// draw lays the toy out in space once the quick checks have had the machine to themselves, and
// finds how it comes apart, which takes longest, after all checks.
func (l *live) draw(ctx context.Context, t *app.Toy, m *assembly.Model, proof *prove.Proof, hash string, quick, all <-chan struct{}) {
	defer func() {
		if p := recover(); p != nil && wait(ctx, all) { // what the proof says is not to stand after it
			l.mistaken(ctx, p)
		}
	}()
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
	if units := l.unitsOf(w); l.findings[units] != nil {
		so := *l.findings[units]
		w.send(Event{Findings: &so})
	} else if l.view != nil && l.view.Hash == l.state.Hash {
		l.begin(units, func() {}, func() {})
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
