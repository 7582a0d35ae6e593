package sample

import (
	"context"
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

// Brush looks at photographs, opened at WorkingSize or larger, with a brush of some
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
