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
	Limits []Limit // two or more, in the order of their words
	Why    Contradiction
	Number int // of tubes or hundredths, where the reason is one
}

// Contradiction is a reason why limits cannot be kept together.
type Contradiction int

const (
	KeptAndNever  Contradiction = iota // a tube is to be kept and never to be used
	KeptNotOnly                        // a tube to be kept is not among those allowed
	KeptAvoided                        // a tube to be kept is of a class to avoid
	TooManyKept                        // Number tubes are to be kept
	KeptTooDear                        // the tubes kept cost Number
	KeptOfGroup                        // two tubes of a group are to be kept
	NoTubeLeft                         // no tube is allowed
	NoTubePayable                      // the cheapest tube allowed costs Number
)

func (e *ContradictionError) Error() string { return "limits " + e.What() }

// What is the error without its subject.
func (e *ContradictionError) What() string {
	var limits []string
	for _, l := range e.Limits {
		limits = append(limits, l.String())
	}
	return "contradict each other (" + strings.Join(limits, "; ") + "): " + e.why()
}

func (e *ContradictionError) why() string {
	switch e.Why {
	case KeptAndNever:
		return "leave the tube out of one of them"
	case KeptNotOnly:
		return "add the tube to only or do not keep it"
	case KeptAvoided:
		return "the tube is of that class"
	case TooManyKept:
		return fmt.Sprintf("%d tubes are to be kept", e.Number)
	case KeptTooDear:
		return "the tubes kept cost " + money(e.Number)
	case KeptOfGroup:
		return "keep one of the group"
	case NoTubeLeft:
		return "they leave no tube at all"
	}
	return "the cheapest tube allowed costs " + money(e.Number)
}

func money(hundredths int) string { return fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100) }
