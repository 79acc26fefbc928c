package web

import (
	"crypto/subtle"
	"net"
	"net/http"
	"strings"
)

// Who may ask. The server listens on loopback only; but pages of other sites, which the same
// browser shows, can send requests there too, also under a name of their own that leads to this
// machine. So the name asked for has to be one of this machine, a request has to come from our
// own page, and whoever wants anything but the empty shell has to know the token of this start.

// guard refuses what is not asked of this machine by its own page.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", inert) // the page itself says more
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("X-Frame-Options", "DENY")
		if !loopback(r.Host) {
			http.Error(w, "this is asked under a name that is not this machine's", http.StatusForbidden)
			return
		}
		if o := r.Header.Get("Origin"); o != "" && o != "http://"+r.Host {
			http.Error(w, "this is asked by a page of somebody else", http.StatusForbidden)
			return
		}
		if f := r.Header.Get("Sec-Fetch-Site"); f != "" && f != "same-origin" && f != "none" {
			http.Error(w, "this is asked by a page of somebody else", http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// loopback tells whether the host of an address is this machine by number or as localhost.
func loopback(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = strings.Trim(host, "[]")
	}
	if name == "localhost" {
		return true
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.IsLoopback()
}

// TokenHeader is where whoever calls shows the token.
const TokenHeader = "X-Dryfit-Token"

// known refuses whoever does not know the token.
func (s *Server) known(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if subtle.ConstantTimeCompare([]byte(r.Header.Get(TokenHeader)), []byte(s.Token)) != 1 {
			fail(w, http.StatusUnauthorized, Failure{Says: "this page is of an earlier start: open the address that dryfit has printed"})
			return
		}
		if t := r.Header.Get("Content-Type"); !strings.HasPrefix(t, "application/json") {
			fail(w, http.StatusUnsupportedMediaType, Failure{Says: "a call is JSON"})
			return
		}
		next.ServeHTTP(w, r)
	})
}

// inert is for all that is no page: shown by itself, as a drawing with a script in it might be, it
// does and loads nothing.
const inert = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox"

// policy is what the page may load and do: its own script and style, pictures that it made
// itself, calls to where it came from. Nothing that a file holds is ever run.
func policy(nonce string) string {
	return "default-src 'none'; script-src 'self'; style-src 'self' 'nonce-" + nonce + "'; img-src 'self' blob: data:; connect-src 'self'; " +
		"font-src 'self'; frame-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
}
