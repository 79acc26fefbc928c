package main

import (
	"bytes"
	"errors"
	"fmt"
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
	defer turn(root)()
	b, err := root.ReadFile(placeFile)
	if other := answering(string(b)); other != "" {
		root.Close()
		return other, leave
	}
	if err == nil {
		root.Remove(placeFile) // left by a crash
	}
	f, err := root.OpenFile(placeFile, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil { // nothing can be written here, no history either
		root.Close()
		return "", leave
	}
	_, err = f.WriteString(address)
	if err = errors.Join(err, f.Close()); err != nil {
		root.Remove(placeFile)
	}
	return "", func() {
		defer root.Close()
		defer turn(root)()
		if b, err := root.ReadFile(placeFile); err == nil && string(b) == address {
			root.Remove(placeFile)
		}
	}
}

// turnFile is had by one dryfit at a time while it looks who is there and leaves its address: of two
// that start at once, the later would else take away the address of the first for that of a crash.
// It is empty and stays, for a file that is taken away is no longer the one that others wait for.
const turnFile = ".dryfit/turn"

// Waiting for one's turn: the other asks at most one address, see answering. A file system without
// turns is worked on all the same.
const (
	turnEvery = 20 * time.Millisecond
	turnMost  = 3 * answerWithin
)

// turn waits until it is this program's turn; done ends it.
func turn(root *os.Root) (done func()) {
	f, err := root.OpenFile(turnFile, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return func() {}
	}
	for range turnMost / turnEvery {
		if mine, err := takeTurn(f); mine || err != nil {
			break
		}
		time.Sleep(turnEvery)
	}
	return func() { f.Close() }
}

// answerWithin is how long a dryfit of this machine may take to answer.
const answerWithin = 3 * time.Second

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
	client := http.Client{Timeout: answerWithin, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
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
