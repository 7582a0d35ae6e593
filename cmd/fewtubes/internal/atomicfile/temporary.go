package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"time"
)

var temporaryName = regexp.MustCompile(`^\.fewtubes-[0-9]+\.part$`)

// temporary makes an empty file beside the one to be written. It is no more
// open to others than that one is.
func temporary(p place) (*os.File, error) {
	for {
		name := fmt.Sprintf(".fewtubes-%d.part", rand.Uint64())
		f, err := os.OpenFile(filepath.Join(filepath.Dir(p.file), name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, p.perm)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// abandoned is the age after which a temporary file is nobody's: it lives
// while its bytes are written and synced, which takes moments.
const abandoned = time.Hour

// sweep removes what killed writers left, files and folders, in the folder of a temporary file
// just made, whose date is the clock, for another machine may keep the folder.
// What another writer is busy with is too young to be taken. One that was held
// up for longer than that fails and says so: the file it was to replace stays.
func sweep(mine *os.File) {
	now, err := mine.Stat()
	if err != nil {
		return
	}
	dir := filepath.Dir(mine.Name())
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !e.Type().IsRegular() && !e.IsDir() || !temporaryName.MatchString(e.Name()) {
			continue
		}
		if info, err := e.Info(); err == nil && now.ModTime().Sub(info.ModTime()) > abandoned {
			_ = os.RemoveAll(filepath.Join(dir, e.Name()))
		}
	}
}
