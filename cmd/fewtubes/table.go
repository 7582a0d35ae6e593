package main

import (
	"errors"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"

	"github.com/urfave/cli/v2"
)

// tableFlags go with every command of the mixing table.
func tableFlags() []cli.Flag {
	return append([]cli.Flag{
		lightFlag("D65"), surfaceFlag("dry"),
		munsellFlag(),
		ownFlag(), cautionsFlag(),
	}, outputFlags()...)
}

// atTable reads what every command of the mixing table is asked under.
func atTable(c *cli.Context) (*catalog.Catalogue, gamut.Options, error) {
	light, view, err := sightOf(c)
	if err != nil {
		return nil, gamut.Options{}, err
	}
	if err := checkOutput(c.String("html"), c.Bool("force"), c.String("own")); err != nil {
		return nil, gamut.Options{}, err
	}
	tubes, err := stock(c)
	if err != nil {
		return nil, gamut.Options{}, err
	}
	return tubes, gamut.Options{Surface: tubes.Surface(view), Light: light}, nil
}

// colourFlag reads a colour from a flag; ok is false where it is not given.
func colourFlag(c *cli.Context, name string) (lab colour.Lab, ok bool, err error) {
	if !c.IsSet(name) {
		return lab, false, nil
	}
	if lab, err = readColour(c.String(name)); err != nil {
		return lab, false, userError("--%s: %w", name, err)
	}
	return lab, true, nil
}

// readColour reads a colour that a surface can have.
func readColour(text string) (colour.Lab, error) {
	lab, err := colour.Parse(text)
	if err != nil {
		return lab, userError("%w", err)
	}
	return lab, nil
}

// paletteOf finds the tubes of --palette or, without it, those the painter owns.
func paletteOf(c *cli.Context, all *catalog.Catalogue) ([]catalog.Tube, error) {
	if !c.IsSet("palette") {
		return owned(all), nil
	}
	return namedTubes(c, all, "palette")
}

// namedTubes are the tubes that a flag lists; nil where it is not given.
func namedTubes(c *cli.Context, all *catalog.Catalogue, flag string) ([]catalog.Tube, error) {
	ids := flagList(c, flag)
	switch {
	case !c.IsSet(flag):
		return nil, nil
	case len(ids) == 0:
		return nil, userError("--%s names no tube; write it as in --%[1]s titanium-white,yellow-ochre", flag)
	}
	return tubesOf(all, "--"+flag, ids)
}

// tubesOf finds tubes by name, each named once, in the order of the catalogue.
func tubesOf(all *catalog.Catalogue, where string, names []string) ([]catalog.Tube, error) {
	tubes, err := inTheirOrder(all, where, names)
	if err != nil {
		return nil, err
	}
	ids := idsOf(tubes)
	return slices.DeleteFunc(all.Tubes(), func(t catalog.Tube) bool { return !slices.Contains(ids, t.ID) }), nil
}

// inTheirOrder finds tubes by name, each named once, in the order given.
func inTheirOrder(all *catalog.Catalogue, where string, names []string) (out []catalog.Tube, err error) {
	for _, name := range names {
		tube, err := known(all, where, name)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out, func(t catalog.Tube) bool { return t.ID == tube.ID }) {
			return nil, userError("%s: %q is named twice; name it once", where, tube.ID)
		}
		out = append(out, tube)
	}
	return out, nil
}

// idsNamed are the ids of tubes named, each once.
func idsNamed(all *catalog.Catalogue, where string, names []string) (ids []string, err error) {
	for _, name := range names {
		tube, err := known(all, where, name)
		if err != nil {
			return nil, err
		}
		ids = append(ids, tube.ID)
	}
	return once(ids), nil
}

func idsOf(tubes []catalog.Tube) (ids []string) {
	for _, t := range tubes {
		ids = append(ids, t.ID)
	}
	return ids
}

// readAmounts reads parts of tubes that are in the catalogue.
func readAmounts(all *catalog.Catalogue, where string, given ...string) ([]mixing.Amount, error) {
	amounts, err := mixing.ParseAmounts(given...)
	if err != nil {
		return nil, userError("%s: %w", where, err)
	}
	if err := mixing.FindTubes(all, amounts); err != nil {
		return nil, placed(where, err)
	}
	return amounts, nil
}

// known finds the tube that a name means.
func known(all *catalog.Catalogue, where, name string) (catalog.Tube, error) {
	tube, err := all.Get(name)
	return tube, placed(where, err)
}

// placed puts before an error about a tube where it was named.
func placed(where string, err error) error {
	var unknown *catalog.UnknownTube
	switch {
	case err == nil:
		return nil
	case errors.As(err, &unknown):
		return userError("%s: %w"+whereTubes(unknown), where, err)
	}
	return userError("%s: %w", where, err)
}

// joined is what stands on the command line besides flags, for a colour such as
// 5GY 5/6 that was not put in quotes.
func joined(c *cli.Context) string { return strings.Join(c.Args().Slice(), " ") }
