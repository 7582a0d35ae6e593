package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/patches"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/readings"

	"github.com/urfave/cli/v2"
)

// photoLongest is the longer side that patches are read at, pixels.
const photoLongest = 2400

// isPicture tells a photograph by its name.
func isPicture(path string) bool {
	return slices.Contains([]string{".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff", ".heic", ".heif"}, strings.ToLower(filepath.Ext(path)))
}

// measurePhoto learns from the painted patches of a photograph.
func measurePhoto(c *cli.Context) error {
	path, marksPath := c.Args().First(), c.String("marks")
	marks, err := patches.ReadMarks(marksPath)
	if err != nil {
		return err
	}
	picture, err := photo.Open(path, photoLongest)
	if err != nil {
		return err
	}
	r, err := patches.Read(path, marksPath, picture, marks)
	if err != nil {
		return err
	}
	how := [...]string{
		"white balance and exposure alone, since greys tell no more",
		"white balance, exposure and three by three numbers",
		"white balance, exposure and three by six numbers",
	}[r.Correction]
	if r.Known > 1 {
		how += fmt.Sprintf("; each is missed by %.1f in the middle, %.1f at most (CIEDE2000), put right by the others", r.Median, r.Most)
	}
	fmt.Fprintf(c.App.ErrWriter, "fewtubes: put right by %s of known colour: %s\n", howMany(r.Known, "patch"), how)
	set := &readings.Set{File: marksPath, LeftOut: r.LeftOut}
	for _, p := range r.Patches {
		recipe, msg := readings.ParseRecipe(p.Name)
		if msg != "" {
			set.LeftOut = append(set.LeftOut, &readings.Error{File: marksPath, Line: p.Line, Field: fmt.Sprintf("sample %q", p.Name), Msg: msg, Remedy: "write it like 1 ultramarine-blue + 9 titanium-white"})
			continue
		}
		lab := p.Lab
		set.Samples = append(set.Samples, readings.Sample{Name: p.Name, Line: p.Line, Recipe: recipe, Lab: &lab, By: readings.Camera, Noise: p.Noise})
	}
	return learnSheet(c, set)
}
