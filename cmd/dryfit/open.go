package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"dryfit/app/desk"
	"dryfit/app/ui"
	"dryfit/app/web"
)

type openCmd struct {
	Folder    string `arg:"" optional:"" default:"." help:"The folder that the toys are in." name:"folder"`
	Addr      string `default:"127.0.0.1:0" help:"Where the browser finds it: an address of this machine and a port; port 0 takes a free one." placeholder:"127.0.0.1:PORT"`
	NoBrowser bool   `help:"Do not open the browser, only print the address."`
}

// Run serves the app until it is interrupted.
func (c *openCmd) Run(t *terminal) error {
	host, _, err := net.SplitHostPort(c.Addr)
	if ip := net.ParseIP(host); err != nil || host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("--addr %s: expected an address of this machine only, as 127.0.0.1:8000", c.Addr)
	}
	disk, err := desk.Folder(c.Folder)
	if err != nil {
		return fmt.Errorf("%s: %v", c.Folder, bare(err))
	}
	full, err := filepath.Abs(c.Folder)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return fmt.Errorf("--addr %s: %v", c.Addr, bare(err))
	}
	s := web.New(disk, filepath.Base(full), ui.Files())
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go s.Run(ctx)
	server := &http.Server{Handler: s.Handler(), ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 16 << 10}
	go func() {
		<-ctx.Done()
		server.Close()
	}()
	address := fmt.Sprintf("http://%s/#%s", listener.Addr(), s.Token)
	fmt.Fprintf(t.out, "dryfit shows the toys of %s at\n%s\nuntil you press Ctrl+C\n", full, address)
	if !c.NoBrowser {
		if err := browse(address); err != nil {
			fmt.Fprintln(t.err, "the browser could not be opened: open this address in it yourself")
		}
	}
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// browse opens an address in the browser that this machine opens addresses with.
func browse(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	return exec.Command(name, args...).Start()
}
