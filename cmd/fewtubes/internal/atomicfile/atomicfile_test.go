package atomicfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWriteReplacesWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "scene.toml")
	for _, text := range []string{"first, long text", "second"} {
		if err := WriteBytes(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, _ := os.ReadFile(path); string(got) != text {
			t.Errorf("read %q, wrote %q", got, text)
		}
	}
	onlyFile(t, path)
}

func TestWriteFailureKeepsTheOld(t *testing.T) {
	path := filepath.Join(t.TempDir(), "scene.toml")
	if err := WriteBytes(path, []byte("old")); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("broken half way")
	err := Write(path, func(w io.Writer) error {
		io.WriteString(w, "half of the new")
		return broken
	})
	if !errors.Is(err, broken) {
		t.Errorf("error %v, want %v", err, broken)
	}
	if got, _ := os.ReadFile(path); string(got) != "old" {
		t.Errorf("the old file now reads %q", got)
	}
	onlyFile(t, path)
}

func TestWriteKeepsModeAndFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "scene.toml"), filepath.Join(t.TempDir(), "link.toml")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	if err := WriteBytes(link, []byte("through the link")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 || info.Size() == 0 {
		t.Errorf("after writing: %v, %v", info, err)
	}
	if info, _ := os.Lstat(link); info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
}

func TestWriteRefusals(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ path, says string }{
		{dir, "is a folder"},
		{filepath.Join(dir, "none", "x.html"), "no such file"},
	} {
		err := WriteBytes(c.path, []byte("x"))
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), ".fewtubes-") {
			t.Errorf("%s: error %v, want it to say %q", c.path, err, c.says)
		}
	}
}

func TestWriteToDevice(t *testing.T) {
	if _, err := os.Stat("/dev/null"); err != nil {
		t.Skip("no /dev/null here")
	}
	if err := WriteBytes("/dev/null", []byte("gone")); err != nil {
		t.Error(err)
	}
}

func onlyFile(t *testing.T, path string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != 1 {
		t.Errorf("left in the folder: %v, %v", entries, err)
	}
}
