//go:build unix

package main

import (
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
)

// A plain request, of this account or another, gets nothing but how to start; the
// start's links open to the account that started it alone.
func TestOthersGetNothing(t *testing.T) {
	s := serves(t, t.TempDir())
	var made struct{ ID string }
	decode(t, s.text("POST", "/scenes", `{"from": "demo"}`), &made)
	for _, path := range []string{"/", "/s/" + made.ID, "/scenes", "/scenes/" + made.ID, "/scenes/" + made.ID + "/follow", "/tubes", "/box", "/main.js", "/page.css",
		"/thumb/0", "/photo/0", "/none", "/start/x", "/start/1.2.3"} {
		if status, text := s.get(&http.Client{}, s.url+path); status != http.StatusForbidden || !strings.Contains(text, "start fewtubes") || strings.Contains(text, "marsh") {
			t.Errorf("%s: %d %s", path, status, text)
		}
	}
	const other = 65534 // nobody, by custom
	bash, err := exec.LookPath("bash")
	if os.Getuid() != 0 || err != nil {
		t.Skip("only root can ask as another account")
	}
	port := s.url[strings.LastIndex(s.url, ":")+1:]
	for _, path := range []string{"/", "/scenes", strings.TrimPrefix(s.link, s.url)} {
		cmd := exec.CommandContext(t.Context(), bash, "-c", fmt.Sprintf(`exec 3<>/dev/tcp/127.0.0.1/%s; printf 'GET %s HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n' >&3; cat <&3`, port, path))
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: other, Gid: other}}
		cmd.Dir = "/"
		text, err := cmd.Output()
		if err != nil || !strings.HasPrefix(string(text), "HTTP/1.1 403") || strings.Contains(string(text), "Set-Cookie") {
			t.Errorf("%s: %v %s", path, err, text)
		}
	}
	s.opened(s.link) // which still opens to us
	if err := s.ends(os.Interrupt); err != nil {
		t.Error(err)
	}
}
