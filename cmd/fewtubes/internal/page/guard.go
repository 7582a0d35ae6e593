package page

import (
	"net"
	"net/http"
	"net/url"
	"strings"
)

// policy lets the page load from this server alone; swatches are coloured by
// script through the style objects, so no inline style is needed.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; " +
	"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard turns strangers away before any handler runs: a page of another site
// that found the port (its Origin differs), and a name that was made to point
// here (its Host is none of ours).
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
			http.Error(w, "This address is not the page's own.", http.StatusMisdirectedRequest)
		case !sameOrigin(r):
			http.Error(w, "Only the page itself may ask.", http.StatusForbidden)
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// knownHost accepts the loopback names, and the address the server was told to
// listen on.
func (s *Server) knownHost(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = strings.Trim(host, "[]")
	}
	if name == "localhost" || name == s.listen {
		return true
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.IsLoopback()
}

func sameOrigin(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
	default:
		return false
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return r.Method == http.MethodGet || r.Method == http.MethodHead || r.Header.Get("Sec-Fetch-Site") == "same-origin"
	}
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && u.Host == r.Host
}
