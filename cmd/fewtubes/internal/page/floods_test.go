package page

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// occupy holds every place of the queue, so that what comes waits.
func (r *running) occupy() (release func()) {
	r.t.Helper()
	var held []func()
	for range computations {
		free, err := r.server.queue.enter(context.Background(), nil, nil)
		if err != nil {
			r.t.Fatal(err)
		}
		held = append(held, free)
	}
	return func() {
		for _, free := range held {
			free()
		}
	}
}

func (r *running) post(path, body string) string {
	return fmt.Sprintf("POST %s HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: %d\r\n\r\n%s", path, r.addr, r.addr, len(body), body)
}

// stream opens an answer and reads its first event.
func (r *running) stream() (conn net.Conn, in *bufio.Reader, first string) {
	r.t.Helper()
	conn, err := net.Dial("tcp", r.addr)
	if err != nil {
		r.t.Fatal(err)
	}
	r.t.Cleanup(func() { conn.Close() })
	_ = conn.SetDeadline(time.Now().Add(time.Minute))
	if _, err := io.WriteString(conn, r.post("/answer", marshScene)); err != nil {
		r.t.Fatal(err)
	}
	in = bufio.NewReader(conn)
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			r.t.Fatalf("%v after %q", err, line)
		}
		if strings.HasPrefix(line, "HTTP/1.1 5") || strings.HasPrefix(line, "event: ") {
			return conn, in, strings.TrimSpace(line)
		}
	}
}

// A flood of streams fills its own bound and nothing else; who leaves makes room
// and leaves the queue at once.
func TestStreamFlood(t *testing.T) {
	r := run(t)
	free := r.occupy()
	var all []net.Conn
	for i := range mostStreams {
		conn, _, first := r.stream()
		if first != "event: queue" {
			t.Fatalf("stream %d: %s", i, first)
		}
		all = append(all, conn)
	}
	got, text := r.raw(r.post("/answer", marshScene))
	if got.StatusCode != http.StatusServiceUnavailable || got.Header.Get("Retry-After") == "" {
		t.Errorf("one more stream: %d %q %s", got.StatusCode, got.Header.Get("Retry-After"), text)
	}
	if got, _ := r.get(r.addr, "/tubes"); got.StatusCode != http.StatusOK {
		t.Errorf("the page itself: %d", got.StatusCode)
	}
	for _, conn := range all {
		conn.Close()
	}
	start := time.Now()
	settle(t, r.server.queue, computations, 0)
	t.Logf("%d who left were out of the queue after %v", len(all), time.Since(start))
	if _, _, first := r.stream(); first != "event: queue" {
		t.Errorf("after the flood: %s", first)
	}
	free()
}

// Beyond the queue's bound whatever asks for a computation is told to come back.
func TestQueueFlood(t *testing.T) {
	r := run(t)
	free := r.occupy()
	defer free()
	question := r.post("/pile", `{"light": "A", "pile": [{"tube": "ultramarine-blue", "parts": 3}]}`)
	for range mostWaiting {
		conn, err := net.Dial("tcp", r.addr)
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if _, err := io.WriteString(conn, question); err != nil {
			t.Fatal(err)
		}
	}
	settle(t, r.server.queue, computations, mostWaiting)
	for _, text := range []string{question, r.post("/answer", marshScene), r.post("/curve", marshScene), r.post("/photo?name=x.png", "x"),
		"GET /chart.pdf?paper=A4&palette=titanium-white,ivory-black HTTP/1.1\r\nHost: " + r.addr + "\r\n\r\n"} {
		got, body := r.raw(text)
		if got.StatusCode != http.StatusServiceUnavailable || got.Header.Get("Retry-After") == "" {
			t.Errorf("%.20q: %d %s", text, got.StatusCode, body)
		}
	}
}

// Who sends slowly is cut off, and a large photograph that comes steadily is not.
// They all send at once, since none keeps a processor busy.
func TestSlowSenders(t *testing.T) {
	t.Parallel()
	r := run(t)
	const slack = 10 * time.Second // the machine may be busy
	var senders sync.WaitGroup
	for name, begin := range map[string]string{
		"head":                      "POST /colours HTTP/1.1\r\nHost: " + r.addr + "\r\nX-Slow: ",
		"body":                      "POST /photo HTTP/1.1\r\nHost: " + r.addr + "\r\nOrigin: http://" + r.addr + "\r\nContent-Length: 1000000\r\n\r\nx",
		"body of a refused request": "POST /photo HTTP/1.1\r\nHost: " + r.addr + "\r\nContent-Length: 1000\r\n\r\nx",
		"chunk":                     "POST /colours HTTP/1.1\r\nHost: " + r.addr + "\r\nOrigin: http://" + r.addr + "\r\nTransfer-Encoding: chunked\r\n\r\n5\r\n{",
	} {
		senders.Go(func() {
			conn, err := net.Dial("tcp", r.addr)
			if err != nil {
				t.Error(err)
				return
			}
			defer conn.Close()
			start := time.Now()
			_ = conn.SetDeadline(start.Add(time.Minute))
			if _, err := io.WriteString(conn, begin); err != nil {
				t.Error(err)
				return
			}
			got, _ := io.ReadAll(conn) // until the page hangs up
			if d := time.Since(start); d > bodyPause+slack {
				t.Errorf("%s: held for %v", name, d)
			}
			t.Logf("%s: cut off after %v: %.40q", name, time.Since(start).Round(time.Millisecond), got)
			if (name == "body" || name == "chunk") && !strings.HasPrefix(string(got), "HTTP/1.1 408 ") {
				t.Errorf("%s: %.60q", name, got)
			}
		})
	}
	senders.Go(func() {
		conn, err := net.Dial("tcp", r.addr)
		if err != nil {
			t.Error(err)
			return
		}
		defer conn.Close()
		_ = conn.SetDeadline(time.Now().Add(2 * time.Minute))
		const part, parts = 1 << 20, 60
		fmt.Fprintf(conn, "POST /photo HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Length: %d\r\n\r\n", r.addr, r.addr, part*parts)
		for range parts {
			if _, err := conn.Write(make([]byte, part)); err != nil {
				t.Errorf("steady: %v", err)
				return
			}
			time.Sleep(120 * time.Millisecond) // longer in all than a pause may be
		}
		got, err := http.ReadResponse(bufio.NewReader(conn), nil)
		if err != nil || got.StatusCode != http.StatusUnprocessableEntity { // it is no picture, but it came in whole
			t.Errorf("steady: %v %v", got, err)
		}
	})
	senders.Wait()
}

// Who does not take what is written is cut off, too, and who waits long for an
// answer is not: the read deadline must not outlive the body.
func TestSlowReadersAndLongAnswers(t *testing.T) {
	t.Parallel()
	server := httptest.NewServer(paced(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		_, _ = io.ReadAll(r.Body)
		if r.URL.Path == "/long" {
			time.Sleep(bodyPause + time.Second)
			fmt.Fprint(w, r.Context().Err())
			return
		}
		start := time.Now()
		for range 1000 {
			if _, err := w.Write(make([]byte, 1<<20)); err != nil {
				t.Logf("gave up after %v", time.Since(start).Round(time.Millisecond))
				return
			}
		}
		t.Error("wrote a gigabyte to who does not read")
	})))
	defer server.Close()
	conn, err := net.Dial("tcp", server.Listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprint(conn, "GET /much HTTP/1.1\r\nHost: x\r\n\r\n")
	got, err := http.Post(server.URL+"/long", "application/json", strings.NewReader("{}"))
	if err != nil {
		t.Fatal(err)
	}
	defer got.Body.Close()
	if text, _ := io.ReadAll(got.Body); string(text) != "<nil>" {
		t.Errorf("a long answer ended with %s", text)
	}
}

// Too large a head is 431, too large a body 413, on every route that takes one.
func TestOversize(t *testing.T) {
	r := run(t)
	got, _ := r.raw("GET / HTTP/1.1\r\nHost: " + r.addr + "\r\nX-Large: " + strings.Repeat("x", mostHead+8<<10) + "\r\n\r\n")
	if got.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("head: %d", got.StatusCode)
	}
	got, _ = r.raw("GET /" + strings.Repeat("x", mostHead+8<<10) + " HTTP/1.1\r\nHost: " + r.addr + "\r\n\r\n")
	if got.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("address: %d", got.StatusCode)
	}
	bodiless := []string{"/scenes/x/copy", "/scenes/x/remove", "/scenes/x/restore", "/scenes/x/forget"}
	for _, route := range postRoutes {
		if slices.Contains(bodiless, route) {
			continue
		}
		size := mostText
		if route == "/photo" {
			size = mostUpload
		}
		if got, text := r.raw(r.post(route, `{"`+strings.Repeat("x", size))); got.StatusCode != http.StatusRequestEntityTooLarge {
			t.Errorf("%s: %d %.80s", route, got.StatusCode, text)
		}
	}
}

// So many connections at once, and the next waits until one of them closes.
func TestConnectionsAreBounded(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	bounded := newBounded(listener, 2)
	var open []net.Conn
	for range 3 {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
	}
	for range 2 {
		conn, err := bounded.Accept()
		if err != nil {
			t.Fatal(err)
		}
		open = append(open, conn)
	}
	third := make(chan error, 1)
	go func() { _, err := bounded.Accept(); third <- err }()
	select {
	case err := <-third:
		t.Fatalf("a third connection: %v", err)
	case <-time.After(50 * time.Millisecond):
	}
	open[0].Close()
	open[0].Close() // counts once
	if err := <-third; err != nil {
		t.Fatal(err)
	}
	go func() { _, err := bounded.Accept(); third <- err }()
	bounded.Close()
	if err := <-third; err == nil {
		t.Error("accepted after closing")
	}
}

// An interrupt ends everything within a second: who waits, who is being
// answered and who is idle; the streams are told.
func TestStopTellsStreams(t *testing.T) {
	r := run(t)
	idle, err := net.Dial("tcp", r.addr)
	if err != nil {
		t.Fatal(err)
	}
	defer idle.Close()
	_, running, first := r.stream()
	free := r.occupy() // after the first stream's answer, or beside it
	_, waiting, second := r.stream()
	if second != "event: queue" {
		t.Errorf("%s, then %s", first, second)
	}
	start := time.Now()
	r.stop()
	for _, in := range []*bufio.Reader{waiting, running} {
		text, _ := io.ReadAll(in)
		if !strings.Contains(string(text), "event: stopped\ndata: ") && !strings.Contains(string(text), "event: lessons\n") {
			t.Errorf("%.300q", text)
		}
	}
	if err := <-r.ended; err != nil {
		t.Error(err)
	}
	d := time.Since(start)
	t.Logf("stopped in %v", d)
	if d > 2*time.Second { // a second is promised; the machine may be busy
		t.Errorf("stopping took %v", d)
	}
	free()
	settle(t, r.server.queue, 0, 0)
}
