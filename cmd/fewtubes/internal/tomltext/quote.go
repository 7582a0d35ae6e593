// Package tomltext writes the keys and strings of the files a painter edits, and
// says in plain words what is wrong with them.
package tomltext

import (
	"fmt"
	"strings"
	"unicode"
)

// Quote is a TOML basic string.
func Quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case unicode.IsControl(r):
			fmt.Fprintf(&b, "\\u%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// QuoteList is a TOML array of strings on one line.
func QuoteList(list []string) string { return Array(list, Quote) }
