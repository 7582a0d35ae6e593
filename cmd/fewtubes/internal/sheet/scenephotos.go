package sheet

import (
	"image"
	"image/color"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
)

// ThumbnailSize is the longest side of a picture on a sheet, in pixels: more than
// 300 to the inch.
const ThumbnailSize = 1200

// Thumbnails are the photographs of a scene that colours were picked from, with their
// marks, and the values of the one with most of them; nil where no photograph can be
// opened.
func Thumbnails(s *scene.Scene, open func(i int) (*photo.Picture, error)) (out []Thumbnail, most *values.Grey) {
	marks := 0
	for i, p := range s.Photos {
		var thumb Thumbnail
		for at, target := range s.Targets {
			if s := target.At; s != nil && s.Photo == p.Name {
				thumb.Mark(at, s.X, s.Y)
			}
		}
		if len(thumb.Marks) == 0 {
			continue
		}
		picture, err := open(i)
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
