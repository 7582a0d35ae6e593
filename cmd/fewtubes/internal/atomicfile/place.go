package atomicfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// place is where the bytes go.
type place struct {
	file   string // links followed
	exists bool
	perm   fs.FileMode // of the file that exists, or that a new one is made with
	stream bool        // a stream of the system's, written to as it stands
}

// find follows links and refuses what a file should not be written over:
// folders, disks, and whatever else a link leads to by surprise.
func find(path string, replace bool) (place, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if isLink(path) { // a file there by now is another writer's, which the rename finds out
			return place{}, errors.New("it is a link to a file that is not there")
		}
		return place{file: path, perm: 0o666}, nil // less what the umask takes
	}
	if err != nil {
		return place{}, err
	}
	target, err := filepath.EvalSymlinks(path)
	mode := info.Mode()
	switch {
	case mode.IsDir():
		return place{}, errors.New("it is a folder")
	case mode.IsRegular() && !replace:
		return place{}, fs.ErrExist
	case mode.IsRegular() && mode.Perm()&0o222 == 0:
		return place{}, errors.New("it is write-protected")
	case mode.IsRegular():
		return place{file: target, exists: true, perm: mode.Perm()}, err
	case mode.Type() == fs.ModeNamedPipe && !isSystem(path):
		return place{}, errors.New("it is a named pipe, which may have no reader")
	case mode.Type() != fs.ModeNamedPipe && mode.Type() != fs.ModeDevice|fs.ModeCharDevice:
		return place{}, errors.New("it is a device, name a file")
	case !isSystem(path) && isLink(path):
		return place{}, errors.New("it is a link to a device")
	}
	return place{file: path, stream: true}, nil
}

// isSystem reports whether a path is one of the names a system gives its
// streams, such as /dev/stdout, which is a link on some.
func isSystem(path string) bool {
	path = filepath.Clean(path)
	return strings.HasPrefix(path, "/dev/") || strings.HasPrefix(path, "/proc/")
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}
