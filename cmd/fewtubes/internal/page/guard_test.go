package page

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// send asks a server as a browser on its own page would, with headers changed.
func send(t testing.TB, server *httptest.Server, method, path string, body []byte, change func(*http.Request)) (int, http.Header, []byte) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, method, server.URL+path, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Origin", server.URL)
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	if change != nil {
		change(r)
	}
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Error(err)
		return 0, nil, nil
	}
	defer got.Body.Close()
	data, err := io.ReadAll(got.Body)
	if err != nil {
		t.Error(err)
	}
	return got.StatusCode, got.Header, data
}

// A name that was made to point at this machine is none of the page's (DNS
// rebinding), and a page of another site may not ask (Fetch standard, Origin and
// Sec-Fetch-Site).
func TestStrangersAreTurnedAway(t *testing.T) {
	server := newServer(t)
	header := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	for _, c := range []struct {
		name, method, path string
		change             func(*http.Request)
		want               int
	}{
		{"own page", "GET", "/", nil, 200},
		{"localhost", "GET", "/", func(r *http.Request) { r.Host = "localhost:99" }, 200},
		{"IPv6 loopback", "GET", "/", func(r *http.Request) { r.Host = "[::1]:99" }, 200},
		{"rebound name", "GET", "/", func(r *http.Request) { r.Host = "rebound.example:80" }, 421},
		{"name that begins alike", "GET", "/", func(r *http.Request) { r.Host = "127.0.0.1.rebound.example" }, 421},
		{"name of a loopback kind", "GET", "/tubes", func(r *http.Request) { r.Host = "localhost.example" }, 421},
		{"own post", "POST", "/colours", nil, 200},
		{"foreign origin", "POST", "/colours", header("Origin", "http://elsewhere.example"), 403},
		{"other port", "POST", "/colours", header("Origin", "http://127.0.0.1:1"), 403},
		{"hidden origin", "POST", "/colours", header("Origin", "null"), 403},
		{"cross-site fetch", "POST", "/colours", header("Sec-Fetch-Site", "cross-site"), 403},
		{"same-site fetch", "GET", "/tubes", header("Sec-Fetch-Site", "same-site"), 403},
		{"no origin", "POST", "/colours", func(r *http.Request) { r.Header.Del("Origin"); r.Header.Del("Sec-Fetch-Site") }, 403},
		{"climbing path", "GET", "/../server.go", nil, 404},
		{"climbing path, encoded", "GET", "/%2e%2e/%2e%2e/go.mod", nil, 404},
		{"climbing photograph", "GET", "/photo/..%2f..%2fgo.mod", nil, 404},
		{"backslashes", "GET", `/..%5c..%5cgo.mod`, nil, 404},
		{"wrong method", "GET", "/colours", nil, 405},
	} {
		status, head, _ := send(t, server, c.method, c.path, []byte(`{"text": "#7a8c5a"}`), c.change)
		if status != c.want {
			t.Errorf("%s: %d, want %d", c.name, status, c.want)
		}
		if got := head.Get("Content-Security-Policy"); got != policy {
			t.Errorf("%s: policy %q", c.name, got)
		}
		if head.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: types may be guessed", c.name)
		}
	}
}

// The policy lets nothing in from elsewhere and no inline code or style (CSP
// Level 3).
func TestPolicyIsStrict(t *testing.T) {
	for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"} {
		if !strings.Contains(policy, want) {
			t.Errorf("no %s", want)
		}
	}
	for _, no := range []string{"unsafe", "http:", "https:", "*"} {
		if strings.Contains(policy, no) {
			t.Errorf("allows %s", no)
		}
	}
}

func TestUploadsAreBounded(t *testing.T) {
	server := newServer(t)
	if status, _, _ := send(t, server, "POST", "/photo", make([]byte, mostUpload+1), nil); status != http.StatusRequestEntityTooLarge {
		t.Errorf("too many bytes: %d", status)
	}
	if status, _, _ := send(t, server, "POST", "/open", bytes.Repeat([]byte("#"), mostText+1), nil); status != http.StatusRequestEntityTooLarge {
		t.Errorf("too long a scene: %d", status)
	}
	// A few hundred bytes that claim to be 60000 by 60000 pixels.
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	bomb := b.Bytes()
	copy(bomb[16:], []byte{0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60})
	status, _, text := send(t, server, "POST", "/photo?name=wide.png", bomb, nil)
	if status != http.StatusUnprocessableEntity {
		t.Errorf("a picture of 3.6 gigapixels: %d %s", status, text)
	}
	// Names are only ever shown.
	status, _, text = send(t, server, "POST", "/photo?name=..%2f..%2fetc%2fmarsh.png", b.Bytes(), nil)
	if bytes.Contains(text, []byte("..")) {
		t.Errorf("%d %s", status, text)
	}
}

func TestWrongQuestionsGetOneLine(t *testing.T) {
	server := newServer(t)
	for path, body := range map[string]string{
		"/answer":    `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "no colour", "area": 1}]}}`,
		"/compare":   `{"scene": {}, "palettes": []}`,
		"/beside":    `{"scene": {"tolerance": 3}, "columns": ["else"]}`,
		"/box":       `{"put": ["no such tube"]}`,
		"/curve":     `{"scene": {"tolerance": -1}}`,
		"/colours":   `{"text": "mud = brownish"}`,
		"/mix":       `{"light": "D65", "colour": "lab(1 2 3)", "palette": ["no-such-tube"]}`,
		"/pile":      `{"light": "D65", "pile": []}`,
		"/got":       `{"light": "F4"}`,
		"/scenes":    `{"from": "demo", "unknown": 1}`,
		"/suggest":   `{"photos": [], "targets": 5}`,
		"/pick":      `{"photo": "gone"}`,
		"/string":    `{"light": "D65", "colour": "lab(40 4 12)", "palette": ["titanium-white"], "steps": 1000000}`,
		"/teach":     `{"pile": [{"tube": "titanium-white", "parts": 1}], "seen": "lab(40 4 12)", "by": "guess"}`,
		"/why":       `{"scene": {"tolerance": 3, "light": "D65", "targets": []}}`,
		"/sure":      `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "palette": ["no-such-tube"]}`,
		"/values":    `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "levels": 1000000}`,
		"/board":     `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "photo": "gone"}`,
		"/recession": `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "hue": "loud"}`,
		"/fit":       `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "palette": []}`,
		"/pack":      `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "size": [1e300, -4], "palette": ["titanium-white"]}`,
		"/handout":   `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "paper": "A0"}`,
		"/learn":     `{"scene": {"tolerance": 3, "light": "D65", "targets": [{"name": "a", "colour": "lab(40 4 12)", "area": 1}]}, "palette": ["titanium-white"], "paper": "A4"}`,
		"/open":      "format = 1\n[[target]]\nname = 3\n",
	} {
		status, head, text := send(t, server, "POST", path, []byte(body), nil)
		if status < 400 || status > 499 || len(text) == 0 || bytes.ContainsAny(text, "\n\r") || bytes.Contains(text, []byte("goroutine")) {
			t.Errorf("%s: %d %q", path, status, text)
		}
		if !strings.HasPrefix(head.Get("Content-Type"), "text/plain") {
			t.Errorf("%s: %s", path, head.Get("Content-Type"))
		}
	}
}

// marshScene is the demo's colours as the page asks about them.
const marshScene = `{"scene": {"title": "Ebb", "tolerance": 2, "light": "D65", "limits": {}, "photos": [], "targets": [
	{"name": "wet mud", "colour": "lab(38 4 9)", "area": 1}, {"name": "far shore", "colour": "lab(62 0.5 -9)", "area": 1},
	{"name": "samphire", "colour": "lab(38 34 18)", "area": 1}, {"name": "sunlit grass", "colour": "lab(62 -14 42)", "area": 1},
	{"name": "sky", "colour": "lab(73 -4 -17)", "area": 1}, {"name": "glare", "colour": "lab(92 1 5)", "area": 1}]}}`

// A reader who leaves ends the work: the place is free and no goroutine stays.
func TestLeavingEndsTheWork(t *testing.T) {
	before := runtime.NumGoroutine()
	server := newServer(t)
	for _, path := range []string{"/answer", "/curve"} {
		ctx, cancel := context.WithCancel(context.Background())
		r, err := http.NewRequestWithContext(ctx, http.MethodPost, server.URL+path, strings.NewReader(marshScene))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Origin", server.URL)
		left := make(chan struct{})
		go func() {
			defer close(left)
			got, err := http.DefaultClient.Do(r)
			if err == nil {
				_, _ = io.Copy(io.Discard, got.Body)
				got.Body.Close()
			}
		}()
		time.Sleep(150 * time.Millisecond)
		cancel()
		<-left
		// Another question about the same colours gets its answer: it waits for the
		// session the reader left, so this ends only when that work did.
		start := time.Now()
		status, _, text := send(t, server, "POST", "/compare", []byte(strings.TrimSuffix(marshScene, "}")+`, "palettes": [{"name": "a", "tubes": ["titanium-white"]}, {"name": "b", "tubes": ["ivory-black"]}]}`), nil)
		if status != 200 {
			t.Fatalf("%d %.200s", status, text)
		}
		t.Logf("%s left: free after %v", path, time.Since(start))
	}
	server.Close()
	http.DefaultClient.CloseIdleConnections()
	for end := time.Now().Add(20 * time.Second); runtime.NumGoroutine() > before; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			stacks := make([]byte, 1<<16)
			t.Fatalf("%d goroutines, %d before\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
	}
}

// Every page is fetched in sequence and in parallel (under -race in make race),
// and is the same each time.
func TestEveryPageInParallel(t *testing.T) {
	server := newServer(t)
	type page struct{ method, path, body string }
	pages := []page{
		{"GET", "/", ""}, {"GET", "/page.css", ""}, {"GET", "/report.css", ""}, {"GET", "/tubes", ""},
		{"GET", "/chart.pdf?paper=A4&palette=titanium-white,ivory-black", ""},
		{"POST", "/colours", `{"text": "mud = lab(38 4 9); #7a8c5a"}`},
		{"POST", "/mix", `{"light": "D65", "colour": "lab(45 3 8)", "palette": ["titanium-white", "ivory-black", "yellow-ochre"]}`},
		{"POST", "/pile", `{"light": "A", "pile": [{"tube": "ultramarine-blue", "parts": 3}, {"tube": "yellow-ochre", "parts": 1}]}`},
		{"POST", "/got", `{"light": "D50", "pile": [{"tube": "ultramarine-blue", "parts": 3}, {"tube": "yellow-ochre", "parts": 1}], "colour": "lab(40 4 12)", "palette": ["titanium-white", "burnt-sienna"]}`},
		{"POST", "/compare", strings.TrimSuffix(marshScene, "}") + `, "palettes": [{"name": "a", "tubes": ["titanium-white", "yellow-ochre"]}, {"name": "b", "tubes": ["ivory-black"]}]}`},
		{"GET", "/scenes", ""},
	}
	for _, path := range scripts(t) {
		pages = append(pages, page{"GET", path, ""})
	}
	first := make([][]byte, len(pages))
	for i, p := range pages {
		status, _, text := send(t, server, p.method, p.path, []byte(p.body), nil)
		if status != 200 || len(text) == 0 {
			t.Errorf("%s: %d %.200s", p.path, status, text)
		}
		first[i] = text
	}
	var all sync.WaitGroup
	for i, p := range pages {
		for range 2 {
			all.Go(func() {
				_, _, text := send(t, server, p.method, p.path, []byte(p.body), nil)
				if !bytes.Equal(text, first[i]) && !strings.HasPrefix(p.path, "/chart") {
					t.Errorf("%s: not the same again", p.path)
				}
			})
		}
	}
	all.Wait()
}

// scripts are the addresses of all of them.
func scripts(t testing.TB) (paths []string) {
	t.Helper()
	files, err := fs.Glob(static, "static/*.js")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, f := range files {
		paths = append(paths, strings.TrimPrefix(f, "static"))
	}
	return paths
}

// What the first visit loads, in bytes, pictures apart: the scripts of the places
// come when these are opened.
func TestFirstPageIsSmall(t *testing.T) {
	server := newServer(t)
	total := 0
	seen := map[string]bool{}
	var load func(path string)
	load = func(path string) {
		if seen[path] {
			return
		}
		seen[path] = true
		status, _, data := send(t, server, "GET", path, nil, nil)
		if total += len(data); status != http.StatusOK {
			t.Errorf("%s: %d", path, status)
		}
		for _, m := range regexp.MustCompile(`(?m)^import .* from "\.(/.*)";$`).FindAllSubmatch(data, -1) {
			load(string(m[1]))
		}
		for _, m := range regexp.MustCompile(`(?:href|src)="(/[^"]+\.(?:css|js|svg))"`).FindAllSubmatch(data, -1) {
			load(string(m[1]))
		}
	}
	load("/")
	load("/tubes")
	t.Logf("%d bytes of %d files", total, len(seen))
	if total > 180_000 { // of which the tubes take 42
		t.Errorf("%d bytes", total)
	}
}
