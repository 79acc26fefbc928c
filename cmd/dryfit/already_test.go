package main

import (
	"bytes"
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"dryfit/app/desk"
	"dryfit/app/ui"
	"dryfit/app/web"
)

// served starts an app of a folder and returns its address.
func served(t *testing.T, dir string) string {
	t.Helper()
	disk, err := desk.Folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := web.New(disk, "toys", ui.Files())
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan bool)
	go func() { s.Serve(ctx, l); close(done) }()
	t.Cleanup(func() { stop(); <-done })
	return "http://" + l.Addr().String() + "/#" + s.Token
}

// Who opens a folder that is open already is sent to the one that has it; what a crash left, or
// leads elsewhere, is not believed.
func TestOneForAFolder(t *testing.T) {
	dir := t.TempDir()
	first := served(t, dir)
	other, leave := takePlace(dir, first)
	if other != "" {
		t.Fatalf("the first is sent to %s", other)
	}
	if other, _ := takePlace(dir, "http://127.0.0.1:1/#second"); other != first {
		t.Errorf("the second is sent to %q", other)
	}
	var out bytes.Buffer
	if err := (&openCmd{Folder: dir, Addr: strings.TrimPrefix(first, "http://")[:len("127.0.0.1:")] + "0", NoBrowser: true}).Run(&terminal{out: &out, err: &out}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "already") || !strings.Contains(out.String(), first) {
		t.Errorf("it says %q", out.String())
	}
	leave()
	if _, err := os.Stat(filepath.Join(dir, placeFile)); err == nil {
		t.Error("the address stays behind")
	}

	stranger := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusTeapot) }))
	defer stranger.Close()
	for _, left := range []string{"", "nonsense", "http://127.0.0.1:1/#gone", stranger.URL + "/#token", strings.ReplaceAll(first, "#", "#x"), "http://192.0.2.1/#elsewhere", "file:///etc/passwd", "http://127.0.0.1.example.org/#t"} {
		if err := os.WriteFile(filepath.Join(dir, placeFile), []byte(left), 0o600); err != nil {
			t.Fatal(err)
		}
		other, leave := takePlace(dir, first)
		if other != "" {
			t.Errorf("%q sends to %s", left, other)
		}
		if b, _ := os.ReadFile(filepath.Join(dir, placeFile)); string(b) != first {
			t.Errorf("after %q the folder has %q", left, b)
		}
		leave()
	}
}

// Of several that start at once where a crash left an address, one has the folder, and all others
// are sent there.
func TestOneOfManyForAFolder(t *testing.T) {
	dir := t.TempDir()
	var addresses []string
	for range 6 {
		addresses = append(addresses, served(t, dir))
	}
	if err := os.Mkdir(filepath.Join(dir, ".dryfit"), 0o755); err != nil {
		t.Fatal(err)
	}
	for range 30 {
		if err := os.WriteFile(filepath.Join(dir, placeFile), []byte("http://127.0.0.1:1/#gone"), 0o600); err != nil {
			t.Fatal(err)
		}
		others, leaves := make([]string, len(addresses)), make([]func(), len(addresses))
		start := make(chan bool)
		var all sync.WaitGroup
		for i, a := range addresses {
			all.Go(func() {
				<-start
				others[i], leaves[i] = takePlace(dir, a)
			})
		}
		close(start)
		all.Wait()
		has := ""
		for i, a := range addresses {
			if others[i] == "" {
				if has != "" {
					t.Fatalf("%s and %s both have it", has, a)
				}
				has = a
			}
		}
		for _, other := range others {
			if other != "" && other != has {
				t.Errorf("one is sent to %q, and %q has it", other, has)
			}
		}
		for _, leave := range leaves {
			leave()
		}
		if _, err := os.Stat(filepath.Join(dir, placeFile)); err == nil {
			t.Fatal("the address stays behind")
		}
	}
}
