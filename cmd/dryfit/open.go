package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"

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
	already := func(other string) error {
		fmt.Fprintf(t.out, "dryfit shows the toys of %s already, at\n%s\n", full, other)
		c.browse(t, other)
		return nil
	}
	if other := running(c.Folder); other != "" {
		return already(other)
	}
	listener, err := net.Listen("tcp", c.Addr)
	if err != nil {
		return fmt.Errorf("--addr %s: %v", c.Addr, bare(err))
	}
	s := web.New(disk, filepath.Base(full), ui.Files())
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	address := fmt.Sprintf("http://%s/#%s", listener.Addr(), s.Token)
	other, leave := takePlace(c.Folder, address)
	defer leave()
	if other != "" {
		listener.Close()
		return already(other)
	}
	fmt.Fprintf(t.out, "dryfit shows the toys of %s at\n%s\nuntil you press Ctrl+C\n", full, address)
	c.browse(t, address)
	unsaved, err := s.Serve(ctx, listener)
	for _, file := range unsaved {
		fmt.Fprintf(t.err, "%s could not be saved: the last that was done to it is in .dryfit only, if there was room for it there\n", file)
	}
	return err
}

func (c *openCmd) browse(t *terminal, address string) {
	if c.NoBrowser {
		return
	}
	if err := browse(address); err != nil {
		fmt.Fprintln(t.err, "the browser could not be opened: open this address in it yourself")
	}
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
