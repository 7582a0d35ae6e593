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

// UnknownError says that a limit names a tube or a class that is not there.
type UnknownError struct {
	Limit   string // the limit's key: keep, never, only, own, avoid, at-most-one
	Name    string // as given
	Kind    string // tube or class
	Similar string // what was probably meant; may be empty
}

func (e *UnknownError) Error() string {
	out := fmt.Sprintf("%s: unknown %s %q", e.Limit, e.Kind, e.Name)
	if e.Similar != "" {
		out += fmt.Sprintf("; did you mean %q?", e.Similar)
	}
	return out
}

// ContradictionError says that no palette at all keeps these limits, whatever
// the targets.
type ContradictionError struct {
	Limits []string // two or more, in words, sorted
	Msg    string
}

func (e *ContradictionError) Error() string {
	return "limits contradict each other (" + strings.Join(e.Limits, "; ") + "): " + e.Msg
}
