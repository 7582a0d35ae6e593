package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"

	"github.com/urfave/cli/v2"
)

// ownFlag names the painter's own tubes.
func ownFlag() cli.Flag {
	return &cli.StringFlag{Name: "own", Usage: "the painter's own tubes, in `FILE`, cost nothing"}
}

// boxName is the file that holds a painter's box where no other is named.
const boxName = "box.toml"

// boxFlags name the box to choose or check with.
func boxFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "box", Usage: "the tubes you own, in `FILE`", DefaultText: boxName + " beside the scene, if there is one"},
		&cli.BoolFlag{Name: "no-box", Usage: "leave out " + boxName + " beside the scene", DisableDefaultText: true},
	}
}

// holding is the file that says which tubes the painter has; empty: none does.
type holding struct {
	path   string
	box    bool // it is the box, and not told by --own
	beside bool // found, not named
}

// kitOf tells it from the flags of a command, or finds it beside its scene.
func kitOf(c *cli.Context) holding {
	if own := c.String("own"); own != "" {
		return holding{path: own}
	}
	if box := c.String("box"); box != "" {
		return holding{path: box, box: true}
	}
	takes := slices.ContainsFunc(c.Command.Flags, func(f cli.Flag) bool { return f.Names()[0] == "no-box" })
	if takes && !c.Bool("no-box") && c.NArg() > 0 {
		path := filepath.Join(filepath.Dir(c.Args().First()), boxName)
		scene, _ := os.Stat(c.Args().First())
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && !os.SameFile(info, scene) {
			return holding{path, true, true}
		}
	}
	return holding{}
}

// stock is every tube a command may use: those built in, with the painter's own
// beside them or instead.
func stock(c *cli.Context) (*catalog.Catalogue, error) {
	tubes, err := catalog.Builtin()
	k := kitOf(c)
	if err != nil || k.path == "" {
		return tubes, err
	}
	if c.String("own") != "" && c.String("box") != "" {
		return nil, userError("--own and --box both name the tubes you have; leave one of them out")
	}
	with, leftOut, err := owntubes.Load(k.path, tubes)
	if errors.Is(err, fs.ErrNotExist) {
		err = cmp.Or(noKitFile(c, tubes, k.path), err)
	}
	if err != nil {
		return nil, err
	}
	tellLeftOut(c, leftOut)
	if k.beside {
		fmt.Fprintf(c.App.ErrWriter, "fewtubes: %s is used, with %s; --no-box leaves it out\n", plain.Clean(k.path), howMany(len(owned(with)), "tube"))
	}
	return with, nil
}

// noKitFile says what to type where tubes are named in the place of their file; nil
// where they are not.
func noKitFile(c *cli.Context, all *catalog.Catalogue, given string) error {
	flag := "--own"
	if c.String("box") != "" {
		flag = "--box"
	}
	tubes, err := all.GetEach(splitList(given))
	if err != nil || len(tubes) == 0 {
		return nil
	}
	ids := idsOf(tubes)
	return userError(`%s names a file, not tubes; put them into one with "fewtubes box add %s" and write %[1]s %[3]s, or write own = ["%[4]s"] under [limits] of the scene`,
		flag, strings.Join(ids, " "), boxName, strings.Join(ids, `", "`))
}

// owned are the tubes of a catalogue that the painter has.
func owned(all *catalog.Catalogue) []catalog.Tube {
	return slices.DeleteFunc(all.Tubes(), func(t catalog.Tube) bool { return !t.Have })
}

// tellLeftOut says what of a file was set aside, and why.
func tellLeftOut(c *cli.Context, why []error) {
	const most = 10
	for i, err := range why {
		if i == most {
			fmt.Fprintf(c.App.ErrWriter, "fewtubes: left out: %d more\n", len(why)-most)
			return
		}
		fmt.Fprintf(c.App.ErrWriter, "fewtubes: left out: %s\n", oneLine(err.Error()))
	}
}
