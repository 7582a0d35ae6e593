package page

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"fewtubes/catalog"
)

// running is a page served as the command serves it.
type running struct {
	t      testing.TB
	server *Server
	addr   string
	stop   func()
	ended  chan error
}

// unserved is a page, and where it is to listen.
func unserved(t testing.TB) (*Server, net.Listener) {
	t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	return New(stock, "127.0.0.1", newScenes(t)), listener
}

func run(t testing.TB) *running {
	t.Helper()
	server, listener := unserved(t)
	ctx, cancel := context.WithCancel(context.Background())
	r := &running{t: t, server: server, addr: listener.Addr().String(), stop: cancel, ended: make(chan error, 1)}
	go func() { r.ended <- r.server.Serve(ctx, listener) }()
	t.Cleanup(cancel)
	return r
}

// raw sends bytes as they are and reads the first answer; a method other than
// HEAD and CONNECT may be asked.
func (r *running) raw(text string) (*http.Response, string) {
	r.t.Helper()
	conn, err := net.Dial("tcp", r.addr)
	if err != nil {
		r.t.Fatal(err)
	}
	defer conn.Close()
	_ = conn.SetDeadline(time.Now().Add(time.Minute))
	go func() { _, _ = io.WriteString(conn, text) }() // the page may answer before it has all
	got, err := http.ReadResponse(bufio.NewReader(conn), nil)
	if err != nil {
		r.t.Errorf("%.60q: %v", text, err)
		return &http.Response{Header: http.Header{}}, ""
	}
	defer got.Body.Close()
	body, _ := io.ReadAll(got.Body)
	return got, string(body)
}

func (r *running) get(host, target string) (*http.Response, string) {
	r.t.Helper()
	return r.raw("GET " + target + " HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n")
}

// DNS rebinding: a name of a stranger points here, and the browser names it in
// Host (RFC 9110, section 7.2). Only loopback is ours.
func TestForeignHosts(t *testing.T) {
	r := run(t)
	for _, host := range []string{r.addr, "127.0.0.1", "127.0.0.1:1", "localhost", "LOCALHOST:80", "[::1]", "[::1]:8080", "[0:0:0:0:0:0:0:1]", "127.0.0.2"} {
		if got, text := r.get(host, "/"); got.StatusCode != http.StatusOK {
			t.Errorf("%q: %d %s", host, got.StatusCode, text)
		}
	}
	for _, host := range []string{
		"rebound.example", "rebound.example" + r.addr[len("127.0.0.1"):], "REBOUND.EXAMPLE", "rebound.example.", "127.0.0.1.", "localhost.", "localhost.:80",
		"localhost.rebound.example", "127.0.0.1.rebound.example", "rebound.example:127.0.0.1", "127.0.0.1@rebound.example", "rebound.example@127.0.0.1",
		"127.0.0.1:80@rebound.example", "user:pass@127.0.0.1:80", "[::1].rebound.example", "[::1]:80@rebound.example", "[::1", "::1]", "[[::1]]", "::1",
		"[::1%25lo]", "[fe80::1]", "[::]", "0.0.0.0", "0", "127.1", "2130706433", "0x7f.0.0.1", "0177.0.0.1", "10.0.0.1", "127.0.0.1:http", "127.0.0.1:-1",
		"127.0.0.1:99999", "", ":80", "localhost,rebound.example", "localhost#rebound.example",
	} {
		if got, text := r.get(host, "/"); got.StatusCode != http.StatusMisdirectedRequest && got.StatusCode != http.StatusBadRequest {
			t.Errorf("%q: %d %.60s", host, got.StatusCode, text)
		}
	}
	for text, want := range map[string]int{
		"GET http://rebound.example/ HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n": 421, // the target's authority counts (RFC 9112, section 3.2.2)
		"GET / HTTP/1.1\r\n\r\n": 400,
		"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nHost: rebound.example\r\n\r\n": 400,
		"GET / HTTP/1.0\r\n\r\n": 421,
		"GET /tubes HTTP/1.1\r\nHost: rebound.example\r\nX-Forwarded-Host: localhost\r\n\r\n": 421,
		"OPTIONS * HTTP/1.1\r\nHost: rebound.example\r\n\r\n":                                 421,
		"CONNECT rebound.example:443 HTTP/1.1\r\nHost: rebound.example:443\r\n\r\n":           421,
	} {
		if got, body := r.raw(text); got.StatusCode != want {
			t.Errorf("%q: %d %.60s, want %d", text, got.StatusCode, body, want)
		}
	}
}

var postRoutes = []string{"/photo", "/pick", "/suggest", "/colours", "/open", "/scenes/x/undo", "/scenes/x/redo", "/scenes/x/copy", "/scenes/x/remove", "/scenes/x/restore", "/scenes/x/forget", "/answer", "/compare", "/beside", "/curve", "/mix", "/pile", "/got", "/string", "/teach", "/why", "/sure", "/proof", "/bases", "/values", "/board", "/recession", "/air", "/fit", "/pack", "/lid", "/handout", "/pocket", "/learn"}

var getRoutes = []string{"/", "/report.css", "/tubes", "/photo/0", "/painted/0", "/demo/wide.jpg", "/thumb/0", "/scenes/x/follow", "/scenes/x/scene.toml", "/scenes/x/hand-on.zip", "/chart.pdf", "/main.js", "/page.css"}

// A page of another site posts here, by script or by form (Fetch standard,
// section 3.2; Fetch Metadata; HTML, section 4.10.21). None gets in, and none
// is told that it may look (no CORS header).
func TestForeignAskers(t *testing.T) {
	r := run(t)
	own := "Origin: http://" + r.addr + "\r\nSec-Fetch-Site: same-origin\r\n"
	for _, c := range []struct {
		head string
		want int
	}{
		{"Origin: http://elsewhere.example\r\n", 403},
		{"Origin: null\r\n", 403},
		{"Origin: null\r\nSec-Fetch-Site: same-origin\r\n", 403},
		{"Origin: http://127.0.0.1:1\r\n", 403},
		{"Origin: https://" + r.addr + "\r\n", 403},
		{"Origin: http://elsewhere.example@" + r.addr + "\r\n", 403},
		{"Origin: http://" + r.addr + ".elsewhere.example\r\n", 403},
		{"Origin: http://" + r.addr + "/\r\n", 403},
		{"Origin: http://" + r.addr + "\r\nOrigin: http://elsewhere.example\r\n", 403},
		{"Origin:\r\n", 403},
		{"Sec-Fetch-Site: cross-site\r\n", 403},
		{"Sec-Fetch-Site: same-site\r\n", 403},
		{"Sec-Fetch-Site: none\r\n", 403},
		{"Origin: http://" + r.addr + "\r\nSec-Fetch-Site: cross-site\r\n", 403},
		{"Sec-Fetch-Site: same-origin\r\nSec-Fetch-Site: cross-site\r\n", 403},
		{"", 403},
		{"Referer: http://" + r.addr + "/\r\n", 403},
		{own + "Content-Type: application/x-www-form-urlencoded\r\n", 415},
		{own + "Content-Type: multipart/form-data; boundary=x\r\n", 415},
		{"Content-Type: text/plain\r\nOrigin: http://elsewhere.example\r\n", 403},
	} {
		for _, route := range postRoutes {
			got, body := r.raw("POST " + route + " HTTP/1.1\r\nHost: " + r.addr + "\r\n" + c.head + "Content-Length: 2\r\nConnection: close\r\n\r\n{}")
			if got.StatusCode != c.want {
				t.Errorf("%s %q: %d %.60s, want %d", route, c.head, got.StatusCode, body, c.want)
			}
			if h := got.Header.Get("Access-Control-Allow-Origin"); h != "" {
				t.Errorf("%s: open to %q", route, h)
			}
		}
	}
	for _, route := range getRoutes {
		got, _ := r.raw("GET " + route + " HTTP/1.1\r\nHost: " + r.addr + "\r\nSec-Fetch-Site: cross-site\r\nConnection: close\r\n\r\n")
		if got.StatusCode != http.StatusForbidden {
			t.Errorf("%s from another site: %d", route, got.StatusCode)
		}
	}
}

// Each route knows its method and names it to whoever comes with another.
func TestOtherMethods(t *testing.T) {
	r := run(t)
	own := "Host: " + r.addr + "\r\nOrigin: http://" + r.addr + "\r\nConnection: close\r\n\r\n"
	methods := []string{"PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND", "QUERY", "get"}
	for _, route := range postRoutes {
		for _, method := range append(methods, "GET") {
			if got, _ := r.raw(method + " " + route + " HTTP/1.1\r\n" + own); got.StatusCode != 405 || got.Header.Get("Allow") != "POST" {
				t.Errorf("%s %s: %d, allows %q", method, route, got.StatusCode, got.Header.Get("Allow"))
			}
		}
	}
	for _, route := range getRoutes {
		for _, method := range append(methods, "POST") {
			if got, _ := r.raw(method + " " + route + " HTTP/1.1\r\n" + own); got.StatusCode != 405 || got.Header.Get("Allow") != "GET, HEAD" {
				t.Errorf("%s %s: %d, allows %q", method, route, got.StatusCode, got.Header.Get("Allow"))
			}
		}
	}
}

// No path leads to a file: the page's own are embedded and named one by one. The
// ways of writing "one up" are those of RFC 3986, section 6.2.2, coded once and
// twice, with either slash.
func TestPathsThatClimb(t *testing.T) {
	r := run(t)
	for _, route := range slices.Concat(postRoutes, getRoutes, []string{"/static", "/static/main.js/..", "/photo/x"}) {
		for _, up := range []string{
			"/../../../etc/passwd", "/..%2f..%2fetc%2fpasswd", "/%2e%2e/%2e%2e/etc/passwd", "/%2e%2e%2f%2e%2e%2fetc%2fpasswd",
			"/%252e%252e%252fetc%252fpasswd", `/..\..\etc\passwd`, "/..%5c..%5cetc%5cpasswd", "/....//....//etc/passwd", "/./etc/passwd", "//etc/passwd",
			"/%00/etc/passwd", "/etc/passwd%00.js", "/..;/etc/passwd", "/%c0%ae%c0%ae/etc/passwd", "/server.go", "/.git/config",
		} {
			for _, method := range []string{"GET", "POST"} {
				got, body := r.raw(method + " " + strings.TrimSuffix(route, "/") + up + " HTTP/1.1\r\nHost: " + r.addr + "\r\nOrigin: http://" + r.addr + "\r\nConnection: close\r\n\r\n")
				if got.StatusCode != 404 && got.StatusCode != 400 && got.StatusCode != 405 || strings.Contains(body, "root:") || strings.Contains(body, "package page") {
					t.Errorf("%s %s%s: %d %.60s", method, route, up, got.StatusCode, body)
				}
			}
		}
	}
}

// One request is one request, however its length is told (RFC 9112, sections
// 6.1 and 6.3).
func TestSmuggling(t *testing.T) {
	r := run(t)
	head := "POST /colours HTTP/1.1\r\nHost: " + r.addr + "\r\nOrigin: http://" + r.addr + "\r\n"
	const second = "GET /tubes HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"
	for _, lengths := range []string{
		"Content-Length: 2\r\nContent-Length: 60\r\n",
		"Content-Length: +2\r\n",
		"Content-Length: 2, 60\r\n",
		"Content-Length: -1\r\n",
		"Content-Length : 2\r\n",
		"Transfer-Encoding: gzip\r\n",
		"Transfer-Encoding: chunked, identity\r\n",
		"Transfer-Encoding: xchunked\r\n",
		"Transfer-Encoding : chunked\r\n",
		"Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked\r\n",
	} {
		got, body := r.raw(head + lengths + "\r\n{}" + second)
		if got.StatusCode != 400 && got.StatusCode != 501 || !got.Close {
			t.Errorf("%q: %d, closed %v: %.60s", lengths, got.StatusCode, got.Close, body)
		}
	}
	// With both, the chunks count and the length does not.
	body := `{"text": "#7a8c5a"}`
	got, text := r.raw(head + fmt.Sprintf("Content-Length: 4\r\nTransfer-Encoding: chunked\r\nConnection: close\r\n\r\n%x\r\n%s\r\n0\r\n\r\n", len(body), body))
	if got.StatusCode != 200 || !strings.Contains(text, "#7a8c5a") {
		t.Errorf("both: %d %.60s", got.StatusCode, text)
	}
}

// A fault in a handler costs that one question: one line, nothing of the inside.
func TestFaultsAreSurvived(t *testing.T) {
	s := New(nil, "127.0.0.1", newScenes(t)) // without tubes some handlers trip
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go func() { _ = s.Serve(ctx, listener) }()
	r := &running{t: t, server: s, addr: listener.Addr().String()}
	for range 3 {
		got, body := r.get(r.addr, "/tubes")
		if got.StatusCode != 500 || strings.Contains(body, "goroutine") || strings.Contains(body, "\n") {
			t.Errorf("%d %q", got.StatusCode, body)
		}
	}
	for range 2 * computations { // a place that was held is free again
		if got, body := r.get(r.addr, "/chart.pdf?paper=A4&palette=a,b"); got.StatusCode != 500 {
			t.Errorf("%d %q", got.StatusCode, body)
		}
	}
	if n, _ := s.queue.counts(); n != 0 {
		t.Errorf("%d places are still held", n)
	}
}
