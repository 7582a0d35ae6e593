package main

import (
	"image"
	"image/color"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/cmd/fewtubes/internal/values"
)

// thumbnailSize is the longest side of a picture on a sheet, in pixels: more than
// 300 to the inch.
const thumbnailSize = 1200

// thumbnails are the photographs of the scene that colours were picked from, with
// their marks, and the values of the one with most of them; none where no
// photograph can be read.
func (q *question) thumbnails() (out []sheet.Thumbnail, most *values.Grey) {
	marks := 0
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
		picture, err := photo.Open(q.photo(i), thumbnailSize)
		if err != nil {
			thumb.Words = "The picture " + p.File + " could not be read; the marks stand where its colours lie."
			out = append(out, thumb)
			continue
		}
		thumb.Picture = small(picture)
		out = append(out, thumb)
		if len(thumb.Marks) > marks {
			g := values.Greys(picture).Squinted()
			marks, most = len(thumb.Marks), &g
		}
	}
	return out, most
}

// photo is the path of a photograph of the scene.
func (q *question) photo(i int) string { return besideScene(q.from.scene, q.scene.Photos[i].File) }

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
