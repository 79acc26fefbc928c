package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"path"
	"strings"
	"sync"

	"dryfit/app"
	"dryfit/app/desk"
	"dryfit/app/page"
	"dryfit/toy/file/tree"
)

// What is made of a toy: lists, layouts, guide and plan, patterns, files to download. A page says
// of which text it wants it, so that nothing of another text is taken for it.

// JobArgs says of what something is made.
type JobArgs struct {
	File  string `json:"file"`
	Hash  string `json:"hash"`  // of the text that the page shows
	Shop  string `json:"shop"`  // a shop file of the folder; "": what is sold
	Units string `json:"units"` // that lengths are said in: inch or mm; "": as the toy has them
	Count int    `json:"count"` // how many are made, where that matters
}

// PlanArgs asks for a plan.
type PlanArgs struct {
	JobArgs
	Ways page.Ways `json:"ways"`
}

// PatternsArgs asks for patterns on a paper.
type PatternsArgs struct {
	JobArgs
	Print page.Print `json:"print"`
}

// StepArgs asks for the drawings of a step of the guide.
type StepArgs struct {
	JobArgs
	Step int `json:"step"`
}

// FileArgs asks for a file.
type FileArgs struct {
	JobArgs
	Wish page.FileWish `json:"wish"`
	Run  int           `json:"run"` // of a layout, for what is layout
}

// LayoutArgs asks for a layout on boards.
type LayoutArgs struct {
	JobArgs
	Seconds float64    `json:"seconds"`
	Print   page.Print `json:"print"`
}

// LayoutEvent is one thing that is told of a layout: one of its members is there.
type LayoutEvent struct {
	Found *page.LayoutPage `json:"found,omitempty"` // better than those before
	Done  bool             `json:"done,omitempty"`  // the time is over
	Fails string           `json:"fails,omitempty"` // why there is no more
}

// Shops is the shop files of the folder.
type Shops struct {
	Shops []ShopFile `json:"shops"`
}

// ShopFile is one of them.
type ShopFile struct {
	File  string `json:"file"`
	Hash  string `json:"hash"`
	Fails string `json:"fails"` // why it cannot be read; "" if it can
}

// outputCalls are the calls of this file.
func outputCalls() []call {
	return []call{
		on("shops", "Names the shop files of the folder.", func(s *Server, _ None) (Shops, error) { return s.shops() }),
		onLong("stock", "Makes the lists of the shop.", func(ctx context.Context, s *Server, a JobArgs) (page.StockPage, error) {
			return made(ctx, s, a, func(w *work) (page.StockPage, error) { return page.StockOf(ctx, w.Job, a.Count) })
		}),
		onLong("steps", "Says the guide step by step.", func(ctx context.Context, s *Server, a JobArgs) (page.StepsPage, error) {
			return made(ctx, s, a, func(w *work) (page.StepsPage, error) {
				steps, err := w.guide()
				if err != nil {
					return page.StepsPage{}, err
				}
				return page.StepsOf(w.Job, &steps.Guide), nil
			})
		}),
		onLong("plan", "Plans when what is done, and by whom.", func(ctx context.Context, s *Server, a PlanArgs) (page.PlanPage, error) {
			return made(ctx, s, a.JobArgs, func(w *work) (page.PlanPage, error) { return page.PlanOf(ctx, w.Job, a.Count, a.Ways) })
		}),
		onLong("patterns", "Draws the patterns as they are printed.", func(ctx context.Context, s *Server, a PatternsArgs) (page.PatternsPage, error) {
			return made(ctx, s, a.JobArgs, func(w *work) (page.PatternsPage, error) { return page.PatternsOf(w.Job, a.Print) })
		}),
	}
}

// drawStep makes the drawings of a step.
func (s *Server) drawStep(ctx context.Context, a StepArgs) ([]byte, error) {
	return made(ctx, s, a.JobArgs, func(w *work) ([]byte, error) {
		steps, err := w.guide()
		if err != nil || ctx.Err() != nil {
			return nil, errors.Join(err, ctx.Err())
		}
		return steps.Draw(a.Step)
	})
}

// makeFile makes what is downloaded.
func (s *Server) makeFile(ctx context.Context, a FileArgs) ([]byte, error) {
	if a.Wish.What == "layout" {
		l, err := s.open(a.File)
		if err != nil {
			return nil, err
		}
		laid := l.outputs.layout(a.Run)
		if laid == nil {
			return nil, errors.New("this layout is no longer kept: lay the boards out again")
		}
		return laid.File(a.Wish.Format, a.Wish.Print)
	}
	return made(ctx, s, a.JobArgs, func(w *work) ([]byte, error) { return page.FileOf(ctx, w.Job, a.Wish, s.photo) })
}

// made makes something of a toy.
func made[T any](ctx context.Context, s *Server, a JobArgs, f func(*work) (T, error)) (T, error) {
	w, _, err := s.work(ctx, a)
	if err != nil {
		var none T
		return none, err
	}
	return f(w)
}

// outputs is what was made ready of a toy, and its last layout. The zero value is ready.
type outputs struct {
	mu    sync.Mutex
	hash  string // of the text that works are of
	works map[workKey]*work
	run   int // counts layouts
	stop  context.CancelFunc
	laid  *page.Laid
}

// workKey tells jobs of one text apart.
type workKey struct{ shop, units string } // the shop by name and hash

// work is a job, opened once for all that is made of it.
type work struct {
	*page.Job
	once  sync.Once
	err   error
	draw  sync.Once
	steps *app.Steps
	fails error
}

// guide is the guide of the job, made once.
func (w *work) guide() (*app.Steps, error) {
	w.draw.Do(func() { w.steps, w.fails = w.Toy.Steps() })
	return w.steps, w.fails
}

// mostWorks is how many jobs are kept of one text: those of a user who tries units and shops.
const mostWorks = 8

// work opens a toy for a shop, or finds it opened.
func (s *Server) work(ctx context.Context, a JobArgs) (*work, *live, error) {
	l, err := s.open(a.File)
	if err != nil {
		return nil, nil, err
	}
	l.mu.Lock()
	st, cache := l.state, l.cache
	l.mu.Unlock()
	if st.Hash != a.Hash {
		return nil, nil, tooLate{desk.Stale{}, st}
	}
	if len(st.Problems) > 0 {
		return nil, nil, fmt.Errorf("%s cannot be read: line %d: %s", a.File, st.Problems[0].Line, st.Problems[0].Says)
	}
	var shop *page.Text
	key := workKey{units: a.Units}
	if a.Shop != "" {
		text, err := s.shopText(a.Shop)
		if err != nil {
			return nil, nil, err
		}
		shop = &page.Text{Name: a.Shop, Text: text}
		key.shop = a.Shop + " " + tree.Hash(text)
	}
	o := &l.outputs
	o.mu.Lock()
	if o.hash != st.Hash || len(o.works) >= mostWorks {
		o.hash, o.works = st.Hash, map[workKey]*work{}
	}
	w := o.works[key]
	if w == nil {
		w = &work{}
		o.works[key] = w
	}
	o.mu.Unlock()
	w.once.Do(func() { w.Job, w.err = page.Open(page.Text{Name: a.File, Text: st.Text}, shop, a.Units, cache) })
	if w.err == nil {
		w.err = ctx.Err()
	}
	return w, l, w.err
}

// shopFolder is a folder below that of the toys that may have shop files.
const shopFolder = "shop"

// shops lists the files that say what a shop has: those with the key dryfit that are no toys.
func (s *Server) shops() (Shops, error) {
	out := Shops{Shops: []ShopFile{}}
	names, err := s.desk.Names()
	if err != nil {
		return out, err
	}
	below, _ := s.desk.Disk.List(shopFolder) // it need not be there
	for _, n := range below {
		names = append(names, path.Join(shopFolder, n))
	}
	for _, n := range names {
		text, err := s.shopText(n)
		if err != nil || !strings.HasPrefix(text, "dryfit:") && !strings.Contains(text, "\ndryfit:") || strings.HasPrefix(text, "toy:") || strings.Contains(text, "\ntoy:") {
			continue
		}
		one := ShopFile{File: n, Hash: tree.Hash(text)}
		if _, probs := app.ReadShop(n, text); len(probs) > 0 {
			one.Fails = fmt.Sprintf("line %d: %s", probs[0].Line, probs[0].Says)
		}
		out.Shops = append(out.Shops, one)
	}
	return out, nil
}

// shopText reads a shop file.
func (s *Server) shopText(name string) (string, error) {
	dir, base := path.Split(name)
	if err := desk.Fit(base); err != nil || dir != "" && dir != shopFolder+"/" {
		return "", fmt.Errorf("%q is no shop file of this folder", name)
	}
	b, err := s.desk.Disk.Read(name)
	return string(b), err
}

// photo reads what a toy file names as its photograph.
func (s *Server) photo(name string) ([]byte, error) { return s.desk.Disk.Read(name) }

// begin starts a layout, and ends the one before.
func (o *outputs) begin(stop context.CancelFunc) int {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.stop != nil {
		o.stop()
	}
	o.stop = stop
	o.run, o.laid = o.run+1, nil
	return o.run
}

// keep keeps a layout to be downloaded, unless another was begun.
func (o *outputs) keep(run int, laid *page.Laid) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if run == o.run {
		o.laid = laid
	}
}

func (o *outputs) layout(run int) *page.Laid {
	o.mu.Lock()
	defer o.mu.Unlock()
	if run != o.run {
		return nil
	}
	return o.laid
}

// telling begins an answer that is a value a line, as they come, and returns what tells one; stop ends
// the work once nobody takes them.
func telling[E any](rw http.ResponseWriter, stop func()) func(E) {
	rw.Header().Set("Content-Type", "application/x-ndjson")
	rw.Header().Set("Cache-Control", "no-store")
	out, flush := json.NewEncoder(rw), http.NewResponseController(rw)
	return func(e E) {
		if out.Encode(e) != nil || flush.Flush() != nil {
			stop()
		}
	}
}

// layout seeks a layout and tells of each that is better than those before, until its time is
// over or the page goes away.
func (s *Server) layout(rw http.ResponseWriter, r *http.Request) {
	body, ok := readBody(rw, r)
	if !ok {
		return
	}
	var a LayoutArgs
	if err := decode(body, &a); err != nil {
		fail(rw, http.StatusBadRequest, Failure{Says: err.Error()})
		return
	}
	w, l, err := s.work(r.Context(), a.JobArgs)
	if err != nil {
		fail(rw, status(err), failure(err))
		return
	}
	ctx, stop := context.WithCancel(r.Context())
	defer stop()
	run := l.outputs.begin(stop)
	tell := telling[LayoutEvent](rw, stop)
	err = page.LayoutOf(ctx, w.Job, a.Count, a.Seconds, func(laid *page.Laid) {
		shown, err := laid.Page(a.Print)
		if err != nil {
			tell(LayoutEvent{Fails: says(err)})
			stop()
			return
		}
		shown.Run = run
		l.outputs.keep(run, laid)
		tell(LayoutEvent{Found: &shown})
	})
	switch {
	case r.Context().Err() != nil: // nobody listens
	case errors.Is(err, context.Canceled), err == nil && ctx.Err() != nil:
		tell(LayoutEvent{Fails: "another layout of this toy was begun"})
	case err != nil:
		tell(LayoutEvent{Fails: says(err)})
	default:
		tell(LayoutEvent{Done: true})
	}
}
