package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// served is the program as a painter starts it, and a browser that its link opened.
type served struct {
	*testing.T
	run    *exec.Cmd
	link   string // that opens the page
	url    string // without what is secret
	said   *bytes.Buffer
	client *http.Client
}

// serves starts the program over a folder of scenes.
func serves(t *testing.T, dir string, args ...string) *served {
	t.Helper()
	s := &served{T: t, said: &bytes.Buffer{}}
	s.run = exec.CommandContext(t.Context(), "fewtubes", append([]string{"serve", "--no-open", "--scenes", dir}, args...)...)
	s.run.Stderr = s.said
	out, err := s.run.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.run.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	s.link = strings.TrimSpace(line)
	url, _, ok := strings.Cut(s.link, "/start/")
	if s.url = url; err != nil || !ok || !strings.HasPrefix(url, "http://127.0.0.1:") {
		t.Fatalf("%q %v %s", line, err, s.said)
	}
	s.client = s.opened(s.link)
	return s
}

// opened is a browser that opened a link.
func (s *served) opened(link string) *http.Client {
	s.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.Fatal(err)
	}
	client := &http.Client{Jar: jar}
	if status, text := s.get(client, link); status != http.StatusOK || !strings.Contains(text, "<title>fewtubes</title>") {
		s.Errorf("%d %.100s", status, text)
	}
	return client
}

func (s *served) get(client *http.Client, url string) (int, string) {
	s.Helper()
	got, err := client.Get(url)
	if err != nil {
		s.Fatal(err)
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	if err != nil {
		s.Error(err)
	}
	return got.StatusCode, string(text)
}

// send asks as the page does.
func (s *served) send(method, path, body string) (*http.Response, error) {
	r, err := http.NewRequestWithContext(s.Context(), method, s.url+path, strings.NewReader(body))
	if err != nil {
		s.Fatal(err)
	}
	r.Header.Set("Origin", s.url)
	return s.client.Do(r)
}

func (s *served) text(method, path, body string) string {
	s.Helper()
	got, err := s.send(method, path, body)
	if err != nil {
		s.Fatal(err)
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	if err != nil || got.StatusCode != http.StatusOK {
		s.Errorf("%s %s: %s %.200s %v", method, path, got.Status, text, err)
	}
	return string(text)
}

func (s *served) ends(by os.Signal) error {
	s.Helper()
	if err := s.run.Process.Signal(by); err != nil {
		s.Error(err)
	}
	return s.run.Wait()
}

// serve prints its link first, answers there, and ends cleanly in the middle of an
// answer, whose stream is told, when it is interrupted or asked to end.
func TestServe(t *testing.T) {
	for _, end := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		t.Run(end.String(), func(t *testing.T) { servesUntil(t, end) })
	}
}

func servesUntil(t *testing.T, end os.Signal) {
	s := serves(t, t.TempDir())
	answer := s.asks()
	start := time.Now()
	if err := s.run.Process.Signal(end); err != nil {
		t.Fatal(err)
	}
	text, _ := io.ReadAll(answer)
	if !strings.Contains(string(text), "event: stopped\n") {
		t.Errorf("the stream ended with %.300q", text)
	}
	if err := s.run.Wait(); err != nil {
		t.Errorf("after it: %v", err)
	}
	d := time.Since(start)
	t.Logf("ended after %v", d)
	if d > 3*time.Second { // a second is promised; the machine may be busy
		t.Errorf("it took %v to end", d)
	}
}

// asks opens an answer that takes a while and reads its first byte.
func (s *served) asks() io.Reader {
	s.Helper()
	var targets []string
	for i := range 60 {
		targets = append(targets, fmt.Sprintf(`{"name": "note %d", "colour": "lab(%d %d %d)", "area": 1}`, i, 25+i, i%23-11, i%31-15))
	}
	got, err := s.send("POST", "/answer", `{"scene": {"tolerance": 1.5, "light": "D65", "targets": [`+strings.Join(targets, ",")+`]}}`)
	if err != nil {
		s.Fatal(err)
	}
	s.Cleanup(func() { got.Body.Close() })
	in := bufio.NewReader(got.Body)
	if _, err := in.Peek(1); got.StatusCode != http.StatusOK || err != nil {
		s.Fatal(got.Status, err)
	}
	return in
}

// Killed in the middle of acts and started again, the program has every act that it
// said was kept, the photographs and what can be taken back; the browser that knew
// the page still does.
func TestServeIsKilledAndStartedAgain(t *testing.T) {
	dir := t.TempDir()
	s := serves(t, dir)
	var made struct{ ID string }
	decode(t, s.text("POST", "/scenes", `{"from": "demo"}`), &made)
	random := rand.New(rand.NewPCG(5, 0))
	for range 5 {
		var doc struct {
			Revision int
			Scene    map[string]any
		}
		decode(t, s.text("GET", "/scenes/"+made.ID, ""), &doc)
		said := doc.Revision // the newest revision that the program said was kept
		killed := make(chan struct{})
		time.AfterFunc(time.Duration(50+random.IntN(400))*time.Millisecond, func() {
			defer close(killed)
			_ = s.run.Process.Kill()
		})
		for err := error(nil); err == nil; {
			doc.Scene["title"] = fmt.Sprint("Tide ", said+1)
			body, bad := json.Marshal(map[string]any{"base": said, "act": fmt.Sprint("tide ", said+1), "scene": doc.Scene})
			if bad != nil {
				t.Fatal(bad)
			}
			var got *http.Response
			if got, err = s.send("PUT", "/scenes/"+made.ID, string(body)); err == nil {
				if got.StatusCode == http.StatusOK {
					said++
				}
				got.Body.Close()
			}
		}
		<-killed
		_ = s.run.Wait()
		old := s
		s = serves(t, dir)
		if s.url == old.url { // another program may have taken the port meanwhile
			if status, _ := s.get(old.client, s.url); status != http.StatusOK {
				t.Errorf("the browser of yesterday: %d", status)
			}
		}
		var now struct {
			Revision int
			Scene    struct {
				Title   string
				Targets []any
				Photos  []struct{ ID string }
			}
			Undo string
		}
		decode(t, s.text("GET", "/scenes/"+made.ID, ""), &now)
		t.Logf("killed after revision %d was kept, found %d", said, now.Revision)
		if now.Revision < said || now.Revision > said+1 || now.Revision > 1 && (now.Scene.Title != fmt.Sprint("Tide ", now.Revision) || now.Undo != fmt.Sprint("tide ", now.Revision)) ||
			len(now.Scene.Targets) != 24 {
			t.Errorf("%d was kept; found %d, %q, take back %q, %d colours", said, now.Revision, now.Scene.Title, now.Undo, len(now.Scene.Targets))
		}
		for _, p := range now.Scene.Photos {
			s.text("GET", "/photo/"+p.ID, "")
		}
	}
	if err := s.ends(os.Interrupt); err != nil {
		t.Error(err)
	}
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatalf("%.200s: %v", text, err)
	}
}

// A second start opens the page that runs, by a link of its own that opens once, and
// ends. One with an address, or over other scenes, starts its own.
func TestSecondStart(t *testing.T) {
	dir := t.TempDir()
	first := serves(t, dir)
	second := serves(t, dir)
	if err := second.run.Wait(); err != nil || second.url != first.url || !strings.Contains(second.said.String(), "runs already") {
		t.Errorf("%v, at %s instead of %s: %s", err, second.url, first.url, second.said)
	}
	if status, _ := second.get(&http.Client{}, second.link); status != http.StatusForbidden {
		t.Errorf("a ticket opens twice: %d", status)
	}
	for _, own := range []*served{serves(t, dir, "--addr", "127.0.0.1:0"), serves(t, t.TempDir())} {
		if own.url == first.url {
			t.Error("it is the same page")
		}
		if err := own.ends(os.Interrupt); err != nil {
			t.Error(err)
		}
	}
	if err := first.ends(os.Interrupt); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "running")); err == nil {
		t.Error("it says that it runs")
	}
}

// Where another program has the port, the next free one is taken and said.
func TestPortIsTaken(t *testing.T) {
	if at, err := listen(t.Context(), fmt.Sprintf("127.0.0.1:%d", usualPort)); err == nil {
		defer at.Close() // otherwise somebody has it already
	}
	s := serves(t, t.TempDir())
	port := s.url[strings.LastIndex(s.url, ":")+1:]
	if err := s.ends(os.Interrupt); err != nil {
		t.Error(err)
	}
	if want := fmt.Sprintf("port %d is taken by another program; the page is at port %s", usualPort, port); !strings.Contains(s.said.String(), want) {
		t.Errorf("%s", s.said)
	}
}

// However an address of every network is written, it is not listened at; where
// the system does not know the spelling it is refused as well.
func TestListensToOneNetwork(t *testing.T) {
	for _, addr := range []string{":0", "0.0.0.0:0", "[::]:0", "[0:0::0]:0", "[::%lo]:0", "[::%1]:0", "[::ffff:0.0.0.0]:0", "0:0", "0x0.0:0", "000.0.0.0:0"} {
		at, err := listen(t.Context(), addr)
		if err == nil {
			at.Close()
			t.Errorf("%s: listens at %s", addr, at.Addr())
		}
	}
	at, err := listen(t.Context(), "127.0.0.1:0")
	if err != nil || at.host != "127.0.0.1" {
		t.Fatal(at, err)
	}
	at.Close()
}
