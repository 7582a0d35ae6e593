// Package plain keeps names from steering the terminal or the page that shows
// them.
package plain

import (
	"strings"
	"unicode"
)

// Line reports whether text may stand on a line as it is: no control
// characters, which move the cursor or change the terminal, no line breaks, and
// nothing that turns the direction of writing (Unicode's Bidi_Control).
func Line(text string) bool { return !strings.ContainsFunc(text, steers) }

// Clean puts a blank for everything that Line refuses.
func Clean(text string) string {
	return strings.Map(func(r rune) rune {
		if steers(r) {
			return ' '
		}
		return r
	}, text)
}

func steers(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control)
}
