package main

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/tomltext"

	"github.com/urfave/cli/v2"
)

func saveFlag() cli.Flag {
	return &cli.BoolFlag{Name: "save", Usage: "write the palette into the scene, for check, handout and pack", DisableDefaultText: true}
}

// checkSave refuses a scene that could not be written, before the work.
func (q *question) checkSave(c *cli.Context) error {
	if !c.Bool("save") {
		return nil
	}
	if c.NArg() > 1 {
		return userError("--save writes into one scene and %d are named; write them as one first: fewtubes join ... -o both.toml", c.NArg())
	}
	return outputTrouble(q.from.scene, atomicfile.Check(q.from.scene, true))
}

// save writes a palette into the scene, whose other lines stay as they are.
func (q *question) save(c *cli.Context, palette []string) error {
	path := q.from.scene
	text, err := scene.Text(path)
	if err != nil {
		return err
	}
	s, err := scene.Parse(path, text)
	if err != nil {
		return err
	}
	s.Palette = palette
	changed, kept := scene.Update(text, s)
	if !kept {
		return userError("%s is written in a way that --save cannot change without loss; write palette = %s above its first table yourself", path, tomltext.QuoteList(palette))
	}
	if err := outputTrouble(path, atomicfile.Replace(path, changed)); err != nil {
		return err
	}
	fmt.Fprintf(c.App.ErrWriter, "fewtubes: the palette is saved in %s: %s\n", plain.Clean(path), strings.Join(palette, ", "))
	return nil
}
