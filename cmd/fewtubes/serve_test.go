package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"
)

// serve prints its address first, answers there, and ends cleanly in the middle
// of an answer, whose stream is told, when it is interrupted or asked to end.
func TestServe(t *testing.T) {
	for _, end := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		t.Run(end.String(), func(t *testing.T) { servesUntil(t, end) })
	}
}

func servesUntil(t *testing.T, end os.Signal) {
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	run := exec.CommandContext(ctx, "fewtubes", "serve", "--no-open", "--scenes", t.TempDir())
	out, err := run.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || !strings.HasPrefix(line, "http://127.0.0.1:") {
		t.Fatalf("%q %v", line, err)
	}
	got, err := http.Get(strings.TrimSpace(line))
	if err != nil {
		t.Fatal(err)
	}
	got.Body.Close()
	if got.StatusCode != http.StatusOK {
		t.Error(got.Status)
	}
	answer := asks(t, strings.TrimSuffix(strings.TrimSpace(line), "/"))
	start := time.Now()
	if err := run.Process.Signal(end); err != nil {
		t.Fatal(err)
	}
	text, _ := io.ReadAll(answer)
	if !strings.Contains(string(text), "event: stopped\n") {
		t.Errorf("the stream ended with %.300q", text)
	}
	if err := run.Wait(); err != nil {
		t.Errorf("after it: %v", err)
	}
	d := time.Since(start)
	t.Logf("ended after %v", d)
	if d > 3*time.Second { // a second is promised; the machine may be busy
		t.Errorf("it took %v to end", d)
	}
}

// asks opens an answer that takes a while and reads its first byte.
func asks(t *testing.T, url string) io.Reader {
	t.Helper()
	var targets []string
	for i := range 60 {
		targets = append(targets, fmt.Sprintf(`{"name": "note %d", "colour": "lab(%d %d %d)", "area": 1}`, i, 25+i, i%23-11, i%31-15))
	}
	body := `{"scene": {"tolerance": 1.5, "light": "D65", "targets": [` + strings.Join(targets, ",") + `]}}`
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, url+"/answer", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Origin", url)
	got, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { got.Body.Close() })
	in := bufio.NewReader(got.Body)
	if _, err := in.Peek(1); got.StatusCode != http.StatusOK || err != nil {
		t.Fatal(got.Status, err)
	}
	return in
}

// However an address of every network is written, it is not listened at; where
// the system does not know the spelling it is refused as well.
func TestListensToOneNetwork(t *testing.T) {
	for _, addr := range []string{":0", "0.0.0.0:0", "[::]:0", "[0:0::0]:0", "[::%lo]:0", "[::%1]:0", "[::ffff:0.0.0.0]:0", "0:0", "0x0.0:0", "000.0.0.0:0"} {
		l, _, err := listen(t.Context(), addr)
		if err == nil {
			l.Close()
			t.Errorf("%s: listens at %s", addr, l.Addr())
		}
	}
	l, host, err := listen(t.Context(), "127.0.0.1:0")
	if err != nil || host != "127.0.0.1" {
		t.Fatal(host, err)
	}
	l.Close()
}
