package sample

import (
	"context"
	"image"
	"image/color"
	"math"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// UsualBrush is the width of a brush, part of the width of a picture.
const UsualBrush = 0.01

// stroke is the side of the cells, in the space of even, that a brushed picture is
// gathered in: no eye tells apart what is in one.
const stroke = 1.0

// Brushed are photographs as a broad brush lays them in: averaged to its width, moved
// into what paint shows, and gathered in cells of like colours.
type Brushed struct {
	views  []*view
	points []point
}

// Brush looks at photographs, opened as SizeFor says, with a brush of some
// width, part of the width of each; each passes Check. Curves, one each, which may be nil,
// move their values. It gives up with the context's error.
func Brush(ctx context.Context, sources []Source, curves []*values.Curve, width float64) (*Brushed, error) {
	b := &Brushed{}
	for i, s := range sources {
		brushed := s
		brushed.Picture = s.Picture.Averaged(longestAt(s.Picture.W, s.Picture.H, width))
		if brushed.Check() != nil { // the crop is finer than the brush
			brushed = s
		}
		b.views = append(b.views, look(ctx, brushed, Options{Curve: curves[i]}))
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	b.points = gather(ctx, b.views, stroke)
	return b, ctx.Err()
}

// SizeFor is the longer side to open a photograph at that is to be looked at with a
// brush: enough for its values to be fitted as Sample does.
func SizeFor(w, h int, brush float64) int { return max(WorkingSize, longestAt(w, h, brush)) }

// longestAt is the longer side of a picture so many pixels wide that each is as wide as
// the brush.
func longestAt(w, h int, brush float64) int {
	columns := math.Round(1 / brush)
	return max(1, int(math.Round(columns*float64(max(w, h))/float64(w))))
}

// Colours are the mean colours of the cells.
func (b *Brushed) Colours() []colour.Lab {
	out := make([]colour.Lab, len(b.points))
	for i := range b.points {
		out[i] = b.points[i].lab
	}
	return out
}

// Areas are those of the cells, part of all the photographs, each of which counts alike.
func (b *Brushed) Areas() []float64 {
	out := make([]float64, len(b.points))
	for i := range b.points {
		out[i] = b.points[i].area
	}
	return out
}

// Parts are how much of each photograph lies in some cells, 0..1.
func (b *Brushed) Parts(in []bool) []float64 {
	out := make([]float64, len(b.views))
	for k, v := range b.views {
		var some, all float64
		for i, p := range v.point {
			if p < 0 {
				continue
			}
			cover := v.source.cover(i)
			if all += cover; in[p] {
				some += cover
			}
		}
		out[k] = some / all
	}
	return out
}

// Strokes are how many pixels of the brushed photographs lie in each cell; those that are
// mostly transparent do not count.
func (b *Brushed) Strokes() []int {
	out := make([]int, len(b.points))
	for _, v := range b.views {
		for i, p := range v.point {
			if p >= 0 && v.source.cover(i) >= 0.5 {
				out[p]++
			}
		}
	}
	return out
}

// Image is a brushed photograph with its values as seen, each stroke a square, drawn
// about so many pixels wide.
func (b *Brushed) Image(k, width int) image.Image {
	p := b.views[k].source.Picture
	side := max(1, width/p.W)
	img := image.NewNRGBA(image.Rect(0, 0, side*p.W, side*p.H))
	for i, c := range p.Pix {
		rgb := c.SRGB().RGB8()
		to := color.NRGBA{rgb[0], rgb[1], rgb[2], uint8(math.Round(255 * p.CoverAt(i)))}
		x, y := i%p.W*side, i/p.W*side
		for at := range side * side {
			img.SetNRGBA(x+at%side, y+at/side, to)
		}
	}
	return img
}
