package main

import (
	"io"
	"os"
	"strconv"

	"fewtubes/cmd/fewtubes/internal/report/terminal"

	"github.com/muesli/termenv"
	"golang.org/x/term"
)

const (
	narrowest    = 40
	widest       = 120 // longer lines are hard to read
	widthInAFile = 100
)

// terminalStyle finds what standard output can show. NO_COLOR, CLICOLOR and
// CLICOLOR_FORCE are honoured as termenv does.
func terminalStyle(stdout io.Writer) terminal.Style {
	var options []termenv.OutputOption
	if os.Getenv("CLICOLOR_FORCE") != "" {
		options = append(options, termenv.WithTTY(true))
	}
	profile := termenv.NewOutput(behind(stdout), options...).EnvColorProfile()
	return terminal.Style{
		Width:    min(max(terminalWidth(stdout), narrowest), widest),
		Swatches: profile == termenv.TrueColor,
	}
}

func terminalWidth(w io.Writer) int {
	if f, ok := behind(w).(*os.File); ok {
		if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
			return columns
		}
	}
	if columns, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && columns > 0 {
		return columns
	}
	return widthInAFile
}

// isTerminal reports whether a person watches w.
func isTerminal(w io.Writer) bool {
	f, ok := behind(w).(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
