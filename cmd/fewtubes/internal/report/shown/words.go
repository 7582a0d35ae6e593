package shown

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"fewtubes/gamut/colour"

	"github.com/lucasb-eyer/go-colorful"
)

// Judgement puts a CIEDE2000 difference in a word. The steps are common
// practice, no source; about 1 is where a trained eye begins to see a
// difference between two large fields side by side.
func Judgement(de Hundredths) string {
	switch {
	case de < 1:
		return "no difference to see"
	case de < 2:
		return "barely seen"
	case de < 3.5:
		return "seen side by side"
	case de < 6:
		return "seen at a glance"
	}
	return "another colour"
}

// Value is L* on the painter's scale, 0 black to 10 white.
func Value(l float64) string { return Digits(l/10, 1) }

// Hex is the nearest sRGB colour as #rrggbb.
func Hex(c colour.Lab) string {
	rgb := c.SRGB()
	return colorful.Color{R: rgb.R, G: rgb.G, B: rgb.B}.Clamped().Hex()
}

// InARow joins names by commas, or by semicolons where one of them holds a comma.
func InARow(names []string) string { return strings.Join(names, between(names)) }

func between(names []string) string {
	for _, n := range names {
		if strings.Contains(n, ",") {
			return "; "
		}
	}
	return ", "
}

// Listed joins words as a sentence does: "a", "a and b", "a, b and c".
func Listed(words []string, last string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], between(words)) + " " + last + " " + words[n-1]
	}
}

// Plural is the noun for n things.
func Plural(n int, one string) string {
	switch {
	case n == 1:
		return one
	case strings.HasSuffix(one, "ch"):
		return one + "es"
	}
	return one + "s"
}

// Counted is "1 tube", "5 tubes".
func Counted(n int, one string) string { return fmt.Sprintf("%d %s", n, Plural(n, one)) }

var numerals = []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// Spelled is a count as a sentence writes it: words up to twelve.
func Spelled(n int) string {
	if n >= 0 && n < len(numerals) {
		return numerals[n]
	}
	return fmt.Sprint(n)
}

// Capital makes the first letter a capital.
func Capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}
