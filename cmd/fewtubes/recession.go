package main

import (
	"cmp"
	"path/filepath"

	"fewtubes/cmd/fewtubes/internal/recession"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/air"

	"github.com/urfave/cli/v2"
)

func airCommand() *cli.Command {
	return &cli.Command{
		Name:      "air",
		Usage:     "move the colours of a scene to where its planes lie, by the law of the air",
		ArgsUsage: "SCENE.toml...",
		Flags: []cli.Flag{
			hueFlag(),
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the moved scene to `FILE`"},
			forceFlag(),
		},
		Action: putBack,
	}
}

func recessionCommand() *cli.Command {
	return &cli.Command{
		Name:      "recession",
		Usage:     "whether the colours of a scene stand where its planes lie, by the law of the air",
		ArgsUsage: "SCENE.toml...",
		Flags: []cli.Flag{
			hueFlag(),
			&cli.StringFlag{Name: "svg", Usage: "also draw value and chroma over distance into `FILE`"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write a copy of the scene as the law has it to `FILE`"},
			forceFlag(),
		},
		Action: checkRecession,
	}
}

func hueFlag() cli.Flag {
	return &cli.StringFlag{Name: "hue", Usage: "take distant hues as `READING`: measured, turning to the colour of the air, or seen, holding", DefaultText: scenes}
}

// throughAir reads a scene to copy and the law of its air.
func throughAir(c *cli.Context) (s scene.Scene, law *recession.Law, path, out string, err error) {
	if s, path, out, err = sceneToCopy(c); err != nil {
		return s, nil, "", "", err
	}
	if c.IsSet("hue") {
		hue, err := air.ParseHue(c.String("hue"))
		if err != nil {
			return s, nil, "", "", userError("--hue: %w", err)
		}
		s.Air = new(*cmp.Or(s.Air, &scene.Air{}))
		s.Air.Hue = hue
	}
	law, err = recession.NewLaw(&s)
	return s, law, path, out, err
}

func putBack(c *cli.Context) error {
	s, law, path, out, err := throughAir(c)
	if err != nil {
		return err
	}
	painted, moved := law.PutBack(s)
	text := law.Text(&s, terminalStyle(c.App.Writer)) + movedText(moved)
	if len(moved) == 0 {
		text += "Every colour was seen where its plane lies: nothing was moved.\n"
	}
	return publishCopy(c, painted, path, out, text)
}

func checkRecession(c *cli.Context) error {
	drawing := c.String("svg")
	if err := apart(c.String("output"), drawing); err != nil {
		return err
	}
	if err := checkOutput(drawing, c.Bool("force"), inputsOf(c)...); err != nil {
		return err
	}
	s, law, path, out, err := throughAir(c)
	if err != nil {
		return err
	}
	found, style := law.Judge(&s), terminalStyle(c.App.Writer)
	text := law.Text(&s, style) + recession.JudgedText(found, style)
	var undrawn error
	if drawing != "" {
		undrawn = writeOutput(c, drawing, law.Picture(&s, found))
	}
	if out == "" {
		return cmp.Or(publish(c, "", nil, text), undrawn)
	}
	adjusted, moved := law.Adjusted(s)
	return cmp.Or(publishCopy(c, adjusted, path, out, text+movedText(moved)), undrawn)
}

// publishCopy writes a changed copy of the scene at path, where one is wanted.
func publishCopy(c *cli.Context, s scene.Scene, path, out, text string) error {
	if out != "" {
		s.Photos = pathsFrom(s.Photos, path, out)
	}
	return publish(c, out, scene.Format(s), text)
}

// pathsFrom names the photographs of one scene file as another would.
func pathsFrom(photos []scene.Photo, from, to string) []scene.Photo {
	out := append([]scene.Photo(nil), photos...)
	for i := range out {
		if file := filepath.FromSlash(out[i].File); !filepath.IsAbs(file) {
			out[i].File = relativeTo(to, filepath.Join(filepath.Dir(from), file))
		}
	}
	return out
}
