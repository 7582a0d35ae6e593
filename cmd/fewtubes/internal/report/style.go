package report

import (
	"fmt"
	"strings"

	"fewtubes/gamut/colour"

	"github.com/rivo/uniseg"
)

// Style is what the terminal can do.
type Style struct {
	Width    int  // columns, >= 40
	Swatches bool // 24-bit colour is understood
}

// swatch is n cells of a colour, or nothing where the terminal has no colour to
// trust: a palette of 256 would show a wrong one.
func (s Style) swatch(c colour.Lab, n int) string {
	if !s.Swatches {
		return ""
	}
	rgb := c.SRGB().RGB8()
	return fmt.Sprintf("\x1b[48;2;%d;%d;%dm%s\x1b[0m", rgb[0], rgb[1], rgb[2], strings.Repeat(" ", n))
}

// row joins swatches and words with two blanks between, leaving out what is empty.
func row(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.TrimRight(strings.Join(kept, "  "), " ")
}

// pad fills s with blanks to n columns, on the left where n is negative.
func pad(s string, n int) string {
	fill := strings.Repeat(" ", max(0, max(n, -n)-uniseg.StringWidth(s)))
	if n < 0 {
		return fill + s
	}
	return s + fill
}

// widest is the number of columns the widest cell takes.
func widest[T any](items []T, cell func(T) string) int {
	w := 0
	for _, it := range items {
		w = max(w, uniseg.StringWidth(cell(it)))
	}
	return w
}

// wrap breaks a paragraph at blanks to the width; the first line starts with
// first, the others with as many blanks as indent.
func (s Style) wrap(first string, indent int, text string) string {
	var b strings.Builder
	b.WriteString(first)
	at := uniseg.StringWidth(first)
	start := true
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' }) { // a hard blank holds
		w := uniseg.StringWidth(word)
		switch {
		case start:
		case at+1+w > s.Width:
			b.WriteString("\n" + strings.Repeat(" ", indent))
			at = indent
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += w
		start = false
	}
	b.WriteByte('\n')
	return b.String()
}

// Paragraph breaks a sentence to the width; what follows the first line is set
// in by two.
func (s Style) Paragraph(text string) string { return s.wrap("", 2, text) }

// wrapAfter wraps behind a lead of any width: the text hangs below its own
// start where there is room for it, else four columns in.
func (s Style) wrapAfter(lead, text string) string {
	indent := uniseg.StringWidth(visible(lead))
	if s.Width-indent < 24 {
		return strings.TrimRight(lead, " ") + "\n" + s.wrap(strings.Repeat(" ", 6), 6, text)
	}
	body := s.wrap(strings.Repeat(" ", indent), indent, text)
	return lead + body[indent:]
}

// visible drops the colour codes of swatches.
func visible(text string) string {
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, "\x1b[")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		_, text, _ = strings.Cut(after, "m")
	}
}

// heading starts a section.
func heading(b *strings.Builder, s Style, text string) { b.WriteString("\n" + s.wrap("", 2, text)) }

// pair is two swatches that touch, and a blank behind them.
func (s Style) pair(left, right Lab) string {
	if !s.Swatches {
		return ""
	}
	return s.swatch(left.Colour(), 3) + s.swatch(right.Colour(), 3) + " "
}

// swatchLine is a wide swatch on a line of its own.
func (s Style) swatchLine(c Lab) string {
	if !s.Swatches {
		return ""
	}
	return s.swatch(c.Colour(), 16) + "\n"
}

// munsellLine is the note on the notation, where there is one.
func (s Style) munsellLine(note string) string {
	if note == "" {
		return ""
	}
	return "\n" + s.wrap("", 2, note)
}
