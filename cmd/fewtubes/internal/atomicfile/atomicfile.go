// Package atomicfile writes a file, or a folder of files, whole or not at all.
//
// The bytes go to a temporary file in the same folder, are synced to disk and
// then take the name, so that a reader sees the old file or the new one and
// never a part, whenever the writer is killed. A file that exists keeps its
// permissions, but not its owner, access lists and hard links: it is another
// file under its name. A symbolic link is followed to the file it names. What a
// killed writer leaves behind is named .fewtubes-NUMBER.part, is never read,
// and is removed by a later write once it is old.
package atomicfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// Create writes a new file. Where the name is taken, even by another process
// in the meantime, the error wraps fs.ErrExist and that file stays as it is.
// Errors are *fs.PathError with the path as given.
func Create(path string, data []byte) error { return put(path, data, false, open) }

// Replace writes a file in the place of one that may exist. Errors are as of
// Create.
func Replace(path string, data []byte) error { return put(path, data, true, open) }

// CreatePrivate is Create of a file that no other account may read.
func CreatePrivate(path string, data []byte) error { return put(path, data, false, private) }

// ReplacePrivate is Replace of a file that, where it is new, no other account may read.
func ReplacePrivate(path string, data []byte) error { return put(path, data, true, private) }

// Permissions of new files, less what the umask takes.
const (
	open    fs.FileMode = 0o666
	private fs.FileMode = 0o600
)

// Check tells whether a write would be refused, before the work that gives the
// bytes is done. It tries the folder by a temporary file.
func Check(path string, replace bool) error {
	p, err := find(path, replace)
	if err == nil && !p.stream {
		var tmp *os.File
		if tmp, err = temporary(p); err == nil {
			err = errors.Join(tmp.Close(), os.Remove(tmp.Name()))
		}
	}
	return named(path, err)
}

func put(path string, data []byte, replace bool, perm fs.FileMode) error {
	p, err := find(path, replace)
	if !p.exists {
		p.perm = perm
	}
	switch {
	case err != nil:
	case p.stream:
		err = writeThrough(p.file, data)
	default:
		err = writeWhole(p, data, replace)
	}
	return named(path, err)
}

func writeWhole(p place, data []byte, replace bool) error {
	tmp, err := temporary(p)
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // nothing to remove once it has its name
	sweep(tmp)
	if err := fill(tmp, p, data); err != nil {
		return err
	}
	take := claim
	if replace {
		take = os.Rename
	}
	if err := take(tmp.Name(), p.file); err != nil {
		return err
	}
	syncFolder(filepath.Dir(p.file))
	return nil
}

func fill(tmp *os.File, p place, data []byte) error {
	_, err := tmp.Write(data)
	if err == nil && p.exists {
		err = tmp.Chmod(p.perm)
	}
	if err == nil {
		err = tmp.Sync()
	}
	return errors.Join(err, tmp.Close())
}

func writeThrough(path string, data []byte) error {
	f, err := openStream(path)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// openStream does not wait for a pipe to find a reader: Linux opens anew what a
// name such as /dev/fd/3 stands for, where others only copy what is open.
func openStream(path string) (*os.File, error) {
	flags := os.O_WRONLY
	if runtime.GOOS == "linux" {
		flags |= syscall.O_NONBLOCK
	}
	f, err := os.OpenFile(path, flags, 0)
	if errors.Is(err, syscall.ENXIO) {
		err = errors.New("nobody reads from it")
	}
	return f, err
}

// syncFolder makes the new name last through a power cut where the system can;
// some file systems refuse to sync a folder, and the data itself is safe.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

// claimByLink gives a file a name that nobody has. Where the file system has
// no links, an empty file holds the name until the rename; killed between the
// two, a writer leaves that behind.
func claimByLink(from, to string) error {
	err := os.Link(from, to)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	held, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	if err := errors.Join(held.Close(), os.Rename(from, to)); err != nil {
		return errors.Join(err, os.Remove(to))
	}
	return nil
}

// named gives an error the path the caller knows: the temporary name would
// mean nothing to the reader.
func named(path string, err error) error {
	if err == nil {
		return nil
	}
	var inner *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &inner):
		err = inner.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return &fs.PathError{Op: "write", Path: path, Err: err}
}
