// Package infile reads files of the user's no farther than any of their kind goes.
package infile

import (
	"io"
	"os"
)

// Read reads a file, or of one that holds more than most bytes the first most and
// one: so a longer file can be told, and costs no more. Its errors are those of
// opening and reading, *fs.PathError.
func Read(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}
