package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"
)

// mistake is an error the user can mend: one line saying what is wrong, where,
// and how to mend it.
type mistake struct {
	text string
	err  error
}

func (m *mistake) Error() string { return m.text }
func (m *mistake) Unwrap() error { return m.err }

// userError makes a mistake; a %w in the format keeps the cause.
func userError(format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	return &mistake{err.Error(), errors.Unwrap(err)}
}

// asMistake turns the typed errors of the packages below into mistakes and
// leaves every other error as it is.
func asMistake(err error) error {
	var path *fs.PathError
	var unknown *solver.UnknownError
	var noTube *catalog.UnknownTube
	switch {
	case err == nil:
		return nil
	case errors.As(err, new(*mistake)):
		return err
	case errors.As(err, &noTube):
		return &mistake{err.Error() + whereTubes(noTube), err}
	case errors.As(err, &unknown):
		return &mistake{err.Error() + whereClasses(unknown), err}
	case errors.As(err, new(*scene.Error)),
		errors.As(err, new(*owntubes.Error)),
		errors.As(err, new(*photo.Error)),
		errors.As(err, new(*solver.InputError)):
		return &mistake{err.Error(), err}
	case errors.As(err, new(*solver.ContradictionError)):
		return &mistake{err.Error() + giveUpOne, err}
	case errors.As(err, &path):
		return &mistake{fileTrouble(path), err}
	}
	return err
}

const (
	whereIDs  = "; fewtubes tubes lists the ids"
	giveUpOne = "; give up one of them"
)

// whereTubes and whereClasses tell what could have been named where nothing came
// near it.
func whereTubes(u *catalog.UnknownTube) string {
	if len(u.Close) > 0 {
		return ""
	}
	return whereIDs
}

func whereClasses(u *solver.UnknownError) string {
	if u.Similar != "" {
		return ""
	}
	return "; use " + strings.Join(catalog.Classes(), ", ")
}

// fileTrouble says in plain words why a file could not be read or written.
func fileTrouble(err *fs.PathError) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return err.Path + ": no such file or folder; look for a slip in its name"
	case errors.Is(err, fs.ErrPermission):
		return err.Path + ": permission denied; allow it, or name another file"
	case errors.Is(err, syscall.EISDIR):
		return err.Path + ": it is a folder; name a file in it"
	}
	return err.Path + ": " + err.Err.Error() + "; try again, or name another file"
}

// oneLine keeps a message on one line, whatever was quoted in it.
func oneLine(s string) string { return plain.Clean(strings.TrimSpace(s)) }
