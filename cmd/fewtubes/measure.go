package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"

	"github.com/urfave/cli/v2"
)

// whites are the tubes a painter tints with, the likeliest first.
var whites = []string{"titanium-white", "titanium-zinc-white", "zinc-white", "lead-white"}

func measureCommand() *cli.Command {
	return &cli.Command{
		Name:      "measure",
		Usage:     "your own tubes from readings or colours of what you painted",
		ArgsUsage: "[SHEET]",
		Description: "SHEET holds spectra of paint-outs, or their colours, in which case the tubes start from the catalogue and learn. At the\n" +
			"table: fewtubes measure --pile 3:ultramarine-blue,1:yellow-ochre --seen \"5G 4/2\" keeps a swatch in box.toml and says what it\n" +
			"taught. fewtubes measure --box box.toml says what all of them did.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the tubes to `FILE`, for --own"},
			&cli.StringFlag{Name: "white", Usage: "the `TUBE` the tints were made with, which sets the scale of strength"},
			&cli.StringFlag{Name: "surface", Value: string(film.AsDried), Usage: "the readings were taken by `GLOSS`: dry, with it (specular included), or no-glare, without it"},
			&cli.BoolFlag{Name: "each-film", Usage: "films of unknown thickness each have their own, even where one for all fits"},
			forceFlag(),
			&cli.BoolFlag{Name: "learn", Usage: "let spectra move the tubes of the catalogue, too, as colours do", DisableDefaultText: true},
			&cli.StringFlag{Name: "box", Usage: "keep the swatches in the box, a `FILE`, and learn from all in it"},
			&cli.StringFlag{Name: "marks", Usage: "SHEET is a photograph of swatches beside a grey card or patches of known colour; `FILE` says where they lie"},
			&cli.StringFlag{Name: "pile", Usage: "the parts of one swatch, a `LIST` such as 3:ultramarine-blue,1:yellow-ochre"},
			&cli.StringFlag{Name: "seen", Usage: "the `COLOUR` that swatch came to, in any notation of a scene"},
			&cli.StringFlag{Name: "seen-by", Value: string(readings.Chip), Usage: "that colour was come by as `SAID`: instrument, chip (matched by eye) or camera"},
			&cli.IntFlag{Name: "forget", Usage: "take swatch `N` out of the box again"},
			&cli.StringFlag{Name: "scene", Usage: "count the recipes that change for the colours of a scene, a `FILE`"},
		},
		Action: measureTubes,
	}
}

func measureTubes(c *cli.Context) error {
	switch {
	case c.IsSet("pile") || c.IsSet("seen"):
		return measurePile(c)
	case c.IsSet("forget"):
		return forgetSwatch(c)
	case c.NArg() == 0 && c.IsSet("box"):
		return tellBox(c)
	case c.NArg() != 1:
		return userError("measure takes one file of readings; name it as in fewtubes measure readings.csv -o mytubes.toml")
	}
	path, out := c.Args().First(), c.String("output")
	if err := checkOutput(out, c.Bool("force"), path); err != nil {
		return err
	}
	builtin, err := catalog.Builtin()
	if err != nil {
		return err
	}
	switch {
	case c.IsSet("marks"):
		return measurePhoto(c)
	case isPicture(path):
		return userError("%s is a photograph; say where its patches lie in a file, as in fewtubes measure %[1]s --marks marks.csv", path)
	}
	set, err := readings.Read(path)
	if err != nil {
		return err
	}
	if set.HasColours() || c.Bool("learn") || c.IsSet("box") {
		return learnSheet(c, set)
	}
	set.NameTubes(func(name string) string { return calledIn(builtin, name) })
	known := func(id string) float64 {
		t, _ := builtin.Find(id)
		return t.Density
	}
	tubes, found, unfit, err := set.ForFit(known)
	if err != nil {
		return err
	}
	leftOut := append(set.LeftOut, unfit...)
	tellLeftOut(c, leftOut)
	white, err := measuredWhite(calledIn(builtin, c.String("white")), tubes, path)
	if err != nil {
		return err
	}
	surface := builtin.Surface(film.AsDried)
	if err := underSurface(surface, c.String("surface"), found); err != nil {
		return err
	}
	done := working(c.App.ErrWriter, "fitting the tubes")
	fit, err := fitTubes(c.Context, found, len(tubes), white, surface, c.Bool("each-film"))
	done()
	if errors.Is(err, film.ErrReadings) {
		return userError("%s: %w", path, err)
	}
	if err != nil {
		return err
	}
	ontoCatalogueScale(fit, tubes[white], builtin)
	if out != "" {
		if err := writeOutput(c, out, owntubes.Format(measuredFile(fit, tubes, builtin, set))); err != nil {
			return err
		}
		fmt.Fprintf(c.App.ErrWriter, "%s: %s, for --own\n", plain.Clean(out), howMany(len(tubes), "tube"))
	}
	_, err = io.WriteString(c.App.Writer, measuredText(fit, tubes, len(leftOut), builtin, terminalStyle(c.App.Writer)))
	return err
}

// calledIn is the id of the tube of a catalogue that words mean, or the words where none is meant.
func calledIn(all *catalog.Catalogue, words string) string {
	if t, err := all.Get(words); err == nil {
		return t.ID
	}
	return strings.ReplaceAll(words, ":", "-") // which no id holds
}

// measuredWhite is the index of the white the scale hangs on.
func measuredWhite(asked string, tubes []string, path string) (int, error) {
	if asked != "" {
		if i := slices.Index(tubes, asked); i >= 0 {
			return i, nil
		}
		return 0, userError("--white %s: no reading in %s holds that tube; name one of %s", asked, path, strings.Join(tubes, ", "))
	}
	for _, w := range whites {
		if i := slices.Index(tubes, w); i >= 0 {
			return i, nil
		}
	}
	return 0, userError("%s: no white is among the tubes; paint out the white the tints were made with, or name it with --white", path)
}

// underSurface brings readings under the surface every tube is fitted with.
func underSurface(s film.Surface, name string, found []film.Reading) error {
	switch view, err := film.ParseView(name); {
	case err != nil || name == "":
		return userError("--surface %s: tubes are fitted under k1 %g, k2 %g, the surface their colours are shown with; say dry for readings with the gloss, no-glare for readings without it",
			name, s.K1, s.K2)
	case view == film.NoGlare:
		addGlare(found, s.K1)
	}
	return nil
}

// addGlare gives readings without specular reflection the share they leave out.
func addGlare(found []film.Reading, glare float64) {
	charts := map[*colour.Spectrum]*colour.Spectrum{}
	add := func(s colour.Spectrum) colour.Spectrum {
		for b := range s {
			s[b] += glare
		}
		return s
	}
	for i := range found {
		r := &found[i]
		r.Seen = add(r.Seen)
		if r.Backing == nil {
			continue
		}
		if charts[r.Backing] == nil {
			chart := add(*r.Backing)
			charts[r.Backing] = &chart
		}
		r.Backing = charts[r.Backing]
	}
}

func fitTubes(ctx context.Context, found []film.Reading, tubes, white int, surface film.Surface, each bool) (*readings.Fitted, error) {
	opt := film.DefaultFit()
	opt.Anchor, opt.Surface = white, surface
	return readings.Fit(ctx, found, tubes, opt, each)
}

// ontoCatalogueScale brings K and S from "this white scatters 1" to "titanium
// white scatters 1" through the catalogue's own tube of that white. A white the
// catalogue does not have is taken for titanium white.
func ontoCatalogueScale(fit *readings.Fitted, white string, builtin *catalog.Catalogue) {
	known, ok := builtin.Find(white)
	if !ok {
		return
	}
	for i := range fit.Paints {
		p := &fit.Paints[i]
		for b := range p.K {
			p.K[b] *= known.Paint.S[b]
			p.S[b] *= known.Paint.S[b]
		}
	}
}

// measuredFile is the fit as a file of own tubes; what the catalogue knows of a
// tube of the same name goes with it.
func measuredFile(fit *readings.Fitted, tubes []string, builtin *catalog.Catalogue, set *readings.Set) *owntubes.File {
	density := set.Densities()
	f := &owntubes.File{}
	for i, id := range tubes {
		p := &fit.Paints[i]
		t, ok := builtin.Find(id)
		if !ok {
			t = catalog.Tube{ID: id, Name: strings.ReplaceAll(id, "-", " ")}
		}
		if d := density[id]; d > 0 {
			t.Density = d
		}
		t.Basis, t.Have, t.Parts, t.Paint, t.Doubt = catalog.Fitted, true, nil, p.Paint, shortDoubt(p.Doubt)
		t.Source = fmt.Sprintf("%s: %d readings, met within CIEDE2000 %.1f at the median, %.1f at most", plain.Clean(filepath.Base(set.File)), p.Readings, p.MedianDE, p.MaxDE)
		f.Tubes = append(f.Tubes, owntubes.Of(&t, builtin.Surface(film.AsDried)))
	}
	return f
}

// shortDoubt keeps two digits, since a doubt is no better known itself.
func shortDoubt(d doubt.Spread) doubt.Spread {
	for _, v := range []*float64{&d.Strength, &d.Scattering, &d.KShape, &d.SShape} {
		*v = min(math.Round(*v*100)/100, 3)
	}
	return d
}
