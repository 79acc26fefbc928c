package web

import (
	"context"
	"net/http"
)

// What is downloaded or shown as a picture: POST /make/NAME with arguments as JSON, bytes of its
// own kind as the answer.
type making struct {
	name, says string
	args       any
	kind       string // its media type
	run        func(ctx context.Context, s *Server, body []byte) ([]byte, error)
}

var makings = []making{
	makes("picture", "The picture of a toy on the shelf.", "image/png", func(_ context.Context, s *Server, a ToyArgs) ([]byte, error) { return s.picture(a.File) }),
	makes("step", "The drawings of a step of the guide.", "image/svg+xml", func(ctx context.Context, s *Server, a StepArgs) ([]byte, error) { return s.drawStep(ctx, a) }),
	makes("file", "A file to download.", "application/octet-stream", func(ctx context.Context, s *Server, a FileArgs) ([]byte, error) { return s.makeFile(ctx, a) }),
}

func makes[A any](name, says, kind string, f func(context.Context, *Server, A) ([]byte, error)) making {
	var a A
	return making{name, says, a, kind, func(ctx context.Context, s *Server, body []byte) ([]byte, error) {
		var a A
		if err := decode(body, &a); err != nil {
			return nil, err
		}
		return f(ctx, s, a)
	}}
}

func (s *Server) make(w http.ResponseWriter, r *http.Request) {
	m, ok := s.makings[r.PathValue("name")]
	if !ok {
		fail(w, http.StatusNotFound, Failure{Says: "there is nothing called " + r.PathValue("name") + " to be made"})
		return
	}
	body, ok := readBody(w, r)
	if !ok {
		return
	}
	b, err := m.run(r.Context(), s, body)
	if err != nil {
		fail(w, status(err), failure(err))
		return
	}
	w.Header().Set("Content-Type", m.kind)
	w.Write(b)
}
