package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"dryfit/app/desk"
)

// served is an app on a real port.
type served struct {
	*Server
	t    testing.TB
	dir  string
	addr string
}

var pages = fstest.MapFS{
	"index.html": {Data: []byte(`<!doctype html><meta name="dryfit-nonce" content="{nonce}">`)},
	"app.js":     {Data: []byte("1")},
	"icon.svg":   {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`)},
	"notes.html": {Data: []byte("<script>alert(1)</script>")},
}

// aToy is small and holds.
const aToy = `dryfit: 1
toy: Quay block
units: mm
sizes:
  long: 60
stock:
  board: {wood: beech, form: board, thick: 20}
parts:
  block:
    from: board
    blank: [long, 40]
build:
  - put: block
`

func serve(t testing.TB, before ...func(*Server)) *served {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "toy.yaml"), []byte(aToy), 0o644); err != nil {
		t.Fatal(err)
	}
	disk, err := desk.Folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := &served{New(disk, "toys", pages), t, dir, l.Addr().String()}
	for _, f := range before {
		f(s.Server)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan bool)
	go func() {
		defer close(done)
		if _, err := s.Serve(ctx, l); err != nil {
			t.Error(err)
		}
	}()
	t.Cleanup(func() { stop(); <-done })
	return s
}

// request is one as our own page makes it, for a test to spoil.
func (s *served) request(method, path, body string) *http.Request {
	r, err := http.NewRequest(method, "http://"+s.addr+path, strings.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	r.Header.Set(TokenHeader, s.Token)
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", "http://"+s.addr)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return r
}

func (s *served) do(r *http.Request) (int, string, http.Header) {
	s.t.Helper()
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer answer.Body.Close()
	b, err := io.ReadAll(answer.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return answer.StatusCode, string(b), answer.Header
}

func (s *served) post(path, body string) (int, string) {
	s.t.Helper()
	code, text, _ := s.do(s.request("POST", path, body))
	return code, text
}

// ask calls and takes the answer apart.
func ask[T any](s *served, name string, args any) (out T, code int) {
	s.t.Helper()
	b, _ := json.Marshal(args)
	code, text := s.post("/call/"+name, string(b))
	if code == http.StatusOK {
		if err := json.Unmarshal([]byte(text), &out); err != nil {
			s.t.Fatal(err)
		}
	}
	return out, code
}

func (s *served) file(name string) string {
	b, _ := os.ReadFile(filepath.Join(s.dir, name))
	return string(b)
}

// listener is a window: the events of its stream.
type listener struct {
	t    testing.TB
	seen chan Event
	stop func()
}

func (s *served) listen(file string) *listener {
	s.t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	body, _ := json.Marshal(StreamArgs{File: file})
	answer, err := http.DefaultClient.Do(s.request("POST", "/stream", string(body)).WithContext(ctx))
	if err != nil {
		s.t.Fatal(err)
	}
	w := &listener{s.t, make(chan Event, 10000), stop}
	s.t.Cleanup(stop)
	go func() {
		defer close(w.seen)
		defer answer.Body.Close()
		lines := bufio.NewReader(answer.Body)
		for {
			b, err := lines.ReadBytes('\n')
			if err != nil {
				return
			}
			var e Event
			if json.NewDecoder(bytes.NewReader(b)).Decode(&e) == nil {
				w.seen <- e
			}
		}
	}()
	return w
}

// until reads events until one is as wanted.
func (w *listener) until(what string, is func(Event) bool) Event {
	w.t.Helper()
	late := time.After(30 * time.Second)
	for {
		select {
		case e, ok := <-w.seen:
			if !ok {
				w.t.Fatalf("the stream ended before %s", what)
			}
			if is(e) {
				return e
			}
		case <-late:
			w.t.Fatalf("waited in vain for %s", what)
		}
	}
}

func stateWith(text string) func(Event) bool {
	return func(e Event) bool { return e.State != nil && strings.Contains(e.State.Text, text) }
}

// eventually waits for something to be so.
func eventually(t testing.TB, what string, is func() bool) {
	t.Helper()
	for range 600 {
		if is() {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("waited in vain for %s", what)
}
