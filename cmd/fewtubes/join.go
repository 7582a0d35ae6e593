package main

import (
	"fmt"
	"os"
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/urfave/cli/v2"
)

func joinCommand() *cli.Command {
	return &cli.Command{
		Name:      "join",
		Usage:     "write several scenes as one",
		ArgsUsage: "SCENE.toml...",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the scene to `FILE`"},
			forceFlag(),
		},
		Action: joinScenes,
	}
}

func joinScenes(c *cli.Context) error {
	if c.String("output") == "" {
		return userError("join: no file is named to write; name the scene as in -o both.toml")
	}
	s, path, out, err := sceneToCopy(c)
	if err != nil {
		return err
	}
	return publishCopy(c, s, path, out, fmt.Sprintf("%s of %s from %s.\n", howMany(len(s.Targets), "colour"), howMany(len(s.Photos), "photograph"), howMany(c.NArg(), "scene")))
}

// readScenes reads the scenes named on the command line, as one. path is that of
// the first, from whose folder the photographs are named.
func readScenes(c *cli.Context) (s scene.Scene, path string, err error) {
	paths := c.Args().Slice()
	if len(paths) == 0 {
		return s, "", userError("%s wants a scene file; name it as in fewtubes %[1]s scene.toml", c.Command.Name)
	}
	scenes := make([]scene.Scene, len(paths))
	for i, p := range paths {
		if info, err := os.Stat(p); err == nil && info.Mode().IsRegular() && !isScene(p) {
			return s, "", userError("%s: its name does not end in .toml, so it is taken for a photograph; make a scene of it first: fewtubes sample %[1]s -o scene.toml", p)
		}
		if j := slices.IndexFunc(paths[:i], func(q string) bool { return sameFile(p, q) }); j >= 0 {
			return s, "", userError("%s is named twice; name it once, and put names with blanks in quotes", p)
		}
		if scenes[i], err = scene.Read(p); err != nil {
			return s, "", err
		}
		if i > 0 {
			scenes[i].Photos = pathsFrom(scenes[i].Photos, p, paths[0])
		}
	}
	if len(scenes) == 1 {
		return scenes[0], paths[0], nil
	}
	s, err = scene.Join(scenes)
	return s, paths[0], err
}
