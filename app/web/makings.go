package web

import "net/http"

// What is downloaded or shown as a picture: POST /make/NAME with arguments as JSON, bytes of its
// own kind as the answer.
type making struct {
	name, says string
	args       any
	kind       string // its media type
	run        func(s *Server, body []byte) ([]byte, error)
}

var makings = []making{
	makes("picture", "The picture of a toy on the shelf.", "image/png", func(s *Server, a ToyArgs) ([]byte, error) { return s.picture(a.File) }),
}

func makes[A any](name, says, kind string, f func(*Server, A) ([]byte, error)) making {
	var a A
	return making{name, says, a, kind, func(s *Server, body []byte) ([]byte, error) {
		var a A
		if err := decode(body, &a); err != nil {
			return nil, err
		}
		return f(s, a)
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
	b, err := m.run(s, body)
	if err != nil {
		fail(w, http.StatusBadRequest, failure(err))
		return
	}
	w.Header().Set("Content-Type", m.kind)
	w.Write(b)
}
