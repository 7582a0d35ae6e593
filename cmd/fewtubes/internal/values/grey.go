package values

import (
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/gamut/colour"
)

// Grey is a picture in values: L* 0..100 per pixel, row by row.
type Grey struct {
	W, H int
	L    []float64
}

// Greys takes the colour out of a picture. The value of a pixel is L* of its
// luminance in linear light (CIE 015; IEC 61966-2-1), not a weighted sum of
// coded channels, which would show reds and blues too dark.
func Greys(p *photo.Picture) Grey { return greys(p, 1) }

// greys also multiplies the light by a gain, as another exposure would.
func greys(p *photo.Picture, gain float64) Grey {
	g := Grey{p.W, p.H, make([]float64, len(p.Pix))}
	for i, c := range p.Pix {
		l := colour.LinearRGB{R: gain * c.R, G: gain * c.G, B: gain * c.B}.Lab().L
		g.L[i] = min(max(l, 0), 100)
	}
	return g
}

// Mean is the mean value of the part of the picture between fractions of its
// width and height.
func (g Grey) Mean(x0, y0, x1, y1 float64) float64 {
	left, right := span(x0, x1, g.W)
	top, bottom := span(y0, y1, g.H)
	var sum float64
	for y := top; y < bottom; y++ {
		for x := left; x < right; x++ {
			sum += g.L[y*g.W+x]
		}
	}
	return sum / float64((right-left)*(bottom-top))
}

// span is the pixels between two fractions, at least one.
func span(from, to float64, n int) (int, int) {
	a := min(max(int(float64(from*float64(n))+0.5), 0), n-1)
	return a, min(max(int(float64(to*float64(n))+0.5), a+1), n)
}

// Blur averages each pixel over a square of the given radius.
func (g Grey) Blur(radius int) Grey {
	if radius < 1 {
		return g
	}
	across := blurRows(g, radius)
	return transpose(blurRows(transpose(across), radius))
}

func blurRows(g Grey, radius int) Grey {
	out := Grey{g.W, g.H, make([]float64, len(g.L))}
	for y := range g.H {
		row := g.L[y*g.W : (y+1)*g.W]
		sums := make([]float64, g.W+1)
		for x, v := range row {
			sums[x+1] = sums[x] + v
		}
		for x := range row {
			a, b := max(0, x-radius), min(g.W, x+radius+1)
			out.L[y*g.W+x] = (sums[b] - sums[a]) / float64(b-a)
		}
	}
	return out
}

func transpose(g Grey) Grey {
	out := Grey{g.H, g.W, make([]float64, len(g.L))}
	for y := range g.H {
		for x := range g.W {
			out.L[x*g.H+y] = g.L[y*g.W+x]
		}
	}
	return out
}
