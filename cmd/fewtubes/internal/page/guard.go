package page

import (
	"mime"
	"net"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// policy lets the page load from this server alone; swatches are coloured by
// script through the style objects, so no inline style is needed.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; " +
	"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard turns strangers away before any handler runs: a page of another site
// that found the port (its Origin differs), a name that was made to point here
// (its Host is none of ours), a form, a path that climbs, a browser that was not
// opened by the start.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		switch {
		case !s.knownHost(r.Host):
			fail(w, &trouble{http.StatusMisdirectedRequest, "this address is not the page's own"})
		case !sameOrigin(r):
			fail(w, &trouble{http.StatusForbidden, "only the page itself may ask"})
		case isForm(r):
			fail(w, &trouble{http.StatusUnsupportedMediaType, "the page sends no forms"})
		case !plainPath(r):
			fail(w, &trouble{http.StatusNotFound, "there is no such page"})
		case s.lock != nil && strings.HasPrefix(r.URL.Path, startPath):
			s.lock.start(w, r)
		case !s.lock.opens(r):
			closed(w, r)
		default:
			survive(next, w, r)
		}
	})
}

// survive answers a fault of the program with one line; where an answer has
// begun already it breaks off, so that nobody takes a part for the whole.
func survive(next http.Handler, w http.ResponseWriter, r *http.Request) {
	out := &begunWriter{ResponseWriter: w}
	defer func() {
		switch fault := recover(); {
		case fault == nil:
		case out.begun:
			panic(http.ErrAbortHandler)
		default:
			fail(w, &trouble{http.StatusInternalServerError, "the page failed at this question; the others go on"})
		}
	}()
	next.ServeHTTP(out, r)
}

type begunWriter struct {
	http.ResponseWriter
	begun bool
}

func (w *begunWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

func (w *begunWriter) WriteHeader(status int) {
	w.begun = true
	w.ResponseWriter.WriteHeader(status)
}

func (w *begunWriter) Write(p []byte) (int, error) {
	w.begun = true
	return w.ResponseWriter.Write(p)
}

func (w *begunWriter) Flush() {
	w.begun = true
	_ = http.NewResponseController(w.ResponseWriter).Flush()
}

// knownHost accepts the loopback names and addresses, and the host the server
// was told to listen on, each with any port: it may be forwarded.
func (s *Server) knownHost(host string) bool {
	name, ok := hostName(host)
	if !ok {
		return false
	}
	if strings.EqualFold(name, "localhost") || strings.EqualFold(name, s.listen) {
		return true
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.IsLoopback()
}

// hostName is the host without its port and brackets (RFC 9110, section 7.2;
// RFC 3986, section 3.2.2); user names have no place there.
func hostName(host string) (string, bool) {
	if name, port, err := net.SplitHostPort(host); err == nil {
		_, err := strconv.ParseUint(port, 10, 16)
		return name, err == nil
	}
	name, bracket := strings.CutPrefix(host, "[")
	if bracket {
		var closed bool
		name, closed = strings.CutSuffix(name, "]")
		return name, closed && net.ParseIP(name) != nil
	}
	return name, !strings.ContainsAny(name, "[]:@")
}

// sameOrigin is whether the page itself asks (Fetch standard, sections 3.1 and
// Metadata's Sec-Fetch-Site). Only looking is open to who names no origin: a
// browser names it with whatever changes anything.
func sameOrigin(r *http.Request) bool {
	site, origin := r.Header["Sec-Fetch-Site"], r.Header["Origin"]
	if len(site) > 1 || len(origin) > 1 {
		return false
	}
	if len(site) == 1 && site[0] != "same-origin" && site[0] != "none" {
		return false
	}
	if len(origin) == 0 {
		return r.Method == http.MethodGet || r.Method == http.MethodHead || len(site) == 1 && site[0] == "same-origin"
	}
	return origin[0] == "http://"+r.Host
}

// isForm is whether the body is what a form of any site could send.
func isForm(r *http.Request) bool {
	kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	return kind == "application/x-www-form-urlencoded" || kind == "multipart/form-data"
}

// plainPath is whether a path is what it seems: nothing climbs, no separator or
// NUL is hidden in it. No path of a file is ever made from it either.
func plainPath(r *http.Request) bool {
	p := r.URL.Path
	return path.IsAbs(p) && path.Clean(p) == p && r.URL.RawPath == "" && !strings.ContainsAny(p, "\\\x00%")
}
