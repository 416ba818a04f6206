package page

import (
	"encoding/json"
	"mime"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
)

// mostBody is how large a request may be, in bytes.
const mostBody = 1 << 20

// How long a browser may take to send a request, and to read a piece of an answer.
const (
	usualSending = 30 * time.Second
	usualReading = 20 * time.Second
)

// refuse answers with one sentence.
func refuse(w http.ResponseWriter, status int, words string) {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	json.NewEncoder(w).Encode(map[string]any{"error": words, "code": 2})
}

// headers are those of every answer: the page loads nothing from elsewhere, runs no
// script but its own, and is shown in no other page.
var headers = map[string]string{
	"Content-Security-Policy":      "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
	"X-Content-Type-Options":       "nosniff",
	"Referrer-Policy":              "no-referrer",
	"Cross-Origin-Opener-Policy":   "same-origin",
	"Cross-Origin-Resource-Policy": "same-origin",
	"Permissions-Policy":           "camera=(), microphone=(), geolocation=()",
}

// guard lets pass only what comes from the page itself.
func (s *Server) guard(next *http.ServeMux) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		switch {
		case !s.knows(r.Host):
			refuse(w, http.StatusForbidden, "The page is asked for under a name that is not its own: open it at the address that lapwright page prints.")
			return
		case !fromHere(r):
			refuse(w, http.StatusForbidden, "Another page asks, and only Lapwright's own may.")
			return
		}
		if strays(r.URL.Path) {
			noPlace(w, r)
			return
		}
		if r.Method == http.MethodPost || r.Method == http.MethodPut {
			want := "application/json"
			if r.Method == http.MethodPut {
				want = "application/yaml"
			}
			if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != want {
				refuse(w, http.StatusUnsupportedMediaType, "What is sent here has to be "+want+".")
				return
			}
			if r.ContentLength > mostBody {
				refuse(w, http.StatusRequestEntityTooLarge, "That is more than 1 MB.")
				return
			}
			r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		}
		if _, pattern := next.Handler(r); pattern == "" {
			refuse(w, http.StatusMethodNotAllowed, "That cannot be done here.")
			return
		}
		// A browser that does not read, or does not send, holds nobody up.
		http.NewResponseController(w).SetWriteDeadline(time.Now().Add(s.options.Reading))
		next.ServeHTTP(w, r)
	})
}

// unfit answers that a request cannot be understood.
func unfit(w http.ResponseWriter, err error) {
	status := http.StatusBadRequest
	switch err {
	case errLarge:
		status = http.StatusRequestEntityTooLarge
	case errBroken:
		status = http.StatusRequestTimeout
	}
	refuse(w, status, err.Error())
}

// knows tells whether a host is one under which the server may be asked. A foreign name
// that leads to this machine (DNS rebinding) is not.
func (s *Server) knows(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.Trim(name, "[]"))
	if name == "localhost" {
		return true
	}
	if ip := net.ParseIP(name); ip != nil && ip.IsLoopback() {
		return true
	}
	return slices.Contains(s.options.Hosts, name) || slices.Contains(s.options.Hosts, "") && net.ParseIP(name) != nil
}

// fromHere tells whether a request comes from the page that this server gave, as far as
// the browser says (Fetch Standard: Origin; Fetch Metadata: Sec-Fetch-Site).
func fromHere(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		u, err := url.Parse(origin)
		if err != nil || u.Scheme != "http" || u.Host != r.Host {
			return false
		}
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return true
	}
	// A link on another page may lead here; nothing is done by it.
	return r.Method == http.MethodGet && r.Header.Get("Sec-Fetch-Mode") == "navigate"
}
