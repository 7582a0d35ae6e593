package main

import (
	"bytes"
	_ "embed"
	"strings"
	"text/template"

	"github.com/urfave/cli/v2"
)

//go:embed manual.tmpl
var manualTemplate string

func manualCommand() *cli.Command {
	return &cli.Command{
		Name:        "manual",
		Usage:       "the manual page, made from the help of the commands",
		Category:    aboutProgram,
		Description: "In the format of man(7): to read it, fewtubes manual | man -l -.",
		Action:      manual,
	}
}

// exitMeanings are what the exit codes tell a script.
var exitMeanings = []struct {
	Code    int
	Meaning string
}{
	{exitAnswered, "an answer was given"},
	{exitFailed, "the program itself failed"},
	{exitMistake, "there is something to mend: a file, a flag or a limit; one line says what and how"},
	{exitMissed, "--strict was asked, and a colour is missed; or of a proof only parts are there"},
	{exitInterrupted, "it was interrupted"},
	{exitUnread, "what it printed was no longer read"},
}

func manual(c *cli.Context) error {
	page := template.New("manual").Funcs(template.FuncMap{"roff": roff, "flags": flagLines})
	if _, err := page.Parse(manualTemplate); err != nil {
		return err
	}
	var b bytes.Buffer
	from := builtFrom()
	date := from.date
	if date == unknown {
		date = "" // man leaves the place empty
	}
	if err := page.Execute(&b, map[string]any{
		"App": c.App, "Version": from.version, "Date": date, "Exits": exitMeanings,
	}); err != nil {
		return err
	}
	_, err := c.App.Writer.Write(b.Bytes())
	return err
}

// roff is text with what man(7) would take for commands, or for typographical
// dashes and quotes, made plain.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "\"", `\(dq`, "\n\n", "\n.PP\n").Replace(text)
	var lines []string
	for line := range strings.SplitSeq(text, "\n") {
		if strings.HasPrefix(line, ".") && line != ".PP" {
			line = `\&` + line
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

// flagLines are the flags of a command as its help shows them; --help, which the
// library gives to the command that runs, is told of above.
func flagLines(flags []cli.Flag) (out []struct{ Names, Words string }) {
	for _, f := range flags {
		names, words, _ := strings.Cut(f.String(), "\t")
		if f == cli.HelpFlag {
			continue
		}
		out = append(out, struct{ Names, Words string }{names, words})
	}
	return out
}
