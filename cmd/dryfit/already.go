package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"net/url"
	"os"
	"strings"
	"time"

	"dryfit/app/web"
)

// One dryfit works on a folder at a time: two would each add to the histories of the toys what
// the other does not know. The first leaves its address in the folder, and who comes later is
// sent there.

// placeFile has the address, with its token: only its owner may read it.
const placeFile = ".dryfit/open"

// running returns the address of the dryfit that works on a folder, if one does.
func running(folder string) string {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return ""
	}
	defer root.Close()
	b, _ := root.ReadFile(placeFile)
	return answering(string(b))
}

// takePlace leaves an address in a folder. If there is that of another dryfit that answers, it
// returns that one. leave takes the address away again.
func takePlace(folder, address string) (other string, leave func()) {
	leave = func() {}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return "", leave
	}
	root.Mkdir(".dryfit", 0o755)
	for range 3 { // one may have been left by a crash, and yet another start may be as far as we are
		f, err := root.OpenFile(placeFile, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err == nil {
			_, err = f.WriteString(address)
			if err = errors.Join(err, f.Close()); err != nil {
				root.Remove(placeFile)
			}
			return "", func() {
				if b, err := root.ReadFile(placeFile); err == nil && string(b) == address {
					root.Remove(placeFile)
				}
				root.Close()
			}
		}
		if !errors.Is(err, fs.ErrExist) {
			break // nothing can be written here, no history either
		}
		b, err := root.ReadFile(placeFile)
		if len(b) == 0 && err == nil { // it is being written
			time.Sleep(100 * time.Millisecond)
			b, _ = root.ReadFile(placeFile)
		}
		if other := answering(string(b)); other != "" {
			root.Close()
			return other, leave
		}
		root.Remove(placeFile)
	}
	root.Close()
	return "", leave
}

// answering returns the address of a dryfit of this machine if it answers, and else nothing. The
// file may come from anywhere: nobody is sent to another machine by it.
func answering(address string) string {
	u, err := url.Parse(strings.TrimSpace(address))
	if err != nil || u.Scheme != "http" {
		return ""
	}
	ip := net.ParseIP(u.Hostname())
	if ip == nil || !ip.IsLoopback() {
		return ""
	}
	r, err := http.NewRequest("POST", fmt.Sprintf("http://%s/call/there", u.Host), bytes.NewReader([]byte("{}")))
	if err != nil {
		return ""
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set(web.TokenHeader, u.Fragment)
	client := http.Client{Timeout: 3 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answer, err := client.Do(r)
	if err != nil {
		return ""
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		return ""
	}
	return fmt.Sprintf("http://%s/#%s", u.Host, u.Fragment)
}
