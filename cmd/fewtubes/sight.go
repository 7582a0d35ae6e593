package main

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"github.com/urfave/cli/v2"
)

// lightFlag and surfaceFlag say how the colours are seen; without a value they
// stand for the scene's.
func lightFlag(value string) cli.Flag {
	return &cli.StringFlag{Name: "light", Value: value, Usage: "see the colours under light `NAME`: D65, D50 or A", DefaultText: sceneWhere(value)}
}

func surfaceFlag(value string) cli.Flag {
	return &cli.StringFlag{Name: "surface", Value: value, DefaultText: sceneWhere(value),
		Usage: "see the paint by `GLOSS`: dry, with its glare, or no-glare, varnished or lit so that none is seen"}
}

func sceneWhere(value string) string {
	if value == "" {
		return scenes
	}
	return ""
}

// sightOf reads both where there is no scene.
func sightOf(c *cli.Context) (*colour.Light, film.View, error) {
	light, err := colour.ParseLight(c.String("light"))
	if err != nil {
		return nil, "", userError("--light: %w", err)
	}
	view, err := film.ParseView(c.String("surface"))
	if err != nil {
		return nil, "", userError("--surface: %w", err)
	}
	return light, view, nil
}
