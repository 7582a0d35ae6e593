package solver

import (
	"fmt"
	"strings"
)

// InputError says that a target or a tube of the problem makes no sense.
type InputError struct {
	What string // such as `target "reeds"`
	Msg  string
	Hint string // how to mend it
}

func (e *InputError) Error() string { return e.What + ": " + e.Msg + "; " + e.Hint }

// UnknownError says that a limit names a tube or a class that is not there. About
// a tube it wraps a *catalog.UnknownTube.
type UnknownError struct {
	Limit   string // the limit's key: keep, never, only, own, avoid, at-most-one; palette
	Name    string // as given
	Similar string // the class that was probably meant; may be empty

	tube error // nil: about a class
}

func (e *UnknownError) Error() string { return e.Limit + ": " + e.What() }

func (e *UnknownError) Unwrap() error { return e.tube }

// What is the error without the place.
func (e *UnknownError) What() string {
	switch {
	case e.tube != nil:
		return e.tube.Error()
	case e.Similar != "":
		return fmt.Sprintf("unknown class %q; did you mean %q?", e.Name, e.Similar)
	}
	return fmt.Sprintf("unknown class %q", e.Name)
}

// ContradictionError says that no palette at all keeps these limits, whatever
// the targets.
type ContradictionError struct {
	Limits []string // two or more, in words, sorted
	Msg    string
}

func (e *ContradictionError) Error() string { return "limits " + e.What() }

// What is the error without its subject.
func (e *ContradictionError) What() string {
	return "contradict each other (" + strings.Join(e.Limits, "; ") + "): " + e.Msg
}
