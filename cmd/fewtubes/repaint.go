package main

import (
	"context"
	"fmt"
	"image"
	"path/filepath"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/repaint"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func repaintCommand() *cli.Command {
	return &cli.Command{
		Name:      "repaint",
		Usage:     "repaint photographs with a palette and say what of them it reaches",
		ArgsUsage: "PHOTO...",
		Description: "Every pixel becomes the nearest mix of the palette. Several photographs are written to files of their own,\n" +
			"named after the output and the photograph.",
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "the tubes to paint with, as `ID,ID,...`", DefaultText: "those saved in the scene, or else those you own"},
			&cli.StringFlag{Name: "scene", Usage: "the photographs, planes, limits and palette of the scene in `FILE`"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the picture to `FILE`.png or .jpg"},
			&cli.BoolFlag{Name: "beside", Usage: "photograph and repainting side by side", DisableDefaultText: true},
			&cli.BoolFlag{Name: "misses", Usage: "what stays out of reach, hatched, averaged to the width of a broad brush, instead of the repainting", DisableDefaultText: true},
			&cli.IntFlag{Name: "levels", Usage: "photograph and repainting in `N` flat values, 2 to 5", DefaultText: "none"},
			&cli.BoolFlag{Name: "as-seen", Usage: "leave the values as they are in the photograph", DisableDefaultText: true},
			&cli.Float64Flag{Name: "tolerance", Usage: "a colour counts as reached within `DE` of CIEDE2000", DefaultText: scenes + ", or 3"},
			&cli.IntFlag{Name: "paints-per-mix", Usage: "at most `M` paints in a mix", DefaultText: scenes + ", or 4"},
			lightFlag(""), surfaceFlag(""),
			ownFlag(),
			&cli.BoolFlag{Name: "json", Usage: "print JSON instead of text", DisableDefaultText: true},
			cautionsFlag(),
			forceFlag(),
		},
		Action: repaintPhotos,
	}
}

// repainter is what every photograph of a run is painted with.
type repainter struct {
	scene    scene.Scene
	palette  []catalog.Tube
	mixer    *gamut.Mixer
	allowed  *gamut.Mixer // nil: no more than the palette
	picture  string       // what is drawn: one of the flags, or nothing
	levels   int
	asSeen   bool
	progress *spinner
}

func repaintPhotos(c *cli.Context) error {
	r := &repainter{asSeen: c.Bool("as-seen")}
	photos, err := r.read(c)
	if err != nil {
		return err
	}
	outs, err := r.outputs(c, photos)
	if err != nil {
		return err
	}
	if err := r.readTubes(c); err != nil {
		return err
	}
	r.progress = spin(c.App.ErrWriter, "repainting")
	var doc repaintedJSON
	err = func() error {
		defer r.progress.done()
		for i, p := range photos {
			one, err := r.repaint(c, p, outs[i])
			if err != nil {
				return err
			}
			doc.Photographs = append(doc.Photographs, one)
		}
		return nil
	}()
	if err != nil {
		return err
	}
	doc.fill(r)
	if c.Bool("json") {
		return printJSON(c, &doc)
	}
	style := terminalStyle(c.App.Writer)
	style.Cautions = c.Bool("cautions")
	return publish(c, "", nil, doc.text(r, style))
}

// read finds the scene, which may be none, and the photographs to repaint.
func (r *repainter) read(c *cli.Context) (photos []scene.Photo, err error) {
	r.scene = anyScene()
	path := c.String("scene")
	if path != "" {
		if r.scene, err = scene.Read(path); err != nil {
			return nil, err
		}
	}
	if err := applySight(c, &r.scene); err != nil {
		return nil, err
	}
	for _, arg := range c.Args().Slice() {
		if isScene(arg) {
			return nil, userError("%s is a scene, and repaint wants photographs; write --scene %[1]s", arg)
		}
	}
	if photos, err = photosIn(&r.scene, path, c.Args().Slice()); err != nil {
		return nil, err
	}
	switch {
	case len(photos) > 0:
		return photos, nil
	case path != "":
		return nil, userError("%s names no photograph to repaint; name one as in fewtubes repaint photo.jpg --scene %[1]s", path)
	}
	return nil, userError("repaint: no photograph is given; name one as in fewtubes repaint photo.jpg --palette titanium-white,yellow-ochre,ultramarine-blue -o repainted.png")
}

// anyScene stands for none: no limits, and a colour, which each scene has.
func anyScene() scene.Scene {
	return scene.Scene{Tolerance: scene.DefaultTolerance, Light: colour.D65().Name, Targets: []scene.Target{{Name: "grey", Colour: "lab(50 0 0)", Lab: colour.Lab{L: 50}}}}
}

// outputs are the files to write, one for each photograph; empty ones where none is.
func (r *repainter) outputs(c *cli.Context, photos []scene.Photo) ([]string, error) {
	for _, name := range []string{"beside", "misses", "levels"} {
		if !c.IsSet(name) || name != "levels" && !c.Bool(name) {
			continue
		}
		if r.picture != "" {
			return nil, userError("--%s and --%s are two pictures; ask for one at a time", r.picture, name)
		}
		r.picture = name
	}
	if r.picture == "levels" {
		var err error
		if r.levels, err = levelsFlag(c); err != nil {
			return nil, err
		}
	}
	if c.String("output") == "" && r.picture != "" {
		return nil, userError("--%s is a picture; say where to, as in -o picture.png", r.picture)
	}
	inputs := []string{c.String("scene"), c.String("own")}
	for _, p := range photos {
		inputs = append(inputs, p.File)
	}
	return drawings(c, "output", photos, inputs)
}

// readTubes finds the palette and all that the limits of the scene allow.
func (r *repainter) readTubes(c *cli.Context) error {
	all, err := stock(c)
	if err != nil {
		return err
	}
	if r.palette, err = paletteOf(c, all); err != nil {
		return err
	}
	if !c.IsSet("palette") && len(r.scene.Palette) > 0 {
		if r.palette, err = tubesOf(all, r.scene.Place("palette"), r.scene.Palette); err != nil {
			return err
		}
	}
	if len(r.palette) == 0 {
		return userError("repaint wants the tubes to paint with; write --palette ID,ID,... or --own FILE (fewtubes tubes lists the ids)")
	}
	problem := r.scene.Problem(all)
	allowed, err := r.allowedTubes(all, problem)
	if err != nil {
		return err
	}
	options := gamut.Options{Surface: problem.Surface, Light: problem.Light, PaintsPerMix: r.scene.Limits.PaintsPerMix}
	if r.mixer, err = gamut.NewMixer(paintsOf(r.palette), options); err != nil {
		return err
	}
	if len(allowed) > len(r.palette) {
		r.allowed, err = gamut.NewMixer(paintsOf(allowed), options)
	}
	return err
}

// allowedTubes are those of the palette and all others that the limits allow.
func (r *repainter) allowedTubes(all *catalog.Catalogue, problem solver.Problem) ([]catalog.Tube, error) {
	session, err := solver.NewSession(problem)
	if err != nil {
		return nil, err
	}
	priced, err := session.Allowed(&problem.Limits)
	if err != nil {
		return nil, err
	}
	ids := idsOf(r.palette)
	for _, t := range priced {
		ids = append(ids, t.ID)
	}
	return all.GetEach(once(ids))
}

func paintsOf(tubes []catalog.Tube) (out []film.Paint) {
	for _, t := range tubes {
		out = append(out, t.Paint)
	}
	return out
}

// repaint paints one photograph, writes what is asked for and measures it.
func (r *repainter) repaint(c *cli.Context, p scene.Photo, out string) (doc repaintedPhotoJSON, err error) {
	ctx := c.Context
	whole, err := photo.OpenWhole(ctx, p.File)
	if err != nil {
		return doc, err
	}
	for _, note := range whole.Notes {
		fmt.Fprintf(c.App.ErrWriter, "%s: %s\n", plain.Clean(p.File), note)
	}
	source := repaint.Photograph{Whole: whole, Planes: p.Planes, Crop: p.Crop}
	if source.Curve, err = r.curve(ctx, whole, &p); err != nil {
		return doc, err
	}
	if err := source.Look(ctx); err != nil {
		return doc, err
	}
	region, err := source.Region(ctx)
	if err != nil {
		return doc, err
	}
	painting, err := source.Paint(ctx, r.mixer, region)
	if err != nil {
		return doc, err
	}
	mixer := r.allowed
	if mixer == nil {
		mixer = r.mixer
	}
	reached, err := painting.Reach(ctx, mixer, r.scene.Tolerance)
	if err != nil {
		return doc, err
	}
	measures, err := painting.Measure(ctx, r.scene.Tolerance, reached)
	if err != nil {
		return doc, err
	}
	if out != "" {
		img, err := r.draw(ctx, painting, whole, source.Curve)
		if err != nil {
			return doc, err
		}
		if err := writePicture(c, out, img); err != nil {
			return doc, err
		}
	}
	return newRepaintedPhoto(&p, source.Curve, out, &measures), nil
}

// curve moves the values of a photograph: as the scene says, as sample would, or
// not at all.
func (r *repainter) curve(ctx context.Context, whole *photo.Whole, p *scene.Photo) (*values.Curve, error) {
	if r.asSeen {
		return nil, nil
	}
	picture, err := whole.Averaged(ctx, sample.WorkingSize)
	if err != nil {
		return nil, err
	}
	return movedBy(ctx, p, sample.Source{Picture: picture, Crop: p.Crop}), ctx.Err()
}

// draw is the picture asked for.
func (r *repainter) draw(ctx context.Context, painting *repaint.Painting, whole *photo.Whole, curve *values.Curve) (image.Image, error) {
	switch r.picture {
	case "beside":
		return painting.Beside(ctx)
	case "misses":
		return painting.Misses(ctx, r.scene.Tolerance)
	case "levels":
		return r.flat(ctx, painting, whole, curve)
	}
	return painting.Image(ctx)
}

// flat is photograph and repainting in flat values.
func (r *repainter) flat(ctx context.Context, painting *repaint.Painting, whole *photo.Whole, curve *values.Curve) (image.Image, error) {
	img, err := painting.Image(ctx)
	if err != nil {
		return nil, err
	}
	repainted, err := photo.WholeOf(img)
	if err != nil {
		return nil, err
	}
	var greys [2]values.Grey
	for i, w := range []*photo.Whole{whole, repainted} {
		p, err := w.Averaged(ctx, values.CompareSize)
		if err != nil {
			return nil, err
		}
		greys[i] = values.Greys(p)
	}
	if curve != nil {
		for i, l := range greys[0].L {
			greys[0].L[i] = curve.At(l)
		}
	}
	return values.FlatBoard(greys[0], greys[1], r.levels), nil
}

// writePicture writes a picture in the form its name asks for.
func writePicture(c *cli.Context, path string, img image.Image) error {
	encode := repaint.JPEG
	if strings.EqualFold(filepath.Ext(path), ".png") {
		encode = repaint.PNG
	} else if size := img.Bounds().Size(); max(size.X, size.Y) > photo.MostSide {
		return userError("%s: a JPEG holds no side of more than %d pixels; name the file something.png", path, photo.MostSide)
	}
	data, err := encode(c.Context, img)
	if err != nil {
		return err
	}
	return writeOutput(c, path, data)
}
