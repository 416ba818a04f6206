package page

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"os"
	pathpkg "path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/lockedfile"
	"golang.org/x/text/unicode/norm"

	"lapwright/cmd/internal/wholefile"
)

// saved are the files that people save: YAML, in a folder for each kind.
type saved struct {
	folder string
	// mu and the lock file are held from the look at a file's version to its being written,
	// so that of two windows only one can write over what both have read: the lock file for
	// windows of two servers that have the same folder.
	mu sync.Mutex
}

// lockName is the file by which servers that have the same folder wait for each other.
const lockName = ".lock"

// hold has nobody else save or delete until free is called.
func (s *saved) hold() (free func(), err error) {
	s.mu.Lock()
	unlock, err := lockedfile.MutexAt(filepath.Join(s.folder, lockName)).Lock()
	if err != nil {
		s.mu.Unlock()
		return nil, err
	}
	return func() { unlock(); s.mu.Unlock() }, nil
}

// savedKinds are what can be saved.
var savedKinds = []string{"rooms", "classes", "routines"}

// mostSaved is how many files of a kind there may be.
const mostSaved = 2000

// A name has letters, digits and what stands between words.
var savedName = regexp.MustCompile(`^[\p{L}\p{M}\p{Nd}](?:[\p{L}\p{M}\p{Nd} _'’-]*[\p{L}\p{M}\p{Nd}_'’-])?$`)

// mostName is how many letters a name may have, and mostBytes how many bytes: while it is
// written a file has a longer name, and disks take 255.
const (
	mostName  = 60
	mostBytes = 200
)

// entry is a file that is saved.
type entry struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// reserved are names that no file can have on Windows, whatever stands behind a dot in
// them (Microsoft, "Naming Files, Paths, and Namespaces"). They are refused everywhere, so
// that a folder can be taken to another machine. The page has the same rules in names.js.
var reserved = regexp.MustCompile(`^(?i:con|prn|aux|nul|(?:com|lpt)[0-9])$`)

// path is where a file is saved; otherwise why is a sentence that says what is wrong with
// its name.
func (s *saved) path(kind, name string) (path, why string) {
	name = norm.NFC.String(name)
	switch {
	case !slices.Contains(savedKinds, kind):
		return "", "Rooms, classes and routines are saved here, and nothing else."
	case name == "":
		return "", "A name has at least one letter."
	case strings.TrimSpace(name) != name:
		return "", "A name neither begins nor ends with a space."
	case utf8.RuneCountInString(name) > mostName:
		return "", "A name has at most 60 letters."
	case !savedName.MatchString(name):
		return "", "A name begins with a letter or a digit, and has nothing but letters, digits, spaces, hyphens and apostrophes."
	case reserved.MatchString(name):
		return "", "Some machines keep the name " + strings.ToUpper(name) + " for themselves: choose another."
	case len(name) > mostBytes || !filepath.IsLocal(name+".yaml"):
		return "", "Files cannot have that name on this machine: choose a shorter one, or another."
	}
	return filepath.Join(s.folder, kind, name+".yaml"), ""
}

// noPlace answers what leads to no saved file; a name of dots comes here, which stands for a
// folder in an address.
func noPlace(w http.ResponseWriter, r *http.Request) {
	refuse(w, http.StatusNotFound, "Nothing is saved at that address: a name begins with a letter or a digit, and has nothing but letters, digits, spaces, hyphens and apostrophes.")
}

// strays tells whether an address is one of what is saved, but no plain one: the router would
// lead it elsewhere.
func strays(path string) bool {
	clean := pathpkg.Clean("/" + path)
	within := func(p string) bool { return p == "/saved" || strings.HasPrefix(p, "/saved/") }
	return (within(path) || within(clean)) && path != "/saved/" && (path == "/saved" || clean != path)
}

// version is that of a text.
func version(data []byte) string {
	sum := sha256.Sum256(data)
	return `"` + hex.EncodeToString(sum[:12]) + `"`
}

// list lists what is saved.
func (s *Server) list(w http.ResponseWriter, _ *http.Request) {
	all := map[string][]entry{}
	for _, kind := range savedKinds {
		all[kind] = []entry{}
		entries, err := os.ReadDir(filepath.Join(s.saved.folder, kind))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			refuse(w, http.StatusInternalServerError, s.plainly(err))
			return
		}
		for _, e := range entries {
			name, isYAML := strings.CutSuffix(e.Name(), ".yaml")
			if !isYAML || !e.Type().IsRegular() {
				continue
			}
			if _, why := s.saved.path(kind, name); why != "" {
				continue // it could not be asked for
			}
			data, err := os.ReadFile(filepath.Join(s.saved.folder, kind, e.Name()))
			if err != nil {
				continue // it has gone in the meantime
			}
			all[kind] = append(all[kind], entry{name, version(data)})
		}
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	json.NewEncoder(w).Encode(all)
}

// load gives a file.
func (s *Server) load(w http.ResponseWriter, r *http.Request) {
	path, why := s.saved.path(r.PathValue("kind"), r.PathValue("name"))
	if why != "" {
		refuse(w, http.StatusBadRequest, why)
		return
	}
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		refuse(w, http.StatusNotFound, "Nothing is saved under that name.")
		return
	case err != nil:
		refuse(w, http.StatusInternalServerError, "It cannot be read: "+s.plainly(err))
		return
	}
	w.Header().Set("Content-Type", "application/yaml; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("ETag", version(data))
	send(w, data, s.options.Reading)
}

// changed tells whether a file is not the one that was read; it answers why not.
func changed(w http.ResponseWriter, r *http.Request, path string) bool {
	known, fresh := r.Header.Get("If-Match"), r.Header.Get("If-None-Match")
	data, err := os.ReadFile(path)
	there := err == nil
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		refuse(w, http.StatusInternalServerError, "The file cannot be read.")
	case known == "" && fresh != "*":
		refuse(w, http.StatusPreconditionRequired, "It has to be said which version is written over.")
	case known == "" && there:
		refuse(w, http.StatusPreconditionFailed, "There is one of that name already: choose another name, or open that one first.")
	case known != "" && !there:
		refuse(w, http.StatusPreconditionFailed, "It has been deleted in the meantime: save it under a new name.")
	case known != "" && version(data) != known:
		refuse(w, http.StatusPreconditionFailed, "It has been changed in another window in the meantime: open it again, or save yours under another name.")
	default:
		return false
	}
	return true
}

// save saves a file.
func (s *Server) save(w http.ResponseWriter, r *http.Request) {
	kind := r.PathValue("kind")
	path, why := s.saved.path(kind, r.PathValue("name"))
	if why != "" {
		refuse(w, http.StatusBadRequest, why)
		return
	}
	data, err := readBody(r.Body)
	switch {
	case err != nil:
		unfit(w, err)
		return
	case !utf8.Valid(data) || len(data) == 0:
		refuse(w, http.StatusBadRequest, "That is no text.")
		return
	}
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		refuse(w, http.StatusInternalServerError, s.plainly(err))
		return
	}
	free, err := s.saved.hold()
	if err != nil {
		refuse(w, http.StatusInternalServerError, "It cannot be saved: "+s.plainly(err))
		return
	}
	defer free()
	if changed(w, r, path) {
		return
	}
	_, err = os.Stat(path)
	if entries, _ := os.ReadDir(folder); err != nil && len(entries) >= mostSaved {
		refuse(w, http.StatusInsufficientStorage, "There are 2000 already: delete some first.")
		return
	}
	if err := wholefile.Write(path, err == nil, data); err != nil {
		refuse(w, http.StatusInternalServerError, "It cannot be saved: "+s.plainly(err))
		return
	}
	w.Header().Set("ETag", version(data))
	w.WriteHeader(http.StatusNoContent)
}

// remove deletes a file.
func (s *Server) remove(w http.ResponseWriter, r *http.Request) {
	path, why := s.saved.path(r.PathValue("kind"), r.PathValue("name"))
	if why != "" {
		refuse(w, http.StatusBadRequest, why)
		return
	}
	if _, err := os.Lstat(path); err == nil {
		free, err := s.saved.hold()
		if err != nil {
			refuse(w, http.StatusInternalServerError, "It cannot be deleted: "+s.plainly(err))
			return
		}
		defer free()
	}
	if changed(w, r, path) {
		return
	}
	if err := os.Remove(path); err != nil {
		refuse(w, http.StatusInternalServerError, "It cannot be deleted: "+s.plainly(err))
		return
	}
	w.WriteHeader(http.StatusNoContent)
}
