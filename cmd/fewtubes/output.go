package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"fewtubes/cmd/fewtubes/internal/atomicfile"

	"github.com/urfave/cli/v2"
)

// forceFlag goes with every flag that names a file to write.
func forceFlag() cli.Flag {
	return &cli.BoolFlag{Name: "force", Usage: "overwrite files that exist already", DisableDefaultText: true}
}

// checkOutput refuses a file that could not or should not be written, before
// the work is done rather than after it. An empty path is no file. One rule
// holds for every command: what exists is overwritten with force only, and the
// inputs not even with force.
func checkOutput(path string, force bool, inputs ...string) error {
	if path == "" {
		return nil
	}
	return checkPlace(path, atomicfile.Check(path, force), inputs...)
}

// checkPlace is checkOutput for a path about which refused says the rest.
func checkPlace(path string, refused error, inputs ...string) error {
	if info, err := os.Stat(path); err == nil {
		for _, in := range inputs {
			if i, err := os.Stat(in); err == nil && os.SameFile(i, info) && !info.IsDir() {
				return userError("%s is also read from; write to another file", path)
			}
		}
	} else if folder, err := os.Stat(filepath.Dir(path)); err != nil || !folder.IsDir() {
		return userError("%s cannot be written: there is no folder %s; make it first, or name another", path, filepath.Dir(path))
	}
	return outputTrouble(path, refused)
}

// apart refuses one file named twice for what is to be written.
func apart(paths ...string) error {
	for i, path := range paths {
		if path != "" && slices.ContainsFunc(paths[:i], func(p string) bool { return p != "" && filepath.Clean(p) == filepath.Clean(path) }) {
			return userError("%s is named twice; give each output a file of its own", path)
		}
	}
	return nil
}

// publish writes the file, where one is named, and then prints: what is printed
// says that all went well.
func publish(c *cli.Context, path string, data []byte, text string) error {
	if path != "" {
		if err := writeOutput(c, path, data); err != nil {
			return err
		}
	}
	_, err := io.WriteString(c.App.Writer, text)
	return err
}

// writeOutput writes a whole file or nothing. It keeps to the rule of
// checkOutput even where the file was made while the work was done.
func writeOutput(c *cli.Context, path string, data []byte) error {
	write := atomicfile.Create
	if c.Bool("force") {
		write = atomicfile.Replace
	}
	return outputTrouble(path, write(path, data))
}

// roomFor is how to mend what kept a file from being written.
func roomFor(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return "make room, or name a file on another disk"
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "name a file in a folder you may write to"
	}
	return "name another file"
}

func outputTrouble(path string, err error) error {
	var trouble *fs.PathError
	switch {
	case errors.Is(err, fs.ErrExist):
		return userError("%s exists already; --force overwrites it", path)
	case errors.As(err, &trouble):
		return userError("%s cannot be written: %w; %s", path, trouble.Err, roomFor(trouble.Err))
	}
	return err
}
