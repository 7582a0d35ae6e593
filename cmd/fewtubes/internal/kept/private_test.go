//go:build unix

package kept

import (
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// No other account may look in.
func TestPermissions(t *testing.T) {
	old := syscall.Umask(0)
	defer syscall.Umask(old)
	dir := filepath.Join(t.TempDir(), "data")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	s := open(t, dir)
	id := create(t, s, "a")
	if err := s.KeepPhoto(id, "0123456789abcdef", "a.jpg", []byte("a"), []byte("b")); err != nil {
		t.Fatal(err)
	}
	s.Opened(id)
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		want := fs.FileMode(0o600)
		if d.IsDir() {
			want = 0o700
		}
		if err == nil && info.Mode().Perm() != want {
			t.Errorf("%s: %v", p, info.Mode())
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}
