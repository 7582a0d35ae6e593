package scene

import (
	"fmt"
	"strings"
)

// Error is a mistake in a scene file that its writer can mend.
type Error struct {
	File   string
	Line   int    // 0: of no single line
	Field  string // such as `target "wet mud", area`; may be empty
	Msg    string // what is wrong
	Remedy string // how to mend it
}

// Error puts it on one line: file:line: field: what is wrong; how to mend it.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	if e.Field != "" {
		b.WriteString(": " + e.Field)
	}
	b.WriteString(": " + e.Msg)
	if e.Remedy != "" {
		b.WriteString("; " + e.Remedy)
	}
	return b.String()
}
