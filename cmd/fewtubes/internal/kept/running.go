package kept

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fewtubes/cmd/fewtubes/internal/infile"
)

const keyBytes = 32

// Key is the secret of this folder, made when first asked for: whoever has it may
// read the folder.
func (s *Store) Key() ([]byte, error) {
	path := filepath.Join(s.dir, "secret")
	for range 2 {
		text, err := infile.Read(path, 3*keyBytes)
		if err == nil {
			if key, bad := hex.DecodeString(strings.TrimSpace(string(text))); bad == nil && len(key) == keyBytes {
				return key, nil
			}
			err = os.Remove(path) // it was written by something else
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		key := make([]byte, keyBytes)
		_, _ = rand.Read(key) // which never fails
		if err := s.create(path, []byte(hex.EncodeToString(key)+"\n")); err == nil || !errors.Is(err, fs.ErrExist) {
			return key, err
		}
	}
	return nil, errors.New("the secret cannot be kept")
}

// Running is where the program said last that it serves this folder, or empty. It
// may have been killed since.
func (s *Store) Running() string {
	text, _ := infile.Read(filepath.Join(s.dir, "running"), 200)
	return strings.TrimSpace(string(text))
}

// Runs says where the program serves this folder; done takes that back.
func (s *Store) Runs(addr string) (done func(), err error) {
	path := filepath.Join(s.dir, "running")
	return func() {
		if s.Running() == addr {
			_ = os.Remove(path)
		}
	}, s.replace(path, []byte(addr+"\n"))
}
