package main

import (
	"io"

	"fewtubes/cmd/fewtubes/internal/report"

	"github.com/urfave/cli/v2"
)

// document is an answer ready to be shown in any of its forms.
type document interface {
	Text(report.Style) string
	HTML() ([]byte, error)
}

// outputFlags choose the form of an answer.
func outputFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "json", Usage: "print JSON instead of text", DisableDefaultText: true},
		&cli.StringFlag{Name: "html", Usage: "also write the answer as one printable page to `FILE`"},
		forceFlag(),
	}
}

// show prints a document as text or JSON and writes its page where one is asked
// for; the page comes first, so that what is printed is the last word.
func show(c *cli.Context, d document) error {
	if err := report.Finite(d); err != nil {
		return err
	}
	if path := c.String("html"); path != "" {
		page, err := d.HTML()
		if err != nil {
			return err
		}
		if err := writeOutput(c, path, page); err != nil {
			return err
		}
	}
	if c.Bool("json") {
		data, err := report.JSON(d)
		if err != nil {
			return err
		}
		_, err = c.App.Writer.Write(data)
		return err
	}
	_, err := io.WriteString(c.App.Writer, d.Text(terminalStyle(c.App.Writer)))
	return err
}
