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
	"time"
)

// lines writes an answer line by line.
type lines struct {
	mu      sync.Mutex
	w       http.ResponseWriter
	reading time.Duration // how long a browser may take to read a line
}

// put writes a line. One that cannot be written any more ends the request's context, and
// the run with it.
func (l *lines) put(what any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	data, err := json.Marshal(what)
	if err != nil {
		data, _ = json.Marshal(failed{"the answer cannot be written: " + err.Error(), 2})
	}
	send(l.w, append(data, '\n'), l.reading)
	http.NewResponseController(l.w).Flush()
}

// send writes data piece by piece; a browser that does not read the next for so long is
// given up.
func send(w http.ResponseWriter, data []byte, reading time.Duration) {
	const piece = 64 << 10
	for begin := 0; begin < len(data); begin += piece {
		http.NewResponseController(w).SetWriteDeadline(time.Now().Add(reading))
		if _, err := w.Write(data[begin:min(begin+piece, len(data))]); err != nil {
			return
		}
	}
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
		unfit(w, err)
		return
	}
	if ask.Out {
		if c.out == "" {
			refuse(w, http.StatusBadRequest, name+" writes no files")
			return
		}
		line = withFlag(line, "--out="+outName+"."+c.out)
	}
	turn, err := s.runs.enter()
	if err != nil {
		s.away(w, err)
		return
	}
	w.Header().Set("Content-Type", "application/x-ndjson; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	out := &lines{w: w, reading: s.options.Reading}
	done, files, err := s.run(r.Context(), turn, ask, line, out.put)
	switch {
	case r.Context().Err() != nil:
	case err != nil:
		out.put(failed{s.plainly(err), 2})
	default:
		out.put(done.last(files))
	}
}

// outName is how the files that --out writes are called.
const outName = "made"

// OwnWord tells whether a word of a command line is the server's own and not one of those
// that say what was asked for.
func OwnWord(word string) bool {
	_, value, _ := strings.Cut(word, "=")
	return word == "--" || word == "--json" || word == "--no-color" || strings.HasPrefix(word, "--") && strings.HasPrefix(value, outName+".")
}

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

// away answers that a command does not begin: there are too many, or the server ends.
func (s *Server) away(w http.ResponseWriter, err error) {
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(s.options.Reading))
	if errors.Is(err, errFull) {
		w.Header().Set("Retry-After", "10")
	}
	refuse(w, http.StatusServiceUnavailable, s.plainly(err))
}

// run waits for a command's turn and runs it; tell is told how it goes. It returns what
// the command has written.
func (s *Server) run(ctx context.Context, turn *run, ask *request, line []string, tell func(any)) (*outcome, map[string]string, error) {
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
	size := int64(0)
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), outName) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil {
			size += info.Size()
		}
		if size > mostAnswer {
			return nil, errTooMuch
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
		return failed{fmt.Sprintf("Nothing was found within %.0f s, which is all that a search has here: ask for less.", o.outOf.Seconds()), 2}
	case o.stopped:
		return failed{"It was stopped before anything was found.", 2}
	case len(o.notes) > 0:
		return failed{strings.Join(o.notes, "\n"), 2}
	}
	return failed{"The program broke off without a word.", 2}
}

// plainly says why something has not been done, and tells the log of what is not in the
// course of things.
func (s *Server) plainly(err error) string {
	for _, usual := range []error{errFull, errClosing, errStopped, errTooMuch} {
		if errors.Is(err, usual) {
			return err.Error()
		}
	}
	s.options.Log.Print(err)
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
		unfit(w, err)
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
	turn, err := s.runs.enter()
	if err != nil {
		s.away(w, err)
		return
	}
	done, files, err := s.run(r.Context(), turn, ask, withFlag(line, p.flag+"="+outName+"."+p.ending), func(any) {})
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(s.options.Reading))
	switch {
	case r.Context().Err() != nil:
		return
	case errors.Is(err, errClosing), errors.Is(err, errStopped):
		s.away(w, err)
		return
	case errors.Is(err, errTooMuch):
		refuse(w, http.StatusUnprocessableEntity, err.Error())
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
	send(w, []byte(data), s.options.Reading)
}
