package main

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/sheet"

	"github.com/urfave/cli/v2"
)

// mostCharted keeps a practice chart to what a person would paint: twelve
// coloured tubes make 66 pairs.
const mostCharted = 13

func chartCommand() *cli.Command {
	return &cli.Command{
		Name:  "chart",
		Usage: "a practice sheet to print: pairs in steps, tints and greens, with room to paint beside each",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "chart the tubes in `LIST`, parted by commas"},
			lightFlag("D65"), surfaceFlag("dry"),
			&cli.StringFlag{Name: "title", Value: "Practice chart", Usage: "head the sheet with `TEXT`"},
		}, sheetFlags(), []cli.Flag{
			ownFlag(),
			&cli.BoolFlag{Name: "learn", Usage: "print the six mixtures that would teach most about the tubes, to paint and read", DisableDefaultText: true},
			&cli.StringFlag{Name: "box", Usage: "with --learn: the tubes of the box, a `FILE`, and what its swatches taught"},
			&cli.StringFlag{Name: "scene", Usage: "with --learn: teach about the colours of a scene, a `FILE`"},
			&cli.StringFlag{Name: "seen-by", Value: string(readings.Chip), Usage: "with --learn: the swatches will be read as `SAID`: instrument, chip or camera"},
		}),
		Action: chart,
	}
}

// sheetFlags go with every command that prints a sheet.
func sheetFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the PDF to `FILE`"},
		&cli.StringFlag{Name: "paper", Value: "A4", Usage: "paper `SIZE`: A4 or Letter"},
		forceFlag(),
	}
}

// sheetOutput checks where a sheet goes before the work is done.
func sheetOutput(c *cli.Context, inputs ...string) (path string, paper sheet.Paper, err error) {
	if path = c.String("output"); path == "" {
		return "", paper, userError("%s: no file is named to write; name the PDF as in -o sheet.pdf", c.Command.Name)
	}
	if paper, err = sheet.ParsePaper(c.String("paper")); err != nil {
		return "", paper, userError("--paper: %w", err)
	}
	return path, paper, checkOutput(path, c.Bool("force"), inputs...)
}

// checkTitle refuses a title that would steer what shows it.
func checkTitle(c *cli.Context) error {
	if plain.Line(c.String("title")) {
		return nil
	}
	return userError("--title: it holds a line break or another character that steers what shows it; write it on one line in plain letters")
}

func chart(c *cli.Context) error {
	if c.Bool("learn") {
		return chartToLearn(c)
	}
	for _, name := range []string{"box", "scene", "seen-by"} {
		if c.IsSet(name) {
			return userError("--%s goes with --learn; add it, or leave --%[1]s out", name)
		}
	}
	if c.NArg() > 0 {
		return userError("chart: %q is not a flag; name the tubes as in --palette titanium-white,ultramarine-blue", c.Args().First())
	}
	path, paper, err := sheetOutput(c, c.String("own"))
	if err != nil {
		return err
	}
	if err := checkTitle(c); err != nil {
		return err
	}
	light, view, err := sightOf(c)
	if err != nil {
		return err
	}
	all, err := stock(c)
	if err != nil {
		return err
	}
	tubes, err := paletteTubes(c, all)
	if err != nil {
		return err
	}
	made := sheet.NewChart(c.String("title"), tubes, light, all.Surface(view))
	pdf, err := made.PDF(paper)
	if err != nil {
		return err
	}
	if err := writeOutput(c, path, pdf); err != nil {
		return err
	}
	holds := []string{howMany(len(tubes), "tube")}
	for _, part := range []struct {
		n   int
		one string
	}{{len(made.Pairs), "pair"}, {len(made.Ladders), "tint ladder"}, {len(made.Greens), "green grid"}} {
		if part.n > 0 { // the sheet says why there are none
			holds = append(holds, howMany(part.n, part.one))
		}
	}
	_, err = fmt.Fprintf(c.App.Writer, "%s: %s on %s. Print it at actual size.\n", plain.Clean(path), strings.Join(holds, ", "), paper.Name)
	return err
}

func howMany(n int, one string) string { return shown.Counted(n, one) }

// paletteTubes finds the tubes of --palette, in the order given.
func paletteTubes(c *cli.Context, all *catalog.Catalogue) (out []catalog.Tube, err error) {
	ids := flagList(c, "palette")
	if len(ids) < 2 || len(ids) > mostCharted {
		return nil, userError("--palette names %d tubes and a chart takes 2 to %d; write it as in --palette titanium-white,ultramarine-blue (fewtubes tubes lists them)", len(ids), mostCharted)
	}
	return inTheirOrder(all, "--palette", ids)
}
