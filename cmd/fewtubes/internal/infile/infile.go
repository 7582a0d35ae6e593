// Package infile reads files of the user's no farther than any of their kind goes.
package infile

import (
	"bytes"
	"errors"
	"io"
	"os"
)

// Read reads a file, or of one that holds more than most bytes the first most and
// one: so a longer file can be told, and costs no more. Its errors are those of
// opening and reading, *fs.PathError.
func Read(path string, most int64) ([]byte, error) {
	return ReadIf(path, most, func([]byte) error { return nil })
}

// HeadSize is how many bytes of a longer file ReadIf looks at before the rest.
const HeadSize = 4096

// ReadIf is Read that asks wanted about the first HeadSize bytes, or all of a
// shorter file, and ends with its error: a stream without an end that begins as
// nothing that is wanted costs no more than them.
func ReadIf(path string, most int64, wanted func(head []byte) error) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, min(HeadSize, most+1))
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, err
	}
	head = head[:n]
	if trouble := wanted(head); err != nil || trouble != nil {
		return head, trouble
	}
	size := int64(0)
	if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
		size = min(info.Size(), most)
	}
	all := bytes.NewBuffer(make([]byte, 0, size+bytes.MinRead)) // with room to find the end
	all.Write(head)
	_, err = all.ReadFrom(io.LimitReader(f, most+1-int64(n)))
	return all.Bytes(), err
}
