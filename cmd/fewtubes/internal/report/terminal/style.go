// Package terminal lays text out for a terminal: swatches, columns and wrapped lines.
package terminal

import (
	"fmt"
	"strings"

	"github.com/rivo/uniseg"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
)

// Style is what the terminal can do.
type Style struct {
	Width    int  // columns, >= 40
	Swatches bool // 24-bit colour is understood

	More     bool // all there is to say is asked for
	Cautions bool // every caution in full is
}

// Swatch is n cells of a colour, or nothing where the terminal has no colour to
// trust: a palette of 256 would show a wrong one.
func (s Style) Swatch(c colour.Lab, n int) string {
	if !s.Swatches {
		return ""
	}
	rgb := c.SRGB().RGB8()
	return fmt.Sprintf("\x1b[48;2;%d;%d;%dm%s\x1b[0m", rgb[0], rgb[1], rgb[2], strings.Repeat(" ", n))
}

// Row joins swatches and words with two blanks between, leaving out what is empty.
func Row(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.TrimRight(strings.Join(kept, "  "), " ")
}

// Pad fills s with blanks to n columns, on the left where n is negative.
func Pad(s string, n int) string {
	fill := strings.Repeat(" ", max(0, max(n, -n)-uniseg.StringWidth(s)))
	if n < 0 {
		return fill + s
	}
	return s + fill
}

// Widest is the number of columns the widest cell takes.
func Widest[T any](items []T, cell func(T) string) int {
	w := 0
	for _, it := range items {
		w = max(w, uniseg.StringWidth(cell(it)))
	}
	return w
}

// Wrap breaks a paragraph at blanks to the width; the first line starts with
// first, the others with as many blanks as indent.
func (s Style) Wrap(first string, indent int, text string) string {
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
func (s Style) Paragraph(text string) string { return s.Wrap("", 2, text) }

// WrapAfter wraps behind a lead of any width: the text hangs below its own
// start where there is room for it, else four columns in.
func (s Style) WrapAfter(lead, text string) string {
	indent := uniseg.StringWidth(Visible(lead))
	if s.Width-indent < 24 {
		return strings.TrimRight(lead, " ") + "\n" + s.Wrap(strings.Repeat(" ", 6), 6, text)
	}
	body := s.Wrap(strings.Repeat(" ", indent), indent, text)
	return lead + body[indent:]
}

// Room is how many columns are left behind a line.
func (s Style) Room(line string) int { return s.Width - uniseg.StringWidth(Visible(line)) }

// Visible drops the colour codes of swatches.
func Visible(text string) string {
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

// Heading starts a section.
func Heading(b *strings.Builder, s Style, text string) { b.WriteString("\n" + s.Wrap("", 2, text)) }

// Pair is two swatches that touch, and a blank behind them.
func (s Style) Pair(left, right shown.Lab) string {
	if !s.Swatches {
		return ""
	}
	return s.Swatch(left.Colour(), 3) + s.Swatch(right.Colour(), 3) + " "
}

// SwatchLine is a wide swatch on a line of its own.
func (s Style) SwatchLine(c shown.Lab) string {
	if !s.Swatches {
		return ""
	}
	return s.Swatch(c.Colour(), 16) + "\n"
}

// MunsellLine is the note on the notation, where there is one.
func (s Style) MunsellLine(note string) string {
	if note == "" {
		return ""
	}
	return "\n" + s.Wrap("", 2, note)
}

// Close ends a text with what to mind about the tubes it touches, in short where no
// more is asked for.
func (s Style) Close(b *strings.Builder, of []shown.Caution) {
	if !s.Cautions {
		b.WriteString("\n" + s.Wrap("", 0, shown.Brief(of)))
		return
	}
	Heading(b, s, "Cautions")
	for _, w := range of {
		b.WriteString(s.Wrap("  ", 4, w.String()))
	}
	b.WriteString(s.Wrap("  ", 2, shown.SafetyNote))
}
