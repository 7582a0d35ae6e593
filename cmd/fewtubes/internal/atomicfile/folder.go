package atomicfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// Folder is a folder of files. Mark is the file by which a folder of its kind is
// known: no other is replaced.
type Folder struct {
	Mark  string
	Files []File
}

// File is one file of a folder.
type File struct {
	Name string
	Data []byte
}

// CreateFolder writes a new folder, whole or not at all. Where the name is taken the
// error wraps fs.ErrExist. Errors are *fs.PathError with the path as given.
func CreateFolder(path string, f *Folder) error { return named(path, putFolder(path, f, false)) }

// ReplaceFolder writes a folder in the place of one of its kind, or of a file, that
// may exist. Errors are as of CreateFolder.
func ReplaceFolder(path string, f *Folder) error { return named(path, putFolder(path, f, true)) }

// CheckFolder tells whether a folder would be refused, before the work that fills it.
func CheckFolder(path string, replace bool, mark string) error {
	p, err := findFolder(path, replace, mark)
	if err == nil {
		var tmp *os.File
		if tmp, err = temporary(p); err == nil {
			err = errors.Join(tmp.Close(), os.Remove(tmp.Name()))
		}
	}
	return named(path, err)
}

// findFolder follows links and refuses what a folder should not take the place of.
func findFolder(path string, replace bool, mark string) (place, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		if _, err := os.Lstat(filepath.Join(path, mark)); err != nil {
			return place{}, errors.New("it is a folder that holds something else")
		}
		if !replace {
			return place{}, fs.ErrExist
		}
		target, err := filepath.EvalSymlinks(path)
		return place{file: target, exists: true, perm: 0o666}, err
	}
	p, err := find(path, replace)
	if err == nil && p.stream {
		err = errors.New("it is a device, name a folder")
	}
	return p, err
}

func putFolder(path string, f *Folder, replace bool) error {
	p, err := findFolder(path, replace, f.Mark)
	if err != nil {
		return err
	}
	first, err := temporary(place{file: p.file, perm: 0o666})
	if err != nil {
		return err
	}
	sweep(first)
	tmp := first.Name() // its name is nobody else's
	if err := errors.Join(first.Close(), os.Remove(tmp), os.Mkdir(tmp, 0o777)); err != nil {
		return err
	}
	defer os.RemoveAll(tmp) // nothing to remove once it has its name, or what it took the place of
	for _, file := range f.Files {
		if err := put(filepath.Join(tmp, file.Name), file.Data, false, open); err != nil {
			return err
		}
	}
	syncFolder(tmp)
	take := claimFolder
	if p.exists {
		take = exchange
	}
	if err := take(tmp, p.file); err != nil {
		return err
	}
	syncFolder(filepath.Dir(p.file))
	return nil
}

// exchangeByRename gives two names to each other's files in two steps; killed between
// the two, a writer leaves neither under the second.
func exchangeByRename(a, b string) error {
	aside := a + ".aside"
	if err := os.Rename(b, aside); err != nil {
		return err
	}
	if err := os.Rename(a, b); err != nil {
		return errors.Join(err, os.Rename(aside, b))
	}
	return os.Rename(aside, a)
}

// claimByLook gives a folder a name that nobody had a moment ago. A folder never
// takes the place of a file or of a folder that holds something.
func claimByLook(from, to string) error {
	if _, err := os.Lstat(to); err == nil {
		return fs.ErrExist
	}
	return os.Rename(from, to)
}
