package page

import (
	"bufio"
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"strconv"
	"strings"
	"sync"
	"time"
)

// lock keeps the page for whoever started the program. At a fixed port any account
// of the machine finds it; the start's link gives the browser a cookie that opens
// it from then on.
type lock struct {
	key    []byte
	port   string
	cookie string // its name: cookies know hosts and no ports
	link   string // opens as often as wanted while the program runs

	mu   sync.Mutex
	used map[string]time.Time // tickets, and when they end
}

// ticketTime is how long a browser may take to open with a ticket.
const ticketTime = 10 * time.Minute

// cookieTime is as long as browsers keep a cookie at most (RFC 6265bis, section 5.5).
const cookieTime = 400 * 24 * time.Hour

// Lock closes the page to everybody without the key's cookie, and gives the path of
// the start's link, good while the program runs. The port is the one listened at.
func (s *Server) Lock(key []byte, port string) (path string) {
	s.lock = &lock{key: key, port: port, cookie: "fewtubes-" + port, link: rand.Text(), used: map[string]time.Time{}}
	return startPath + s.lock.link
}

const startPath = "/start/"

// Ticket is the path of a link for one browser: it may be seen on the command line
// that starts it, and so opens once, for a while, and to no other account.
func Ticket(key []byte) (path string) {
	text := strconv.FormatInt(time.Now().Add(ticketTime).Unix(), 10) + "." + rand.Text()
	return startPath + text + "." + sign(key, "ticket", text)
}

// sign is a message authentication code (RFC 2104) for one purpose.
func sign(key []byte, purpose, text string) string {
	mac := hmac.New(sha256.New, key)
	_, _ = io.WriteString(mac, purpose+" "+text)
	return hex.EncodeToString(mac.Sum(nil))
}

func equal(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// opens is whether a request may pass.
func (l *lock) opens(r *http.Request) bool {
	if l == nil || r.URL.Path == "/here" {
		return true
	}
	for _, c := range r.CookiesNamed(l.cookie) {
		if equal(c.Value, sign(l.key, "cookie", l.cookie)) {
			return true
		}
	}
	return false
}

// start opens the page for the browser of the start's link.
func (l *lock) start(w http.ResponseWriter, r *http.Request) {
	given := strings.TrimPrefix(r.URL.Path, startPath)
	if uid, known := account(r); known && uid != os.Getuid() && uid != 0 || !equal(given, l.link) && !l.takes(given) {
		closed(w, r)
		return
	}
	http.SetCookie(w, &http.Cookie{
		Name: l.cookie, Value: sign(l.key, "cookie", l.cookie), Path: "/", MaxAge: int(cookieTime.Seconds()),
		HttpOnly: true, SameSite: http.SameSiteStrictMode,
	})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// takes is whether a ticket is good; it is not again.
func (l *lock) takes(ticket string) bool {
	text, mac, ok := cutLast(ticket, ".")
	if !ok || !equal(mac, sign(l.key, "ticket", text)) {
		return false
	}
	end, _, _ := strings.Cut(text, ".")
	seconds, err := strconv.ParseInt(end, 10, 64)
	now, until := time.Now(), time.Unix(seconds, 0)
	if err != nil || now.After(until) {
		return false
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	for t, end := range l.used {
		if now.After(end) {
			delete(l.used, t)
		}
	}
	if _, twice := l.used[text]; twice {
		return false
	}
	l.used[text] = until
	return true
}

func cutLast(s, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(sep):], true
}

// errClosed is what everybody gets whose browser was not opened by the start.
var errClosed = &trouble{http.StatusForbidden, "start fewtubes: the start opens this page in your browser"}

const closedPage = `<!DOCTYPE html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Start fewtubes</title>
<h1>Start fewtubes</h1>
<p>This page opens by the start of the program, so that nobody else at this computer sees your scenes.
Start fewtubes (in a terminal: <code>fewtubes serve</code>), also when it runs already, and the page opens in your browser. From then on a bookmark opens it, too.</p>
`

func closed(w http.ResponseWriter, r *http.Request) {
	if !strings.Contains(r.Header.Get("Accept"), "text/html") {
		fail(w, errClosed)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(errClosed.status)
	_, _ = io.WriteString(w, closedPage)
}

// here says that the program runs; to whoever has the key it proves that it has it,
// too, and listens there itself.
func (s *Server) here(w http.ResponseWriter, r *http.Request) {
	asked := r.URL.Query().Get("asked")
	if s.lock == nil || asked == "" {
		w.WriteHeader(http.StatusNoContent)
		return
	}
	_, _ = io.WriteString(w, sign(s.lock.key, "here", asked+" "+s.lock.port))
}

// Runs is whether the program with this key answers at an address.
func Runs(ctx context.Context, addr string, key []byte) bool {
	_, port, err := net.SplitHostPort(addr)
	if err != nil {
		return false
	}
	const patience = 2 * time.Second
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	asked := rand.Text()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, fmt.Sprintf("http://%s/here?asked=%s", addr, url.QueryEscape(asked)), nil)
	if err != nil {
		return false
	}
	// Asked by hand: http.Client would bring its half of TLS along, a megabyte.
	conn, err := (&net.Dialer{}).DialContext(ctx, "tcp", addr)
	if err != nil {
		return false
	}
	defer conn.Close()
	_ = conn.SetDeadline(time.Now().Add(patience))
	if err := r.Write(conn); err != nil {
		return false
	}
	got, err := http.ReadResponse(bufio.NewReader(conn), r)
	if err != nil {
		return false
	}
	defer got.Body.Close()
	text, err := io.ReadAll(io.LimitReader(got.Body, 1000))
	return err == nil && equal(string(text), sign(key, "here", asked+" "+port))
}
