package photo

import "fewtubes/gamut/colour"

// Picture is a photograph, upright and in sRGB primaries.
type Picture struct {
	Format       string // jpeg, png, webp, tiff or heic
	FullW, FullH int    // pixels in the file, upright
	W, H         int    // pixels here
	Pix          []colour.LinearRGB
	Cover        []float64 // 1 opaque .. 0 transparent, per pixel; nil: all opaque
	Notes        []string  // what could not be honoured, in words
}

// At is the pixel of column x and row y, from the top left.
func (p *Picture) At(x, y int) colour.LinearRGB { return p.Pix[y*p.W+x] }

// CoverAt is how opaque it is, 0..1.
func (p *Picture) CoverAt(i int) float64 {
	if p.Cover == nil {
		return 1
	}
	return p.Cover[i]
}
