package web

import (
	"context"
	"errors"
	"net/http"

	"dryfit/app/page"
)

// What is asked for other people's shops: virtual builds, another stock, another edition.

// BuildsArgs asks for virtual builds.
type BuildsArgs struct {
	JobArgs
	Skill  string `json:"skill"` // "": as the shop has it, or fair
	Builds int    `json:"builds"`
}

// BuildsEvent is one thing that is told of virtual builds: one of its members is there.
type BuildsEvent struct {
	Found *page.BuildsPage `json:"found,omitempty"` // of more builds than before
	Done  bool             `json:"done,omitempty"`
	Fails string           `json:"fails,omitempty"`
}

// AdaptArgs asks for a toy adapted to other stock.
type AdaptArgs struct {
	JobArgs
	Wish page.AdaptWish `json:"wish"`
}

// CompareArgs asks what changed from an older edition, another toy of the folder.
type CompareArgs struct {
	JobArgs
	With string `json:"with"`
}

// otherCalls are the calls of this file.
func otherCalls() []call {
	return []call{
		onLong("adapt", "Adapts a toy to other stock, size or units.", func(ctx context.Context, s *Server, a AdaptArgs) (page.AdaptPage, error) {
			w, l, err := s.work(ctx, a.JobArgs)
			if err != nil {
				return page.AdaptPage{}, err
			}
			l.mu.Lock()
			text := l.state.Text
			l.mu.Unlock()
			return page.AdaptOf(ctx, w.Job, a.File, text, a.Wish)
		}),
		onLong("compare", "Tells what changed from an older edition.", func(ctx context.Context, s *Server, a CompareArgs) (page.ComparePage, error) {
			return made(ctx, s, a.JobArgs, func(w *work) (page.ComparePage, error) {
				t, err := s.desk.Open(a.With)
				if err != nil {
					return page.ComparePage{}, err
				}
				with, err := page.Open(page.Text{Name: a.With, Text: t.State().Text}, nil, a.Units, nil)
				if err != nil {
					return page.ComparePage{}, err
				}
				return page.CompareOf(w.Job, with, a.With)
			})
		}),
	}
}

// builds makes virtual builds and tells what is known so far, until all are made or the page goes away.
func (s *Server) builds(rw http.ResponseWriter, r *http.Request) {
	body, ok := readBody(rw, r)
	if !ok {
		return
	}
	var a BuildsArgs
	if err := decode(body, &a); err != nil {
		fail(rw, http.StatusBadRequest, Failure{Says: err.Error()})
		return
	}
	w, _, err := s.work(r.Context(), a.JobArgs)
	if err != nil {
		fail(rw, status(err), failure(err))
		return
	}
	ctx, stop := context.WithCancel(r.Context())
	defer stop()
	tell := telling[BuildsEvent](rw, stop)
	err = page.VirtualOf(ctx, w.Job, a.Skill, a.Builds, func(p page.BuildsPage) { tell(BuildsEvent{Found: &p}) })
	switch {
	case errors.Is(err, context.Canceled): // nobody listens
	case err != nil:
		tell(BuildsEvent{Fails: says(err)})
	default:
		tell(BuildsEvent{Done: true})
	}
}
