package main

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"

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
	curve, box, text, err := fittingCurve(c, &s)
	if err != nil {
		return err
	}
	fitted, moved := scene.Revalued(s, curve)
	if box != nil {
		done := working(c.App.ErrWriter, "pressing colours into reach")
		var said string
		fitted, moved, said = box.pressed(&s, &fitted)
		done()
		text += said
	}
	return publishCopy(c, fitted, path, out, text+movedText(moved))
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

// fittingCurve is the painter's own curve, or the one from the scene's values
// into the palette's, and what to say of it.
func fittingCurve(c *cli.Context, s *scene.Scene) (curve values.Curve, box *fittingBox, text string, err error) {
	given, err := pointsOf(c)
	switch {
	case err != nil:
		return curve, nil, "", err
	case given != nil && c.IsSet("palette"):
		return curve, nil, "", userError("fit takes --palette or --points, not both; leave one out")
	case given != nil:
		return *given, nil, curveText(given), nil
	}
	if box, err = newFittingBox(c, s); err != nil {
		return curve, nil, "", err
	}
	dark, light := box.values()
	if light-dark < leastRange {
		return curve, nil, "", userError("--palette: these tubes show values from %.1f to %.1f alone; name a dark one and a light one", dark/10, light/10)
	}
	shows := fmt.Sprintf("These tubes show values from %.1f to %.1f.\n", dark/10, light/10)
	if !c.IsSet("palette") {
		shows = fmt.Sprintf("Fitted to %s.\n", strings.Join(idsOf(box.palette), ", ")) + shows
	}
	from, to := s.Values()
	if curve := values.ToRange(from, to, dark, light); curve != nil {
		return *curve, box, shows + curveText(curve), nil
	}
	still := values.Curve{From: [3]float64{0, 50, 100}, To: [3]float64{0, 50, 100}}
	return still, box, shows + "Every value lies within what these tubes show: none was moved.\n", nil
}

// leastRange is the narrowest range of L* a scene can be fitted into.
const leastRange = 5

func curveText(curve *values.Curve) string {
	return fmt.Sprintf("The curve: %s (darkest, middle, lightest).\n", curve.Points())
}

// fittingBox are the tubes a scene is fitted to.
type fittingBox struct {
	stock   *catalog.Catalogue
	palette []catalog.Tube
	mixer   *gamut.Mixer
	all     set.Set
}

// newFittingBox holds the tubes named, those saved in the scene, or those owned.
func newFittingBox(c *cli.Context, s *scene.Scene) (*fittingBox, error) {
	tubes, err := stock(c)
	if err != nil {
		return nil, err
	}
	palette, err := paletteOf(c, tubes)
	if err == nil && !c.IsSet("palette") && c.String("box") == "" && len(s.Palette) > 0 {
		palette, err = tubesOf(tubes, s.Place("palette"), s.Palette)
	}
	switch {
	case err != nil:
		return nil, err
	case len(palette) == 0:
		return nil, userError("fit wants a range of values; write --palette ID,ID,..., --box FILE or --points 0.4:2.3,5:5,9.8:9.7")
	}
	problem := s.Problem(tubes)
	m, err := gamut.NewMixer(paintsOf(palette), gamut.Options{Surface: problem.Surface, Light: problem.Light, PaintsPerMix: problem.PaintsPerMix})
	if err != nil {
		return nil, err
	}
	return &fittingBox{tubes, palette, m, set.Full(m.Len())}, nil
}

// values are those of the mixes nearest to black and to white, L*.
func (b *fittingBox) values() (dark, light float64) {
	black, white := b.mixer.Closest(colour.Lab{}, b.all, gamut.Search), b.mixer.Closest(colour.Lab{L: 100}, b.all, gamut.Search)
	return black.Lab.L, white.Lab.L
}

// pressed is the scene with the colours of a revalued copy, each pressed into
// what the tubes mix, and what to say of it.
func (b *fittingBox) pressed(s, revalued *scene.Scene) (scene.Scene, []scene.Moved, string) {
	var wanted []gamut.Wanted
	for _, t := range revalued.Problem(b.stock).Targets {
		wanted = append(wanted, gamut.Wanted{Lab: t.Lab, Tolerance: t.Tolerance})
	}
	into := b.mixer.Pressed(wanted, b.all)
	pressed, turned := 0, 0
	for i, w := range wanted {
		was, is := w.Lab.LCh(), into[i].LCh()
		if into[i] != w.Lab {
			pressed++
			if math.Abs(is.L-was.L) > 0.05 || math.Abs(math.Remainder(is.H-was.H, 360))*is.C > 6 {
				turned++
			}
		}
	}
	fitted, moved := scene.Recoloured(*s, func(i int, _ colour.Lab) colour.Lab { return into[i] })
	if pressed == 0 {
		return fitted, moved, "Every colour is within reach of these tubes: no chroma was pressed.\n"
	}
	text := fmt.Sprintf("Beyond what these tubes mix: %s, whose chroma was pressed into reach.\n", howMany(pressed, "colour"))
	if turned > 0 {
		text += fmt.Sprintf("Of %d of them value or hue had to give way, too, to be reached or to keep the order of chroma among like hues.\n", turned)
	}
	return fitted, moved, text
}

// movedText lists what was moved by as much as it shows: value and chroma, and the
// hue in words where another word fits it.
func movedText(moved []scene.Moved) string {
	var b strings.Builder
	for _, m := range moved {
		was, is := fmt.Sprintf("%.1f", m.From.L/10), fmt.Sprintf("%.1f", m.To.L/10)
		strong, now := fmt.Sprintf("%.0f", m.From.LCh().C), fmt.Sprintf("%.0f", m.To.LCh().C)
		var what []string
		if was != is {
			what = append(what, "value "+was+" to "+is)
		}
		if strong != now {
			what = append(what, "chroma "+strong+" to "+now)
		}
		if a, b := colour.Name(m.From), colour.Name(m.To); a.Hue != b.Hue {
			what = append(what, fmt.Sprintf("%v to %v", a, b))
		}
		if len(what) > 0 {
			fmt.Fprintf(&b, "%s: %s\n", m.Name, strings.Join(what, ", "))
		}
	}
	return b.String()
}
