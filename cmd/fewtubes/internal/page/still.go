package page

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"sync"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/gamut/colour"
)

// still is a picture kept to be shown and picked from: linear light in half the
// room, finer by far than the codes it came from.
type still struct {
	w, h  int
	pix   [][3]float32
	notes []string
}

func newStill(p *photo.Picture) *still {
	s := &still{w: p.W, h: p.H, pix: make([][3]float32, len(p.Pix)), notes: p.Notes}
	for i, px := range p.Pix {
		s.pix[i] = [3]float32{float32(px.R), float32(px.G), float32(px.B)}
	}
	return s
}

// at is the pixel of column x and row y, from the top left.
func (s *still) at(x, y int) colour.LinearRGB {
	px := s.pix[y*s.w+x]
	return colour.LinearRGB{R: float64(px[0]), G: float64(px[1]), B: float64(px[2])}
}

// shownQuality is that of pictures for the screen, as JPEG counts it.
const shownQuality = 90

// encode is the picture as JPEG of the codes given, or the context's error.
func (s *still) encode(ctx context.Context, code func(colour.LinearRGB) [3]uint8, quality int) ([]byte, error) {
	img, err := s.image(ctx, code)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}

// image is the picture in the codes given, or the context's error.
func (s *still) image(ctx context.Context, code func(colour.LinearRGB) [3]uint8) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	for y := range s.h {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for x := range s.w {
			rgb := code(s.at(x, y))
			copy(img.Pix[img.PixOffset(x, y):], []uint8{rgb[0], rgb[1], rgb[2], 255})
		}
	}
	return img, nil
}

// codes are the sRGB codes of linear light in steps finer than any code.
var codes = sync.OnceValue(func() *[1 << 14]uint8 {
	out := new([1 << 14]uint8)
	for i := range out {
		v := float64(i) / float64(len(out)-1)
		out[i] = colour.LinearRGB{R: v, G: v, B: v}.SRGB().RGB8()[0]
	}
	return out
})

// coded is linear light as sRGB.
func coded(px colour.LinearRGB) [3]uint8 {
	table := codes()
	code := func(v float64) uint8 { return table[int(float64(min(max(v, 0), 1)*float64(len(table)-1))+0.5)] }
	return [3]uint8{code(px.R), code(px.G), code(px.B)}
}
