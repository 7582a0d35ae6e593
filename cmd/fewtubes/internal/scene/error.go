package scene

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
)

// Error is a mistake in a scene file that its writer can mend.
type Error struct {
	File   string
	Line   int    // 0: of no single line
	Field  string // such as `target "wet mud", area`; may be empty
	Msg    string // what is wrong
	Remedy string // how to mend it
}

// What is quoted may be of any length and hold anything; the line may not.
const (
	mostFile  = 4096 // the longest path of the systems in use
	mostField = 70
	mostMsg   = 240
)

// Error puts it on one line: file:line: field: what is wrong; how to mend it.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.place())
	b.WriteString(": " + plain.Cut(e.Msg, mostMsg))
	if e.Remedy != "" {
		b.WriteString("; " + e.Remedy)
	}
	return b.String()
}

// place is its beginning.
func (e *Error) place() string {
	var b strings.Builder
	b.WriteString(plain.Cut(e.File, mostFile))
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	if e.Field != "" {
		b.WriteString(": " + plain.Cut(e.Field, mostField))
	}
	return b.String()
}

// Place is where a key such as "limits.keep" stands, as an Error begins.
func (s *Scene) Place(path string) string {
	at := Error{File: s.file, Line: s.at.line(path), Field: path}
	return at.place()
}
