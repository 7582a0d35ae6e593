package main

import (
	"image"
	"image/color"
	"path/filepath"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func lidFlag() cli.Flag {
	return &cli.StringFlag{Name: "lid", Usage: "also print picture, palette and recipes on a card for the lid of the box, one side of A4, to `FILE`.pdf"}
}

// thumbnailSize is the longest side of a picture on the card, in pixels: more than
// 300 to the inch.
const thumbnailSize = 1200

// checkLid checks where the card goes before the work is done.
func (q *question) checkLid(c *cli.Context) error {
	if err := apart(c.String("lid"), c.String("html"), c.String("certificate")); err != nil {
		return err
	}
	inputs := []string{q.from.scene, kitOf(c).path}
	for i := range q.scene.Photos {
		inputs = append(inputs, q.photo(i))
	}
	return checkOutput(c.String("lid"), c.Bool("force"), inputs...)
}

// writeLid writes the card, where one is asked for.
func (q *question) writeLid(c *cli.Context, palette *solver.Palette) error {
	path := c.String("lid")
	if path == "" {
		return nil
	}
	title := q.scene.Title
	if title == "" {
		title = "The scene"
	}
	card, err := sheet.NewLid(c.Context, title, &q.problem, palette, q.words.Measures, tubelist.List(q.problem.Tubes).Short(palette.Tubes))
	if err != nil {
		return err
	}
	for i, p := range q.scene.Photos {
		var thumb sheet.Thumbnail
		for at, target := range q.scene.Targets {
			if s := target.At; s != nil && s.Photo == p.Name {
				thumb.Mark(at, s.X, s.Y)
			}
		}
		if len(thumb.Marks) == 0 {
			continue
		}
		if picture, err := photo.Open(q.photo(i), thumbnailSize); err == nil {
			thumb.Picture = small(picture)
		} else {
			thumb.Words = "The picture " + p.File + " could not be read; the marks stand where its colours lie."
		}
		card.Pictures = append(card.Pictures, thumb)
	}
	pdf, err := card.PDF()
	if err != nil {
		return userError("--lid: %w", err)
	}
	return writeOutput(c, path, pdf)
}

// photo is the path of a photograph of the scene.
func (q *question) photo(i int) string {
	file := q.scene.Photos[i].File
	if filepath.IsAbs(file) {
		return file
	}
	return filepath.Join(filepath.Dir(q.from.scene), file)
}

// small is a photograph as a screen shows it, on white where it is transparent.
func small(p *photo.Picture) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, p.W, p.H))
	for i, light := range p.Pix {
		cover := p.CoverAt(i)
		light.R, light.G, light.B = 1-cover+float64(cover*light.R), 1-cover+float64(cover*light.G), 1-cover+float64(cover*light.B)
		rgb := light.SRGB().RGB8()
		img.SetRGBA(i%p.W, i/p.W, color.RGBA{R: rgb[0], G: rgb[1], B: rgb[2], A: 255})
	}
	return img
}
