package page

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// lines writes an answer line by line.
type lines struct {
	mu sync.Mutex
	w  http.ResponseWriter
	at *http.ResponseController
}

func (l *lines) put(what any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	data, err := json.Marshal(what)
	if err != nil {
		data, _ = json.Marshal(failed{"the answer cannot be written: " + err.Error(), 2})
	}
	l.w.Write(append(data, '\n'))
	l.at.Flush()
}

// failed is the last line of what could not be done.
type failed struct {
	Error string `json:"error"`
	Code  int    `json:"code"`
}

// answered is the last line of what could.
type answered struct {
	Answer  json.RawMessage   `json:"answer"`
	Code    int               `json:"code"`
	Notes   []string          `json:"notes"`
	Files   map[string]string `json:"files"`
	Stopped bool              `json:"stopped"`
}

// do runs a command.
func (s *Server) do(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("command")
	c, ok := commands[name]
	if !ok || name == "sheet" || name == "track" {
		refuse(w, http.StatusNotFound, "There is no such command here.")
		return
	}
	ask, line, err := c.asked(r)
	if err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
		return
	}
	if ask.Out {
		if c.out == "" {
			refuse(w, http.StatusBadRequest, name+" writes no files")
			return
		}
		line = withFlag(line, "--out="+outName+"."+c.out)
	}
	w.Header().Set("Content-Type", "application/x-ndjson; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	out := &lines{w: w, at: http.NewResponseController(w)}
	done, files, err := s.run(r.Context(), ask, line, out)
	switch {
	case r.Context().Err() != nil:
	case errors.Is(err, errFull):
		out.put(failed{err.Error(), 2})
	case err != nil:
		out.put(failed{s.plainly(err), 2})
	default:
		out.put(done.last(files))
	}
}

// outName is how the files that --out writes are called.
const outName = "made"

// asked reads a request for a command.
func (c *command) asked(r *http.Request) (*request, []string, error) {
	ask, err := readRequest(r.Body)
	if err != nil {
		return nil, nil, err
	}
	line, err := c.line(ask)
	return ask, line, err
}

// withFlag puts flags before the arguments of a command line.
func withFlag(line []string, flags ...string) []string {
	for i, word := range line {
		if word == "--" {
			return append(append(append([]string{}, line[:i]...), flags...), line[i:]...)
		}
	}
	return append(line, flags...)
}

// run waits for its turn and runs a command; out is told how it goes, and may be nil. It
// returns what the command has written.
func (s *Server) run(ctx context.Context, ask *request, line []string, out *lines) (*outcome, map[string]string, error) {
	tell := func(any) {}
	if out != nil {
		tell = out.put
	}
	turn, err := s.runs.enter()
	if err != nil {
		return nil, nil, err
	}
	defer s.runs.leave(turn)
	tell(map[string]string{"id": turn.id})
	if err := s.runs.wait(ctx, turn, func(place int) { tell(map[string]int{"queued": place}) }); err != nil {
		return nil, nil, err
	}
	tell(map[string]int{"queued": 0})
	folder, err := ask.folder()
	if err != nil {
		return nil, nil, err
	}
	defer os.RemoveAll(folder)
	done, err := s.options.execute(ctx, folder, line, turn.stop, func(news json.RawMessage) { tell(map[string]json.RawMessage{"progress": news}) })
	if err != nil {
		return nil, nil, err
	}
	files, err := made(folder)
	return done, files, err
}

// made are the files that a command has written.
func made(folder string) (map[string]string, error) {
	all := map[string]string{}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), outName) || !e.Type().IsRegular() {
			continue
		}
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			return nil, err
		}
		all[e.Name()] = string(data)
	}
	return all, nil
}

// last is the last line about a command.
func (o *outcome) last(files map[string]string) any {
	const stopped = 130 // a search that was stopped shows the best that it has
	if o.notes == nil {
		o.notes = []string{}
	}
	if (o.code == 0 || o.code == 1 || o.code == stopped) && json.Valid(o.answer) && len(o.answer) > 0 {
		code := o.code
		if code == stopped {
			code = 0
		}
		return answered{o.answer, code, o.notes, files, o.stopped}
	}
	switch {
	case o.outOf > 0:
		return failed{fmt.Sprintf("Nothing was found in %.0f seconds, which is all that a search has here: ask for less, or use the program itself.", o.outOf.Seconds()), 2}
	case o.stopped:
		return failed{"It was stopped before anything was found.", 2}
	case len(o.notes) > 0:
		return failed{strings.Join(o.notes, "\n"), 2}
	}
	return failed{"The program broke off without a word.", 2}
}

// plainly says an error of the server's own, and tells the log of it.
func (s *Server) plainly(err error) string {
	if s.options.Log != nil {
		s.options.Log.Print(err)
	}
	return err.Error()
}

// stop asks a run for the best so far.
func (s *Server) stop(w http.ResponseWriter, r *http.Request) {
	if !s.runs.ask(r.PathValue("id")) {
		refuse(w, http.StatusNotFound, "There is no such search any more.")
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

// product is something that can be taken away.
type product struct {
	command string
	flag    string
	ending  string
	kind    string
}

var products = map[string]product{
	"pdf":      {"sheet", "--pdf", "pdf", "application/pdf"},
	"html":     {"sheet", "--html", "html", "text/html; charset=utf-8"},
	"svg":      {"sheet", "--svg", "svg", "image/svg+xml"},
	"midi":     {"track", "--midi", "mid", "audio/midi"},
	"wav":      {"track", "--wav", "wav", "audio/wav"},
	"captions": {"track", "--captions", "vtt", "text/vtt; charset=utf-8"},
	"yaml":     {"drill", "--out", "yaml", "application/yaml; charset=utf-8"},
}

// make makes something to take away.
func (s *Server) make(w http.ResponseWriter, r *http.Request) {
	p, ok := products[r.PathValue("kind")]
	if !ok {
		refuse(w, http.StatusNotFound, "That cannot be made here: pdf, html, svg, midi, wav, captions and yaml can.")
		return
	}
	ask, err := readRequest(r.Body)
	if err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
		return
	}
	name := p.command
	switch {
	case ask.Command == "":
	case ask.Command == "drill" && (p.command == "sheet" && p.ending != "svg" || p.command == "drill"), ask.Command == p.command, ask.Command == "lap" && p.ending == "yaml":
		name = ask.Command
	default:
		refuse(w, http.StatusBadRequest, "That cannot be made of this command.")
		return
	}
	c := commands[name]
	line, err := c.line(ask)
	if err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
		return
	}
	done, files, err := s.run(r.Context(), ask, withFlag(line, p.flag+"="+outName+"."+p.ending), nil)
	switch {
	case r.Context().Err() != nil:
		return
	case errors.Is(err, errFull):
		refuse(w, http.StatusServiceUnavailable, err.Error())
		return
	case err != nil:
		refuse(w, http.StatusInternalServerError, s.plainly(err))
		return
	}
	data, ok := files[outName+"."+p.ending]
	if !ok {
		if f, isFailed := done.last(files).(failed); isFailed {
			refuse(w, http.StatusUnprocessableEntity, f.Error)
		} else {
			refuse(w, http.StatusUnprocessableEntity, "Nothing was made.")
		}
		return
	}
	w.Header().Set("Content-Type", p.kind)
	w.Header().Set("Content-Disposition", `attachment; filename="lapwright.`+p.ending+`"`)
	w.Header().Set("Cache-Control", "no-store")
	w.Write([]byte(data))
}
