package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// Archives hold the same bytes whatever the order they are given their files in, and
// the tools of the system (GNU tar, Info-ZIP) read names, modes, times and contents
// back.
func TestArchives(t *testing.T) {
	at := time.Date(2026, 2, 3, 4, 5, 6, 0, time.UTC)
	entries := []entry{
		{"a-1/program", 0o755, []byte("runs")},
		{"a-1/man/man1/a.1", 0o644, bytes.Repeat([]byte("page "), 9999)},
		{"a-1/empty.txt", 0o644, nil},
	}
	turned := slices.Clone(entries)
	slices.Reverse(turned)
	for name, kind := range map[string]struct {
		pack   func([]entry, time.Time) ([]byte, error)
		unpack []string
	}{
		"a.tar.gz": {tarGzip, []string{"tar", "-xzpf"}},
		"a.zip":    {zipped, []string{"unzip", "-q"}},
	} {
		data, err := kind.pack(entries, at)
		if err != nil {
			t.Fatal(err)
		}
		again, err := kind.pack(turned, at.In(time.FixedZone("far", 9*3600)))
		if err != nil || !bytes.Equal(data, again) {
			t.Errorf("%s: the same files in another order give other bytes, %v", name, err)
		}
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := exec.LookPath(kind.unpack[0]); err != nil {
			t.Logf("no %s here to read %s with", kind.unpack[0], name)
			continue
		}
		cmd := exec.Command(kind.unpack[0], append(kind.unpack[1:], name)...)
		cmd.Dir, cmd.Env = folder, append(os.Environ(), "TZ=UTC", "LC_ALL=C.UTF-8")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", cmd.Args, err, out)
		}
		for _, e := range entries {
			path := filepath.Join(folder, e.name)
			got, err := os.ReadFile(path)
			if err != nil || !bytes.Equal(got, e.data) {
				t.Errorf("%s in %s: %d bytes, %v", e.name, name, len(got), err)
				continue
			}
			info, err := os.Stat(path)
			if err != nil || info.Mode().Perm() != e.mode || info.ModTime().Unix() != at.Unix() {
				t.Errorf("%s in %s: %v, %v, %v", e.name, name, info.Mode(), info.ModTime(), err)
			}
		}
	}
}
