package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/repaint"
	"fewtubes/cmd/fewtubes/internal/sample"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// pictureFlags choose for pictures, and say how they are looked at.
func pictureFlags() []cli.Flag {
	return []cli.Flag{
		&cli.Float64Flag{Name: "picture", Usage: "choose for whole photographs, besides the colours of a scene: reach `P` per cent of what all the allowed tubes together reach of them, such as 99", DefaultText: "the colours alone"},
		&cli.Float64Flag{Name: "brush", Value: 100 * sample.UsualBrush, Usage: "look at the photographs with a brush as wide as `P` per cent of their width"},
		&cli.StringFlag{Name: "given-up", Usage: "draw what the palette gives up of the photographs, hatched, to `FILE`.png or .jpg"},
	}
}

// notForPictures are flags that ask for what a choice for pictures has not.
var notForPictures = []string{"fewest", "save", "munsell", "holds", "doubt", "draws", "certify", "certificate", "cells", "lid", "html", "by-hand", "base", "bases", "parts", "prepared", "recipes"}

// The brush is between so many per cent of a picture's width.
const finestBrush, broadestBrush = 0.25, 10

// pictured is a choice for pictures.
type pictured struct {
	scene   scene.Scene
	path    string // of the scene; empty: none
	photos  []scene.Photo
	outs    []string // of the drawings; empty ones where none is
	share   float64  // 0..1
	brush   float64  // part of the width
	stock   *catalog.Catalogue
	problem solver.Problem
	sources []sample.Source
	curves  []*values.Curve
	brushed *sample.Brushed
	session *solver.Session
	answer  *solver.PictureAnswer
	within  []float64 // of each photograph, counted again stroke by stroke
}

func choosePicture(c *cli.Context) error {
	p, err := readPictured(c)
	if err != nil {
		return err
	}
	sign := spin(c.App.ErrWriter, "choosing tubes")
	err = errors.Join(p.look(c))
	if err == nil {
		err = p.choose(c.Context)
	}
	var unwritten error
	if err == nil && p.answer.Minimum.Tubes > 0 {
		unwritten = p.repaint(c)
	}
	sign.done()
	if err != nil {
		return err
	}
	doc, err := p.document(c.Context)
	if err != nil {
		return err
	}
	if c.Bool("json") {
		err = printJSON(c, doc)
	} else {
		style := terminalStyle(c.App.Writer)
		style.More = c.Bool("more")
		style.Cautions = style.More || c.Bool("cautions")
		err = publish(c, "", nil, doc.text(p, style))
	}
	if err := errors.Join(err, unwritten); err != nil {
		return err
	}
	if len(doc.Missed) > 0 || len(p.answer.Palettes) == 0 {
		return strictly(c, solver.SomeMissed)
	}
	return nil
}

func readPictured(c *cli.Context) (*pictured, error) {
	p := &pictured{share: c.Float64("picture") / 100, brush: c.Float64("brush") / 100, scene: anyScene()}
	switch {
	case !(p.share > 0 && p.share <= 1):
		return nil, userError("--picture %v is no part of a picture; write per cent, such as 99", c.Float64("picture"))
	case !(c.Float64("brush") >= finestBrush && c.Float64("brush") <= broadestBrush):
		return nil, userError("--brush %v is no brush for a picture; write per cent of its width, from %v to %v", c.Float64("brush"), finestBrush, broadestBrush)
	}
	for _, name := range notForPictures {
		if c.IsSet(name) {
			return nil, userError("--%s does not go with --picture; leave one of them out", name)
		}
	}
	if err := p.readPhotos(c); err != nil {
		return nil, err
	}
	if err := applyLimits(c, &p.scene); err != nil {
		return nil, err
	}
	if p.scene.Limits.ByHand {
		return nil, userError("%s is to be mixed by hand, and --picture mixes freely; leave by-hand out of it", p.path)
	}
	var err error
	if p.stock, err = stock(c); err != nil {
		return nil, err
	}
	p.problem = p.scene.Problem(p.stock)
	if p.outs, err = drawings(c, "given-up", p.photos, append(inputsOf(c), p.files()...)); err != nil {
		return nil, err
	}
	p.session, err = solver.NewSession(p.problem)
	return p, err
}

func (p *pictured) files() (out []string) {
	for _, photo := range p.photos {
		out = append(out, photo.File)
	}
	return out
}

// readPhotos finds the scene, if any, and the photographs: those named, or those of the
// scene.
func (p *pictured) readPhotos(c *cli.Context) (err error) {
	var named []string
	for _, arg := range c.Args().Slice() {
		switch {
		case !isScene(arg):
			named = append(named, arg)
		case p.path != "":
			return userError("choose --picture takes one scene at most, and %s is another; fewtubes join brings them together", arg)
		default:
			p.path = arg
		}
	}
	if p.path != "" {
		if p.scene, err = scene.Read(p.path); err != nil {
			return err
		}
	}
	if p.photos, err = photosIn(&p.scene, p.path, named); err != nil {
		return err
	}
	switch {
	case len(p.photos) > 0:
		return nil
	case p.path != "":
		return userError("%s names no photograph to choose for; name one as in fewtubes choose --picture 99 photo.jpg %[1]s", p.path)
	}
	return userError("choose --picture: no photograph is given; name one as in fewtubes choose --picture 99 photo.jpg")
}

// look opens the photographs and looks at them with the brush.
func (p *pictured) look(c *cli.Context) (err error) {
	for i := range p.photos {
		source, curve, err := brushSource(c.Context, &p.photos[i], p.brush)
		if err != nil {
			return err
		}
		p.sources, p.curves = append(p.sources, source), append(p.curves, curve)
	}
	p.brushed, err = sample.Brush(c.Context, p.sources, p.curves, p.brush)
	return err
}

func (p *pictured) choose(ctx context.Context) (err error) {
	p.answer, err = p.session.ChoosePicture(ctx, p.problem.Limits, p.problem.Prefer, &solver.Picture{
		Colours: p.brushed.Colours(), Weights: p.brushed.Strokes(), Tolerance: p.scene.Tolerance, Share: p.share, Alone: p.path == "",
	})
	return err
}

// drawn is the side in pixels that a brushed picture is drawn in, about.
const drawn = 800

// repaint paints the brushed photographs with the palette, which counts again what of
// them it reaches, and draws what it gives up.
func (p *pictured) repaint(c *cli.Context) error {
	tubes, err := p.stock.GetEach(p.answer.Palettes[0])
	if err != nil {
		return err
	}
	mixer, err := gamut.NewMixer(paintsOf(tubes), gamut.Options{Surface: p.problem.Surface, Light: p.problem.Light, PaintsPerMix: p.scene.Limits.PaintsPerMix})
	if err != nil {
		return err
	}
	for i := range p.photos {
		within, err := p.repaintOne(c, mixer, i)
		if err != nil {
			return err
		}
		p.within = append(p.within, within)
	}
	return nil
}

func (p *pictured) repaintOne(c *cli.Context, mixer *gamut.Mixer, i int) (within float64, err error) {
	ctx := c.Context
	whole, err := photo.WholeOf(p.brushed.Image(i, drawn))
	if err != nil {
		return 0, err
	}
	source := repaint.Photograph{Whole: whole, Curve: p.curves[i], Crop: p.photos[i].Crop}
	if err := source.Look(ctx); err != nil {
		return 0, err
	}
	region, err := source.Region(ctx)
	if err != nil {
		return 0, err
	}
	painting, err := source.Paint(ctx, mixer, region)
	if err != nil {
		return 0, err
	}
	measures, err := painting.Measure(ctx, p.scene.Tolerance, nil)
	if err != nil || p.outs[i] == "" {
		return measures.Within, err
	}
	img, err := painting.Misses(ctx, p.scene.Tolerance)
	if err != nil {
		return measures.Within, err
	}
	return measures.Within, writePicture(c, p.outs[i], img)
}

// photosIn are the photographs named, with what a scene knows of them, or else all of the
// scene, their files named from here.
func photosIn(s *scene.Scene, path string, named []string) (photos []scene.Photo, err error) {
	taken := map[string]bool{}
	for _, arg := range named {
		if slices.ContainsFunc(photos, func(p scene.Photo) bool { return sameFile(p.File, arg) }) {
			return nil, userError("%s is named twice; name it once", arg)
		}
		p := scene.Photo{File: arg}
		for _, q := range s.Photos {
			if sameFile(besideScene(path, q.File), arg) {
				p = q
				p.File = arg
			}
		}
		p.Name = photoName(arg, taken)
		photos = append(photos, p)
	}
	if len(named) == 0 {
		for _, p := range s.Photos {
			p.File = besideScene(path, p.File)
			photos = append(photos, p)
		}
	}
	return photos, nil
}

// drawings are the files of a flag to draw in, one for each photograph; empty ones where
// it is not given.
func drawings(c *cli.Context, flag string, photos []scene.Photo, inputs []string) ([]string, error) {
	outs := make([]string, len(photos))
	out := c.String(flag)
	if out == "" {
		return outs, nil
	}
	ending := filepath.Ext(out)
	if !slices.Contains([]string{".png", ".jpg", ".jpeg"}, strings.ToLower(ending)) {
		return nil, userError("%s: the picture is a PNG or a JPEG; name the file something.png or something.jpg", out)
	}
	for i, p := range photos {
		if outs[i] = out; len(photos) > 1 {
			outs[i] = fmt.Sprintf("%s-%s%s", strings.TrimSuffix(out, ending), p.Name, ending)
		}
		if err := checkOutput(outs[i], c.Bool("force"), inputs...); err != nil {
			return nil, err
		}
	}
	return outs, nil
}
