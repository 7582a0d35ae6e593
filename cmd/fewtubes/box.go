package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"github.com/urfave/cli/v2"
)

func boxCommand() *cli.Command {
	return &cli.Command{
		Name:      "box",
		Usage:     "the tubes you own: put some in, take some out, or list them",
		ArgsUsage: "add|remove|list [NAME ...]",
		Description: "\"fewtubes box add burnt sienna, ultramarine\" puts two tubes into box.toml, and makes it if need be. choose, check,\n" +
			"compare, curve, fit, handout and pack take box.toml beside the scene. What else you write in it (remarks, prices,\n" +
			"tubes of your own) stays as it is.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "box", Value: boxName, Usage: "the box, a `FILE`"},
			&cli.BoolFlag{Name: "json", Usage: "print JSON instead of text (list)", DisableDefaultText: true},
		},
		Action: box,
	}
}

func box(c *cli.Context) error {
	path := c.String("box")
	verb, names := c.Args().First(), c.Args().Tail()
	switch verb {
	case "add", "remove":
		if c.Bool("json") {
			return userError("--json goes with box list alone; leave it out")
		}
		return fillBox(c, path, verb == "add", names)
	case "list":
		if len(names) > 0 {
			return userError("box list names every tube in the box; leave %q out, or write fewtubes tubes %[1]s", names[0])
		}
		return listBox(c, path)
	case "":
		return userError("box wants to know what to do; write box add NAME, box remove NAME or box list")
	}
	return userError("box does not know %q; write box add NAME, box remove NAME or box list", verb)
}

// openBox reads a box; made: there is none yet.
func openBox(path string) (b *owntubes.Box, made bool, err error) {
	all, err := catalog.Builtin()
	if err != nil {
		return nil, false, err
	}
	text, err := owntubes.Text(path)
	if errors.Is(err, fs.ErrNotExist) {
		text, made, err = nil, true, nil
	}
	if err != nil {
		return nil, false, err
	}
	b, err = owntubes.OpenBox(path, text, all)
	return b, made, err
}

func fillBox(c *cli.Context, path string, in bool, names []string) error {
	b, made, err := openBox(path)
	switch {
	case err != nil:
		return err
	case made && !in:
		return userError("%s: there is no such box yet; fewtubes box add NAME makes one", path)
	}
	tubes, err := tubesInWords(b.Catalogue(), names)
	if err != nil {
		return placed("box", err)
	}
	if len(tubes) == 0 {
		return userError(`box: no tube is named; write it as in box add "burnt sienna"`)
	}
	changed, idle, err := b.Put(in, idsOf(tubes))
	if err != nil {
		return err
	}
	if len(idle) < len(tubes) {
		write := atomicfile.Replace
		if made {
			write = atomicfile.Create
		}
		if err := outputTrouble(path, write(path, changed.Text())); err != nil {
			return err
		}
	}
	_, err = io.WriteString(c.App.Writer, filledWords(path, in, tubes, idle, len(changed.Owned())))
	return err
}

// tubesInWords finds tubes in the words of a command line, parted by commas or not.
func tubesInWords(all *catalog.Catalogue, words []string) (out []catalog.Tube, err error) {
	groups := [][]string{nil} // between commas
	for _, word := range words {
		for i, part := range strings.Split(word, ",") {
			if i > 0 {
				groups = append(groups, nil)
			}
			if part = strings.TrimSpace(part); part != "" {
				groups[len(groups)-1] = append(groups[len(groups)-1], part)
			}
		}
	}
	for _, group := range groups {
		each, err := all.GetEach(group)
		if err != nil {
			return nil, err
		}
		out = append(out, each...)
	}
	return out, nil
}

func filledWords(path string, in bool, tubes []catalog.Tube, idle []string, now int) string {
	done, before := "Put in", "In the box already"
	if !in {
		done, before = "Taken out", "Not in the box"
	}
	var moved []string
	for _, t := range tubes {
		if !slices.Contains(idle, t.ID) {
			moved = append(moved, t.ID)
		}
	}
	var out strings.Builder
	if len(moved) > 0 {
		fmt.Fprintf(&out, "%s: %s.\n", done, strings.Join(once(moved), ", "))
	}
	if len(idle) > 0 {
		fmt.Fprintf(&out, "%s: %s.\n", before, strings.Join(once(idle), ", "))
	}
	fmt.Fprintf(&out, "%s holds %s.\n", plain.Clean(path), howMany(now, "tube"))
	return out.String()
}

func listBox(c *cli.Context, path string) error {
	b, made, err := openBox(path)
	switch {
	case err != nil:
		return err
	case made:
		return &fs.PathError{Op: "open", Path: path, Err: os.ErrNotExist}
	}
	if b, err = b.Taught(); err != nil {
		return err
	}
	all := b.Catalogue()
	in := b.Owned()
	if len(in) == 0 && !c.Bool("json") {
		_, err := fmt.Fprintf(c.App.Writer, "%s holds no tube; put some in with fewtubes box add NAME.\n", plain.Clean(path))
		return err
	}
	return show(c, nil, tubelist.NewCatalogue(in, all.Surface(film.AsDried), colour.D65()))
}
