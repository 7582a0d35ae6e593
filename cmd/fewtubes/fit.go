package main

import (
	"errors"
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/fitting"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"

	"github.com/urfave/cli/v2"
)

func fitCommand() *cli.Command {
	return &cli.Command{
		Name:      "fit",
		Usage:     "move the values of a scene into what a palette shows, and its chroma into what it mixes",
		ArgsUsage: "SCENE.toml...",
		Flags: append([]cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "the tubes whose mixes set the range, as `ID,ID,...`", DefaultText: "those saved in the scene, or else those you own"},
			pointsFlag(),
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the moved scene to `FILE`"},
			ownFlag(),
			forceFlag(),
		}, boxFlags()...),
		Action: fitScene,
	}
}

// pointsFlag goes with every command that moves values.
func pointsFlag() cli.Flag {
	return &cli.StringFlag{Name: "points", Usage: "set the curve yourself by `POINTS`: darkest, middle and lightest value, 0 black to 10 white, and what each becomes, as in 0.4:2.3,5:5,9.8:9.7"}
}

// pointsOf is the curve of the flag; nil when it was not given.
func pointsOf(c *cli.Context) (*values.Curve, error) {
	text := c.String("points")
	if text == "" {
		return nil, nil
	}
	curve, err := values.ParsePoints(text)
	if err != nil {
		return nil, userError("--points %s: %w; write it as in 0.4:2.3,5:5,9.8:9.7", text, err)
	}
	return &curve, nil
}

func fitScene(c *cli.Context) error {
	s, path, out, err := sceneToCopy(c)
	if err != nil {
		return err
	}
	curve, err := pointsOf(c)
	switch {
	case err != nil:
		return err
	case curve != nil && c.IsSet("palette"):
		return userError("fit takes --palette or --points, not both; leave one out")
	}
	fitted := fitting.Fitted{}
	if curve != nil {
		fitted = fitting.By(s, curve)
	} else if fitted, err = fitInto(c, s); err != nil {
		return err
	}
	return publishCopy(c, fitted.Scene, path, out, fitted.Words+movedText(fitted.Moved))
}

// fitInto fits a scene to the tubes named, those saved in it, or those owned.
func fitInto(c *cli.Context, s scene.Scene) (fitted fitting.Fitted, err error) {
	all, err := stock(c)
	if err != nil {
		return fitted, err
	}
	tubes, err := paletteOf(c, all)
	if err == nil && !c.IsSet("palette") && c.String("box") == "" && len(s.Palette) > 0 {
		tubes, err = tubesOf(all, s.Place("palette"), s.Palette)
	}
	switch {
	case err != nil:
		return fitted, err
	case len(tubes) == 0:
		return fitted, userError("fit wants a range of values; write --palette ID,ID,..., --box FILE or --points 0.4:2.3,5:5,9.8:9.7")
	}
	done := working(c.App.ErrWriter, "pressing colours into reach")
	fitted, err = fitting.Into(s, all, tubes)
	done()
	var narrow *fitting.Narrow
	if errors.As(err, &narrow) {
		return fitted, userError("--palette: %w", err)
	}
	if err == nil && !c.IsSet("palette") {
		fitted.Words = fmt.Sprintf("Fitted to %s.\n", strings.Join(idsOf(tubes), ", ")) + fitted.Words
	}
	return fitted, err
}

// movedText lists what was moved by as much as it shows.
func movedText(moved []scene.Moved) string {
	var b strings.Builder
	for _, m := range moved {
		if words := m.Words(); words != "" {
			fmt.Fprintf(&b, "%s: %s\n", m.Name, words)
		}
	}
	return b.String()
}

// sceneToCopy reads the scene a command makes a changed copy of; out is where
// the copy goes, empty when it is not wanted.
func sceneToCopy(c *cli.Context) (s scene.Scene, path, out string, err error) {
	out = c.String("output")
	if err = checkOutput(out, c.Bool("force"), inputsOf(c)...); err != nil {
		return s, "", "", err
	}
	s, path, err = readScenes(c)
	return s, path, out, err
}
