package main

import (
	"errors"
	"fmt"
	"log"
	"net"
	"net/http"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"

	"lapwright/cmd/internal/page"
)

// pageCommand serves the page for a browser.
type pageCommand struct {
	Listen    string `placeholder:"ADDRESS" help:"Where the page is served: an address of this machine and a port (127.0.0.1 and a port that is free). Other machines reach it only at an address that you name here."`
	Host      string `placeholder:"NAME" help:"With --listen: the name by which other machines know this one, if it is not a number."`
	Folder    string `placeholder:"FOLDER" help:"Where rooms, classes and routines are saved (a folder of your own configuration)."`
	NoBrowser bool   `help:"Open no browser."`
}

// Run serves the page until it is stopped.
func (c *pageCommand) Run(s *session) error {
	if s.json {
		return errors.New("page answers a browser, not with --json; leave it out")
	}
	self, err := os.Executable()
	if err != nil {
		return fmt.Errorf("the program does not find itself: %w", err)
	}
	options := page.Options{Program: self, Folder: c.Folder, Log: log.New(s.errors, "lapwright: ", 0)}
	if options.Folder == "" {
		if options.Folder, err = page.DefaultFolder(); err != nil {
			return err
		}
	}
	listener, err := c.listener(&options)
	if err != nil {
		return err
	}
	defer listener.Close()
	server, err := page.New(options)
	if err != nil {
		return err
	}
	serving.Store(true)
	address, others := addresses(listener.Addr().(*net.TCPAddr))
	fmt.Fprintf(s.errors, "Lapwright is at %s\n", address)
	if len(others) > 0 {
		fmt.Fprintf(s.errors, "Other machines reach it at %s\n", strings.Join(others, " or "))
	}
	fmt.Fprintf(s.errors, "What you save is in %s\nCtrl-C ends it.\n", options.Folder)
	if !c.NoBrowser {
		open(address)
	}
	if err := server.Serve(s.ctx, listener); err != nil && !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	fmt.Fprintln(s.errors, "Lapwright is closed.")
	return nil
}

// addresses are where the page is opened on this machine, and on others if it listens at
// all of this machine's addresses.
func addresses(at *net.TCPAddr) (here string, others []string) {
	under := func(host string) string { return "http://" + net.JoinHostPort(host, strconv.Itoa(at.Port)) + "/" }
	if !at.IP.IsUnspecified() {
		return under(at.IP.String()), nil
	}
	own, err := net.InterfaceAddrs()
	if err != nil {
		own = nil // they are only told
	}
	for _, a := range own {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsGlobalUnicast() && n.IP.To4() != nil {
			others = append(others, under(n.IP.String()))
		}
	}
	return under("localhost"), others
}

// listener listens at the address that is asked for, and warns where others may reach it.
func (c *pageCommand) listener(o *page.Options) (net.Listener, error) {
	if c.Host != "" && c.Listen == "" {
		return nil, errors.New("--host is a name for other machines: say with --listen at which address they reach the page")
	}
	address := c.Listen
	if address == "" {
		address = "127.0.0.1:0"
	}
	if !strings.Contains(address, ":") {
		address += ":0"
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		var at *net.OpError
		if errors.As(err, &at) {
			err = at.Err
		}
		return nil, fmt.Errorf("--listen %s: the page cannot be served there (%w); write an address of this machine and a port, such as 127.0.0.1:8080", address, err)
	}
	if ip := listener.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
		o.Hosts = []string{strings.ToLower(c.Host)}
		if c.Host == "" || ip.IsUnspecified() {
			o.Hosts = append(o.Hosts, "")
		}
		if !ip.IsUnspecified() {
			o.Hosts = append(o.Hosts, ip.String())
		}
		o.Log.Print("note: everybody who reaches this machine at " + listener.Addr().String() + " can use the page and what is saved, without a password; do this only in a network that you trust")
	}
	return listener, nil
}

// open opens the page in a browser, if there is one; the address is printed anyway. The
// browser goes on when the page is closed.
func open(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	cmd := exec.Command(name, args...)
	apart(cmd)
	if cmd.Start() == nil {
		go cmd.Wait()
	}
}
