package main

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// On a disk that is full nothing is half written: one line says so, the scene stays
// as it was, and goes on when there is room.
func TestServeOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=2m"); err != nil {
		t.Skip("no small disk can be made here: ", err)
	}
	defer func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Error(err)
		}
	}()
	s := serves(t, dir)
	var made struct{ ID string }
	decode(t, s.text("POST", "/scenes", `{"from": "demo"}`), &made)
	before := s.text("GET", "/scenes/"+made.ID, "")
	var doc struct{ Scene map[string]any }
	decode(t, before, &doc)

	ballast := filepath.Join(dir, "ballast")
	f, err := os.Create(ballast)
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []int{1 << 16, 1 << 10, 1} { // until not a byte goes in
		for err = nil; err == nil; {
			_, err = f.Write(make([]byte, size))
		}
	}
	f.Close()

	doc.Scene["title"] = "Neap"
	body, err := json.Marshal(map[string]any{"base": 1, "act": "named it", "scene": doc.Scene})
	if err != nil {
		t.Fatal(err)
	}
	for path, question := range map[string][2]string{
		"/scenes/" + made.ID:                 {"PUT", string(body)},
		"/scenes":                            {"POST", `{"from": "demo"}`},
		"/photo?name=a.jpg&scene=" + made.ID: {"POST", string(read(t, "../../testdata/salt-marsh/close.jpg")) + "another"},
		"/open?name=a.toml":                  {"POST", "format = 1\n[[target]]\nname = 'a'\ncolour = '#7a8c5a'\n"},
	} {
		got, err := s.send(question[0], path, question[1])
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(got.Body)
		got.Body.Close()
		if got.StatusCode != http.StatusInsufficientStorage || bytes.ContainsAny(text, "\n") || !strings.Contains(string(text), "make room on the disk") || strings.Contains(string(text), dir) {
			t.Errorf("%s: %s %s", path, got.Status, text)
		}
	}
	if after := s.text("GET", "/scenes/"+made.ID, ""); after != before {
		t.Error("the scene is another")
	}
	if scenes, _ := filepath.Glob(filepath.Join(dir, "scenes", "*")); len(scenes) != 1 {
		t.Error(scenes)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	s.text("PUT", "/scenes/"+made.ID, string(body))
	if err := s.ends(os.Interrupt); err != nil {
		t.Error(err)
	}
	left, _ := filepath.Glob(filepath.Join(dir, "scenes", "*", ".fewtubes-*"))
	if len(left) != 0 {
		t.Error(left)
	}
}
