package page

import (
	"bytes"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"fewtubes/catalog"

	"github.com/chromedp/chromedp"
)

// locked is a page behind its lock, and the path of its start's link.
func locked(t *testing.T) (server *httptest.Server, s *Server, start string) {
	t.Helper()
	stock, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	s = New(stock, "127.0.0.1", newScenes(t))
	server = httptest.NewUnstartedServer(nil)
	_, port, _ := net.SplitHostPort(server.Listener.Addr().String())
	start = s.Lock(bytes.Repeat([]byte{7}, 32), port)
	server.Config.Handler = s.Handler()
	server.Start()
	t.Cleanup(server.Close)
	return server, s, start
}

// opened is the cookie a link gives, empty for none.
func opened(t *testing.T, server *httptest.Server, path string) *http.Cookie {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := (&http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}).Get(server.URL + path)
	if err != nil {
		t.Fatal(err)
	}
	got.Body.Close()
	if cookies := got.Cookies(); len(cookies) == 1 && got.StatusCode == http.StatusSeeOther {
		return cookies[0]
	}
	return nil
}

// The start's link sets a cookie that no script reads, that goes with no request of
// another site, and that stays (RFC 6265bis, sections 5.6.6 and 5.6.7).
func TestStartGivesTheCookie(t *testing.T) {
	server, s, start := locked(t)
	for range 2 {
		c := opened(t, server, start)
		if c == nil || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" || c.MaxAge < 300*24*3600 {
			t.Fatalf("%+v", c)
		}
	}
	c := opened(t, server, start)
	cookie := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.AddCookie(&http.Cookie{Name: name, Value: value}) }
	}
	for _, k := range []struct {
		name   string
		change func(*http.Request)
		want   int
	}{
		{"the cookie", cookie(c.Name, c.Value), 200},
		{"another before it", func(r *http.Request) { cookie(c.Name, "old")(r); cookie(c.Name, c.Value)(r) }, 200},
		{"no cookie", nil, 403},
		{"an empty one", cookie(c.Name, ""), 403},
		{"another port's", cookie("fewtubes-1", c.Value), 403},
		{"the link as the cookie", cookie(c.Name, s.lock.link), 403},
	} {
		if status, _, text := send(t, server, "GET", "/scenes", nil, k.change); status != k.want {
			t.Errorf("%s: %d %s", k.name, status, text)
		}
	}
	// The lock is behind the guard's other rules, not in their place.
	for _, change := range []func(*http.Request){
		func(r *http.Request) { r.Header.Set("Origin", "http://elsewhere.example") },
		func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
		func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") },
	} {
		status, _, text := send(t, server, "POST", "/scenes", []byte(`{"from": "demo"}`), func(r *http.Request) { r.AddCookie(c); change(r) })
		if status != http.StatusForbidden || !strings.Contains(string(text), "only the page itself") {
			t.Errorf("%d %s", status, text)
		}
	}
	status, _, _ := send(t, server, "GET", "/", nil, func(r *http.Request) { r.AddCookie(c); r.Host = "rebound.example" })
	if status != http.StatusMisdirectedRequest {
		t.Error(status)
	}
}

// A bookmark without the cookie says what to do, as a page to a person and in a line
// to a script.
func TestClosedPage(t *testing.T) {
	server, _, _ := locked(t)
	status, head, text := send(t, server, "GET", "/s/marsh", nil, func(r *http.Request) { r.Header.Set("Accept", "text/html,*/*;q=0.8") })
	if status != 403 || !strings.HasPrefix(head.Get("Content-Type"), "text/html") || !bytes.Contains(text, []byte("<h1>Start fewtubes</h1>")) {
		t.Errorf("%d %s", status, text)
	}
	status, _, text = send(t, server, "POST", "/answer", []byte(marshScene), nil)
	if status != 403 || !strings.HasPrefix(string(text), "start fewtubes: ") {
		t.Errorf("%d %s", status, text)
	}
	if status, _, text := send(t, server, "GET", "/here", nil, nil); status != 204 || len(text) != 0 {
		t.Errorf("%d %s", status, text)
	}
}

// A ticket opens once, in its time, with the right key alone.
func TestTickets(t *testing.T) {
	server, s, _ := locked(t)
	good := Ticket(s.lock.key)
	late := "1000000000.x"
	text := strings.TrimPrefix(Ticket(s.lock.key), startPath)
	for name, path := range map[string]string{
		"another key": Ticket(bytes.Repeat([]byte{8}, 32)),
		"too late":    startPath + late + "." + sign(s.lock.key, "ticket", late),
		"longer":      startPath + strconv.FormatInt(time.Now().Add(time.Hour).Unix(), 10) + text[strings.Index(text, "."):],
		"a proof":     startPath + "9999999999.x." + sign(s.lock.key, "here", "9999999999.x"),
		"nothing":     startPath + ".",
	} {
		if c := opened(t, server, path); c != nil {
			t.Errorf("%s opens", name)
		}
	}
	if opened(t, server, good) == nil {
		t.Error("a good one does not open")
	}
	if opened(t, server, good) != nil {
		t.Error("it opens twice")
	}
}

// Only the program with the key, at its own port, proves that it runs: not one that
// listens there in its stead and asks it.
func TestRuns(t *testing.T) {
	server, s, _ := locked(t)
	addr := server.Listener.Addr().String()
	if !Runs(t.Context(), addr, s.lock.key) {
		t.Error("it runs")
	}
	relay := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		got, err := http.Get(server.URL + "/here?asked=" + url.QueryEscape(r.URL.Query().Get("asked")))
		if err != nil {
			t.Error(err)
			return
		}
		defer got.Body.Close()
		_, _ = io.Copy(w, got.Body)
	}))
	defer relay.Close()
	for _, at := range []string{relay.Listener.Addr().String(), "", "127.0.0.1", "127.0.0.1:1"} {
		if Runs(t.Context(), at, s.lock.key) {
			t.Errorf("%q runs", at)
		}
	}
	if Runs(t.Context(), addr, bytes.Repeat([]byte{8}, 32)) {
		t.Error("with another key")
	}
}

// The system tells whose a connection is.
func TestAccount(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("known on Linux alone")
	}
	for _, at := range []string{"127.0.0.1:0", "[::1]:0"} {
		listener, err := net.Listen("tcp", at)
		if err != nil {
			t.Logf("%s: %v", at, err)
			continue
		}
		seen := make(chan int, 1)
		server := &http.Server{Handler: http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
			uid, known := account(r)
			if !known {
				uid = -1
			}
			seen <- uid
		})}
		go func() { _ = server.Serve(listener) }()
		got, err := http.Get("http://" + listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		got.Body.Close()
		if uid := <-seen; uid != os.Getuid() {
			t.Errorf("%s: %d, it is %d", at, uid, os.Getuid())
		}
		server.Close()
	}
}

// The start's link opens the page in a browser, which finds it by its address from
// then on; another browser is told what to do.
func TestStartOpensTheBrowser(t *testing.T) {
	server, _, start := locked(t)
	p := &program{t: t, addr: server.Listener.Addr().String()}
	b := p.tabAt(server.URL + start)
	b.stands()
	b.want(`location.pathname === "/" && document.cookie === ""`)
	b.do(chromedp.Click("#try-marsh"))
	b.called("Salt marsh at ebb tide")
	b.show(server.URL)
	b.called("Salt marsh at ebb tide")
	other := p.tabAt(server.URL)
	other.until(`document.querySelector("h1")?.textContent === "Start fewtubes"`)
	b.quiet()
}
