// Package atomicfile writes a file whole or not at all.
package atomicfile

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Write fills path from write. The bytes go to a temporary file in the same
// folder, are synced to disk and take the name path by a rename, so a reader
// sees the old file or the new one and never a part. An existing file keeps
// its permissions, a symbolic link is followed to the file it names, and a
// device or pipe is written to directly. On an error nothing is left behind.
func Write(path string, write func(io.Writer) error) error {
	target, mode, err := resolve(path)
	if err != nil {
		return err
	}
	if mode.IsDir() {
		return &os.PathError{Op: "write", Path: path, Err: errors.New("is a folder")}
	}
	if !mode.IsRegular() {
		return writeThrough(target, write)
	}
	tmp, err := os.CreateTemp(filepath.Dir(target), ".fewtubes-*")
	if err != nil {
		return &os.PathError{Op: "write", Path: path, Err: cause(err)}
	}
	defer os.Remove(tmp.Name()) // nothing to remove once renamed
	if err := fill(tmp, mode, write); err != nil {
		return err
	}
	if err := os.Rename(tmp.Name(), target); err != nil {
		return &os.PathError{Op: "write", Path: path, Err: cause(err)}
	}
	syncFolder(filepath.Dir(target))
	return nil
}

// WriteBytes is Write for contents that are already at hand.
func WriteBytes(path string, data []byte) error {
	return Write(path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// resolve follows links and finds the mode the file has, or will have.
func resolve(path string) (string, os.FileMode, error) {
	const fresh = 0o644
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return path, fresh, nil
	case err != nil:
		return "", 0, err
	}
	target, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", 0, fmt.Errorf("write %s: %w", path, err)
	}
	return target, info.Mode(), nil
}

func fill(tmp *os.File, mode os.FileMode, write func(io.Writer) error) error {
	err := write(tmp)
	if err == nil {
		err = tmp.Chmod(mode.Perm())
	}
	if err == nil {
		err = tmp.Sync()
	}
	return errors.Join(err, tmp.Close())
}

func writeThrough(path string, write func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(write(f), f.Close())
}

// syncFolder makes the rename last through a power cut where the system can;
// some file systems refuse to sync a folder, and the data itself is safe.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

// cause drops the temporary name from an error, which would mean nothing to
// the reader.
func cause(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}
