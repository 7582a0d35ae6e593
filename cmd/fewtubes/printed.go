package main

import (
	"errors"
	"io"
	"io/fs"
	"syscall"
)

// errUnread ends a run whose reader went away, as head does: nobody is left to
// be told.
var errUnread = errors.New("nobody reads the answer")

// printer is standard output, which remembers what did not arrive: not
// everything that prints can tell.
type printer struct {
	io.Writer
	err error // the first
}

func (p *printer) Write(text []byte) (int, error) {
	n, err := p.Writer.Write(text)
	if p.err == nil {
		p.err = err
	}
	return n, err
}

// outcome is the error of a run, or else what kept its answer from being read.
func (p *printer) outcome(err error) error {
	var path *fs.PathError
	switch {
	case p.err == nil, err != nil && !errors.Is(err, p.err) && !errors.Is(err, errMissed):
		return err
	case errors.Is(p.err, syscall.EPIPE):
		return errUnread
	case errors.As(p.err, &path):
		return userError("the answer cannot be printed: %w; %s", path.Err, roomFor(path.Err))
	}
	return userError("the answer cannot be printed: %w; %s", p.err, roomFor(p.err))
}

// behind is the file that a printer prints to.
func behind(w io.Writer) io.Writer {
	if p, ok := w.(*printer); ok {
		return p.Writer
	}
	return w
}
