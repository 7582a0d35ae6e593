// Package plain keeps names from steering the terminal or the page that shows
// them.
package plain

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Line reports whether text may stand on a line as it is: no control
// characters, which move the cursor or change the terminal, no line breaks, and
// nothing that turns the direction of writing (Unicode's Bidi_Control) or
// hides: a joiner belongs between two letters, as in emoji.
func Line(text string) bool { return utf8.ValidString(text) && !strings.ContainsFunc(text, steers) }

// Clean puts a blank for everything that Line refuses.
func Clean(text string) string {
	return strings.Map(func(r rune) rune {
		if steers(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, " "))
}

func steers(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control) || hides(r)
}

// hides are characters that take no room and have no place in a name, so that
// two names that look alike differ by them: zero-width space, word joiner and
// the like, the byte order mark, soft hyphen, tags and fillers. The joiners
// U+200C and U+200D stay, which scripts and emoji need.
func hides(r rune) bool {
	switch {
	case r == 0x00AD, r == 0x034F, r == 0x115F, r == 0x1160, r == 0x17B4, r == 0x17B5, r == 0x180E, r == 0x200B, r == 0x3164, r == 0xFEFF, r == 0xFFA0:
		return true
	}
	return r >= 0x2060 && r <= 0x206F || r >= 0xFFF9 && r <= 0xFFFB || r >= 0xE0000 && r <= 0xE007F
}

// mostQuoted characters are enough to know a quotation again.
const mostQuoted = 40

// Short is a quotation kept to one short line of what can be printed.
func Short(text string) string {
	return Cut(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, text), mostQuoted)
}

// Cut keeps to one line of at most so many characters.
func Cut(text string, most int) string {
	text = Clean(text)
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "..."
}
