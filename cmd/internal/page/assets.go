package page

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

//go:embed assets
var builtIn embed.FS

// assets are the files of the page, with their versions.
type assets map[string]asset

type asset struct {
	data []byte
	kind string
	tag  string
}

// kinds are the media types of the page's files; those of the system may differ.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".svg": "image/svg+xml", ".png": "image/png", ".webmanifest": "application/manifest+json", ".txt": "text/plain; charset=utf-8",
}

// newAssets reads the files of the page; nil stands for those that come with the program.
// They are served at / and, all but index.html, under the same names.
func newAssets(files fs.FS) (assets, error) {
	if files == nil {
		var err error
		if files, err = fs.Sub(builtIn, "assets"); err != nil {
			return nil, err
		}
	}
	all := assets{}
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		kind, ok := kinds[path.Ext(name)]
		if !ok {
			if kind = mime.TypeByExtension(path.Ext(name)); kind == "" {
				return fmt.Errorf("what kind of file %s is, is not known", name)
			}
		}
		sum := sha256.Sum256(data)
		all["/"+name] = asset{data, kind, `"` + hex.EncodeToString(sum[:12]) + `"`}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if _, ok := all["/index.html"]; !ok {
		return nil, fmt.Errorf("the page has no index.html")
	}
	all["/"] = all["/index.html"]
	return all, nil
}

// ServeHTTP gives a file of the page.
func (a assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := r.URL.Path
	if rest, ok := strings.CutPrefix(name, "/assets/"); ok {
		name = "/" + rest
	}
	f, ok := a[name]
	if !ok {
		refuse(w, http.StatusNotFound, "There is no such page.")
		return
	}
	w.Header().Set("Content-Type", f.kind)
	w.Header().Set("Cache-Control", "no-cache")
	w.Header().Set("ETag", f.tag)
	if f.kind == kinds[".js"] {
		w.Header().Set("Service-Worker-Allowed", "/")
	}
	if r.Header.Get("If-None-Match") == f.tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	send(w, f.data, usualReading)
}
