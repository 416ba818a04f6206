// Package page serves Lapwright as a page for a browser, on this machine.
//
// What lives here: the server, what a page may ask of the program, and the files that
// people save. What does not: how anything is computed – a request is a command of the
// program, run as a process of its own with --json, and its answer is what that prints.
//
// # What can be asked
//
// Requests with a body have it as application/json (saved files as application/yaml), of
// at most 1 MB. Whatever cannot be done is answered with {"error": "one sentence"}.
//
//	POST /do/COMMAND
//
// runs lap, check, vary, next, ways-out, drill, teach, figures or rooms:
//
//	{"args": ["routine.yaml"], "flags": {"bars": "24-40", "must": ["Whisk"], "lap": true},
//	 "files": {"routine.yaml": "figures: [Natural Turn]"}}
//
// Flags are those of the command; a file that args or flags name is one of files. The
// answer is lines of JSON (application/x-ndjson), each an object with one of these keys:
//
//	{"id": "…"}            by which the run can be stopped
//	{"queued": 3}          its place in the queue; 0 when it begins
//	{"progress": {…}}      words, best and least (costs in bars), and, when a better lap
//	                       is found, its routine and the text of its file
//	{"answer": {…}, "code": 0, "notes": ["…"], "files": {"out.yaml": "…"}, "stopped": false}
//	{"error": "…", "code": 2}
//
// The last line is an answer – what the command prints with --json, exit code 0 or 1 – or
// an error. For lap, drill, check, vary and teach "out": true in the request asks for the
// files that --out writes; they are called made.yaml, or made-1.yaml and so on. When too
// many wait already the answer is 503.
//
//	POST /stop/ID    asks a run for the best it has so far
//	POST /make/KIND  pdf, html, svg, midi, wav or captions of a routine (args: its file) as
//	                 a download; with "command": "drill" pdf, html or yaml of drills, with
//	                 "command": "lap" yaml of a lap
//	GET /saved/      what is saved: {"rooms": [{"name": …, "version": …}], "classes": …,
//	                 "routines": …}
//	GET, PUT, DELETE /saved/rooms/NAME (classes, routines)
//
// A saved file's version is its ETag. PUT and DELETE need If-Match with the version that
// was read, or, for a new file, If-None-Match: *; a file that has changed in the meantime
// is not written over (412).
//
// A first use:
//
//	server, err := page.New(page.Options{Folder: folder, Program: os.Args[0]})
//	err = server.Serve(ctx, listener)
package page

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log"
	"net"
	"net/http"
	"os"
	"runtime"
	"time"
)

// Options say how the page is served.
type Options struct {
	// Folder is where rooms, classes and routines are saved; it is made when the first
	// file is saved.
	Folder string
	// Program is the program that runs the commands: this one.
	Program string
	// Hosts are the names under which the server may be asked, besides those of this
	// machine itself; "" stands for any, for a server that others may reach.
	Hosts []string
	// AtOnce is how many commands run at once; 0 stands for the number of cores.
	AtOnce int
	// Waiting is how many more may wait in the queue; 0 stands for 64.
	Waiting int
	// Time is how long a command may run; 0 stands for a minute.
	Time time.Duration
	// Memory is how much memory a command may use, in MB; 0 stands for 1500.
	Memory int
	// Sending is how long a browser may take to send a request; 0 stands for 30 seconds.
	Sending time.Duration
	// Reading is how long a browser may take to read a piece of an answer; a run whose
	// browser takes longer is given up. 0 stands for 20 seconds.
	Reading time.Duration
	// Log is told what goes wrong inside; nil for nobody.
	Log *log.Logger
	// Assets are the files of the page; nil for those that come with the program.
	Assets fs.FS
}

// Server serves the page.
type Server struct {
	options Options
	runs    *runs
	saved   *saved
	handler http.Handler
}

// New makes a server. An error says which option makes no sense.
func New(o Options) (*Server, error) {
	if o.Program == "" || o.Folder == "" {
		return nil, errors.New("the page needs a program that runs the commands and a folder for what is saved")
	}
	if o.AtOnce == 0 {
		o.AtOnce = runtime.NumCPU()
	}
	if o.Waiting == 0 {
		o.Waiting = 64
	}
	if o.Time == 0 {
		o.Time = time.Minute
	}
	if o.Memory == 0 {
		o.Memory = 1500
	}
	if o.Sending == 0 {
		o.Sending = usualSending
	}
	if o.Reading == 0 {
		o.Reading = usualReading
	}
	if o.Log == nil {
		o.Log = log.New(io.Discard, "", 0)
	}
	if o.AtOnce < 1 || o.Sending < 0 || o.Reading < 0 || o.Waiting < 0 || o.Time < 0 || o.Memory < 50 {
		return nil, fmt.Errorf("%d commands at once, %d waiting, %v and %d MB for each make no sense", o.AtOnce, o.Waiting, o.Time, o.Memory)
	}
	s := &Server{options: o, runs: newRuns(o), saved: &saved{folder: o.Folder}}
	files, err := newAssets(o.Assets)
	if err != nil {
		return nil, err
	}
	mux := http.NewServeMux()
	mux.HandleFunc("POST /do/{command}", s.do)
	mux.HandleFunc("POST /stop/{id}", s.stop)
	mux.HandleFunc("POST /make/{kind}", s.make)
	mux.HandleFunc("GET /saved/{$}", s.list)
	mux.HandleFunc("GET /saved/{kind}/{name}", s.load)
	mux.HandleFunc("PUT /saved/{kind}/{name}", s.save)
	mux.HandleFunc("DELETE /saved/{kind}/{name}", s.remove)
	mux.HandleFunc("GET /saved/", noPlace)
	mux.Handle("GET /", files)
	s.handler = s.guard(mux)
	return s, nil
}

// ServeHTTP answers a request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// Grace is how long what is under way may take when the server ends; a little later
// nothing of it is left.
const Grace = 5 * time.Second

// tidy is how long what is left after that may take to be taken away.
const tidy = 2 * time.Second

// Serve answers requests until ctx ends; then it lets what is under way come to an end,
// for a few seconds. When it returns no command runs any more, and the folders of all
// are gone.
func (s *Server) Serve(ctx context.Context, listener net.Listener) error {
	sweep(s.options.Time)
	server := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: s.options.Sending, IdleTimeout: 2 * time.Minute,
		MaxHeaderBytes: 64 << 10, ErrorLog: s.options.Log}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	s.runs.stopAll()
	s.runs.idle(Grace)
	// What is left now are answers on their way, and connections that nobody uses.
	last, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	err := server.Shutdown(last)
	if errors.Is(err, context.DeadlineExceeded) {
		err = server.Close()
	}
	<-ended
	s.runs.idle(tidy)
	return err
}

// DefaultFolder is where files are saved if nothing else is said.
func DefaultFolder() (string, error) {
	folder, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("it is not known where your files belong (%w): name a folder with --folder", err)
	}
	return folder + string(os.PathSeparator) + "lapwright", nil
}
