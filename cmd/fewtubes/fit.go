package main

import (
	"fmt"
	"io"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"github.com/urfave/cli/v2"
)

func fitCommand() *cli.Command {
	return &cli.Command{
		Name:      "fit",
		Usage:     "move the values of a scene into what a palette shows",
		ArgsUsage: "SCENE.toml",
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "the tubes whose darkest and lightest mixes set the range, as `ID,ID,...`"},
			pointsFlag(),
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the moved scene to `FILE`"},
			ownFlag(),
			forceFlag(),
		},
		Action: fitScene,
	}
}

// pointsFlag goes with every command that moves values.
func pointsFlag() cli.Flag {
	return &cli.StringFlag{Name: "points", Usage: "set the curve yourself: darkest, middle and lightest value, 0 black to 10 white, and what they become, as `0.4:2.3,5:5,9.8:9.7`"}
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
	path, err := sceneArgument(c)
	if err != nil {
		return err
	}
	out := c.String("output")
	if err := checkOutput(out, c.Bool("force"), path); err != nil {
		return err
	}
	s, err := scene.Read(path)
	if err != nil {
		return err
	}
	curve, err := fittingCurve(c, &s)
	if err != nil {
		return err
	}
	if curve == nil {
		fmt.Fprintln(c.App.Writer, "Every value lies within what these tubes show: nothing was moved.")
		curve = &values.Curve{From: [3]float64{0, 50, 100}, To: [3]float64{0, 50, 100}}
	}
	fitted, moved := scene.Revalued(s, *curve)
	printMoved(c.App.Writer, moved)
	if out == "" {
		return nil
	}
	fitted.Photos = pathsFrom(s.Photos, path, out)
	return writeOutput(out, scene.Format(fitted))
}

// fittingCurve is the painter's own curve, or the one from the scene's values
// into the palette's; nil when they lie within already.
func fittingCurve(c *cli.Context, s *scene.Scene) (*values.Curve, error) {
	curve, err := pointsOf(c)
	ids := flagList(c, "palette")
	switch {
	case err != nil:
		return nil, err
	case curve == nil && len(ids) == 0:
		return nil, userError("fit wants --palette ID,ID,... or --points 0.4:2.3,5:5,9.8:9.7")
	case curve != nil && len(ids) > 0:
		return nil, userError("fit takes --palette or --points, not both")
	}
	if curve == nil {
		dark, light, err := paletteRange(c, ids, s)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(c.App.Writer, "These tubes show values from %.1f to %.1f.\n", dark/10, light/10)
		from, to := s.Values()
		if curve = values.ToRange(from, to, dark, light); curve == nil {
			return nil, nil
		}
	}
	fmt.Fprintf(c.App.Writer, "The curve: %s (darkest, middle, lightest).\n", curve.Points())
	return curve, nil
}

// paletteRange is the value of the mixes nearest to black and to white, L*.
func paletteRange(c *cli.Context, ids []string, s *scene.Scene) (dark, light float64, err error) {
	tubes, err := stock(c)
	if err != nil {
		return 0, 0, err
	}
	var chosen []catalog.Tube
	for _, id := range ids {
		if err := known(tubes, "--palette", id); err != nil {
			return 0, 0, err
		}
		t, _ := tubes.Find(id)
		chosen = append(chosen, t)
	}
	problem := s.Problem(chosen)
	paints := make([]film.Paint, len(chosen))
	for i := range chosen {
		paints[i] = chosen[i].Paint
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry, Light: problem.Light, PaintsPerMix: problem.PaintsPerMix})
	if err != nil {
		return 0, 0, err
	}
	all := gamut.FullSet(m.Len())
	black, white := m.Closest(colour.Lab{}, all, gamut.Search), m.Closest(colour.Lab{L: 100}, all, gamut.Search)
	return black.Lab.L, white.Lab.L, nil
}

func printMoved(w io.Writer, moved []scene.Moved) {
	for _, m := range moved {
		fmt.Fprintf(w, "%s: value %.1f to %.1f", m.Name, m.From.L/10, m.To.L/10)
		if from, to := m.From.LCh().C, m.To.LCh().C; int(from+0.5) != int(to+0.5) {
			fmt.Fprintf(w, ", chroma %.0f to %.0f", from, to)
		}
		fmt.Fprintln(w)
	}
}
