package web

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// Who asks from another page, under another name or without the token of this start is refused,
// whatever is asked.
func TestWhoMayAsk(t *testing.T) {
	s := serve(t)
	spoil := map[string]func(*http.Request){
		"another origin":               func(r *http.Request) { r.Header.Set("Origin", "http://example.org") },
		"another port of this machine": func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") },
		"a page with no origin":        func(r *http.Request) { r.Header.Set("Origin", "null") },
		"https":                        func(r *http.Request) { r.Header.Set("Origin", "https://"+r.URL.Host) },
		"cross-site":                   func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
		"same-site":                    func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") },
		"a name that leads here":       func(r *http.Request) { r.Host = "toys.example.org" },
		"and its port":                 func(r *http.Request) { r.Host = "toys.example.org:" + strings.Split(s.addr, ":")[1] },
		"a name that begins so":        func(r *http.Request) { r.Host = "127.0.0.1.example.org" },
		"localhost of somebody":        func(r *http.Request) { r.Host = "localhost.example.org" },
		"another machine":              func(r *http.Request) { r.Host = "192.0.2.1" },
		"any address":                  func(r *http.Request) { r.Host = "0.0.0.0" },
	}
	for what, do := range spoil {
		for _, path := range []string{"/call/why", "/make/picture", "/stream"} {
			r := s.request("POST", path, `{"file":"toy.yaml"}`)
			do(r)
			if code, _, _ := s.do(r); code != http.StatusForbidden {
				t.Errorf("%s: %s answers %d", what, path, code)
			}
		}
		r := s.request("GET", "/", "")
		if do(r); true {
			if code, _, _ := s.do(r); code != http.StatusForbidden {
				t.Errorf("%s: the page answers %d", what, code)
			}
		}
	}
	for _, token := range []string{"", "wrong", s.Token + "x", s.Token[1:], " " + s.Token[1:]} {
		r := s.request("POST", "/call/change", `{"file":"toy.yaml"}`)
		r.Header.Set(TokenHeader, token)
		if code, body, _ := s.do(r); code != http.StatusUnauthorized || strings.Contains(body, "Quay") {
			t.Errorf("token %q: %d %s", token, code, body)
		}
	}
	r := s.request("POST", "/call/there", `{}`)
	r.Header.Set("Content-Type", "text/plain") // what a form of another page can send
	if code, _, _ := s.do(r); code != http.StatusUnsupportedMediaType {
		t.Errorf("a form: %d", code)
	}
	for _, h := range []string{"localhost:80", "127.0.0.1", "[::1]:80"} { // and these are this machine
		r := s.request("POST", "/call/there", `{}`)
		r.Host = h
		r.Header.Set("Origin", "http://"+h)
		if code, body, _ := s.do(r); code != http.StatusOK {
			t.Errorf("%s: %d %s", h, code, body)
		}
	}
	code, _, h := s.do(s.request("OPTIONS", "/call/there", ""))
	if code < 400 || h.Get("Access-Control-Allow-Origin") != "" {
		t.Errorf("others may ask: %d %v", code, h)
	}
	for _, method := range []string{"GET", "PUT", "DELETE"} {
		if code, _, _ := s.do(s.request(method, "/call/there", "{}")); code != http.StatusMethodNotAllowed {
			t.Errorf("%s: %d", method, code)
		}
	}
}

// No file outside of the folder is reached, and none in it that is no toy.
func TestPathTricks(t *testing.T) {
	s := serve(t)
	secret := filepath.Join(t.TempDir(), "secret.yaml")
	os.WriteFile(secret, []byte("toy: secret\n"), 0o644)
	os.Symlink(secret, filepath.Join(s.dir, "link.yaml"))
	os.WriteFile(filepath.Join(s.dir, ".hidden.yaml"), []byte("toy: secret\n"), 0o644)
	os.WriteFile(filepath.Join(s.dir, "notes.txt"), []byte("secret"), 0o644)
	for _, name := range []string{"..", "../x.yaml", "%2e%2e/x.yaml", "..%2fx.yaml", secret, "/etc/passwd", "link.yaml", ".hidden.yaml", ".dryfit/toy.yaml.history", "notes.txt", "toy.yaml\x00.txt", `..\x.yaml`, "file:///etc/passwd", "C:x.yaml", "", ".", "toy.yaml/."} {
		for _, c := range []struct {
			path string
			args any
		}{
			{"/stream", StreamArgs{File: name}},
			{"/call/undo", ToyArgs{name}},
			{"/call/change", ChangeArgs{File: name, Text: new("toy: x\n")}},
			{"/call/rename", NameArgs{name, "other"}},
			{"/call/copy", NameArgs{name, "other"}},
			{"/call/mend", MendArgs{File: name}},
			{"/make/picture", ToyArgs{name}},
		} {
			if c.path == "/stream" && name == "" {
				continue // the shelf
			}
			code, body := s.post(c.path, jsonOf(c.args))
			if code < 400 || strings.Contains(body, "toy: secret") || strings.Contains(body, "root:") {
				t.Errorf("%s %q: %d %s", c.path, name, code, body)
			}
		}
	}
	// A name that is typed becomes one of the folder.
	for _, name := range []string{"../../out", secret, "..", "a/../../b", "x\x00y", strings.Repeat("long", 100)} {
		for _, call := range []string{"/call/create", "/call/rename", "/call/copy"} {
			s.post(call, jsonOf(map[string]any{"create": CreateArgs{Name: name}, "rename": NameArgs{"toy.yaml", name}, "copy": NameArgs{"toy.yaml", name}}[call[6:]]))
		}
	}
	if b, _ := os.ReadFile(secret); string(b) != "toy: secret\n" {
		t.Errorf("the file outside has %q", b)
	}
	if list, _ := os.ReadDir(filepath.Dir(s.dir)); len(list) > 2 { // of the tests' own folders
		t.Errorf("beside the folder there are %v", list)
	}
	for _, path := range []string{"/assets/..%2f..%2fetc%2fpasswd", "/assets/%2e%2e", "/assets/index.html", "/assets/notes.html", "/assets/", "/../x", "/toy.yaml", "/assets/app.js%00", "//etc/passwd"} {
		r := s.request("GET", "/", "")
		r.URL.Opaque = "//" + s.addr + path
		if code, body, _ := s.do(r); code == http.StatusOK {
			t.Errorf("%s: %d %q", path, code, body)
		}
	}
}

// Unknown calls, and what is no JSON or not of the protocol, are refused in words.
func TestUnknown(t *testing.T) {
	s := serve(t)
	for _, c := range []struct {
		path, body string
		code       int
	}{
		{"/call/nothing", `{}`, http.StatusNotFound},
		{"/make/nothing", `{}`, http.StatusNotFound},
		{"/call/", `{}`, http.StatusNotFound},
		{"/call/undo", ``, http.StatusBadRequest},
		{"/call/undo", `{"file":"toy.yaml","more":1}`, http.StatusBadRequest},
		{"/call/undo", `{"file":"toy.yaml"} {"file":"toy.yaml"}`, http.StatusBadRequest},
		{"/call/undo", `{"file":7}`, http.StatusBadRequest},
		{"/call/undo", `["toy.yaml"]`, http.StatusBadRequest},
		{"/call/change", `{"file":"toy.yaml","edits":[{"op":"set","shell":"x"}]}`, http.StatusBadRequest},
		{"/call/change", strings.Repeat("[", 100000), http.StatusBadRequest},
		{"/make/picture", `{"file":"toy.yaml","size":9}`, http.StatusBadRequest},
		{"/stream", `{"file":"toy.yaml","all":true}`, http.StatusBadRequest},
		{"/stream", `nonsense`, http.StatusBadRequest},
		{"/stream", `{"file":"none.yaml"}`, http.StatusNotFound},
	} {
		code, body := s.post(c.path, c.body)
		if code != c.code || !strings.Contains(body, `"says"`) && c.path != "/call/" {
			t.Errorf("%s %.50s: %d %s", c.path, c.body, code, body)
		}
	}
	if s.file("toy.yaml") != aToy {
		t.Error("the file is another")
	}
}

// Nothing that is served runs: not by its kind, not by guessing it, not by itself.
func TestNothingRuns(t *testing.T) {
	s := serve(t)
	code, body, h := s.do(s.request("GET", "/", ""))
	csp := h.Get("Content-Security-Policy")
	if code != 200 || !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") || !strings.Contains(csp, "frame-ancestors 'none'") {
		t.Errorf("the page: %d %s", code, csp)
	}
	nonce := body[strings.Index(body, `content="`)+9:]
	nonce = nonce[:strings.IndexByte(nonce, '"')]
	if len(nonce) < 20 || !strings.Contains(csp, "'nonce-"+nonce+"'") {
		t.Errorf("the nonce of the page is %q, that of its policy %s", nonce, csp)
	}
	if _, again, _ := s.do(s.request("GET", "/", "")); strings.Contains(again, nonce) {
		t.Error("the nonce is the same again")
	}
	for _, path := range []string{"/", "/assets/icon.svg", "/assets/app.js", "/assets/none", "/nothing"} {
		_, _, h := s.do(s.request("GET", path, ""))
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("X-Frame-Options") != "DENY" || h.Get("Cross-Origin-Resource-Policy") != "same-origin" {
			t.Errorf("%s: %v", path, h)
		}
		if path != "/" && !strings.Contains(h.Get("Content-Security-Policy"), "sandbox") {
			t.Errorf("%s may run what it holds: %v", path, h)
		}
	}
	answer, err := http.DefaultClient.Do(s.request("POST", "/make/picture", `{"file":"none.yaml"}`))
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if h := answer.Header; !strings.Contains(h.Get("Content-Security-Policy"), "sandbox") || !strings.HasPrefix(h.Get("Content-Type"), "application/json") {
		t.Errorf("a making: %v", h)
	}
}

// zeros is a gigabyte that is made while it is read.
type zeros struct {
	left int64
	read atomic.Int64
}

func (z *zeros) Read(b []byte) (int, error) {
	if z.left <= 0 {
		return 0, io.EOF
	}
	n := min(int64(len(b)), z.left)
	z.left -= n
	z.read.Add(n)
	for i := range b[:n] {
		b[i] = ' '
	}
	return int(n), nil
}

// A gigabyte is refused when a little of it has come, whether its length is said or not, and
// without the room that it would take.
func TestGigabyte(t *testing.T) {
	s := serve(t)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for _, path := range []string{"/call/create", "/make/picture", "/stream"} {
		for _, said := range []bool{true, false} {
			for _, token := range []string{s.Token, "wrong"} {
				body := &zeros{left: 1 << 30}
				r := s.request("POST", path, "")
				r.Header.Set(TokenHeader, token)
				r.Body, r.ContentLength = io.NopCloser(body), -1
				if said {
					r.ContentLength = 1 << 30
				}
				code, what := 0, ""
				if answer, err := http.DefaultTransport.RoundTrip(r); err != nil { // it may stop listening while we send
					what = err.Error()
				} else {
					code = answer.StatusCode
					answer.Body.Close()
				}
				if want := map[string]int{s.Token: http.StatusRequestEntityTooLarge, "wrong": http.StatusUnauthorized}[token]; code != want && code != 0 {
					t.Errorf("%s, length said %v: %d %s", path, said, code, what)
				}
				if body.read.Load() > 3*bodyMost {
					t.Errorf("%s, length said %v: %d bytes were taken", path, said, body.read.Load())
				}
			}
		}
	}
	runtime.ReadMemStats(&after)
	// Reading 12 MB into a growing buffer leaves some five times that behind.
	if took := after.TotalAlloc - before.TotalAlloc; took > 6*6*bodyMost {
		t.Errorf("that took %d MB", took>>20)
	}
}

// Who sends or reads slowly is not waited for without end, and holds nobody up.
func TestSlow(t *testing.T) {
	if testing.Short() {
		t.Skip("takes as long as the server waits")
	}
	t.Parallel()
	s := serve(t)
	begun := []string{
		"POST /call/there HTTP/1.1\r\nHost: " + s.addr + "\r\nX-Slow: ",
		fmt.Sprintf("POST /call/there HTTP/1.1\r\nHost: %s\r\n%s: %s\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{", s.addr, TokenHeader, s.Token),
	}
	var slow []net.Conn
	for _, b := range begun {
		c, err := net.Dial("tcp", s.addr)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		io.WriteString(c, b)
		c.SetReadDeadline(time.Now().Add(2 * bodyWithin))
		slow = append(slow, c)
	}
	start := time.Now()
	if _, code := ask[None](s, "there", None{}); code != http.StatusOK || time.Since(start) > bodyWithin/2 {
		t.Errorf("others wait for it: %d after %v", code, time.Since(start))
	}
	for i, c := range slow {
		if b, err := io.ReadAll(c); err != nil {
			t.Errorf("%d is still waited for: %q %v", i, b, err)
		}
	}
}
