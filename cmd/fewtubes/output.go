package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fewtubes/cmd/fewtubes/internal/atomicfile"

	"github.com/urfave/cli/v2"
)

// forceFlag goes with every flag that names a file to write.
func forceFlag() cli.Flag {
	return &cli.BoolFlag{Name: "force", Usage: "overwrite files that exist already", DisableDefaultText: true}
}

// checkOutput refuses a file that could not or should not be written, before
// the work is done rather than after it. An empty path is no file. The inputs
// are never overwritten, not even with force.
func checkOutput(path string, force bool, inputs ...string) error {
	if path == "" {
		return nil
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		folder, err := os.Stat(filepath.Dir(path))
		if err != nil || !folder.IsDir() {
			return userError("%s cannot be written: there is no folder %s", path, filepath.Dir(path))
		}
		return nil
	case err != nil:
		return err
	case info.IsDir():
		return userError("%s cannot be written: it is a folder, name a file in it", path)
	}
	for _, in := range inputs {
		if i, err := os.Stat(in); err == nil && os.SameFile(i, info) {
			return userError("%s is also read from: write to another file", path)
		}
	}
	if info.Mode().IsRegular() && !force {
		return userError("%s exists already: --force overwrites it", path)
	}
	return nil
}

// publish writes the file, where one is named, and then prints: what is printed
// says that all went well.
func publish(c *cli.Context, path string, data []byte, text string) error {
	if path != "" {
		if err := writeOutput(path, data); err != nil {
			return err
		}
	}
	_, err := io.WriteString(c.App.Writer, text)
	return err
}

// writeOutput writes a whole file or nothing.
func writeOutput(path string, data []byte) error {
	err := atomicfile.WriteBytes(path, data)
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		return userError("%s cannot be written: %w", path, trouble.Err)
	}
	return err
}
