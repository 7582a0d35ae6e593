package main

import (
	"errors"
	"io"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"

	"github.com/urfave/cli/v2"
)

// document is an answer ready to be shown in any of its forms.
type document interface {
	Text(terminal.Style) string
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

// cautionsFlag goes with every text that ends with cautions in short.
func cautionsFlag() cli.Flag {
	return &cli.BoolFlag{Name: "cautions", Usage: "print every caution in full", DisableDefaultText: true}
}

// moreFlags go with every text of which what comes first is shown alone.
func moreFlags() []cli.Flag {
	return []cli.Flag{&cli.BoolFlag{Name: "more", Usage: "print all there is to say, not what comes first alone", DisableDefaultText: true}, cautionsFlag()}
}

// onlyFirst reports whether of such a text what comes first is all that is shown.
func onlyFirst(c *cli.Context) bool {
	return !c.Bool("more") && !c.Bool("json") && c.String("html") == ""
}

// show writes a document's page where one is asked for, marked with its origin,
// and prints the document as text or JSON. An answer may have taken minutes: one
// whose page, or other file, could not be written is printed all the same, and the
// error ends the run.
func show(c *cli.Context, from *origin, d document, unwritten ...error) error {
	if err := shown.Finite(d); err != nil {
		return err
	}
	if path := c.String("html"); path != "" {
		page, err := d.HTML()
		if err != nil {
			return err
		}
		unwritten = append(unwritten, from.write(c, path, page))
	}
	return errors.Join(printed(c, d), errors.Join(unwritten...))
}

func printed(c *cli.Context, d document) error {
	if c.Bool("json") {
		return printJSON(c, d)
	}
	style := terminalStyle(c.App.Writer)
	style.More = c.Bool("more")
	style.Cautions = style.More || c.Bool("cautions")
	_, err := io.WriteString(c.App.Writer, d.Text(style))
	return err
}

func printJSON(c *cli.Context, document any) error {
	data, err := shown.JSON(document)
	if err != nil {
		return err
	}
	_, err = c.App.Writer.Write(data)
	return err
}
