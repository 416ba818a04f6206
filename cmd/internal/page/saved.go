package page

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"os"
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

// path is where a file is saved; an error says what is wrong with its name.
func (s *saved) path(kind, name string) (string, error) {
	name = norm.NFC.String(name)
	switch {
	case !slices.Contains(savedKinds, kind):
		return "", errors.New("rooms, classes and routines are saved here")
	case utf8.RuneCountInString(name) > mostName:
		return "", errors.New("a name may have 60 letters")
	case !savedName.MatchString(name):
		return "", errors.New("a name has letters, digits, spaces, hyphens and apostrophes, and no others")
	case len(name) > mostBytes || !filepath.IsLocal(name+".yaml"):
		return "", errors.New("files cannot have that name on this machine: choose a shorter one, or another")
	}
	return filepath.Join(s.folder, kind, name+".yaml"), nil
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
			if !isYAML || !e.Type().IsRegular() || !savedName.MatchString(name) {
				continue
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
	path, err := s.saved.path(r.PathValue("kind"), r.PathValue("name"))
	if err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
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
	path, err := s.saved.path(kind, r.PathValue("name"))
	if err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
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
	path, err := s.saved.path(r.PathValue("kind"), r.PathValue("name"))
	if err != nil {
		refuse(w, http.StatusBadRequest, err.Error())
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
